"""What a cost sheet is asked with, and what it answers. Money is Decimal in currency units."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

__all__ = [
    "BulkUse",
    "CostSheet",
    "ImpossiblePriceError",
    "InvalidCostError",
    "Labour",
    "Materials",
    "SellingTerms",
    "TaxKind",
    "UnitUse",
    "YarnUse",
]

ZERO = Decimal(0)


class InvalidCostError(ValueError):
    """An input from which no cost can be worked out; the sentence says which and why."""


class ImpossiblePriceError(ValueError):
    """Fees, tax and margin together take all of the price: no price gives what is asked."""


class TaxKind(StrEnum):
    """Where sales tax stands: none, inside the price shown, or added at the till."""

    NONE = "none"
    INSIDE = "inside"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class YarnUse:
    """Yarn of one piece: grams used, the price of one ball and its net mass. `waste` is a
    fraction.
    """

    label: str
    used_g: Decimal
    ball_g: Decimal
    ball_price: Decimal
    waste: Decimal = ZERO

    @property
    def cost(self) -> Decimal:
        return self.used_g * (1 + self.waste) * self.ball_price / self.ball_g


@dataclass(frozen=True, slots=True)
class BulkUse:
    """A filling or the like bought by mass: grams used and price of 1 kg."""

    label: str
    used_g: Decimal
    price_per_kg: Decimal

    @property
    def cost(self) -> Decimal:
        return self.used_g * self.price_per_kg / 1000


@dataclass(frozen=True, slots=True)
class UnitUse:
    """Something counted: eyes, labels, a box."""

    label: str
    quantity: Decimal
    unit_price: Decimal

    @property
    def cost(self) -> Decimal:
        return self.quantity * self.unit_price


@dataclass(frozen=True, slots=True)
class Materials:
    """All that goes into one piece, at replacement cost, and around it when it is sold."""

    yarns: tuple[YarnUse, ...] = ()
    filling: tuple[BulkUse, ...] = ()
    notions: tuple[UnitUse, ...] = ()
    packaging: tuple[UnitUse, ...] = ()


@dataclass(frozen=True, slots=True)
class Labour:
    """Time and what it costs. `setup_minutes` are spent once for the whole batch.

    `overhead_per_hour`: yearly overhead by *normal* productive hours, so that a slow month does not
    make a piece look dearer. `making_share`: share of that overhead that belongs to making and so
    to the book cost of stock (rent of a workroom, tools), not to selling or the office.
    """

    minutes: Decimal
    pay_per_hour: Decimal
    overhead_per_hour: Decimal = ZERO
    setup_minutes: Decimal = ZERO
    making_share: Decimal = ZERO

    @classmethod
    def of_hours(cls, hours: Decimal, pay_per_hour: Decimal, overhead_per_hour: Decimal = ZERO) -> Labour:
        """Return labour told in hours."""
        return cls(hours * 60, pay_per_hour, overhead_per_hour)


@dataclass(frozen=True, slots=True)
class SellingTerms:
    """What a sale takes from the price: fractions of it and money per sale.

    The card fee is a share of what the customer pays, tax included; commission is a share of the
    price without tax. `card_share`: part of the sales paid by card (1: every sale, the worst case).
    `postage`: other money paid by the maker per sale.
    """

    card_rate: Decimal = ZERO
    card_fixed: Decimal = ZERO
    card_share: Decimal = Decimal(1)
    commission: Decimal = ZERO
    postage: Decimal = ZERO
    tax: TaxKind = TaxKind.NONE
    tax_rate: Decimal = ZERO


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What one of `pieces` equal pieces costs, unrounded; `shown()` rounds for the page.

    `full_cost` (for pricing) holds materials, packaging, own hours and overhead. `book_cost` (for
    stock) holds materials and the making share of the overhead: no own hours, no packaging, no
    selling. `materials` is all that is bought for the piece, packaging included.
    `floor_out_of_pocket` and `floor_paid` are the lowest prices (as labelled, rounded up to the
    minor unit) that give back the money spent, and that pay hours and overhead too.
    """

    yarn: Decimal
    filling: Decimal
    notions: Decimal
    packaging: Decimal
    materials: Decimal
    labour: Decimal
    overhead: Decimal
    full_cost: Decimal
    book_cost: Decimal
    hours: Decimal
    floor_out_of_pocket: Decimal
    floor_paid: Decimal
    pieces: int

    @property
    def out_of_pocket(self) -> Decimal:
        """Money spent because of this piece."""
        return self.materials

    @property
    def batch_full_cost(self) -> Decimal:
        return self.full_cost * self.pieces

    @property
    def batch_book_cost(self) -> Decimal:
        return self.book_cost * self.pieces

    @property
    def batch_hours(self) -> Decimal:
        return self.hours * self.pieces

    def shown(self, digits: int = 2) -> CostSheet:
        """Return the sheet with every amount rounded half up: parts need not add up to their total."""
        unit = Decimal(1).scaleb(-digits)
        amounts = {name: getattr(self, name).quantize(unit, ROUND_HALF_UP) for name in _AMOUNTS}
        return replace(self, **amounts)


_AMOUNTS = (
    "yarn",
    "filling",
    "notions",
    "packaging",
    "materials",
    "labour",
    "overhead",
    "full_cost",
    "book_cost",
)
