"""Learning what a fair sells: Poisson counts with a gamma rate.

    demand at fair j ~ Poisson(rate x exposure j)         rate ~ Gamma(shape a, rate b), mean a/b
    after n fairs      a' = a + sum of counts              b' = b + sum of exposures
    next fair          negative binomial, size a', probability b'/(b' + exposure)

Exposure is 1 for an ordinary fair, more for a busier one, 0.5 for a wet one, or the part of the day until the
product sold out. Sold out is not demand: all that is known then is "at least as many".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from craft.planning.demand import NegativeBinomialDemand, PoissonDemand
from craft.planning.numeric import gamma_quantile

__all__ = ["InvalidDemandError", "SellingRate"]

LEAST_SHAPE = 0.5
"""From here on the ninth decile falls steadily towards the mean as the shape grows."""


class InvalidDemandError(ValueError):
    """Counts or expectations from which no demand can be learned; the sentence says which and why."""


@dataclass(frozen=True, slots=True)
class SellingRate:
    """Pieces sold at an ordinary fair, as a gamma distribution."""

    shape: float
    rate: float

    def __post_init__(self) -> None:
        if self.shape <= 0 or self.rate <= 0:
            raise InvalidDemandError("A selling rate needs a shape and a rate above nought.")

    @classmethod
    def of_mean_and_variance(cls, mean: float, variance: float) -> SellingRate:
        """Return a prior from products like it: their mean, and the variance between them."""
        if mean <= 0 or variance <= 0:
            raise InvalidDemandError("Mean and variance have to be above nought.")
        return cls(mean**2 / variance, mean / variance)

    @classmethod
    def of_guesses(cls, ordinary: float, very_good: float) -> SellingRate:
        """Return a prior from two questions: how many at an ordinary fair, how many at a very good one.

        The mean is `ordinary`, and nine rates in ten lie below `very_good`. Where that is more than 2.7
        times as much, the least sure prior is taken, of shape one half.
        """
        if not 0 < ordinary < very_good:
            raise InvalidDemandError("A very good fair sells more than an ordinary one, and both sell some.")
        low, high = LEAST_SHAPE, 1e6
        while high / low > 1 + 1e-12:
            shape = (low * high) ** 0.5
            too_wide = gamma_quantile(0.9, shape, shape / ordinary) > very_good
            low, high = (shape, high) if too_wide else (low, shape)
        return cls(low, low / ordinary)

    @property
    def mean(self) -> float:
        """Expected pieces at an ordinary fair."""
        return self.shape / self.rate

    @property
    def mode(self) -> float:
        """Likeliest rate."""
        return max(0.0, (self.shape - 1) / self.rate)

    def range(self, share: float = 0.95) -> tuple[float, float]:
        """Return the central range of the rate that holds so large a share."""
        tail = (1 - share) / 2
        return gamma_quantile(tail, self.shape, self.rate), gamma_quantile(1 - tail, self.shape, self.rate)

    def after(self, counts: Sequence[int], exposures: Sequence[float] | None = None) -> SellingRate:
        """Return what is known after fairs that did not sell out. `exposures` None: ordinary fairs."""
        given = [1.0] * len(counts) if exposures is None else list(exposures)
        if len(given) != len(counts):
            raise InvalidDemandError("Give one exposure for each fair.")
        return self.after_total(sum(counts), sum(given), fewest=min(counts, default=0))

    def after_total(self, total: int, exposure: float, *, fewest: int = 0) -> SellingRate:
        """Return what is known after a total sold over fairs of a total exposure."""
        if total < 0 or fewest < 0 or exposure < 0:
            raise InvalidDemandError("Counts and exposures cannot be below nought.")
        return SellingRate(self.shape + total, self.rate + exposure)

    def after_sold_out(self, brought: int, exposure: float = 1.0) -> SellingRate:
        """Return what is known after a fair that sold all it had: demand was at least `brought`.

        The exact posterior is no gamma; the answer has its mean and variance.
        """
        mean, square = self._moments_at_least(brought, exposure)
        return SellingRate.of_mean_and_variance(mean, square - mean**2)

    def mean_if_sold_out(self, brought: int, exposure: float = 1.0) -> float:
        """Return the exact posterior mean after demand of at least `brought`."""
        return self._moments_at_least(brought, exposure)[0]

    def _moments_at_least(self, brought: int, exposure: float) -> tuple[float, float]:
        """First and second moment of the rate given D >= brought: whole less the part below."""
        if brought < 0 or exposure <= 0:
            raise InvalidDemandError("Pieces brought and exposure cannot be below nought.")
        demand = self.next_fair(exposure)
        shape, rate, longer = self.shape, self.rate, self.rate + exposure
        mean, square, left = self.mean, shape * (shape + 1) / rate**2, 1.0
        for count in range(brought):
            mass = demand.mass(count)
            left -= mass
            mean -= mass * (shape + count) / longer
            square -= mass * (shape + count) * (shape + count + 1) / longer**2
        if left <= 0:
            raise InvalidDemandError("So large a demand is beyond what was thought possible.")
        return mean / left, square / left

    def next_fair(self, exposure: float = 1.0) -> NegativeBinomialDemand:
        """Return the demand at the next fair."""
        return NegativeBinomialDemand(self.shape, self.rate / (self.rate + exposure))

    def plugged_in(self, exposure: float = 1.0) -> PoissonDemand:
        """Return the demand if the mean were known for sure: too narrow, for comparison."""
        return PoissonDemand(self.mean * exposure)
