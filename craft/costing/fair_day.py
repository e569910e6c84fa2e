"""What a fair costs and takes, and the counting of the till at its end."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from craft.costing.prices import tax_inside
from craft.costing.values import InvalidCostError

__all__ = [
    "CashUp",
    "FairFees",
    "FairMeasures",
    "FairSheet",
    "cash_up",
    "fair_fees",
    "fair_measures",
    "fair_sheet",
]

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class CashUp:
    """Cash that should be in the box, and counted less expected: below nought is short."""

    expected: Decimal
    variance: Decimal


def cash_up(
    *,
    opening_float: Decimal,
    cash_sales: Decimal,
    counted: Decimal,
    refunds: Decimal = ZERO,
    paid_out: Decimal = ZERO,
    dropped: Decimal = ZERO,
    rounding: Decimal = ZERO,
) -> CashUp:
    """Compare the till with what it should hold.

    `cash_sales`: before cash rounding; `rounding`: what rounding to coins added or took, its own
    line, so that it is never variance. A variance is written down, not argued away.
    """
    expected = opening_float + cash_sales + rounding - refunds - paid_out - dropped
    return CashUp(expected, counted - expected)


@dataclass(frozen=True, slots=True)
class FairFees:
    """What an organiser takes: for the pitch, of the takings, for each counted thing, and in all."""

    pitch: Decimal
    commission: Decimal
    counted: tuple[Decimal, ...]
    total: Decimal


def fair_fees(
    pitch: tuple[Decimal, Decimal],
    rate_per_area: Decimal,
    *,
    commission: Decimal = ZERO,
    takings_per_day: Decimal = ZERO,
    days: int = 1,
    counted: Sequence[tuple[int, Decimal]] = (),
) -> FairFees:
    """Add up a fair's fees. `pitch`: width and depth; `counted`: (how many, price) of permits,
    power, passes.
    """
    width, depth = pitch
    pitch_fee = width * depth * rate_per_area
    share = commission * takings_per_day * days
    each = tuple(how_many * price for how_many, price in counted)
    return FairFees(pitch_fee, share, each, pitch_fee + share + sum(each, ZERO))


@dataclass(frozen=True, slots=True)
class FairSheet:
    """What a fair leaves, line by line, before paying for making."""

    expenses: Decimal
    after_expenses: Decimal
    tax: Decimal
    card_fees: Decimal
    after_tax_and_card: Decimal
    materials: Decimal
    left: Decimal


def fair_sheet(
    expenses: Iterable[Decimal],
    takings: Decimal = ZERO,
    *,
    takings_include_tax: bool,
    tax_rate: Decimal = ZERO,
    card_takings: Decimal = ZERO,
    card_rate: Decimal = ZERO,
    materials_share: Decimal = ZERO,
) -> FairSheet:
    """Work out what a fair leaves.

    `takings_include_tax` has to be said: True takes the tax inside the takings, False takes the rate on the
    whole of them, which is right only if tax was collected on top. `materials_share`: of takings.
    """
    spent = sum(expenses, ZERO)
    tax = tax_inside(takings, tax_rate) if takings_include_tax else takings * tax_rate
    card_fees = card_takings * card_rate
    after_tax_and_card = takings - spent - tax - card_fees
    materials = takings * materials_share
    return FairSheet(
        expenses=spent,
        after_expenses=takings - spent,
        tax=tax,
        card_fees=card_fees,
        after_tax_and_card=after_tax_and_card,
        materials=materials,
        left=after_tax_and_card - materials,
    )


@dataclass(frozen=True, slots=True)
class FairMeasures:
    """How a fair went. None where the count it needs is nought or not known."""

    sell_through: Decimal | None
    average_basket: Decimal | None
    pieces_per_basket: Decimal | None
    takings_per_open_hour: Decimal | None
    takings_over_fee: Decimal | None
    buyers_of_visitors: Decimal | None


def fair_measures(
    *,
    takings: Decimal,
    sold: int,
    brought: int,
    transactions: int,
    open_hours: Decimal,
    fee: Decimal,
    visitors: int | None = None,
) -> FairMeasures:
    """Return the usual measures of a fair; sell-through is sold by brought at the start."""
    return FairMeasures(
        sell_through=_ratio(Decimal(sold), Decimal(brought)),
        average_basket=_ratio(takings, Decimal(transactions)),
        pieces_per_basket=_ratio(Decimal(sold), Decimal(transactions)),
        takings_per_open_hour=_ratio(takings, open_hours),
        takings_over_fee=_ratio(takings, fee),
        buyers_of_visitors=None if visitors is None else _ratio(Decimal(transactions), Decimal(visitors)),
    )


def _ratio(part: Decimal, whole: Decimal) -> Decimal | None:
    if whole < 0:
        raise InvalidCostError("Counts and hours cannot be below nought.")
    return part / whole if whole else None
