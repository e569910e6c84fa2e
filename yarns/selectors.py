"""Reads of the yarn room for the other rooms: what lies on the shelf, what is promised, what went out.

All answers are frozen values; each function makes a constant number of queries.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from django.db.models import F, QuerySet

from yarns.amounts import Amount, Unit
from yarns.models import (
    Colour,
    Lot,
    Movement,
    MovementKind,
    Ownership,
    Promise,
    PurposeKind,
    SetAside,
    Supply,
    Yarn,
)

WITH_NAMES = ("colour__yarn", "supply", "place", "supplier")


@dataclass(frozen=True, slots=True)
class ShelfLot:
    """A lot as the other rooms see it.

    `unit_cost_minor`: minor units per mg or per piece with its share of postage, None where the price is
    not known. Metres are by the yarn's label (or the studio's measure), None where there is none.
    `yarn_name` is the supply's name for a supply; `colour_name` is then empty.
    """

    lot_id: int
    code: str
    yarn_id: int | None
    colour_id: int | None
    supply_id: int | None
    yarn_name: str
    colour_name: str
    hex_swatch: str
    dye_lot: str
    place: str
    received_on: date
    ownership: Ownership
    set_aside: SetAside
    on_hand: Amount
    promised: Amount
    free: Amount
    received: Amount
    mm_per_mg: Fraction | None
    ball_mass_mg: int | None
    cost_minor: int | None
    unit_cost_minor: Fraction | None

    @property
    def name(self) -> str:
        """Everything that tells this lot from its neighbours."""
        return " ".join(part for part in (self.yarn_name, self.colour_name, self.dye_lot) if part)

    @property
    def on_hand_m(self) -> Decimal | None:
        """Metres on hand, unrounded."""
        return metres(self.on_hand, self.mm_per_mg)

    @property
    def free_m(self) -> Decimal | None:
        """Metres not promised, unrounded."""
        return metres(self.free, self.mm_per_mg)

    @property
    def balls(self) -> Decimal | None:
        """Balls on hand by the band's mass, unrounded."""
        if not self.ball_mass_mg:
            return None
        return Decimal(self.on_hand.count) / self.ball_mass_mg


@dataclass(frozen=True, slots=True)
class PromiseLine:
    """A promise and the lot that it is on. Amounts in the lot's unit."""

    promise_id: int
    lot: ShelfLot
    amount: Amount
    outstanding: Amount
    issued: Amount
    released: Amount
    state: str
    purpose_label: str


@dataclass(frozen=True, slots=True)
class IssuedLine:
    """What one lot gave to a purpose, returns and undone entries taken off."""

    lot: ShelfLot
    amount: Amount

    @property
    def cost_minor(self) -> Decimal | None:
        """What it cost, unrounded; None where the lot's price is not known."""
        rate = self.lot.unit_cost_minor
        if rate is None:
            return None
        return Decimal(rate.numerator * self.amount.count) / Decimal(rate.denominator)


def metres(amount: Amount, mm_per_mg: Fraction | None) -> Decimal | None:
    """Length of a mass, m; None for pieces or where no label gives it."""
    if mm_per_mg is None or amount.unit is not Unit.MILLIGRAM:
        return None
    length_mm = amount.count * mm_per_mg
    return Decimal(length_mm.numerator) / Decimal(length_mm.denominator) / 1000


def shelf_lot(lot: Lot) -> ShelfLot:
    """One lot as a value; `lot` comes with WITH_NAMES joined."""
    yarn = lot.colour.yarn if lot.colour else None
    return ShelfLot(
        lot_id=lot.pk,
        code=lot.code,
        yarn_id=yarn.pk if yarn else None,
        colour_id=lot.colour_id,
        supply_id=lot.supply_id,
        yarn_name=str(yarn or lot.supply),
        colour_name=lot.colour.name if lot.colour else "",
        hex_swatch=lot.colour.hex_swatch if lot.colour else "",
        dye_lot=lot.dye_lot,
        place=lot.place.name if lot.place else "",
        received_on=lot.received_on,
        ownership=Ownership(lot.ownership),
        set_aside=SetAside(lot.set_aside),
        on_hand=lot.on_hand,
        promised=lot.set_apart,
        free=lot.free,
        received=Amount(lot.received, Unit(lot.unit)),
        mm_per_mg=yarn.mm_per_mg if yarn else None,
        ball_mass_mg=yarn.ball_mass_mg if yarn else None,
        cost_minor=lot.cost_minor,
        unit_cost_minor=lot.unit_cost_minor,
    )


