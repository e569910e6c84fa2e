"""The best mix under limits, in general: linear programme, knapsack, and the greedy rule beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from craft.planning.numeric import Constraint, maximise
from craft.planning.numeric import shadow_prices as _shadow_prices

__all__ = ["Limit", "Mix", "Selection", "best_mix", "best_selection", "greedy_selection", "shadow_prices"]

NO_END = float("inf")


@dataclass(frozen=True, slots=True)
class Limit:
    """What one unit of each product uses of a thing, and how much of it there is."""

    name: str
    use: tuple[float, ...]
    at_most: float


@dataclass(frozen=True, slots=True)
class Mix:
    """How much of each product, and its worth."""

    plan: tuple[float, ...]
    value: float


def best_mix(worths: Sequence[float], limits: Sequence[Limit], *, whole: bool = False) -> Mix:
    """Return the mix of most worth that keeps all limits. Raises NoPlanError."""
    solution = maximise(worths, _constraints(limits), [NO_END] * len(worths), whole=whole)
    return Mix(solution.variables, solution.value)


def shadow_prices(worths: Sequence[float], limits: Sequence[Limit]) -> tuple[float, ...]:
    """Return what one more unit of each limit is worth, of the continuous mix."""
    return _shadow_prices(worths, _constraints(limits), [NO_END] * len(worths))


def _constraints(limits: Sequence[Limit]) -> list[Constraint]:
    return [Constraint(tuple(enumerate(limit.use)), high=limit.at_most) for limit in limits]


@dataclass(frozen=True, slots=True)
class Selection:
    """Which things are taken, their worth and their weight."""

    chosen: tuple[int, ...]
    value: float
    weight: float


def best_selection(values: Sequence[float], weights: Sequence[float], capacity: float) -> Selection:
    """Return the things of most worth that fit. Ties take the lighter."""
    one_each = [1.0] * len(values)
    fits = Constraint(tuple(enumerate(weights)), high=capacity)
    best = maximise(values, [fits], one_each)
    as_good = Constraint(tuple(enumerate(values)), low=best.value - 1e-6 * max(1.0, abs(best.value)))
    lightest = maximise([-weight for weight in weights], [fits, as_good], one_each)
    return _selection([index for index, taken in enumerate(lightest.variables) if taken], values, weights)


def greedy_selection(values: Sequence[float], weights: Sequence[float], capacity: float) -> Selection:
    """Return things taken by worth per weight while they fit: quick, and not always the best."""

    def ratio(index: int) -> float:
        return values[index] / weights[index] if weights[index] else NO_END

    chosen: list[int] = []
    left = capacity
    for index in sorted(range(len(values)), key=ratio, reverse=True):
        if weights[index] <= left and values[index] > 0:
            chosen.append(index)
            left -= weights[index]
    return _selection(sorted(chosen), values, weights)


def _selection(chosen: list[int], values: Sequence[float], weights: Sequence[float]) -> Selection:
    value = sum(values[index] for index in chosen)
    return Selection(tuple(chosen), value, sum(weights[index] for index in chosen))
