"""Which lots serve one colour of a batch of equal pieces, exactly and at once.

For unlike pieces that compete for the same lots see `craft.planning.allocate`. Shade can differ between dye
lots, and makers are told to buy a whole project from one (wisegeek.net, "How do I read a yarn label?");
so a piece takes one colour from one dye lot. The rule, in order:

1. as many whole pieces as can be had from single dye lots, up to the number wanted;
2. the fewest dye lots: the largest first, and for the last one the smallest that will do, so that
   big lots stay whole for big jobs; of equals the one that came first;
3. within a dye lot the delivery that came first.

A lot without a known dye lot stands alone: nothing says that two such lots match.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

__all__ = ["BatchLots", "Cut", "FreeLot", "lots_for_batch"]


@dataclass(frozen=True, slots=True)
class FreeLot:
    """What a lot can still give: balance less promises, mg. `came` orders deliveries, first come lowest."""

    lot_id: int
    dye_lot: str
    free_mg: int
    came: int


@dataclass(frozen=True, slots=True)
class Cut:
    """Yarn to take from one lot, mg. `shade` tells dye lots apart: equal numbers match in shade."""

    lot_id: int
    mass_mg: int
    shade: int


@dataclass(frozen=True, slots=True)
class BatchLots:
    """Cuts for one colour of a batch.

    `served`: pieces that the cuts are enough for; `short`: pieces without yarn; `short_mg`: yarn to buy for
    them; `left_mg`: free yarn of the colour that stays, too little of any one dye lot for a piece when
    pieces are short.
    """

    cuts: tuple[Cut, ...]
    served: int
    short: int
    short_mg: int
    left_mg: int

    @property
    def shades(self) -> int:
        """How many dye lots the batch would be made of."""
        return len({cut.shade for cut in self.cuts})


@dataclass(frozen=True, slots=True)
class _Shade:
    """The lots of one dye lot, first come first, and how many pieces they are enough for together."""

    lots: tuple[FreeLot, ...]
    pieces: int

    @property
    def came(self) -> int:
        return self.lots[0].came


def lots_for_batch(
    lots: Iterable[FreeLot], *, piece_mg: int, pieces: int, may_mix: bool = False
) -> BatchLots:
    """Choose lots for `pieces` pieces of `piece_mg` mg each (both above 0).

    `may_mix`: dye lots may meet in one piece, as in stripes or small parts.
    """
    usable = [lot for lot in lots if lot.free_mg > 0]
    shades = _shades(usable, piece_mg)
    chosen = _choose([shade for shade in shades if shade.pieces], pieces)
    served = sum(count for _shade, count in chosen)
    cuts = [
        cut
        for number, (shade, count) in enumerate(chosen, start=1)
        for cut in _cut(shade.lots, count * piece_mg, number)
    ]
    if may_mix and served < pieces:
        cuts, served = _mixed(usable, piece_mg, pieces)
    taken = sum(cut.mass_mg for cut in cuts)
    return BatchLots(
        cuts=tuple(cuts),
        served=served,
        short=pieces - served,
        short_mg=(pieces - served) * piece_mg,
        left_mg=sum(lot.free_mg for lot in usable) - taken,
    )


def _shades(lots: Sequence[FreeLot], piece_mg: int) -> list[_Shade]:
    groups: dict[str, list[FreeLot]] = defaultdict(list)
    for lot in sorted(lots, key=lambda each: (each.came, each.lot_id)):
        groups[lot.dye_lot or f"alone {lot.lot_id}"].append(lot)
    return [_Shade(tuple(group), sum(lot.free_mg for lot in group) // piece_mg) for group in groups.values()]


def _choose(shades: Sequence[_Shade], pieces: int) -> list[tuple[_Shade, int]]:
    """The fewest shades for `pieces` pieces, each with the pieces it serves."""
    rest = sorted(shades, key=lambda shade: (-shade.pieces, shade.came))
    chosen: list[tuple[_Shade, int]] = []
    while rest and pieces:
        enough = [shade for shade in rest if shade.pieces >= pieces]
        best = min(enough, key=lambda shade: (shade.pieces, shade.came)) if enough else rest[0]
        rest.remove(best)
        count = min(best.pieces, pieces)
        chosen.append((best, count))
        pieces -= count
    return chosen


def _cut(lots: Iterable[FreeLot], mass_mg: int, shade: int) -> list[Cut]:
    cuts = []
    for lot in lots:
        take = min(lot.free_mg, mass_mg)
        if take:
            cuts.append(Cut(lot.lot_id, take, shade))
        mass_mg -= take
    return cuts


def _mixed(lots: Sequence[FreeLot], piece_mg: int, pieces: int) -> tuple[list[Cut], int]:
    """Every lot counts, whatever its shade, largest first."""
    served = min(pieces, sum(lot.free_mg for lot in lots) // piece_mg)
    largest_first = sorted(lots, key=lambda lot: (-lot.free_mg, lot.came, lot.lot_id))
    cuts: list[Cut] = []
    wanted = served * piece_mg
    for number, lot in enumerate(largest_first, start=1):
        cuts += _cut([lot], wanted - sum(cut.mass_mg for cut in cuts), number)
    return cuts, served
