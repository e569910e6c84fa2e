"""What one piece uses and what that costs: lot by lot where the shelf knows, else by what was last paid.

Yarn is priced at the own cost of the lots that would serve, first come first (FIFO, IAS 2 paragraph 25).
Where the shelf has too little, the rest is priced at what was last paid for that colour, then for that yarn
in another colour; where nothing was ever paid the cost is not known, counts as nothing, and the page says so.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import floor
from typing import TypeAlias

from craft.costing import BulkUse, UnitUse, YarnUse
from orders.models import ExtraKind, PieceExtra, PieceYarn
from orders.shelf import Shelf, Thing
from workroom.money import to_decimal
from yarns.amounts import Amount, Unit
from yarns.selectors import ShelfLot


class Basis(StrEnum):
    """How a share of a use was priced."""

    SHELF = "shelf"  # the own cost of a lot on the shelf
    LAST_PAID = "last paid"  # not on the shelf, or a lot without a price: what this colour last cost
    SAME_YARN = "same yarn"  # never bought in this colour: what the yarn last cost in another
    TYPED = "typed"  # a price that the seller typed
    UNKNOWN = "unknown"  # nothing was ever paid as far as the book knows


@dataclass(frozen=True, slots=True)
class Share:
    """Part of a use. `lot`: the lot on the shelf it would come from; `priced_by`: whose price counts."""

    amount: Amount
    basis: Basis
    lot: ShelfLot | None = None
    priced_by: ShelfLot | None = None

    @property
    def cost_minor(self) -> Fraction:
        """Unrounded minor units; nothing where the price is not known."""
        rate = self.priced_by.unit_cost_minor if self.priced_by else None
        return Fraction(0) if rate is None else rate * self.amount.count


@dataclass(frozen=True, slots=True)
class Use:
    """One line of the cost sheet: a yarn of the piece or an extra. `amount` with waste, for one piece.

    `typed_minor`: cost of the line from a typed price, unrounded; else the shares cost what they cost.
    """

    kind: str
    label: str
    thing_name: str
    amount: Amount
    shares: tuple[Share, ...] = ()
    typed_minor: Fraction | None = None
    hex_swatch: str = ""
    chosen: bool = True

    @property
    def cost_minor(self) -> Fraction:
        if self.typed_minor is not None:
            return self.typed_minor
        return sum((share.cost_minor for share in self.shares), Fraction(0))

    @property
    def cost_rounded(self) -> int:
        """Whole minor units, half up, for showing."""
        return floor(self.cost_minor + Fraction(1, 2))

    @property
    def has_unknown(self) -> bool:
        """Part of it has no known cost and counts as nothing."""
        return Basis.UNKNOWN in self.bases

    @property
    def bases(self) -> frozenset[Basis]:
        if self.typed_minor is not None:
            return frozenset({Basis.TYPED})
        return frozenset(share.basis for share in self.shares)


Lots: TypeAlias = Sequence[tuple[ShelfLot, int]]
"""Lots to draw on in this order, each with how much of it may be drawn (mg or pieces)."""


def draw(shelf: Shelf, thing: Thing, amount: Amount, yarn_id: int | None = None) -> tuple[Share, ...]:
    """Take `amount` from the shelf in thought, first come first; what is missing at what was last paid."""
    lots = [(lot, lot.free.count) for lot in shelf.lots(thing)]
    return draw_from(lots, shelf, thing, amount, yarn_id)


def draw_from(
    lots: Lots, shelf: Shelf, thing: Thing, amount: Amount, yarn_id: int | None = None
) -> tuple[Share, ...]:
    """Take `amount` from these lots in thought; what is missing at what was last paid."""
    paid = _last_paid(shelf, thing, yarn_id)
    shares = []
    rest = amount.count
    for lot, most in lots:
        take = Amount(min(rest, most), amount.unit)
        if take.count > 0 and lot.cost_minor is not None:
            shares.append(Share(take, Basis.SHELF, lot, lot))
        elif take.count > 0:
            shares.append(Share(take, paid[0], lot, paid[1]))
        rest -= max(0, take.count)
    if rest > 0:
        shares.append(Share(Amount(rest, amount.unit), paid[0], None, paid[1]))
    return tuple(shares)


def _last_paid(shelf: Shelf, thing: Thing, yarn_id: int | None) -> tuple[Basis, ShelfLot | None]:
    if thing in shelf.paid:
        return Basis.LAST_PAID, shelf.paid[thing]
    if yarn_id in shelf.paid_for_yarn:
        return Basis.SAME_YARN, shelf.paid_for_yarn[yarn_id]
    return Basis.UNKNOWN, None


def with_waste(mass_mg: int, waste_bp: int) -> int:
    """Mass with the share lost in ends and slips, rounded up to the milligram."""
    return -(-mass_mg * (10_000 + waste_bp) // 10_000)


def yarn_use(part: PieceYarn, shelf: Shelf, waste_bp: int) -> Use:
    amount = Amount(with_waste(part.mass_mg, waste_bp), Unit.MILLIGRAM)
    if part.colour is None:
        return Use("yarn", str(part), "", amount, (Share(amount, Basis.UNKNOWN),), chosen=False)
    colour = part.colour
    shares = draw(shelf, ("colour", colour.pk), amount, colour.yarn_id)
    return Use("yarn", str(part), str(colour), amount, shares, hex_swatch=colour.hex_swatch)


def extra_use(extra: PieceExtra, shelf: Shelf) -> Use:
    name = str(extra.supply) if extra.supply else ""
    if extra.price_minor is not None:
        per = 1_000_000 if extra.unit == Unit.MILLIGRAM else 1
        typed = Fraction(extra.price_minor * extra.quantity, per)
        return Use(extra.kind, extra.label, name, extra.amount, typed_minor=typed)
    if extra.supply_id is None:
        return Use(extra.kind, extra.label, name, extra.amount, (Share(extra.amount, Basis.UNKNOWN),))
    return Use(
        extra.kind, extra.label, name, extra.amount, draw(shelf, ("supply", extra.supply_id), extra.amount)
    )


def uses_of(
    yarns: Iterable[PieceYarn], extras: Iterable[PieceExtra], shelf: Shelf, waste_bp: int
) -> tuple[Use, ...]:
    """Every line of a piece, yarns first."""
    return (
        *(yarn_use(part, shelf, waste_bp) for part in yarns),
        *(extra_use(extra, shelf) for extra in extras),
    )


# ------------------------------------------------------------------- as the cost sheet takes it


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)


def _money(minor: Fraction, currency: str) -> Decimal:
    return _decimal(minor) * to_decimal(1, currency)


def yarns_for_sheet(uses: Sequence[Use], currency: str) -> list[YarnUse]:
    """One entry per share, at the price of the lot that prices it."""
    return [
        YarnUse(
            use.label,
            share.amount.grams,
            ball_g=share.priced_by.received.grams,
            ball_price=to_decimal(share.priced_by.cost_minor or 0, currency),
        )
        for use in uses
        if use.kind == "yarn"
        for share in use.shares
        if share.priced_by is not None
    ]


def filling_for_sheet(uses: Sequence[Use], currency: str) -> list[BulkUse]:
    """Fillings that are weighed, by their mass at a price of 1 kg."""
    return [
        BulkUse(use.label, use.amount.grams, _money(use.cost_minor, currency) * 1000 / use.amount.grams)
        for use in uses
        if _is_weighed_filling(use)
    ]


def notions_for_sheet(uses: Sequence[Use], currency: str) -> list[UnitUse]:
    """Notions, and fillings that are counted."""
    kinds = {ExtraKind.NOTION, ExtraKind.FILLING}
    return _counted([u for u in uses if u.kind in kinds and not _is_weighed_filling(u)], currency)


def packaging_for_sheet(uses: Sequence[Use], currency: str) -> list[UnitUse]:
    return _counted([use for use in uses if use.kind == ExtraKind.PACKAGING], currency)


def _is_weighed_filling(use: Use) -> bool:
    return use.kind == ExtraKind.FILLING and use.amount.unit is Unit.MILLIGRAM


def _counted(uses: Sequence[Use], currency: str) -> list[UnitUse]:
    """Each line as one thing at what the line costs."""
    return [UnitUse(use.label, Decimal(1), _money(use.cost_minor, currency)) for use in uses]
