"""What stock is worth, and what its use cost: FIFO, moving and periodic average, lower of cost and NRV.

Unit costs are exact fractions. Values are rounded to the minor unit so that the cost of uses plus
closing stock always equals opening stock plus receipts: each use takes the difference of two
rounded stock values. Stock stands at the lower of cost and net realisable value (IAS 2 paragraphs
9, 23, 25). LIFO is not allowed there and is here only to prove the handling of layers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction

from craft.costing.prices import kept_of
from craft.costing.values import InvalidCostError, SellingTerms

__all__ = [
    "Layer",
    "Method",
    "Movement",
    "NotEnoughStockError",
    "StockValue",
    "UseCost",
    "net_realisable_value",
    "received",
    "used",
    "value_stock",
    "write_down",
]


class NotEnoughStockError(ValueError):
    """More is taken out than there is: never a layer below nought."""

    def __init__(self, wanted: Fraction, there: Fraction) -> None:
        super().__init__(f"Cannot take out {_plain(wanted)}: only {_plain(there)} are there.")
        self.wanted = wanted
        self.there = there


class Method(StrEnum):
    """How receipts at different prices become the cost of what is used."""

    FIFO = "fifo"
    MOVING_AVERAGE = "moving-average"
    PERIODIC_AVERAGE = "periodic-average"
    LIFO = "lifo"


@dataclass(frozen=True, slots=True)
class Movement:
    """A receipt (`value` is what all of it cost) or a use (`value` None). Any one unit of quantity."""

    quantity: Fraction
    value: Fraction | None


def received(quantity: Decimal | int, unit_cost: Decimal | int) -> Movement:
    """Return a receipt. What is unravelled or sent back comes in at the cost that it left with."""
    if quantity <= 0 or unit_cost < 0:
        raise InvalidCostError("A receipt needs a quantity above nought and a cost not below it.")
    return Movement(Fraction(quantity), Fraction(quantity) * Fraction(unit_cost))


def used(quantity: Decimal | int) -> Movement:
    """Return a use."""
    if quantity <= 0:
        raise InvalidCostError("A use needs a quantity above nought.")
    return Movement(Fraction(quantity), None)


@dataclass(frozen=True, slots=True)
class Layer:
    """Stock that came in together: quantity left and exact unit cost."""

    quantity: Fraction
    unit_cost: Fraction

    @property
    def value(self) -> Fraction:
        return self.quantity * self.unit_cost


@dataclass(frozen=True, slots=True)
class UseCost:
    """One use: its quantity, average unit cost (to eight decimals) and value (to the minor unit)."""

    quantity: Decimal
    unit_cost: Decimal
    value: Decimal


@dataclass(frozen=True, slots=True)
class StockValue:
    """The uses in their order, and what is left."""

    uses: tuple[UseCost, ...]
    layers: tuple[Layer, ...]
    stock_quantity: Decimal
    stock_value: Decimal

    @property
    def used_value(self) -> Decimal:
        """Cost of all uses together."""
        return sum((use.value for use in self.uses), Decimal(0))

    @property
    def unit_cost(self) -> Decimal | None:
        """Average unit cost of what is left, to eight decimals, or None if nothing is."""
        quantity = sum((layer.quantity for layer in self.layers), Fraction(0))
        return (
            _decimal(sum((layer.value for layer in self.layers), Fraction(0)) / quantity, 8)
            if quantity
            else None
        )


def value_stock(movements: Sequence[Movement], method: Method, digits: int = 2) -> StockValue:
    """Value movements in their order. Raises NotEnoughStockError."""
    if method is Method.PERIODIC_AVERAGE:
        movements = _at_period_average(movements)
    layers: tuple[Layer, ...] = ()
    uses: list[UseCost] = []
    for movement in movements:
        if movement.value is not None:
            layers = _with_receipt(layers, movement.quantity, movement.value, method)
            continue
        left = _take(layers, movement.quantity, newest_first=method is Method.LIFO)
        exact = _value(layers) - _value(left)
        value = _decimal(_value(layers), digits) - _decimal(_value(left), digits)
        uses.append(UseCost(_exact(movement.quantity), _decimal(exact / movement.quantity, 8), value))
        layers = left
    quantity = sum((layer.quantity for layer in layers), Fraction(0))
    return StockValue(tuple(uses), layers, _exact(quantity), _decimal(_value(layers), digits))


def _at_period_average(movements: Sequence[Movement]) -> list[Movement]:
    """Give every receipt of the period the average unit cost of all of them."""
    receipts = [movement for movement in movements if movement.value is not None]
    quantity = sum((movement.quantity for movement in receipts), Fraction(0))
    value = sum((movement.value or Fraction(0) for movement in receipts), Fraction(0))
    average = value / quantity if quantity else Fraction(0)
    return [
        movement if movement.value is None else Movement(movement.quantity, movement.quantity * average)
        for movement in movements
    ]


def _with_receipt(
    layers: tuple[Layer, ...], quantity: Fraction, value: Fraction, method: Method
) -> tuple[Layer, ...]:
    """Add a layer, or mix it into the one layer that an average keeps."""
    if method in {Method.FIFO, Method.LIFO} or not layers:
        return (*layers, Layer(quantity, value / quantity))
    (old,) = layers
    total = old.quantity + quantity
    return (Layer(total, (old.value + value) / total),)


def _take(layers: tuple[Layer, ...], quantity: Fraction, *, newest_first: bool) -> tuple[Layer, ...]:
    """Take a quantity from the oldest layers first, or from the newest."""
    there = sum((layer.quantity for layer in layers), Fraction(0))
    if quantity > there:
        raise NotEnoughStockError(quantity, there)
    ordered = layers[::-1] if newest_first else layers
    left: list[Layer] = []
    for layer in ordered:
        taken = min(layer.quantity, quantity)
        quantity -= taken
        if layer.quantity > taken:
            left.append(Layer(layer.quantity - taken, layer.unit_cost))
    return tuple(left[::-1] if newest_first else left)


def _value(layers: tuple[Layer, ...]) -> Fraction:
    return sum((layer.value for layer in layers), Fraction(0))


def net_realisable_value(
    price: Decimal, terms: SellingTerms, cost_to_finish: Decimal = Decimal(0)
) -> Decimal:
    """Return what a piece will bring: its price less fees and tax, less the cost to finish it, unrounded."""
    return kept_of(price, terms) - cost_to_finish


def write_down(cost: Decimal, realisable: Decimal) -> Decimal:
    """Return by how much stock has to come down to the lower of cost and net realisable value, unrounded."""
    return max(Decimal(0), cost - realisable)


def _decimal(value: Fraction, digits: int) -> Decimal:
    """Round a fraction half up, ties away from zero, to a Decimal."""
    scaled = abs(value) * 10**digits
    whole = (scaled.numerator * 2 + scaled.denominator) // (2 * scaled.denominator)
    return Decimal(whole if value >= 0 else -whole).scaleb(-digits)


def _exact(value: Fraction) -> Decimal:
    """Quantities come from decimals, so they go back without loss; others to twelve places."""
    return (
        (Decimal(value.numerator) / Decimal(value.denominator))
        .quantize(Decimal("1e-12"), ROUND_HALF_UP)
        .normalize()
    )


def _plain(value: Fraction) -> str:
    return f"{_exact(value):f}"