def shelf_for(
    *,
    yarn_id: int | None = None,
    colour_id: int | None = None,
    supply_id: int | None = None,
    include_all: bool = False,
) -> list[ShelfLot]:
    """The lots of a yarn, a colour or a supply, oldest first.

    Only what one may plan with: the studio's own, not set aside, something free. `include_all`
    gives the rest too.
    """
    lots = Lot.objects.select_related(*WITH_NAMES)
    if yarn_id is not None:
        lots = lots.filter(colour__yarn_id=yarn_id)
    if colour_id is not None:
        lots = lots.filter(colour_id=colour_id)
    if supply_id is not None:
        lots = lots.filter(supply_id=supply_id)
    if not include_all:
        lots = plannable(lots)
    return [shelf_lot(lot) for lot in lots.order_by("received_on", "pk")]


def plannable(lots: QuerySet[Lot]) -> QuerySet[Lot]:
    """Narrow to lots that work may be planned with."""
    return lots.filter(ownership=Ownership.OURS, set_aside=SetAside.NO, balance__gt=F("promised"))


def lots_by_id(lot_ids: Iterable[int]) -> dict[int, ShelfLot]:
    """Lots by their id; an id that is not there is left out."""
    lots = Lot.objects.select_related(*WITH_NAMES).filter(pk__in=list(lot_ids))
    return {lot.pk: shelf_lot(lot) for lot in lots}


def promises_for(kind: PurposeKind, key: str) -> list[PromiseLine]:
    """All promises to a purpose, open and closed, in the order made."""
    held = list(Promise.objects.filter(purpose_kind=kind, purpose_key=key).order_by("pk"))
    lots = lots_by_id(each.lot_id for each in held)
    return [_promise_line(each, lots[each.lot_id]) for each in held]


def open_promises_of(lot_id: int) -> list[Promise]:
    """Who waits for what of a lot."""
    held = Promise.objects.filter(lot_id=lot_id, state="open")
    return list(held.select_related("lot").order_by("pk"))


def mark_undone(rows: Sequence[Movement]) -> None:
    """Tell the movements that were undone, for showing them so; one query."""
    undone = set(
        Movement.objects.filter(undoes__in=[row.pk for row in rows]).values_list("undoes", flat=True)
    )
    for row in rows:
        row.is_undone = row.pk in undone


def _promise_line(held: Promise, lot: ShelfLot) -> PromiseLine:
    unit = lot.on_hand.unit
    return PromiseLine(
        promise_id=held.pk,
        lot=lot,
        amount=Amount(held.amount, unit),
        outstanding=Amount(held.outstanding, unit),
        issued=Amount(held.issued, unit),
        released=Amount(held.released, unit),
        state=held.state,
        purpose_label=held.purpose_label,
    )


def issued_to(kind: PurposeKind, key: str) -> list[IssuedLine]:
    """What each lot gave to a purpose, net, in the order of the lots' first issue."""
    totals: dict[int, int] = defaultdict(int)
    moved = Movement.objects.filter(
        purpose_kind=kind,
        purpose_key=key,
        kind__in=(MovementKind.ISSUED, MovementKind.RETURNED, MovementKind.UNDONE),
    )
    for lot_id, delta in moved.order_by("pk").values_list("lot_id", "delta"):
        totals[lot_id] -= delta
    lots = lots_by_id(totals)
    return [
        IssuedLine(lots[lot_id], Amount(total, lots[lot_id].on_hand.unit))
        for lot_id, total in totals.items()
        if total
    ]


def yarn_choices() -> list[tuple[int, str]]:
    """Yarns to pick from, by maker and name."""
    return [(yarn.pk, str(yarn)) for yarn in Yarn.objects.all()]


def colour_choices(yarn_id: int | None = None) -> list[tuple[int, str]]:
    """Colours to pick from, of one yarn or of all."""
    colours = Colour.objects.select_related("yarn").order_by("yarn__maker", "yarn__name", "name")
    if yarn_id is not None:
        colours = colours.filter(yarn_id=yarn_id)
    return [(colour.pk, str(colour) if yarn_id is None else colour.name) for colour in colours]


def supply_choices() -> list[tuple[int, str]]:
    """Supplies to pick from, by kind and name."""
    return [(supply.pk, str(supply)) for supply in Supply.objects.all()]
