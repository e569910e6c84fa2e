"""Whether to order a yarn or supply again, and how much, from what went out week by week.

    reorder point = mean use over the lead time + z x sd a week x sqrt(lead weeks)
    order when    = what is free and on its way, less what is asked for and not promised, is at or below it
    how much      = the economic order quantity, at least what is missing to the reorder point, in whole packs

Sources: reorder point and order quantity as in `craft.costing.ordering`. That a week stands for a period,
that holding costs a fifth of the price a year, and eight weeks of use where no price is known: the house's
own figures (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Final

from craft.costing.ordering import economic_order_quantity, reorder_point_of_rate
from craft.costing.values import InvalidCostError

__all__ = ["Restock", "Terms", "restock"]

WEEKS_A_YEAR: Final = 52
HOLDING_A_YEAR: Final = 0.2
WEEKS_WITHOUT_PRICE: Final = 8


@dataclass(frozen=True, slots=True)
class Terms:
    """How a thing is bought. `pack`: its smallest order; `order_cost`: of one parcel; `unit_price`: None
    where not known; `stockout_risk`: in one lead time.
    """

    lead_weeks: float
    pack: float = 1
    order_cost: float = 0
    unit_price: float | None = None
    stockout_risk: float = 0.05


@dataclass(frozen=True, slots=True)
class Restock:
    """`position`: free, with what is on its way, less what is asked for. `advised`: 0 for nothing yet."""

    use_a_week: float
    reorder_at: float
    safety_stock: float
    position: float
    advised: float

    @property
    def due(self) -> bool:
        return self.advised > 0


def restock(weeks: Sequence[float], position: float, terms: Terms, minimum: float | None = None) -> Restock:
    """Return the advice. `weeks`: what went out in each week, oldest first, in the unit of everything else.

    `minimum`: a reorder point that somebody set, in place of the one worked out. Raises InvalidCostError.
    """
    if terms.pack <= 0:
        raise InvalidCostError("A pack has to be above nought.")
    use = max(fmean(weeks), 0.0) if weeks else 0.0
    point, safety = _reorder_at(weeks, use, terms)
    if minimum is not None:
        point = minimum
    missing = point - position
    due = missing >= 0 if (use or minimum) else missing > 0
    wanted = max(missing, _usual(use, terms), terms.pack) if due and use else max(missing, 0)
    if due and not use and minimum is not None:
        wanted = max(missing, terms.pack)
    packs = math.ceil(wanted / terms.pack - 1e-9) if due else 0
    return Restock(use, point, safety, position, packs * terms.pack)


def _reorder_at(weeks: Sequence[float], use: float, terms: Terms) -> tuple[float, float]:
    if not use:
        return 0.0, 0.0
    spread = stdev(weeks) if len(weeks) > 1 else 0.0
    found = reorder_point_of_rate(use * len(weeks), len(weeks), terms.lead_weeks, spread, terms.stockout_risk)
    return found.point, found.safety_stock


def _usual(use: float, terms: Terms) -> float:
    """The order quantity where nothing is missing yet."""
    if not terms.unit_price or not terms.order_cost:
        return use * WEEKS_WITHOUT_PRICE
    holding = terms.unit_price * HOLDING_A_YEAR / WEEKS_A_YEAR
    return economic_order_quantity(terms.order_cost, holding, use).quantity
