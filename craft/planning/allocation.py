"""Which lots go into which piece.

Shade can differ between dye lots, so the stock unit is yarn, colour and lot, and lots are not added
together for one piece unless the piece allows it. In this order: most promises kept, most other
pieces made, fewest lots mixed into a piece, fewest new balls opened, least scrap (rests in balls
too small to be of use). Each step is solved exactly before the next begins. Masses are whole mg.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from craft.planning.allocation_model import AllocationModel, ModelLot, ModelPiece

__all__ = ["Allocation", "BallUse", "LotStock", "LotUse", "PieceNeed", "Take", "allocate"]


@dataclass(frozen=True, slots=True)
class LotStock:
    """One lot of one yarn in one colour, mg: `unopened` balls of `ball_mg`, and balls already begun."""

    key: str
    yarn: str
    ball_mg: int
    unopened: int
    parts_mg: tuple[int, ...] = ()

    @property
    def total_mg(self) -> int:
        """All there is of the lot."""
        return self.unopened * self.ball_mg + sum(self.parts_mg)


@dataclass(frozen=True, slots=True)
class PieceNeed:
    """One piece to be made: mg of each yarn. It is made of all of them or not at all.

    `may_mix` None: only a promised piece may mix lots of one yarn, and only to keep the promise.
    """

    key: str
    needs_mg: Mapping[str, int]
    promised: bool = False
    may_mix: bool | None = None

    @property
    def mixable(self) -> bool:
        return self.promised if self.may_mix is None else self.may_mix


@dataclass(frozen=True, slots=True)
class Take:
    """What a piece takes from a lot, mg."""

    piece: str
    yarn: str
    lot: str
    mass_mg: int


@dataclass(frozen=True, slots=True)
class BallUse:
    """A ball that is touched: what it held and what is taken, mg, and whether it was unopened."""

    held_mg: int
    taken_mg: int
    new: bool

    @property
    def left_mg(self) -> int:
        return self.held_mg - self.taken_mg


@dataclass(frozen=True, slots=True)
class LotUse:
    """What happens to a lot: new balls opened, the balls touched, and its scrap afterwards, mg."""

    lot: str
    opened: int
    balls: tuple[BallUse, ...]
    scrap_mg: int


@dataclass(frozen=True, slots=True)
class Allocation:
    """The answer. `unkept`: promised pieces that cannot be made; `unmade`: others that cannot.

    `mixed`: (piece, yarn) of more than one lot. `proven`: nothing better exists (always, unless time ran
    out).
    """

    takes: tuple[Take, ...]
    lots: tuple[LotUse, ...]
    unkept: tuple[str, ...]
    unmade: tuple[str, ...]
    mixed: tuple[tuple[str, str], ...]
    proven: bool

    @property
    def balls_opened(self) -> int:
        """New balls opened in all lots."""
        return sum(lot.opened for lot in self.lots)

    @property
    def scrap_mg(self) -> int:
        """Scrap in all lots afterwards."""
        return sum(lot.scrap_mg for lot in self.lots)


def allocate(
    pieces: Sequence[PieceNeed],
    lots: Sequence[LotStock],
    *,
    scrap_below_mg: int = 5_000,
    seconds: float | None = None,
) -> Allocation:
    """Return which lots to use for which pieces.

    `scrap_below_mg`: a rest below this is scrap. `seconds`: stop proving a step after so long and
    take the best found. Raises ValueError for masses below nought or keys that stand twice.
    """
    _check(pieces, lots)
    model = AllocationModel(
        [ModelPiece(piece.needs_mg, piece.promised, piece.mixable) for piece in pieces],
        [ModelLot(lot.yarn, lot.ball_mg, lot.unopened, lot.parts_mg) for lot in lots],
        scrap_below_mg,
    )
    answer = model.solve(seconds)
    takes = tuple(
        Take(pieces[piece].key, yarn, lots[lot].key, mass)
        for (piece, yarn, lot), mass in sorted(answer.masses.items())
    )
    left = {promised: _not_made(pieces, answer.made, promised=promised) for promised in (True, False)}
    uses = tuple(
        _lot_use(lot, answer.part_takes[index], answer.opened[index], answer.last_left[index], scrap_below_mg)
        for index, lot in enumerate(lots)
    )
    return Allocation(takes, uses, left[True], left[False], _mixed(takes), answer.proven)


def _check(pieces: Sequence[PieceNeed], lots: Sequence[LotStock]) -> None:
    for keys in ([piece.key for piece in pieces], [lot.key for lot in lots]):
        if len(keys) != len(set(keys)):
            raise ValueError("Every piece and every lot needs a key of its own.")
    if any(mass < 0 for piece in pieces for mass in piece.needs_mg.values()):
        raise ValueError("A piece cannot need less than nothing.")
    if any(lot.ball_mg <= 0 or min(lot.unopened, *lot.parts_mg, 0) < 0 for lot in lots):
        raise ValueError("A lot's balls weigh more than nothing, and there are none or more of them.")


def _not_made(pieces: Sequence[PieceNeed], made: Sequence[bool], *, promised: bool) -> tuple[str, ...]:
    pairs = zip(pieces, made, strict=True)
    return tuple(piece.key for piece, done in pairs if not done and piece.promised is promised)


def _mixed(takes: Sequence[Take]) -> tuple[tuple[str, str], ...]:
    counts: dict[tuple[str, str], int] = {}
    for take in takes:
        counts[take.piece, take.yarn] = counts.get((take.piece, take.yarn), 0) + 1
    return tuple(pair for pair, count in counts.items() if count > 1)


def _lot_use(
    lot: LotStock, part_takes: Sequence[int], opened: int, last_left: int, scrap_below_mg: int
) -> LotUse:
    """Say what is taken from each ball: part balls first, then new ones, the last of which keeps a rest."""
    parts = [BallUse(held, taken, new=False) for held, taken in zip(lot.parts_mg, part_takes, strict=True)]
    new = [BallUse(lot.ball_mg, lot.ball_mg, new=True)] * max(0, opened - 1)
    if opened:
        new.append(BallUse(lot.ball_mg, lot.ball_mg - last_left, new=True))
    scrap = sum(ball.left_mg for ball in (*parts, *new) if ball.left_mg < scrap_below_mg)
    touched = tuple(ball for ball in (*parts, *new) if ball.taken_mg)
    return LotUse(lot.key, opened, touched, scrap)
