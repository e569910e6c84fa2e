"""How many to bring to one fair, and to several in a row.

    critical ratio CR = Cu/(Cu + Co)     bring the least Q with F(Q) >= CR

Cu is what being one piece short loses (net price less cost), Co what one piece too many loses (cost
less what a left-over is worth: ask that, never "the loss"). Ties take the lowest quantity, the
least yarn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias

from craft.planning.demand import TIE, Demand, NormalDemand, ObservedDemand, WholeDemand

__all__ = ["Stocking", "UnboundedStockError", "Vendor", "order_up_to"]

Money: TypeAlias = Decimal | int | float


class UnboundedStockError(ValueError):
    """A left-over loses nothing, so every piece more is worth bringing: hours or table space decide."""


@dataclass(frozen=True, slots=True)
class Stocking:
    """What to bring. `quantity` may be a fraction for normal demand; `whole` never is.

    `expected_cost`, `short`, `left` are those of `quantity`.
    """

    quantity: float
    whole: int
    critical_ratio: float
    expected_cost: float
    short: float
    left: float


@dataclass(frozen=True, slots=True)
class Vendor:
    """A product at a fair: cost of being one short, cost of one too many, and its demand."""

    underage: Fraction
    overage: Fraction
    demand: Demand

    @classmethod
    def of_costs(cls, underage: Money, overage: Money, demand: Demand) -> Vendor:
        """Return a vendor from the two costs."""
        return cls(_exact(underage), _exact(overage), demand)

    @classmethod
    def of_prices(cls, price: Money, cost: Money, worth_left: Money, demand: Demand) -> Vendor:
        """Return a vendor from net price, cost, and what a left-over is worth."""
        return cls(_exact(price) - _exact(cost), _exact(cost) - _exact(worth_left), demand)

    @property
    def critical_ratio(self) -> Fraction:
        """CR, exact; 0 where nothing is gained. Raises UnboundedStockError where nothing can be lost."""
        if self.underage <= 0:
            return Fraction(0)
        if self.overage <= 0:
            raise UnboundedStockError(
                "A left-over loses nothing here: bring as many as hours and table allow."
            )
        return self.underage / (self.underage + self.overage)

    def stock(self, at_most: int | None = None) -> Stocking:
        """Return the best quantity, capped at `at_most` if given. Raises UnboundedStockError."""
        if self.underage > 0 and self.overage <= 0 and at_most is not None:
            return self._stocking(at_most, at_most, 1.0)
        ratio = self.critical_ratio
        if ratio == 0:
            return self._stocking(0, 0, 0.0)
        if isinstance(self.demand, NormalDemand):
            best = self.demand.quantile(float(ratio))
            floor = max(0, math.floor(best))
            whole = min((floor, floor + 1), key=lambda each: (self.expected_cost(each), each))
        else:
            best = whole = self._least_covering(ratio)
        if at_most is not None and best > at_most:
            best = whole = at_most
        return self._stocking(best, whole, float(ratio))

    def expected_cost(self, quantity: float) -> float:
        """Return Co x left + Cu x short."""
        short, left = self._short_left(quantity)
        return float(self.overage) * left + float(self.underage) * short

    def expected_profit(self, quantity: float) -> float:
        """Return Cu x mean - expected cost."""
        return float(self.underage) * self.demand.mean - self.expected_cost(quantity)

    def fill_rate(self, quantity: float) -> float:
        """Return the share of demand that is met."""
        return 1 - self._short_left(quantity)[0] / self.demand.mean

    def _stocking(self, quantity: float, whole: int, ratio: float) -> Stocking:
        short, left = self._short_left(quantity)
        return Stocking(quantity, whole, ratio, self.expected_cost(quantity), short, left)

    def _short_left(self, quantity: float) -> tuple[float, float]:
        if isinstance(self.demand, NormalDemand):
            short = self.demand.short(quantity)
        else:
            short = self.demand.short(_whole(quantity))
        return short, quantity - self.demand.mean + short

    def _least_covering(self, ratio: Fraction) -> int:
        """Least Q with F(Q) >= CR: exact for observed demand, to TIE for the others."""
        if isinstance(self.demand, ObservedDemand):
            return next(value for value in self.demand.values if self.demand.exact_cdf(value) >= ratio)
        if isinstance(self.demand, NormalDemand):
            raise TypeError("Normal demand has no least whole quantity; its neighbours are compared.")
        return _search(self.demand, float(ratio) - TIE)


def order_up_to(
    periods: int,
    demand: NormalDemand,
    *,
    holding: Money,
    penalty: Money,
    unit_cost: Money,
    end_holding: Money,
    end_penalty: Money,
) -> tuple[int, ...]:
    """Return the stock to bring up to before each of several fairs in a row, in whole pieces.

    Unmet orders are kept. While more fairs come the unit cost cancels: CR = p/(p + h); at the last
    CR = (p + p_end - c)/(p + p_end + h + h_end). Stock generously early and thin out at the end.
    """
    early = Vendor.of_costs(penalty, holding, demand)
    last_under = _exact(penalty) + _exact(end_penalty) - _exact(unit_cost)
    last_over = _exact(holding) + _exact(end_holding) + _exact(unit_cost)
    last = Vendor(last_under, last_over, demand)
    return (*[early.stock().whole] * (periods - 1), last.stock().whole)


def _search(demand: WholeDemand, level: float) -> int:
    """Least whole Q with F(Q) >= level: double the upper end, then halve the gap."""
    high = 1
    while demand.cdf(high) < level:
        high *= 2
    low = -1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if demand.cdf(middle) < level else (low, middle)
    return high


def _whole(quantity: float) -> int:
    if quantity != math.floor(quantity):
        raise ValueError("Whole demand is met with whole pieces.")
    return int(quantity)


def _exact(amount: Money) -> Fraction:
    """A price as it is written: 0.7 is seven tenths."""
    return Fraction(str(amount)) if isinstance(amount, float) else Fraction(amount)
