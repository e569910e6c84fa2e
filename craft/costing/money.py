"""Rounding of money, and prices that end well.

Money is Decimal in currency units; `digits` are the decimals of its minor unit (2 for cents, 0 for yen).
Amounts are rounded half up, ties away from zero, and only where they are shown; a total is the rounded sum of
unrounded parts. A minimum (lowest price, break-even) is rounded up.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from craft.costing.values import InvalidCostError

__all__ = [
    "cash_total",
    "from_minor",
    "next_charm_price",
    "next_multiple",
    "percent",
    "round_money",
    "round_money_up",
    "to_minor",
]


def round_money(amount: Decimal, digits: int = 2) -> Decimal:
    """Round half up to the minor unit."""
    return amount.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)


def round_money_up(amount: Decimal, digits: int = 2) -> Decimal:
    """Round a minimum up to the minor unit; an exact amount stays."""
    return amount.quantize(Decimal(1).scaleb(-digits), ROUND_CEILING)


def to_minor(amount: Decimal, digits: int = 2) -> int:
    """Turn currency units into whole minor units, half up."""
    return int(round_money(amount, digits).scaleb(digits))


def from_minor(amount_minor: int, digits: int = 2) -> Decimal:
    """Turn minor units into currency units, exactly."""
    return Decimal(amount_minor).scaleb(-digits)


def next_charm_price(price: Decimal, ending: Decimal) -> Decimal:
    """Return the lowest price at or above `price` that ends in `ending` (0.95, say)."""
    return (price - ending).to_integral_value(ROUND_CEILING) + ending


def next_multiple(price: Decimal, step: Decimal) -> Decimal:
    """Return the lowest multiple of `step` at or above `price`."""
    if step <= 0:
        raise InvalidCostError("The step between prices has to be above nought.")
    return (price / step).to_integral_value(ROUND_CEILING) * step


def cash_total(total: Decimal, step: Decimal, *, lift_small: bool = False) -> Decimal:
    """Round a total for cash to the nearest coin, half up (0.05: 1, 2 down, 3, 4 up, 6, 7 down, 8, 9 up).

    On the total after tax, and for cash only. `lift_small`: a total that would round to nothing is one coin
    instead, as US guidance of December 2025 has it. Rules differ by place.
    """
    if step <= 0:
        raise InvalidCostError("The smallest coin has to be above nought.")
    rounded = (total / step).to_integral_value(ROUND_HALF_UP) * step
    return step if lift_small and total > 0 and rounded == 0 else rounded


def percent(rate: Decimal) -> Decimal:
    """Turn a fraction into per cent."""
    return rate * 100
