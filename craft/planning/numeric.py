"""A thin typed door to scipy: distribution functions, linear and whole-number programmes.

Everything that the craft asks of scipy goes through here, so that the rest is plain typed Python.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from scipy import optimize, special
from scipy.sparse import csr_array

__all__ = [
    "Constraint",
    "NoPlanError",
    "Solution",
    "gamma_quantile",
    "maximise",
    "negative_binomial_cdf",
    "poisson_cdf",
    "shadow_prices",
]


SOLVER_FAULT: Final = 4
"""`OptimizeResult.status` for "other" trouble: no statement about the programme itself."""
SLACK: Final = 1e-7
"""Room given to each row when the solver trips: HiGHS's own feasibility tolerance."""


class NoPlanError(ValueError):
    """The limits cannot all be kept, or nothing limits the plan."""


def poisson_cdf(at: int, mean: float) -> float:
    """Return P(D <= at) of a Poisson demand."""
    if at < 0:
        return 0.0
    return float(special.pdtr(at, mean)) if mean > 0 else 1.0


def negative_binomial_cdf(at: int, size: float, probability: float) -> float:
    """Return P(D <= at) of a negative binomial; `size` need not be whole."""
    return float(special.betainc(size, at + 1, probability)) if at >= 0 else 0.0


def gamma_quantile(level: float, shape: float, rate: float) -> float:
    """Return the quantile of a gamma distribution."""
    return float(special.gammaincinv(shape, level)) / rate


@dataclass(frozen=True, slots=True)
class Constraint:
    """low <= sum of coefficient x variable <= high, with coefficients as (variable, value) pairs."""

    terms: tuple[tuple[int, float], ...]
    low: float = -np.inf
    high: float = np.inf


@dataclass(frozen=True, slots=True)
class Solution:
    """The best value and the variables that reach it. `proven`: no better one exists."""

    value: float
    variables: tuple[float, ...]
    proven: bool = True


def maximise(
    objective: Sequence[float],
    constraints: Sequence[Constraint],
    upper: Sequence[float],
    *,
    whole: bool | Sequence[bool] = True,
    seconds: float | None = None,
) -> Solution:
    """Return the exact best of a linear programme over variables from 0 to `upper`.

    `whole`: which variables are whole numbers (one answer, or one for each), solved to a gap of nought.
    `seconds`: give up proving after so long and answer with the best found. Raises NoPlanError.
    """
    if not objective:
        return Solution(0.0, ())
    wholes = [whole] * len(objective) if isinstance(whole, bool) else list(whole)
    options: dict[str, Any] = {"mip_rel_gap": 0.0} | ({} if seconds is None else {"time_limit": seconds})
    cost, kinds = -np.asarray(objective, dtype=float), np.asarray(wholes, dtype=int)
    bounds = optimize.Bounds(0.0, np.asarray(upper, dtype=float))
    for slack in (0.0, SLACK):  # a tight corner can trip HiGHS, which a hair's breadth of room mends
        rows = _matrix(constraints, len(objective), slack) if constraints else None
        outcome = optimize.milp(c=cost, constraints=rows, integrality=kinds, bounds=bounds, options=options)
        if outcome.status != SOLVER_FAULT:
            break
    if outcome.x is None:
        raise NoPlanError("No plan keeps all the limits, or nothing limits it.")
    variables = tuple(
        float(round(value)) if is_whole else float(value)
        for value, is_whole in zip(outcome.x, wholes, strict=True)
    )
    value = sum(each * many for each, many in zip(objective, variables, strict=True))
    return Solution(value, variables, proven=outcome.status == 0)


def shadow_prices(
    objective: Sequence[float], constraints: Sequence[Constraint], upper: Sequence[float]
) -> tuple[float, ...]:
    """Return what one more unit of each upper limit is worth in the continuous plan."""
    rows = _matrix(constraints, len(objective))
    outcome = optimize.linprog(
        c=-np.asarray(objective, dtype=float),
        A_ub=rows.A,
        b_ub=rows.ub,
        bounds=[(0.0, each) for each in upper],
        method="highs",
    )
    if outcome.x is None:
        raise NoPlanError("No plan keeps all the limits, or nothing limits it.")
    return tuple(-float(value) for value in outcome.ineqlin.marginals)


def _matrix(
    constraints: Sequence[Constraint], variables: int, slack: float = 0.0
) -> optimize.LinearConstraint:
    """Constraints as one sparse matrix, each end with `slack` more room."""
    triples = [
        (row, column, value)
        for row, constraint in enumerate(constraints)
        for column, value in constraint.terms
    ]
    rows, columns, values = zip(*triples, strict=True) if triples else ((), (), ())
    matrix = csr_array((values, (rows, columns)), shape=(len(constraints), variables))
    low = np.asarray([constraint.low for constraint in constraints], dtype=float)
    high = np.asarray([constraint.high for constraint in constraints], dtype=float)
    return optimize.LinearConstraint(matrix, low - slack, high + slack)
