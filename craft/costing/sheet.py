"""The cost sheet of one piece and of a batch.

    full cost = materials + hours x pay + hours x overhead per hour          (for the price)
    book cost = materials but packaging + hours x making share of overhead   (for stock)

The two are kept apart: own hours belong in the price, and are left out of what stock stands at unless an
adviser says otherwise (US Schedule C leaves out anything paid to oneself; IAS 2 leaves out selling and
office costs).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from craft.costing.money import round_money_up
from craft.costing.prices import price_keeping
from craft.costing.values import (
    BulkUse,
    CostSheet,
    InvalidCostError,
    Labour,
    Materials,
    SellingTerms,
    UnitUse,
    YarnUse,
)

__all__ = ["cost_sheet", "overhead_per_hour"]

ONE = Decimal(1)
ZERO = Decimal(0)


def cost_sheet(
    materials: Materials,
    labour: Labour,
    selling: SellingTerms | None = None,
    *,
    pieces: int = 1,
    digits: int = 2,
) -> CostSheet:
    """Work out what one of `pieces` equal pieces costs.

    `digits`: decimals of the currency's minor unit (2 for cents, 0 for yen); only the two floor
    prices are rounded, upwards, and they reckon with every sale paid by card. Raises InvalidCostError and
    ImpossiblePriceError.
    """
    _check(materials, labour, pieces)
    yarn, filling, notions, packaging = (
        _total(uses) for uses in (materials.yarns, materials.filling, materials.notions, materials.packaging)
    )
    hours = (labour.minutes + labour.setup_minutes / pieces) / 60
    overhead = hours * labour.overhead_per_hour
    in_piece = yarn + filling + notions
    materials_cost = in_piece + packaging
    full_cost = materials_cost + hours * labour.pay_per_hour + overhead
    worst = replace(selling or SellingTerms(), card_share=ONE)
    return CostSheet(
        yarn=yarn,
        filling=filling,
        notions=notions,
        packaging=packaging,
        materials=materials_cost,
        labour=hours * labour.pay_per_hour,
        overhead=overhead,
        full_cost=full_cost,
        book_cost=in_piece + overhead * labour.making_share,
        hours=hours,
        floor_out_of_pocket=round_money_up(price_keeping(materials_cost, worst), digits),
        floor_paid=round_money_up(price_keeping(full_cost, worst), digits),
        pieces=pieces,
    )


def overhead_per_hour(per_year: Decimal, productive_hours: Decimal) -> Decimal:
    """Return a year's overhead per productive hour of a normal year (not of this month)."""
    if productive_hours <= 0:
        raise InvalidCostError("The year needs some productive hours.")
    return per_year / productive_hours


def _total(uses: Iterable[YarnUse | BulkUse | UnitUse]) -> Decimal:
    return sum((use.cost for use in uses), ZERO)


def _check(materials: Materials, labour: Labour, pieces: int) -> None:
    if pieces < 1:
        raise InvalidCostError("Cost at least one piece.")
    for yarn in materials.yarns:
        if yarn.ball_g <= 0:
            raise InvalidCostError(f"A ball of “{yarn.label}” has to weigh more than nothing.")
    if not 0 <= labour.making_share <= 1:
        raise InvalidCostError("The making share of the overhead lies between 0 and 1.")
    uses: tuple[YarnUse | BulkUse | UnitUse, ...] = (
        *materials.yarns,
        *materials.filling,
        *materials.notions,
        *materials.packaging,
    )
    negative = next((use.label for use in uses if use.cost < 0), None)
    if negative is not None:
        raise InvalidCostError(f"“{negative}” cannot cost less than nothing.")
    if min(labour.minutes, labour.setup_minutes, labour.pay_per_hour, labour.overhead_per_hour) < 0:
        raise InvalidCostError("Time, pay and overhead cannot be below nought.")
