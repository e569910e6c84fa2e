"""Learning curves and the hours of the next piece.

    cumulative average (Wright)   average of n = t1 n^b      total = t1 n^(1+b)
    unit (Crawford)               n-th unit   = t1 n^b      total = sum of the units

with b = log2(rate), rate 0.90 for a "90 % curve". The two differ a lot, so every figure names the
curve in use. Hand crochet by a practised maker learns far less than the factory: a prior round
90-95 % is safer (no source). Times are in any one unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from craft.costing.values import InvalidCostError

__all__ = ["Curve", "HoursKnown", "LearningCurve", "learn_hours", "rate_of_totals"]


class Curve(StrEnum):
    """Which of the two curves is meant."""

    CUMULATIVE_AVERAGE = "cumulative-average"
    UNIT = "unit"


@dataclass(frozen=True, slots=True)
class LearningCurve:
    """A curve by the time of its first unit and its exponent b (not above nought)."""

    curve: Curve
    first: float
    exponent: float

    @classmethod
    def of_rate(cls, curve: Curve, first: float, rate: float) -> LearningCurve:
        """Return the curve of a learning rate (0.80 for an 80 % curve)."""
        if not 0 < rate <= 1:
            raise InvalidCostError("A learning rate lies above 0 and not above 1.")
        return cls(curve, first, math.log2(rate))

    def unit(self, number: int) -> float:
        """Return the time of the n-th unit."""
        _check_unit(number)
        if self.curve is Curve.UNIT:
            return self.first * math.pow(number, self.exponent)
        return self.total(number) - self.total(number - 1)

    def total(self, units: int) -> float:
        """Return the time of the first n units together; of none, nought."""
        if units <= 0:
            return 0.0
        if self.curve is Curve.UNIT:
            return math.fsum(self.unit(number) for number in range(1, units + 1))
        return self.first * math.pow(units, 1 + self.exponent)

    def average(self, units: int) -> float:
        """Return the average time of the first n units."""
        _check_unit(units)
        return self.total(units) / units

    def block(self, first_unit: int, last_unit: int) -> float:
        """Return the time of units m to n, both included."""
        _check_unit(first_unit)
        if self.curve is Curve.UNIT:
            return math.fsum(self.unit(number) for number in range(first_unit, last_unit + 1))
        return self.total(last_unit) - self.total(first_unit - 1)

    def block_by_midpoint(self, first_unit: int, last_unit: int) -> float:
        """Return the quick approximation of a block of a unit curve."""
        _check_unit(first_unit)
        power = 1 + self.exponent
        return self.first / power * (math.pow(last_unit + 0.5, power) - math.pow(first_unit - 0.5, power))


def rate_of_totals(first: float, units: int, total: float) -> float:
    """Return the learning rate of a cumulative average curve from its first unit and a later total."""
    if units < 2 or first <= 0 or total <= 0:
        raise InvalidCostError("A learning rate needs two units or more and times above nought.")
    return math.pow(total / (units * first), 1 / math.log2(units))


FLOOR_SD: Final = 1e-9


@dataclass(frozen=True, slots=True)
class HoursKnown:
    """What is known of a unit curve: normals of ln(first) and ln(rate), their covariance, noise of one unit.

    The figures are medians; times exp(noise^2/2) they are means.
    """

    log_first: float
    log_rate: float
    var_first: float
    var_rate: float
    covariance: float
    noise_log: float
    units_seen: int = 0

    @classmethod
    def prior(
        cls,
        first_hours: float,
        rate: float = 0.93,
        *,
        first_sd_log: float = 0.30,
        rate_sd_log: float = 0.05,
        noise_log: float = 0.08,
    ) -> HoursKnown:
        """Return what is known before anything is timed."""
        if first_hours <= 0 or not 0 < rate <= 1 or min(first_sd_log, rate_sd_log, noise_log) < FLOOR_SD:
            raise InvalidCostError("Hours, rate and spreads have to be above nought, the rate not above 1.")
        return cls(math.log(first_hours), math.log(rate), first_sd_log**2, rate_sd_log**2, 0.0, noise_log)

    @property
    def first_hours(self) -> float:
        return math.exp(self.log_first)

    @property
    def rate(self) -> float:
        return math.exp(self.log_rate)

    def rate_range(self, z: float = 1.96) -> tuple[float, float]:
        """Return the range of the rate, 95 % with z = 1.96."""
        spread = z * math.sqrt(self.var_rate)
        return math.exp(self.log_rate - spread), math.exp(self.log_rate + spread)

    def unit(self, number: int) -> float:
        """Return the median time of the n-th unit."""
        _check_unit(number)
        return math.exp(self.log_first + math.log2(number) * self.log_rate)

    def unit_range(self, number: int, z: float = 1.2816) -> tuple[float, float]:
        """Return the range of the n-th unit as it will be timed, its own noise included; 80 % by default."""
        doublings = math.log2(number)
        variance = self.var_first + 2 * doublings * self.covariance + doublings**2 * self.var_rate
        spread = z * math.sqrt(variance + self.noise_log**2)
        return self.unit(number) * math.exp(-spread), self.unit(number) * math.exp(spread)

    def block(self, first_unit: int, last_unit: int) -> float:
        """Return the median time of units m to n, unit by unit."""
        return math.fsum(self.unit(number) for number in range(first_unit, last_unit + 1))


def learn_hours(known: HoursKnown, hours: Sequence[float]) -> HoursKnown:
    """Return what is known after timing the next units, in order.

    Bayesian linear regression of ln(hours) on (1, log2 n) with known noise, worked one unit at a
    time: each unit moves mean and covariance by its gain, which gives the same as all at once.
    """
    for hour in hours:
        known = _after_one(known, hour)
    return known


def _after_one(known: HoursKnown, hours: float) -> HoursKnown:
    if not (math.isfinite(hours) and hours > 0):
        raise InvalidCostError("A timed piece takes more than no time.")
    number = known.units_seen + 1
    doublings = math.log2(number)
    to_first = known.var_first + doublings * known.covariance
    to_rate = known.covariance + doublings * known.var_rate
    variance = to_first + doublings * to_rate + known.noise_log**2
    surprise = math.log(hours) - known.log_first - doublings * known.log_rate
    return HoursKnown(
        known.log_first + to_first / variance * surprise,
        known.log_rate + to_rate / variance * surprise,
        known.var_first - to_first**2 / variance,
        known.var_rate - to_rate**2 / variance,
        known.covariance - to_first * to_rate / variance,
        known.noise_log,
        number,
    )


def _check_unit(number: int) -> None:
    if number < 1:
        raise InvalidCostError("Units are counted from 1.")
