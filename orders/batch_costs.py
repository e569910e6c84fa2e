"""What a batch costs: on its plan before it starts, on its own lots after.

Yarn of a lot costs what that lot cost; what is not reserved counts at what was last paid. A finished batch
counts what was really taken, and the time that was logged; where none was, the piece's minutes.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from craft.costing import Labour, cost_sheet
from craft.costing.money import to_minor
from orders.models import Batch, BatchState, PieceExtra, WorkroomRates
from orders.planning import BatchPlan
from orders.sheets import materials_of
from orders.shelf import Shelf, Thing, thing_of
from orders.uses import Lots, Use, draw_from, extra_use, with_waste
from workroom.money import minor_digits, to_decimal
from yarns.amounts import Amount, Unit
from yarns.models import Colour, PurposeKind
from yarns.selectors import IssuedLine, PromiseLine, ShelfLot, issued_to, promises_for

__all__ = ["BatchCost", "Held", "LotsByThing", "cost_of_batch", "held_by", "lots_of_plan"]

LotsByThing = Mapping[Thing, Lots]


@dataclass(frozen=True, slots=True)
class Held:
    """What a batch holds: promises, open and closed, and what went out to it, net of what came back."""

    promises: tuple[PromiseLine, ...] = ()
    issued: tuple[IssuedLine, ...] = ()

    @property
    def outstanding(self) -> tuple[PromiseLine, ...]:
        """What still lies on the shelf under the batch's name."""
        return tuple(line for line in self.promises if line.outstanding.count)

    @property
    def lots(self) -> LotsByThing:
        """Lots by what they are, with the amount taken or reserved."""
        taken = ((line.lot, line.amount.count) for line in self.issued)
        reserved = ((line.lot, line.outstanding.count) for line in self.outstanding)
        return _by_thing((*taken, *reserved))


def held_by(batch: Batch) -> Held:
    return Held(
        tuple(promises_for(PurposeKind.BATCH, batch.code)),
        tuple(issued_to(PurposeKind.BATCH, batch.code)),
    )


def lots_of_plan(plan: BatchPlan) -> LotsByThing:
    """The lots that a plan would take."""
    return _by_thing((take.lot, take.amount.count) for part in plan.parts for take in part.takes)


def _by_thing(lots: Iterable[tuple[ShelfLot, int]]) -> LotsByThing:
    found: dict[Thing, list[tuple[ShelfLot, int]]] = defaultdict(list)
    for lot, count in lots:
        found[thing_of(lot)].append((lot, count))
    return dict(found)


@dataclass(frozen=True, slots=True)
class BatchCost:
    """Minor units for the whole batch, `each` for one of `pieces`. `minutes`: those that count.

    `actual`: by what was really taken. `unknown`: lines without a known cost, which count as nothing.
    """

    pieces: int
    minutes: int
    materials: int
    labour: int
    overhead: int
    full_cost: int
    each: int
    actual: bool
    unknown: tuple[Use, ...]


def cost_of_batch(
    batch: Batch, lots: LotsByThing, rates: WorkroomRates, currency: str, logged: int = 0
) -> BatchCost:
    """Cost of a batch on these lots. `logged`: minutes written down for it."""
    finished = batch.state == BatchState.FINISHED
    pieces = batch.made + batch.seconds + batch.scrapped if finished else batch.quantity
    uses = _uses(batch, lots, pieces, rates.yarn_waste_bp)
    minutes = logged if finished and logged else pieces * (batch.minutes_each or batch.piece.minutes)
    labour = Labour(
        Decimal(minutes),
        to_decimal(rates.wage_per_hour_minor, currency),
        to_decimal(rates.overhead_per_hour_minor, currency),
    )
    sheet = cost_sheet(materials_of(uses, currency), labour)
    digits = minor_digits(currency)
    return BatchCost(
        pieces=pieces,
        minutes=minutes,
        materials=to_minor(sheet.materials, digits),
        labour=to_minor(sheet.labour, digits),
        overhead=to_minor(sheet.overhead, digits),
        full_cost=to_minor(sheet.full_cost, digits),
        each=to_minor(sheet.full_cost / pieces, digits),
        actual=finished,
        unknown=tuple(use for use in uses if use.has_unknown),
    )


def _uses(batch: Batch, lots: LotsByThing, pieces: int, waste_bp: int) -> list[Use]:
    """Lines for the whole batch: one for each colour, then the extras."""
    yarns = list(batch.piece.yarns.select_related("colour__yarn"))
    extras = list(batch.piece.extras.select_related("supply"))
    colours = {part.colour.pk: part.colour for part in yarns if part.colour is not None}
    shelf = Shelf.load(colours=colours, supplies=[each.supply_id for each in extras if each.supply_id])
    masses: dict[int, int] = defaultdict(int)
    for part in yarns:
        masses[part.colour_id or 0] += with_waste(part.mass_mg, waste_bp) * pieces
    finished = batch.state == BatchState.FINISHED
    return [
        *(_colour_use(colours.get(pk), mass, lots, shelf, finished) for pk, mass in masses.items()),
        *(_extra_use(extra, lots, shelf, pieces) for extra in extras),
    ]


def _colour_use(colour: Colour | None, mass_mg: int, lots: LotsByThing, shelf: Shelf, finished: bool) -> Use:
    """A colour that was really taken counts as taken; else what the pieces should use."""
    thing = ("colour", colour.pk if colour else 0)
    mine = lots.get(thing, ())
    total = sum(count for _lot, count in mine) if finished and mine else mass_mg
    amount = Amount(total, Unit.MILLIGRAM)
    shares = draw_from(mine, shelf, thing, amount, colour.yarn_id if colour else None)
    return Use("yarn", str(colour or ""), str(colour or ""), amount, shares)


def _extra_use(extra: PieceExtra, lots: LotsByThing, shelf: Shelf, pieces: int) -> Use:
    one = extra_use(extra, shelf)
    amount = Amount(one.amount.count * pieces, one.amount.unit)
    if one.typed_minor is not None:
        typed: Fraction = one.typed_minor * pieces
        return Use(one.kind, one.label, one.thing_name, amount, typed_minor=typed)
    thing = ("supply", extra.supply_id or 0)
    shares = draw_from(lots.get(thing, ()), shelf, thing, amount)
    return Use(one.kind, one.label, one.thing_name, amount, shares)
