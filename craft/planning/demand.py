"""Demand as a distribution: normal, Poisson, negative binomial, or as observed.

Each knows its mean, P(D <= q) and the expected shortage E[(D - q)+] in closed form, so that no
table is cut off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist
from typing import Protocol, TypeAlias

from craft.planning.numeric import negative_binomial_cdf, poisson_cdf

__all__ = [
    "Demand",
    "NegativeBinomialDemand",
    "NormalDemand",
    "ObservedDemand",
    "PoissonDemand",
    "WholeDemand",
]

TIE: float = 1e-12
"""Two probabilities nearer than this are the same: running sums of floats may land on either side."""


class WholeDemand(Protocol):
    """Demand in whole pieces."""

    @property
    def mean(self) -> float: ...

    @property
    def variance(self) -> float: ...

    def cdf(self, quantity: int) -> float:
        """Return P(D <= quantity)."""

    def short(self, quantity: int) -> float:
        """Return the expected pieces that are asked for and not there."""


@dataclass(frozen=True, slots=True)
class NormalDemand:
    """Normal demand; a quantity may be any number."""

    mean: float
    sd: float

    @property
    def variance(self) -> float:
        return self.sd**2

    def quantile(self, level: float) -> float:
        """Return the quantity that covers demand with probability `level`."""
        return NormalDist(self.mean, self.sd).inv_cdf(level)

    def cdf(self, quantity: float) -> float:
        return NormalDist(self.mean, self.sd).cdf(quantity)

    def short(self, quantity: float) -> float:
        """Return sd (phi(z) - z (1 - Phi(z)))."""
        standard = NormalDist()
        z = (quantity - self.mean) / self.sd
        return self.sd * (standard.pdf(z) - z * standard.cdf(-z))


@dataclass(frozen=True, slots=True)
class PoissonDemand:
    """Poisson demand."""

    mean: float

    @property
    def variance(self) -> float:
        return self.mean

    def cdf(self, quantity: int) -> float:
        return poisson_cdf(quantity, self.mean)

    def short(self, quantity: int) -> float:
        """Return mean P(D >= q) - q P(D > q)."""
        return self.mean * (1 - self.cdf(quantity - 1)) - quantity * (1 - self.cdf(quantity))


@dataclass(frozen=True, slots=True)
class NegativeBinomialDemand:
    """Negative binomial demand: Poisson whose rate is itself uncertain. `size` need not be whole."""

    size: float
    probability: float

    @property
    def mean(self) -> float:
        return self.size * (1 - self.probability) / self.probability

    @property
    def variance(self) -> float:
        return self.mean / self.probability

    def cdf(self, quantity: int) -> float:
        return negative_binomial_cdf(quantity, self.size, self.probability)

    def mass(self, quantity: int) -> float:
        """Return P(D = quantity)."""
        return math.exp(
            math.lgamma(self.size + quantity)
            - math.lgamma(self.size)
            - math.lgamma(quantity + 1)
            + self.size * math.log(self.probability)
            + quantity * math.log1p(-self.probability)
        )

    def short(self, quantity: int) -> float:
        """Return mean P(D' >= q) - q P(D > q), D' of one size more: d P(d) = mean P'(d - 1)."""
        shifted = negative_binomial_cdf(quantity - 1, self.size + 1, self.probability)
        return self.mean * (1 - shifted) - quantity * (1 - self.cdf(quantity))


@dataclass(frozen=True, slots=True)
class ObservedDemand:
    """Demand as it was on past days, each equally likely. Exact."""

    values: tuple[int, ...]

    @classmethod
    def of(cls, values: Sequence[int]) -> ObservedDemand:
        """Return demand from a list of observed days."""
        if not values:
            raise ValueError("Observed demand needs at least one day.")
        return cls(tuple(sorted(values)))

    @property
    def mean(self) -> float:
        return float(self.exact_mean)

    @property
    def exact_mean(self) -> Fraction:
        return Fraction(sum(self.values), len(self.values))

    @property
    def variance(self) -> float:
        squares = sum((value - self.exact_mean) ** 2 for value in self.values)
        return float(squares / len(self.values))

    def exact_cdf(self, quantity: int) -> Fraction:
        """Return P(D <= quantity) as a fraction."""
        return Fraction(sum(value <= quantity for value in self.values), len(self.values))

    def cdf(self, quantity: int) -> float:
        return float(self.exact_cdf(quantity))

    def exact_short(self, quantity: int) -> Fraction:
        """Return E[(D - quantity)+] as a fraction."""
        return Fraction(sum(max(value - quantity, 0) for value in self.values), len(self.values))

    def short(self, quantity: int) -> float:
        return float(self.exact_short(quantity))


Demand: TypeAlias = NormalDemand | PoissonDemand | NegativeBinomialDemand | ObservedDemand
