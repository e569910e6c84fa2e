"""The whole-number programme behind the allocation of lots.

For each piece p, yarn k and lot l: made_p in {0, 1}; y_pkl = 1 if the lot is used; x_pkl its mass
where a piece may mix (else need x y). Per lot: new balls n_l, the rest r_l of the last of them,
takes t_b of its part balls,

    sum of t_b + ball n_l - r_l = what pieces take of the lot

and per begun ball e = 1 emptied, z = 1 left with scrap s. Masses are grams inside, so that no
coefficient is large. The steps of the order are solved one after the other, each kept as a row for
the next.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from craft.planning.numeric import Constraint, Solution, maximise

__all__ = ["AllocationModel", "ModelAnswer", "ModelLot", "ModelPiece"]

MG = 1000.0
NO_END = float("inf")
Terms = list[tuple[int, float]]


@dataclass(frozen=True, slots=True)
class ModelPiece:
    """Needs in mg by yarn."""

    needs: Mapping[str, int]
    promised: bool
    mixable: bool


@dataclass(frozen=True, slots=True)
class ModelLot:
    """A lot in mg."""

    yarn: str
    ball: int
    unopened: int
    parts: tuple[int, ...]

    @property
    def total(self) -> int:
        return self.ball * self.unopened + sum(self.parts)


@dataclass(frozen=True, slots=True)
class ModelAnswer:
    """Masses by (piece, yarn, lot), which pieces are made, and per lot its balls; all in mg."""

    masses: Mapping[tuple[int, str, int], int]
    made: tuple[bool, ...]
    opened: tuple[int, ...]
    last_left: tuple[int, ...]
    part_takes: tuple[tuple[int, ...], ...]
    proven: bool


@dataclass(slots=True)
class _Programme:
    """Variables and rows as they are added."""

    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[Constraint] = field(default_factory=list)
    proven: bool = True

    def variable(self, upper: float, *, whole: bool = False) -> int:
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.upper) - 1

    def row(self, terms: Terms, low: float = -NO_END, high: float = NO_END) -> None:
        self.rows.append(Constraint(tuple(terms), low, high))

    def best(self, terms: Terms, seconds: float | None) -> Solution:
        """Solve for the greatest sum of the terms."""
        objective = [0.0] * len(self.upper)
        for variable, value in terms:
            objective[variable] += value
        solution = maximise(objective, self.rows, self.upper, whole=self.whole, seconds=seconds)
        self.proven = self.proven and solution.proven
        return solution

    def keep(self, terms: Terms, seconds: float | None) -> None:
        """Solve for a count and hold all later steps to it."""
        if terms:
            self.row(terms, low=self.best(terms, seconds).value - 0.5)


@dataclass(slots=True)
class _Lot:
    """Variables of one lot."""

    opened: int
    last: int
    takes: list[int]
    used: Terms
    scrap: list[int]


class AllocationModel:
    """The programme for given pieces and lots."""

    def __init__(self, pieces: Sequence[ModelPiece], lots: Sequence[ModelLot], scrap_below: int) -> None:
        self._pieces = pieces
        self._lots = lots
        self._scrap_below = scrap_below / MG
        self._programme = _Programme()
        self._made = [self._programme.variable(1, whole=True) for _ in pieces]
        self._chosen: dict[tuple[int, str, int], int] = {}
        self._mass: dict[tuple[int, str, int], int] = {}
        self._lot = [self._add_lot(lot) for lot in lots]
        for piece in range(len(pieces)):
            for yarn, need in pieces[piece].needs.items():
                if need:
                    self._add_need(piece, yarn, need)
        for lot, given in zip(self._lot, lots, strict=True):
            self._balance(lot, given)

    def solve(self, seconds: float | None = None) -> ModelAnswer:
        """Solve step by step: promises, other pieces, mixing, balls, scrap."""
        if not self._pieces:
            return self._read(Solution(0.0, (0.0,) * len(self._programme.upper)))
        programme = self._programme
        for promised in (True, False):
            programme.keep(self._made_terms(promised=promised), seconds)
        programme.keep([(chosen, -1.0) for chosen in self._chosen.values()], seconds)
        programme.keep([(lot.opened, -1.0) for lot in self._lot], seconds)
        scrap = [(variable, -1.0) for lot in self._lot for variable in lot.scrap]
        return self._read(self._polished(programme.best(scrap, seconds), scrap))

    def _made_terms(self, *, promised: bool) -> Terms:
        return [
            (made, 1.0)
            for made, piece in zip(self._made, self._pieces, strict=True)
            if piece.promised is promised
        ]

    def _add_need(self, piece: int, yarn: str, need: int) -> None:
        """One yarn of one piece: from one lot, or split over several where it may be."""
        programme, mixable = self._programme, self._pieces[piece].mixable
        rows: Terms = [(self._made[piece], -need / MG)]
        for index, lot in enumerate(self._lots):
            if lot.yarn != yarn or lot.total < (1 if mixable else need):
                continue
            key = (piece, yarn, index)
            self._chosen[key] = chosen = programme.variable(1, whole=True)
            if mixable:
                most = min(need, lot.total) / MG
                self._mass[key] = mass = programme.variable(most)
                programme.row([(mass, 1.0), (chosen, -most)], high=0.0)
                term = (mass, 1.0)
            else:
                term = (chosen, need / MG)
            rows.append(term)
            self._lot[index].used.append(term)
        programme.row(rows, low=0.0, high=0.0)

    def _add_lot(self, lot: ModelLot) -> _Lot:
        """Balls of one lot, and what their rests come to as scrap."""
        programme = self._programme
        ball = lot.ball / MG
        opened = programme.variable(lot.unopened, whole=True)
        last = programme.variable(ball if lot.unopened else 0.0)
        programme.row([(last, 1.0), (opened, -ball)], high=0.0)
        scrap = [self._rest([(last, 1.0)], 0.0, ball)]
        takes = []
        for part in lot.parts:
            held = part / MG
            take = programme.variable(held)
            takes.append(take)
            scrap.append(self._rest([(take, -1.0)], held, held))
        return _Lot(opened, last, takes, [], scrap)

    def _rest(self, terms: Terms, constant: float, most: float) -> int:
        """Return the scrap variable of a rest = terms + constant, which is nought, scrap or useful."""
        programme, useful = self._programme, self._scrap_below
        emptied, small = (programme.variable(1, whole=True) for _ in range(2))
        scrap = programme.variable(most)
        programme.row([*terms, (emptied, most)], high=most - constant)
        programme.row([*terms, (emptied, useful), (small, useful)], low=useful - constant)
        negative = [(variable, -value) for variable, value in terms]
        programme.row([(scrap, 1.0), *negative, (small, -most)], low=constant - most)
        return scrap

    def _balance(self, lot: _Lot, given: ModelLot) -> None:
        taken: Terms = [(take, 1.0) for take in lot.takes]
        used = [(variable, -value) for variable, value in lot.used]
        row = [*taken, (lot.opened, given.ball / MG), (lot.last, -1.0), *used]
        self._programme.row(row, low=0.0, high=0.0)

    def _polished(self, solution: Solution, objective: Terms) -> Solution:
        """Solve once more with every choice fixed: what is left is a flow of whole mg."""
        fixed = _Programme(list(self._programme.upper), [False] * len(self._programme.upper))
        fixed.rows = list(self._programme.rows)
        for variable, is_whole in enumerate(self._programme.whole):
            if is_whole:
                value = solution.variables[variable]
                fixed.row([(variable, 1.0)], low=value, high=value)
        return fixed.best(objective, None)

    def _read(self, solution: Solution) -> ModelAnswer:
        """Turn the variables back into whole mg."""
        value = solution.variables
        masses: dict[tuple[int, str, int], int] = {}
        for key, chosen in self._chosen.items():
            need = self._pieces[key[0]].needs[key[1]]
            mass = _mg(value[self._mass[key]]) if key in self._mass else need * round(value[chosen])
            if mass:
                masses[key] = mass
        return ModelAnswer(
            masses,
            tuple(round(value[made]) == 1 for made in self._made),
            tuple(round(value[lot.opened]) for lot in self._lot),
            tuple(_mg(value[lot.last]) for lot in self._lot),
            tuple(tuple(_mg(value[take]) for take in lot.takes) for lot in self._lot),
            self._programme.proven,
        )


def _mg(grams: float) -> int:
    return round(grams * MG)
