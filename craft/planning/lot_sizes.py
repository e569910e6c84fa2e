"""Orders for known needs, and several colours in one parcel.

Needs d_t over periods, order cost K_t whenever something is ordered in t, holding h_t per unit kept
from t to t+1. `plan_orders` is exact (Wagner and Whitin 1958); `silver_meal` is the rule of thumb
that looks only ahead. `shared_parcels` is Silver's rule of 1976 for lines that share a parcel.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

__all__ = ["OrderPlan", "ParcelPlan", "plan_orders", "shared_parcels", "silver_meal"]


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """How much to order in each period, and what ordering and holding cost together."""

    orders: tuple[float, ...]
    cost: float


def plan_orders(
    needs: Sequence[float], order_costs: Sequence[float], holding_costs: Sequence[float]
) -> OrderPlan:
    """Return the cheapest orders that meet every need in time. Ties take the shorter run.

    All three have one entry per period; the last holding cost is not used.
    """
    _check(needs, order_costs, holding_costs)
    periods = len(needs)
    best: list[Fraction] = [Fraction(0)] * (periods + 1)
    run_end = [periods] * (periods + 1)
    for start in range(periods - 1, -1, -1):
        options = []
        for end in range(start + 1, periods + 1):
            cost = _run_cost(needs, order_costs, holding_costs, start, end)
            options.append((cost + best[end], end))
        best[start], run_end[start] = min(options)
    return _laid_out(needs, run_end.__getitem__, float(best[0]))


def silver_meal(
    needs: Sequence[float], order_costs: Sequence[float], holding_costs: Sequence[float]
) -> OrderPlan:
    """Return orders by the rule of thumb: lengthen a run while its cost per period falls."""
    _check(needs, order_costs, holding_costs)
    periods = len(needs)
    ends: dict[int, int] = {}
    start, total = 0, Fraction(0)
    while start < periods:
        end = start + 1
        cost = _run_cost(needs, order_costs, holding_costs, start, end)
        while end < periods:
            longer = _run_cost(needs, order_costs, holding_costs, start, end + 1)
            if longer / (end + 1 - start) > cost / (end - start):
                break
            end, cost = end + 1, longer
        ends[start] = end
        start, total = end, total + cost
    return _laid_out(needs, ends.__getitem__, float(total))


def _run_cost(
    needs: Sequence[float], order_costs: Sequence[float], holding: Sequence[float], start: int, end: int
) -> Fraction:
    """Cost of ordering in `start` what is needed before `end`; nothing needed, nothing ordered."""
    if not any(needs[start:end]):
        return Fraction(0)
    cost = _fraction(order_costs[start])
    kept = Fraction(0)
    for period in range(start, end):
        cost += _fraction(needs[period]) * kept
        kept += _fraction(holding[period])
    return cost


def _laid_out(needs: Sequence[float], end_of: Callable[[int], int], cost: float) -> OrderPlan:
    orders = [0.0] * len(needs)
    start = 0
    while start < len(needs):
        end = end_of(start)
        orders[start] = math.fsum(needs[start:end])
        start = end
    return OrderPlan(tuple(orders), cost)


def _check(needs: Sequence[float], order_costs: Sequence[float], holding_costs: Sequence[float]) -> None:
    if not len(needs) == len(order_costs) == len(holding_costs):
        raise ValueError("Give a need, an order cost and a holding cost for every period.")
    if any(value < 0 for row in (needs, order_costs, holding_costs) for value in row):
        raise ValueError("Needs and costs cannot be below nought.")


def _fraction(value: float) -> Fraction:
    return Fraction(str(value))


@dataclass(frozen=True, slots=True)
class ParcelPlan:
    """A parcel every `cycle` periods; line i comes with every `multiples[i]`-th of them."""

    cycle: float
    multiples: tuple[int, ...]
    quantities: tuple[float, ...]
    cost_rate: float


def shared_parcels(
    shared_cost: float,
    line_costs: Sequence[float],
    holding_costs: Sequence[float],
    demand_rates: Sequence[float],
) -> ParcelPlan:
    """Return how often to order and which colours come in which parcel.

    `shared_cost` A: money per parcel; per line its own order cost, holding per unit and period, and
    demand per period. The line with the least a/(h d) comes in every parcel.
    """
    if min(shared_cost, *line_costs) < 0 or min(*holding_costs, *demand_rates) <= 0:
        raise ValueError("Order costs cannot be below nought; holding and demand have to be above it.")
    lines = list(zip(line_costs, holding_costs, demand_rates, strict=True))
    first = min(range(len(lines)), key=lambda line: lines[line][0] / (lines[line][1] * lines[line][2]))
    a_first, h_first, d_first = lines[first]
    if shared_cost + a_first <= 0:
        raise ValueError("A parcel that costs nothing is sent for every need.")
    multiples = tuple(
        1
        if line == first
        else _least_multiple(math.sqrt(own / (hold * need) * h_first * d_first / (shared_cost + a_first)))
        for line, (own, hold, need) in enumerate(lines)
    )
    order = shared_cost + sum(own / many for (own, _, _), many in zip(lines, multiples, strict=True))
    keep = sum(hold * need * many for (_, hold, need), many in zip(lines, multiples, strict=True))
    cycle = math.sqrt(2 * order / keep)
    quantities = tuple(many * cycle * need for (_, _, need), many in zip(lines, multiples, strict=True))
    return ParcelPlan(cycle, multiples, quantities, math.sqrt(2 * order * keep))


def _least_multiple(ratio: float) -> int:
    """Least whole k >= 1 with sqrt(k (k + 1)) >= ratio."""
    many = 1
    while math.sqrt(many * (many + 1)) < ratio:
        many += 1
    return many
