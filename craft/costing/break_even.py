"""Break-even of a fair: where takings equal total cost.

The maker's own hours are a fixed choice once a piece exists, so show two break-evens: out of
pocket, and after paying for making. A booth share is a way of looking at a fee; it never decides
whether to sell a piece that is made.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from craft.costing.money import round_money_up
from craft.costing.values import ImpossiblePriceError, InvalidCostError

__all__ = [
    "MixProduct",
    "MixResult",
    "break_even_mix",
    "break_even_pieces",
    "break_even_price",
    "break_even_units",
    "contribution",
    "fee_share_of_takings",
    "margin_of_safety",
    "pieces_for_profit",
    "sales_to_break_even",
    "takings_where_fee_equals_commission",
]

ZERO = Decimal(0)


def contribution(
    price: Decimal, variable: Decimal, card_rate: Decimal = ZERO, commission: Decimal = ZERO
) -> Decimal:
    """Return what one piece brings towards fixed cost: price less materials, card fee and commission."""
    return price - variable - price * (card_rate + commission)


def break_even_units(fixed: Decimal, each: Decimal) -> Decimal:
    """Return how many pieces of contribution `each` cover a fixed cost, before rounding up."""
    if each <= 0:
        raise ImpossiblePriceError(
            "A piece that brings nothing after its own costs never breaks even, however many are sold."
        )
    return fixed / each


def break_even_pieces(fixed: Decimal, each: Decimal) -> int:
    """Return how many whole pieces cover a fixed cost."""
    return _whole_up(break_even_units(fixed, each))


def pieces_for_profit(fixed: Decimal, profit: Decimal, each: Decimal) -> int:
    """Return how many whole pieces cover a fixed cost and leave a profit."""
    return _whole_up(break_even_units(fixed + profit, each))


def sales_to_break_even(fixed: Decimal, each: Decimal, price: Decimal) -> Decimal:
    """Return the takings at which a fixed cost is covered, unrounded."""
    return break_even_units(fixed, each) * price


def break_even_price(fixed: Decimal, pieces: int, variable: Decimal, digits: int | None = 2) -> Decimal:
    """Return the price at which `pieces` cover all cost, rounded up to the minor unit.

    `digits` None: unrounded.
    """
    if pieces < 1:
        raise InvalidCostError("A break-even price needs at least one piece to sell.")
    price = variable + fixed / pieces
    return price if digits is None else round_money_up(price, digits)


def margin_of_safety(break_even_sales: Decimal, expected_sales: Decimal) -> Decimal:
    """Return the share by which takings may fall short of what is expected before money is lost."""
    if expected_sales <= 0:
        raise InvalidCostError("A margin of safety needs expected takings above nought.")
    return 1 - break_even_sales / expected_sales


def fee_share_of_takings(takings_over_fee: Decimal) -> Decimal:
    """Return a fee as a share of takings that are so many times the fee."""
    if takings_over_fee <= 0:
        raise InvalidCostError("Takings have to be above nought.")
    return 1 / takings_over_fee


def takings_where_fee_equals_commission(flat_fee: Decimal, commission: Decimal) -> Decimal:
    """Return the takings at which a flat fee costs as much as a commission."""
    if commission <= 0:
        raise InvalidCostError("Without commission the flat fee is never the same.")
    return flat_fee / commission


@dataclass(frozen=True, slots=True)
class MixProduct:
    """One product of a mix: price, cost that comes with each piece, share of the pieces sold."""

    price: Decimal
    variable: Decimal
    share: Decimal


@dataclass(frozen=True, slots=True)
class MixResult:
    """Break-even of a mix: averages per piece, whole pieces, and takings (unrounded)."""

    average_price: Decimal
    average_contribution: Decimal
    pieces: int
    sales: Decimal


def break_even_mix(
    fixed: Iterable[Decimal],
    products: Sequence[MixProduct],
    card_rate: Decimal = ZERO,
    commission: Decimal = ZERO,
) -> MixResult:
    """Return the break-even of several products sold in fixed shares."""
    shares = sum((product.share for product in products), ZERO)
    if shares <= 0:
        raise InvalidCostError("The products of a mix need shares above nought.")
    price = sum((product.price * product.share for product in products), ZERO) / shares
    each = (
        sum(
            (
                contribution(product.price, product.variable, card_rate, commission) * product.share
                for product in products
            ),
            ZERO,
        )
        / shares
    )
    total = sum(fixed, ZERO)
    return MixResult(price, each, break_even_pieces(total, each), sales_to_break_even(total, each, price))


def _whole_up(count: Decimal) -> int:
    return int(count.to_integral_value(ROUND_CEILING))
