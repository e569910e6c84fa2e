"""A hand that keeps, for every stitch, between which places of the edge it was worked.

The line is worked once more just as it was. A repeat is still worked once and multiplied; what changes from
pass to pass is only how far along the edge its stitches lie, so a pass is kept with its own places and moved
on by its length.

A place on an edge is told by units: a stitch is one unit, a chain space as many as it has chains. So a place
stays the same whether the hook goes into a space as a whole or chain by chain.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from craft.fabric.edge import OPEN, Node
from craft.fabric.hand import Hand
from craft.fabric.line import Origin, work_again
from craft.fabric.model import Edge, SizedRound
from craft.notation.tree import Group, Repeat, Step, Work

__all__ = ["At", "Base", "Mark", "Record", "record"]


@dataclass(frozen=True, slots=True)
class Base:
    """An edge that the hook goes along. `what`: "below", "chain", "row below from the chain", "closed chain",
    "other side", "this row", "free loops", "left"; `units`: its length; `number`: chains, or the round named;
    `edge`: of this row, before it turned; `behind`: the base that follows an inner chain, with its shift.
    """

    what: str
    units: int
    number: int = 0
    edge: Edge = ()
    behind: Base | None = None
    behind_shift: int = 0


class At(NamedTuple):
    """Where a stroke was made: units of `base` from `before` to `after`, by which step. `in_place`: depth of
    groups worked into one place; `anchor`: the step that chose that place. `repeat`: id of the outermost
    repeat, its step there in `step_number`, -1 where it is the only one.
    """

    base: Base
    before: int
    after: int
    step: Step
    anchor: Step
    in_place: int
    moves: bool  # nothing has been laid in this line yet
    repeat: int
    step_number: int
    inner: int  # repeats between the group and the stroke


class Mark(tuple[str, int, int, int]):  # noqa: SLOT001 - a tuple with an attribute cannot have slots
    """A stroke with its place. Equal only to itself, so that two passes at different places stay two."""

    at: At

    __eq__ = object.__eq__
    __hash__ = object.__hash__

    def _replace(self, *, uses: int | None = None, count: int | None = None) -> Mark:
        changed = Mark(
            (self[0], self[1] if uses is None else uses, self[2], self[3] if count is None else count)
        )
        changed.at = self.at
        return changed


class Record(NamedTuple):
    """A line as worked again. `start`: the base that it begins on; `left_from`: the unit from which the line
    left its base unworked; `same`: it came out as it had before.
    """

    strokes: tuple[Any, ...]
    start: Base
    end: Base
    left_from: int
    same: bool


class Recorder(Hand):
    """See the module."""

    __slots__ = ("base", "first_base", "mark", "shift")

    base: Base
    first_base: Base
    mark: tuple[Base, int]
    shift: int

    def _base(self) -> Base:
        """The base at hand, made on first use from the node that the line begins at."""
        try:
            return self.base
        except AttributeError:
            self.shift = 0
            self.base = self.first_base = Base("below", _units(self.node))
            return self.base

    def _unit(self) -> int:
        return self._base().units + self.shift - _units(self.node)

    def spend(self) -> None:
        super().spend()
        if not self.in_place:
            self.mark = self._base(), self._unit()

    def onto(self, what: str, number: int = 0, start: int = 0) -> None:
        before = self._base()
        if what == "this row":
            edge = tuple(self.out)
            self.base = Base(what, _edge_units(edge), edge=edge)
            self.shift = 0
            self.mark = self.base, 0
            self._keep(self._mark("turn", 0, 0, 0))
            return
        behind = None
        units = number if what in {"chain", "closed chain", "other side"} else _units(self.node)
        if what == "row below from the chain":
            behind = before
            units = number + _units(self.node) - max(number - start - 1, 0)
        self.base = Base(what, units, number, behind=behind, behind_shift=self.shift)
        self.shift = 0
        if what == "left":
            self.first_base = self.base
        self.mark = self.base, start

    def wrapped(self, places: int) -> None:
        self._base()
        self.shift += places

    def save(self) -> tuple[Any, ...]:
        return (*super().save(), self._base(), self.shift)

    def restore(self, saved: tuple[Any, ...]) -> None:
        *others, self.base, self.shift = saved
        super().restore(tuple(others))

    def stroke(self, name: str, uses: int, makes: int, count: int) -> None:
        if count > 0:
            self._keep(self._mark(name, uses, makes, count))

    def _keep(self, mark: Mark) -> None:
        strokes: list[Any] = self.strokes
        strokes.append(mark)

    def _mark(self, name: str, uses: int, makes: int, count: int) -> Mark:
        mark = Mark((name, uses, makes, count))
        step, anchor, repeat, index, inner = _steps_at(self)
        try:
            base, before = self.mark
        except AttributeError:
            base, before = self._base(), 0
        now = self._base()
        if base is not now:
            base, before = now, self._unit()
        mark.at = At(
            base, before, self._unit(), step, anchor, self.in_place, not self.out, repeat, index, inner
        )
        return mark


def _units(node: Node) -> int:
    return 0 if node is OPEN else node.stitches + node.chains


def _edge_units(edge: Edge) -> int:
    return sum(
        item.count * (item.stitches + item.chains)
        if len(item) != 4
        else item.count * (item.chains if item.name == "ch-sp" else 1)
        for item in edge
    )


def _steps_at(hand: Hand) -> tuple[Step, Step, int, int, int]:
    """(the step at hand, the step that chose the place, the outermost repeat's id, the index in it, repeats
    within the group).
    """
    rest = hand.rest
    if rest is None:
        first = hand.steps[0]
        return first, first, -1, 0, 0
    steps, index, outer = rest
    step = steps[max(index, 0)]
    chain = [(step, index)]
    while outer is not None:
        steps, index, outer = outer
        chain.append((steps[max(index, 0)], index))
    top = next((at for at in range(len(chain) - 1, -1, -1) if isinstance(chain[at][0], (Group, Work))), 0)
    anchor = chain[top][0]
    inner = sum(isinstance(one, Repeat) for one, _ in chain[:top])
    for depth in range(len(chain) - 1, 0, -1):
        if isinstance(chain[depth][0], Repeat):
            alone = depth == 1 and not hand.in_place and len(rest[0]) == 1
            return step, anchor, id(chain[depth][0]), -1 if alone else chain[depth - 1][1], inner
    return step, anchor, -1, 0, inner


def record(sized: SizedRound) -> Record | None:
    """Work a line again; None where nothing is kept of what it was worked from."""
    origin = sized.origin
    if not isinstance(origin, Origin):
        return None
    hand, outcome = work_again(origin, Recorder)
    again = outcome.sized
    same = again is not None and _alike(again, sized)
    base = hand._base()  # noqa: SLF001 - of this module
    left_from = hand._unit()  # noqa: SLF001 - of this module
    return Record(tuple(hand.strokes), hand.first_base, base, left_from, same)


def _alike(one: SizedRound, two: SizedRound) -> bool:
    """Whether two rounds are the same by kind, however their runs are grouped."""
    if dict(one.tally) != dict(two.tally):
        return False
    return one.edge == two.edge or dict(one.by_kind) == dict(two.by_kind)
