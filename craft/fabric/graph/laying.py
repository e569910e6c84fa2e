"""From the strokes of one line to its stitches: what each is, what it is worked into, what it leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from craft.fabric.edge import CHAIN, CLOSING, SPACE, TURNING
from craft.fabric.graph.recorder import At, Base, Mark, Record
from craft.fabric.graph.sources import Cell, Source, cells_of, choose
from craft.fabric.graph.strokes import in_one_place, span, spread_evenly
from craft.fabric.graph.values import Flag, Into
from craft.fabric.hand import pick
from craft.fabric.model import EachPlace, Edge
from craft.notation.tree import Chain, Evenly, Group, How, Loops, Place, Work

__all__ = ["Laid", "LineLayer", "Stitches"]

_HERE = Place(How.NEXT)
_SAME = Place(How.SAME)
_NEW_PASS = 1 << 30
_LOOPS = {Loops.FRONT: Flag.FRONT_LOOP, Loops.BACK: Flag.BACK_LOOP}


@dataclass(slots=True)
class Stitches:
    """The graph in the making, one list for each array. `names` and `colours` number what they hold."""

    names: dict[str, int] = field(default_factory=dict)
    colours: dict[str, int] = field(default_factory=dict)
    kind: list[int] = field(default_factory=list)
    colour: list[int] = field(default_factory=list)
    flags: list[int] = field(default_factory=list)
    repeat: list[int] = field(default_factory=list)
    pass_number: list[int] = field(default_factory=list)
    space: list[int] = field(default_factory=list)
    child: list[int] = field(default_factory=list)
    parent: list[int] = field(default_factory=list)
    into: list[int] = field(default_factory=list)
    first_parent: list[int] = field(default_factory=list)
    spaces: int = 0

    def add(self, name: str, number: int, flags: int, colour: int, repeat: tuple[int, int]) -> int:
        """Add stitches of one kind; -> the first one's number."""
        first = len(self.kind)
        kind = self.names.setdefault(name, len(self.names))
        self.kind.extend([kind] * number)
        self.colour.extend([colour] * number)
        self.flags.extend([flags] * number)
        self.repeat.extend([repeat[0]] * number)
        self.pass_number.extend([repeat[1]] * number)
        self.space.extend([-1] * number)
        self.first_parent.extend([-1] * number)
        return first

    def hang(self, child: int, parent: int, into: int) -> None:
        self.child.append(child)
        self.parent.append(parent)
        self.into.append(into)
        if self.first_parent[child] < 0:
            self.first_parent[child] = parent


@dataclass(slots=True)
class Laid:
    """What a line left. `source`: its edge in the order made; `row`: its first and last stitch."""

    source: Source | None
    joined: bool
    exact: bool
    chains_at_end: list[int]


