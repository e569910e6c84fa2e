"""When and how much to order again, where needs are steady: order quantity and reorder point.

For known needs and shared parcels see `craft.planning.lot_sizes`; for yarn they fit better than a
steady rate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from craft.costing.values import InvalidCostError

__all__ = [
    "OrderQuantity",
    "ReorderPoint",
    "economic_order_quantity",
    "reorder_point",
    "reorder_point_of_rate",
    "service_level_of_costs",
]


@dataclass(frozen=True, slots=True)
class OrderQuantity:
    """Best order size, what ordering and holding cost per period, and the periods between orders.

    `whole`: the better of the two whole neighbours (the lower in a tie), `whole_cost_rate` its cost.
    """

    quantity: float
    cost_rate: float
    cycle: float
    whole: int
    whole_cost_rate: float


def economic_order_quantity(order_cost: float, holding_cost: float, demand_rate: float) -> OrderQuantity:
    """Return Q* = sqrt(2 K D / h).

    `order_cost` K: money per order; `holding_cost` h: money per unit and period; `demand_rate` D: units per
    period. Demand and holding count in the same period: say which.
    """
    if min(order_cost, holding_cost, demand_rate) <= 0:
        raise InvalidCostError("Order cost, holding cost and demand all have to be above nought.")

    def cost_rate(quantity: float) -> float:
        return order_cost * demand_rate / quantity + holding_cost * quantity / 2

    quantity = math.sqrt(2 * order_cost * demand_rate / holding_cost)
    neighbours = (max(1, math.floor(quantity)), max(1, math.ceil(quantity)))
    whole = min(neighbours, key=lambda each: (cost_rate(each), each))
    return OrderQuantity(quantity, cost_rate(quantity), quantity / demand_rate, whole, cost_rate(whole))


@dataclass(frozen=True, slots=True)
class ReorderPoint:
    """Stock on hand and on order at or below which to order; `whole` is rounded up."""

    point: float
    safety_stock: float
    whole: int


def reorder_point(mean: float, sd: float, stockout_risk: float) -> ReorderPoint:
    """Return the reorder point for normal lead-time demand (mean, sd, units) and a risk of running out."""
    if not 0 < stockout_risk < 1 or sd < 0:
        raise InvalidCostError("The risk lies between 0 and 1, and a spread is not below nought.")
    safety = NormalDist().inv_cdf(1 - stockout_risk) * sd
    return ReorderPoint(mean + safety, safety, math.ceil(mean + safety - 1e-9))


def reorder_point_of_rate(
    demand: float, periods: float, lead_periods: float, sd_per_period: float = 0.0, stockout_risk: float = 0.5
) -> ReorderPoint:
    """Return the reorder point for a demand over so many periods and a lead time in the same periods.

    Only demand varies: its spread over the lead time grows with the square root of it.
    """
    if periods <= 0 or lead_periods < 0:
        raise InvalidCostError("Periods have to be above nought and the lead time not below it.")
    return reorder_point(
        demand / periods * lead_periods, sd_per_period * math.sqrt(lead_periods), stockout_risk
    )


def service_level_of_costs(penalty: float, holding: float) -> float:
    """Return the service level that balances a penalty and holding, both per unit and period."""
    if penalty <= 0 or holding <= 0:
        raise InvalidCostError("Penalty and holding cost have to be above nought.")
    return penalty / (penalty + holding)
