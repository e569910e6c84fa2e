"""What a batch takes from the shelf: which lots, what is short, what to buy. Reads only."""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from craft.planning.batch_lots import BatchLots, FreeLot, lots_for_batch
from orders.models import Batch, PieceExtra, PieceYarn
from orders.shelf import Shelf, Thing
from yarns.amounts import Amount, Unit
from yarns.models import Colour, Supply
from yarns.selectors import ShelfLot

__all__ = ["BatchPlan", "Need", "PartPlan", "needs_of", "plan_batch", "plan_needs"]


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that every piece takes. `each`: for one piece, what to have at hand."""

    thing: Thing
    what: Colour | Supply
    parts: str
    each: Amount

    @property
    def is_yarn(self) -> bool:
        return isinstance(self.what, Colour)

    @property
    def ball_mg(self) -> int | None:
        """Net mass of one ball; None for supplies and where the band does not say."""
        return self.what.yarn.ball_mass_mg if isinstance(self.what, Colour) else None


@dataclass(frozen=True, slots=True)
class Take:
    """What comes from one lot."""

    lot: ShelfLot
    amount: Amount
    shade: int


@dataclass(frozen=True, slots=True)
class PartPlan:
    """One thing of the batch: the lots it comes from and what is missing for the pieces wanted."""

    need: Need
    takes: tuple[Take, ...]
    served: int
    short: Amount
    left: Amount
    shades: int

    @property
    def total(self) -> Amount:
        return Amount(sum(take.amount.count for take in self.takes), self.need.each.unit)

    @property
    def balls_each(self) -> float | None:
        """Balls that one piece takes; None where a ball has no known mass."""
        return self.need.each.count / self.need.ball_mg if self.need.ball_mg else None

    @property
    def balls_to_buy(self) -> int | None:
        """Whole balls for what is short; None where a ball has no known mass."""
        return -(-self.short.count // self.need.ball_mg) if self.need.ball_mg else None

    @property
    def wants_one_dye_lot(self) -> bool:
        """There is yarn enough by mass, but not for whole pieces from single dye lots."""
        return bool(self.short.count) and self.left.count >= self.short.count


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """The parts of a batch for `wanted` pieces. `covered`: pieces for which every yarn is there.

    `unchosen`: yarns of the piece without a colour; nothing can be reserved for them.
    """

    wanted: int
    covered: int
    parts: tuple[PartPlan, ...]
    unchosen: tuple[str, ...]

    @property
    def short(self) -> int:
        return self.wanted - self.covered

    @property
    def is_short(self) -> bool:
        return any(part.short.count for part in self.parts)

    @property
    def digest(self) -> str:
        """Changes when other lots or amounts would be taken than before."""
        takes = sorted((t.lot.lot_id, t.amount.count) for part in self.parts for t in part.takes)
        return hashlib.sha256(repr((self.covered, takes)).encode()).hexdigest()[:16]


def needs_of(yarns: Iterable[PieceYarn], extras: Iterable[PieceExtra]) -> tuple[Need, ...]:
    """What a piece takes from the shelf; parts of one colour together, so that their shade matches."""
    colours: dict[int, list[PieceYarn]] = defaultdict(list)
    for part in yarns:
        if part.colour is not None:
            colours[part.colour.pk].append(part)
    supplies: dict[int, list[PieceExtra]] = defaultdict(list)
    for extra in extras:
        if extra.supply is not None and extra.unit == extra.supply.counts_in:
            supplies[extra.supply.pk].append(extra)
    return (
        *(_yarn_need(parts) for parts in colours.values()),
        *(_supply_need(same) for same in supplies.values()),
    )


def _yarn_need(parts: Sequence[PieceYarn]) -> Need:
    colour = parts[0].colour
    if colour is None:
        raise ValueError("A need is of a colour that was chosen.")
    each = Amount(sum(part.reserve_mg for part in parts), Unit.MILLIGRAM)
    return Need(("colour", colour.pk), colour, ", ".join(map(str, parts)), each)


def _supply_need(extras: Sequence[PieceExtra]) -> Need:
    supply = extras[0].supply
    if supply is None:
        raise ValueError("A need is of a supply from the shelf.")
    each = Amount(sum(extra.quantity for extra in extras), Unit(supply.counts_in))
    return Need(("supply", supply.pk), supply, ", ".join(map(str, extras)), each)


def plan_batch(batch: Batch, wanted: int | None = None) -> BatchPlan:
    """What the shelf would give now for the pieces that have no yarn yet (or for `wanted`)."""
    yarns = list(batch.piece.yarns.select_related("colour__yarn"))
    extras = list(batch.piece.extras.select_related("supply"))
    count = batch.quantity - batch.covered if wanted is None else wanted
    unchosen = tuple(str(part) for part in yarns if part.colour is None)
    return plan_needs(needs_of(yarns, extras), count, may_mix=batch.may_mix, unchosen=unchosen)


def plan_needs(
    needs: Sequence[Need], wanted: int, *, may_mix: bool, unchosen: tuple[str, ...] = ()
) -> BatchPlan:
    """Lots for `wanted` pieces. Only whole pieces are covered: a piece that lacks one yarn holds no other."""
    shelf = Shelf.load(
        colours=[need.thing[1] for need in needs if need.is_yarn],
        supplies=[need.thing[1] for need in needs if not need.is_yarn],
    )
    tries = [_allocation(need, shelf, wanted, may_mix=may_mix) for need in needs]
    yarn_served = [got.served for need, got in zip(needs, tries, strict=True) if need.is_yarn]
    covered = min(yarn_served, default=wanted if not unchosen else 0)
    parts = [
        _part(need, shelf, got, _allocation(need, shelf, covered, may_mix=may_mix))
        for need, got in zip(needs, tries, strict=True)
    ]
    return BatchPlan(wanted, covered, tuple(parts), unchosen)


def _allocation(need: Need, shelf: Shelf, pieces: int, *, may_mix: bool) -> BatchLots:
    """Supplies may come from several lots: eyes of two deliveries look alike."""
    lots = [
        FreeLot(lot.lot_id, lot.dye_lot, lot.free.count, came)
        for came, lot in enumerate(shelf.lots(need.thing))
    ]
    mix = may_mix or not need.is_yarn
    return lots_for_batch(lots, piece_mg=need.each.count, pieces=pieces, may_mix=mix)


def _part(need: Need, shelf: Shelf, wanted: BatchLots, kept: BatchLots) -> PartPlan:
    """`wanted` says what is short for all pieces, `kept` what would really be reserved."""
    lots = {lot.lot_id: lot for lot in shelf.lots(need.thing)}
    unit = need.each.unit
    return PartPlan(
        need,
        tuple(Take(lots[c.lot_id], Amount(c.mass_mg, unit), c.shade) for c in kept.cuts),
        served=wanted.served,
        short=Amount(wanted.short_mg, unit),
        left=Amount(wanted.left_mg, unit),
        shades=kept.shades,
    )