@dataclass(slots=True)
class LineLayer:
    """Lays the stitches of one line. `below` is the edge that it begins on, as the hook meets it; `run` the
    chains at the end of what was made before; `foundation` the latest foundation chain, from its last chain
    to its first; `sides` the ends of the rows, down one side and up the other; `named` finds an older edge.
    """

    out: Stitches
    record: Record
    size: int
    below: Source | None
    run: list[int]
    foundation: list[int]
    sides: tuple[list[int], list[int]]
    free: Source | None
    left: Source | None
    colour: int
    ring: bool = False
    turned: bool = False
    from_first: bool = False  # the side that the hook is at ends where the first row began
    start: int = 0
    tops: list[int] = field(default_factory=list)
    joined: bool = False
    sources: dict[int, Source | None] = field(default_factory=dict)
    blocks: int = 0
    repeats: dict[int, int] = field(default_factory=dict)
    now: tuple[int, int, int] = (-1, 0, 0)  # repeat, pass, index of the step last seen in it
    nested: bool = False  # inside the passes of a repeat
    tags: list[int] = field(default_factory=list)
    in_each: tuple[tuple[int, int, int], tuple[list[int], list[int]]] = ((0, 0, 0), ([], []))

    def lay(self, edge: Edge, *, closed: bool) -> Laid:
        """Lay everything; `edge` is what the line leaves, by the worker."""
        self.start = len(self.out.kind)
        self.tags = [cell.chains for cell in cells_of(edge[:2]) if cell.tag == TURNING]
        self._walk(self.record.strokes, 0, None)
        source = self._source(edge, closed=closed) if edge else None
        exact = self.record.same and (source is None or source.exact)
        return Laid(source, self.joined, exact, self.run)

    # ------------------------------------------------------------------------------ strokes

    def _walk(self, strokes: Sequence[Any], shift: int, group: tuple[int, int] | None) -> None:
        at = 0
        while at < len(strokes):
            stroke = strokes[at]
            at += 1
            if type(stroke) is Mark:
                if type(stroke.at.step) is Evenly:
                    at = self._evenly(strokes, at - 1)
                else:
                    self._stroke(stroke, shift, group)
            elif type(stroke) is EachPlace:
                for number in range(stroke.times):
                    self._walk(stroke.strokes, shift, group or (number, stroke.times))
            elif len(stroke) == 2:
                self._passes(stroke[0], stroke[1], shift, group)
            elif stroke[0].startswith("colour "):
                self.colour = self.out.colours.setdefault(stroke[0][7:], len(self.out.colours))

    def _passes(self, strokes: Sequence[Any], times: int, shift: int, group: tuple[int, int] | None) -> None:
        if in_one_place(strokes):
            for _ in range(times):
                self._walk(strokes, shift, group)
            return
        start, stop = span(strokes)
        nested = self.nested
        for number in range(times):
            if number and not nested:
                self.now = (*self.now[:2], _NEW_PASS)
            self.nested = True
            self._walk(strokes, shift + number * (stop - start), group)
        self.nested = nested

    def _stroke(self, mark: Mark, shift: int, group: tuple[int, int] | None) -> None:
        name, uses, makes, count = mark
        at = mark.at
        if name == "skip":
            return
        if name == "turn":
            self._turn(at.base)
        elif name == CHAIN:
            self._chains(at, shift, count)
        elif name == TURNING:
            self._turning_chain(at, count)
        elif name == "sl st" and not makes:
            self._slip(at, shift, count)
        else:
            self._stitches(mark, shift, group, uses, makes, count)

    def _pass(self, at: At) -> tuple[int, int]:
        """The number of the outermost repeat in this line, and of its pass."""
        if at.repeat < 0:
            self.now = (-1, 0, 0)
            return -1, -1
        repeat = self.repeats.setdefault(at.repeat, len(self.repeats))
        known, number, index = self.now
        if known != repeat:
            number = 0
        elif at.step_number < max(index, 0):
            number += 1
        self.now = (repeat, number, at.step_number)
        return repeat, number

    # ------------------------------------------------------------------------------- places

    def _edge_of(self, base: Base) -> Source | None:
        """The edge that a base stands for."""
        key = id(base)
        if key not in self.sources:
            self.sources[key] = self._found(base)
        return self.sources[key]

    def _found(self, base: Base) -> Source | None:  # noqa: PLR0911 - a list of cases
        if base.what == "below":
            return self.below
        if base.what == "free loops":
            return self.free
        if base.what == "left":
            return self.left
        if base.what == "other side":
            back = self.foundation if self.from_first else self.foundation[::-1]
            return _chain_source(back[: base.number], Into.UNDERSIDE)
        chains = self.run[-base.number :] if base.number else []
        if base.what == "closed chain":
            for chain in chains:
                self.out.flags[chain] = (self.out.flags[chain] | Flag.FOUNDATION) & ~Flag.TURNING
            return _chain_source(chains, closed=True)
        if base.what == "chain":
            chains = chains[::-1] if len(chains) == base.number else self.foundation
            self._founded(chains)
            return _chain_source(chains)
        source = _chain_source(chains[::-1])
        behind = self._edge_of(base.behind) if base.behind is not None else None
        if behind is None:
            return source
        start = behind.units - (base.units - base.number)
        return source.joined(behind, max(start, 0))

    def _founded(self, chains: list[int]) -> None:
        """These chains, from the last to the first, are a foundation."""
        self.foundation = chains
        for chain in chains:
            self.out.flags[chain] = (self.out.flags[chain] | Flag.FOUNDATION) & ~Flag.TURNING

    def _parents(self, at: At, shift: int, wanted: int, place: Place) -> tuple[list[int], list[int]]:
        """(stitches, how they are gone into) for so many places."""
        if place.how is How.RING or (self.ring and not self.below):
            return [-1] * wanted, [Into.RING] * wanted
        if place.how is How.ENDS:
            return self._along_side(wanted)
        source = self._edge_of(at.base)
        if source is None or not source.nodes:
            return [-1] * wanted, [Into.UNKNOWN] * wanted
        places = choose(source, at.before + shift, at.after + shift, wanted, place)
        nodes = [source.node(p) for p in places]
        if place.below:
            return [self._down(node, place.below) for node in nodes], [Into.SPIKE] * wanted
        if source.at_unit is None:
            return nodes, [source.into] * wanted
        return nodes, [Into.SPACE if source.is_space(p) else source.into for p in places]

    def _down(self, node: int, rounds: int) -> int:
        """The stitch so many rounds below one."""
        for _ in range(rounds):
            parent = self.out.first_parent[node] if node >= 0 else -1
            if parent < 0:
                return node
            node = parent
        return node

    def _along_side(self, number: int) -> tuple[list[int], list[int]]:
        if not self.blocks and self.tops and self.turned:  # across the last row and down its other side
            down, up = self.sides
            self.sides = up[::-1], down[::-1]
            self.from_first = not self.from_first
        side = self.sides[self.blocks % 2]
        self.blocks += 1
        if not side:
            return [-1] * number, [Into.UNKNOWN] * number
        return [side[(2 * i + 1) * len(side) // (2 * number)] for i in range(number)], [Into.SIDE] * number

    # ------------------------------------------------------------------------------ stitches

    def _stitches(
        self, mark: Mark, shift: int, group: tuple[int, int] | None, uses: int, makes: int, count: int
    ) -> None:
        at, name = mark.at, mark[0]
        place = _place_of(at)
        number = max(makes, 1) * count
        flags = (int(Flag.TOP) if makes else 0) | _flags(at, name, place)
        first = self.out.add(name, number, flags, self.colour, self._pass(at))
        if makes:
            self.tops.extend(range(first, first + number))
        self._edge_of(at.base)  # while the chains just made are still at hand
        self.run = []
        if at.in_place or not uses:
            parents, kinds = self._one_place(at, shift, group, place)
            for child in range(first, first + number):
                self._hang(child, parents[0], kinds[0], flags)
            if place.how in {How.RING, How.ENDS} and not at.in_place and number > 1:
                self._spread(first, number, at, shift, place)
            return
        parents, kinds = self._parents(at, shift, uses * count, place)
        self._hang_all(first, max(makes, 1), uses, parents, kinds, flags)

    def _hang_all(
        self, first: int, makes: int, uses: int, parents: list[int], kinds: list[int], flags: int
    ) -> None:
        if makes == uses == 1 and not flags & (Flag.FRONT_POST | Flag.BACK_POST):
            out = self.out
            out.child.extend(range(first, first + len(parents)))
            out.parent.extend(parents)
            out.into.extend(kinds)
            out.first_parent[first : first + len(parents)] = parents
            return
        for index in range(0, len(parents), uses):
            for _ in range(makes):
                for parent, kind in zip(
                    parents[index : index + uses], kinds[index : index + uses], strict=True
                ):
                    self._hang(first, parent, kind, flags)
                first += 1

    def _hang(self, child: int, parent: int, kind: int, flags: int) -> None:
        if kind == Into.TOP and flags & (Flag.FRONT_POST | Flag.BACK_POST):
            kind = Into.POST
        self.out.hang(child, parent, kind)

    def _one_place(
        self, at: At, shift: int, group: tuple[int, int] | None, place: Place
    ) -> tuple[list[int], list[int]]:
        """The one place of a group, or of stitches that use no new place."""
        if not at.in_place:
            return self._parents(at, shift, 1, place)
        number = 1 if place.number is None else pick(place.number, self.size) or 1
        if group is None:
            parents, kinds = self._parents(at, shift, 1, place)
            return parents, kinds
        index, times = group
        wanted = times if place.number is None else number
        if place.how is How.ENDS:
            wanted = 1
        asked = (id(at.anchor), at.after + shift, wanted)
        if self.in_each[0] != asked:
            self.in_each = asked, self._parents(at, shift, wanted, place)
        parents, kinds = self.in_each[1]
        chosen = index * wanted // times
        return parents[chosen : chosen + 1], kinds[chosen : chosen + 1]

    def _spread(self, first: int, number: int, at: At, shift: int, place: Place) -> None:
        """Stitches along a side lie side by side."""
        self.blocks -= 1 if place.how is How.ENDS else 0
        parents, kinds = self._parents(at, shift, number, place)
        del self.out.child[-number:], self.out.parent[-number:], self.out.into[-number:]
        for child, parent, kind in zip(range(first, first + number), parents, kinds, strict=True):
            self.out.first_parent[child] = -1
            self.out.hang(child, parent, kind)

    def _evenly(self, strokes: Sequence[Any], at: int) -> int:
        """Increases or decreases spread over the places that are left; -> the next stroke."""
        step = strokes[at].at.step
        stop = at
        while stop < len(strokes) and type(strokes[stop]) is Mark and strokes[stop].at.step is step:
            stop += 1
        marks: list[Mark] = list(strokes[at:stop])
        if not any(mark[1] for mark in marks):
            self._gained(marks[0])
            return stop
        first = marks[0].at
        wanted = sum(mark[1] * mark[3] for mark in marks)
        source = self._edge_of(first.base)
        rest = first._replace(after=first.before + wanted)
        if source is not None and first.after > first.before and len(marks) == 1:
            rest = first._replace(after=first.after)
        spread = spread_evenly(marks)
        places = list(self._parents(rest, 0, wanted, _HERE)[0]) if wanted else []
        used = 0
        for name, uses, makes in spread:
            flags = int(Flag.TOP) | _flags(first, name, _HERE)
            number = max(makes, 1)
            made = self.out.add(name, number, flags, self.colour, (-1, -1))
            self.tops.extend(range(made, made + number))
            for child in range(made, made + number):
                for parent in places[used : used + uses] or [-1]:
                    self.out.hang(child, parent, Into.TOP if parent >= 0 else Into.UNKNOWN)
            used += uses
        self.run = []
        return stop

    def _gained(self, mark: Mark) -> None:
        """As in "sc around, increasing 4 evenly": the stitches gained lie among those just made."""
        out = self.out
        number = mark[3]
        first = out.add(mark[0], number, int(Flag.TOP), self.colour, (-1, -1))
        self.tops.extend(range(first, first + number))
        plain = 0
        while (
            plain < len(out.child)
            and out.child[-1 - plain] == first - 1 - plain
            and first - 1 - plain >= self.start
        ):
            plain += 1
        places = list(
            zip(out.parent[len(out.parent) - plain :], out.into[len(out.into) - plain :], strict=True)
        )
        del (
            out.child[len(out.child) - plain :],
            out.parent[len(out.parent) - plain :],
            out.into[len(out.into) - plain :],
        )
        made = plain + number
        for index, child in enumerate(range(first - plain, first + number)):
            parent, kind = places[index * plain // made] if places else (-1, int(Into.UNKNOWN))
            out.first_parent[child] = -1
            out.hang(child, parent, kind)

    # -------------------------------------------------------------------------------- chains

    def _chains(self, at: At, shift: int, count: int) -> None:
        starts = not at.in_place and at.moves and not self.tops
        closed = at.base.what == "closed chain"
        first_of_all = len(self.out.kind) == self.start
        if closed and not first_of_all:
            self._edge_of(at.base)  # while its chains are still the last ones made
        flags = Flag.FOUNDATION if closed and first_of_all else Flag.TURNING if starts else 0
        first = self.out.add(CHAIN, count, int(flags), self.colour, self._pass(at))
        goes_on = bool(self.run) and self.run[-1] == first - 1
        self.run = [*self.run, *range(first, first + count)] if goes_on else list(range(first, first + count))
        if goes_on or not (starts or self._starts_group(at)) or flags == Flag.FOUNDATION:
            return
        if closed:
            self.out.hang(first, -1, Into.RING)
            return
        place = _place_of(at) if at.in_place else _SAME if at.before + shift > 0 else _HERE
        here = at._replace(after=at.before + 1) if place is _HERE else at
        parents, kinds = self._parents(here, shift, 1, place)
        if parents[0] >= 0 or kinds[0] == Into.RING:
            self.out.hang(first, parents[0], kinds[0])

    def _starts_group(self, at: At) -> bool:
        """Whether a chain in a group is its starting chain and no space between its stitches."""
        return bool(at.in_place) and not self.tops

    def _turning_chain(self, at: At, count: int) -> None:
        """The chain just made stands for stitches: its top is their place."""
        if not self.run:
            return
        top = self.run[-1]
        chains = self.tags[0] if self.tags else 0
        if isinstance(at.step, Chain) and 0 < chains <= len(self.run):
            top = self.run[chains - 1]
        self.out.flags[top] |= Flag.COUNTS | Flag.TOP | Flag.TURNING
        self.tops.extend([top] * count)

    def _slip(self, at: At, shift: int, count: int) -> None:
        joins = bool(self.tops) and not at.moves
        first = self.out.add("sl st", count, int(Flag.JOIN) if joins else 0, self.colour, (-1, -1))
        if joins:
            self.joined = True
            target = self.tops[0]
            for child in range(first, first + count):
                self.out.hang(child, target, Into.TOP)
            return
        if at.base.what == "closed chain" or self.below is None:
            self.joined = True
            for child in range(first, first + count):
                self.out.flags[child] |= Flag.JOIN
                if self.run:
                    self.out.hang(child, self.run[-at.base.number], Into.TOP)
            return
        self.run = []
        parents, kinds = self._parents(at._replace(after=at.before + count), shift, count, _HERE)
        for child, parent, kind in zip(range(first, first + count), parents, kinds, strict=True):
            self.out.hang(child, parent, kind)

    def _turn(self, base: Base) -> None:
        """The line turns in the middle: what it has made so far lies below now."""
        source = self._source(base.edge, closed=False)
        self.sources[id(base)] = source.turned()
        self.tops = []

    # ------------------------------------------------------------------------------ the edge

    def _source(self, edge: Edge, *, closed: bool) -> Source:
        """The places of the edge, each with its stitch."""
        cells = cells_of(edge)
        if cells and all(cell.name == CHAIN for cell in cells) and not self.tops:
            chains = self.run[-len(cells) :]
            return (
                _chain_source(chains) if len(chains) == len(cells) else _shared(cells, chains, closed=closed)
            )
        closing = bool(cells) and cells[0].tag == CLOSING
        tops = self.tops[:-1] if closing and self.tops else self.tops
        wanted = sum(cell.name != SPACE for cell in cells)
        exact = wanted == len(tops)
        if not exact:
            made = tops
            tops = [tops[i * len(tops) // wanted] for i in range(wanted)] if tops and wanted else []
            for lost in set(made) - set(tops):  # "decreasing evenly" behind the stitches: two became one
                self.out.flags[lost] &= ~Flag.TOP
        if wanted == len(cells) and tops:
            return Source(list(tops), cells, closed, exact=exact)
        nodes, spaces = self._with_spaces(cells, tops)
        if closing and self.tops:
            nodes[0] = self.tops[-1]
            self.out.flags[nodes[0]] |= Flag.CLOSING
        return Source(nodes, cells, closed, exact=exact, chains=spaces)

    def _with_spaces(self, cells: list[Cell], tops: list[int]) -> tuple[list[int], dict[int, list[int]]]:
        """Stitches in order, between them the middle chain of each space; and the chains of each space."""
        nodes: list[int] = []
        chains: dict[int, list[int]] = {}
        top, at = 0, self.start
        for place, cell in enumerate(cells):
            if cell.name != SPACE:
                nodes.append(tops[top] if top < len(tops) else -1)
                at = max(at, nodes[-1] + 1)
                top += 1
            elif cell.tag == CLOSING:
                nodes.append(-1)
            else:
                until = tops[top] if top < len(tops) else len(self.out.kind)
                chains[place] = self._next_chains(at, until, cell.chains)
                at = chains[place][-1] + 1 if chains[place] else at
                nodes.append(self._space(chains[place]))
        return nodes, chains

    def _next_chains(self, at: int, until: int, wanted: int) -> list[int]:
        flags, kinds = self.out.flags, self.out.kind
        chain = self.out.names.get(CHAIN, -1)
        found: list[int] = []
        while at < until and len(found) < wanted:
            if kinds[at] == chain and not flags[at] & Flag.COUNTS:
                found.append(at)
            at += 1
        return found

    def _space(self, chains: list[int]) -> int:
        if not chains:
            return -1
        for one in chains:
            self.out.space[one] = self.out.spaces
            self.out.flags[one] = (self.out.flags[one] | Flag.SPACE) & ~Flag.TURNING
        self.out.spaces += 1
        middle = chains[len(chains) // 2]
        self.out.flags[middle] |= Flag.TOP
        return middle


def _chain_source(chains: list[int], into: Into = Into.TOP, *, closed: bool = False) -> Source:
    return Source(list(chains), [Cell(CHAIN, 0, -1, "")] * len(chains), closed, into)


def _shared(cells: list[Cell], nodes: list[int], *, closed: bool) -> Source:
    """An edge whose places are known in number only, over the stitches that there are."""
    many = len(cells)
    shared = [nodes[i * len(nodes) // many] for i in range(many)] if nodes else [-1] * many
    return Source(shared, cells, closed, exact=False)


def _place_of(at: At) -> Place:
    step = at.anchor if at.in_place else at.step
    return step.place if isinstance(step, (Work, Group)) else _HERE


def _flags(at: At, name: str, place: Place) -> int:
    flags = int(_LOOPS.get(place.loops, 0))
    post = at.step.stitch.post if isinstance(at.step, Work) else None
    if post == "front" or name.startswith("fp"):
        flags |= Flag.FRONT_POST
    elif post == "back" or name.startswith("bp"):
        flags |= Flag.BACK_POST
    return flags | (Flag.SPIKE if place.below else 0)
