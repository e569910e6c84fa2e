"""`stitch_graph`: the stitches of one part in one size, with all that they hang on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from craft.fabric.edge import CHAIN
from craft.fabric.graph.laying import Laid, LineLayer, Stitches
from craft.fabric.graph.recorder import Record, record
from craft.fabric.graph.sources import Cell, Source, cells_of
from craft.fabric.graph.values import Along, Flag, GraphRound, Into, StitchGraph
from craft.fabric.line import Origin, is_turned
from craft.fabric.model import Edge, Fabric, SizedRound, WorkedRound, WorkedSection
from craft.notation.tree import Kind

__all__ = ["MOST_STITCHES", "TooManyStitchesError", "pieces", "stitch_graph", "stitches_in"]

MOST_STITCHES = 300_000  # far above a blanket for a large bed


class TooManyStitchesError(ValueError):
    """The part has more stitches than are laid out one by one; `number` says how many."""

    def __init__(self, number: int) -> None:
        super().__init__(f"{number} stitches are more than are laid out one by one ({MOST_STITCHES})")
        self.number = number


def pieces(fabric: Fabric, size: int = 0) -> tuple[tuple[int, ...], ...]:
    """The sections by piece: one that is worked onto the edge of an earlier one belongs with it.

    Sections without rounds are left out.
    """
    groups: list[list[int]] = []
    owner: dict[int, int] = {}
    for section in fabric.sections:
        sized = [one for worked in section.rounds if (one := worked.per_size[size]) is not None]
        if not sized:
            continue
        origin = sized[0].origin
        below = origin.below.edge if isinstance(origin, Origin) else ()
        group = owner.get(id(below)) if below else None
        if group is None:
            group = len(groups)
            groups.append([])
        groups[group].append(section.index)
        owner.update((id(one.edge), group) for one in sized if one.edge)
    return tuple(tuple(group) for group in groups)


def stitch_graph(fabric: Fabric, part: int | Sequence[int] = 0, size: int = 0) -> StitchGraph:
    """Every stitch of a section, or of several that are worked onto each other, in one size.

    Rounds that were not worked out stand as gaps without stitches. Raises IndexError for a part or size that
    is not there, TooManyStitchesError above MOST_STITCHES.
    """
    parts = (part,) if isinstance(part, int) else tuple(part)
    number = stitches_in(fabric, parts, size)
    if number > MOST_STITCHES:
        raise TooManyStitchesError(number)
    builder = _Builder(fabric, size)
    for index in parts:
        builder.section(fabric.sections[index])
    return builder.graph()


def stitches_in(fabric: Fabric, parts: Sequence[int], size: int = 0) -> int:
    """Stitches that a graph of these sections would have, without building it."""
    return sum(
        number
        for part in parts
        for worked in fabric.sections[part].rounds
        if (sized := worked.per_size[size]) is not None
        for _, number in sized.tally
    )


@dataclass(slots=True)
class _Builder:
    fabric: Fabric
    size: int
    out: Stitches = field(default_factory=Stitches)
    rounds: list[GraphRound] = field(default_factory=list)
    by_edge: dict[int, Source] = field(default_factory=dict)
    by_number: dict[int, Source] = field(default_factory=dict)
    records: dict[int, Record | None] = field(default_factory=dict)
    above: Source | None = None  # the edge that was made last
    above_edge: Edge = ()
    known: bool = False  # nothing lies between it and the next round
    run: list[int] = field(default_factory=list)
    foundation: list[int] = field(default_factory=list)
    row_ends: list[tuple[int, int]] = field(default_factory=list)
    left: Source | None = None
    direction: int = 1
    colour: int = 0
    links: list[tuple[int, int, int]] = field(default_factory=list)

    # --------------------------------------------------------------------------- the rounds

    def section(self, section: WorkedSection) -> None:
        lines = {id(line): index for index, line in enumerate(section.section.lines)}
        self.by_number = {}
        self.row_ends = []
        for index, worked in enumerate(section.rounds):
            sized = worked.per_size[self.size]
            line = lines.get(id(worked.line), -1)
            if sized is None:
                self._gap(section.index, index, line, worked)
            else:
                self._round(section.index, index, line, worked, sized)

    def _gap(self, section: int, index: int, line: int, worked: WorkedRound) -> None:
        """A round that this size lacks is no gap; one that could not be worked is."""
        if worked.why is None and not worked.restarted:
            return
        at = len(self.out.kind)
        empty = np.zeros(0, np.int32)
        self.rounds.append(
            GraphRound(
                worked.key, section, index, line, worked.number, worked.kind, at, at, gap=True,
                restarted=worked.restarted, joined=False, spiral=False, direction=self.direction, tops=empty,
                repeats=worked.repeats, exact=False, why=worked.why,
            )
        )  # fmt: skip
        self.known = False
        self.run = []

    def _record(self, sized: SizedRound) -> Record | None:
        key = id(sized)
        if key not in self.records:
            self.records[key] = record(sized)
        return self.records[key]

    def _round(self, section: int, index: int, line: int, worked: WorkedRound, sized: SizedRound) -> None:
        kept, origin = self._record(sized), sized.origin
        if kept is None or not isinstance(origin, Origin):
            self._gap(section, index, line, worked)
            return
        start = len(self.out.kind)
        if origin.below.edge and is_turned(origin.kind, origin.steps, origin.below):
            self.direction = -self.direction
        is_round = worked.kind == Kind.ROUND.value
        below = self._below(origin)
        self.colour = self.out.colours.setdefault(origin.below.colour, len(self.out.colours))
        layer = LineLayer(
            self.out, kept, self.size, below, list(self.run), self.foundation, self._sides(),
            self._free(origin), self.left, self.colour, ring=origin.below.ring and not origin.below.edge,
        )  # fmt: skip
        layer.turned = is_turned(origin.kind, origin.steps, origin.below)
        layer.from_first = bool(self.row_ends) and len(self.row_ends) % 2 == 0
        laid = layer.lay(sized.edge, closed=is_round)
        self._after(origin, kept, layer, laid, sized)
        self._close(worked, start, laid, section, index, line, is_round=is_round)

    def _below(self, origin: Origin) -> Source | None:
        """The edge of the round below as the hook meets it."""
        below = origin.below
        if below.chain:
            chains = self.run[-below.chain :] or self.foundation[::-1]
            cells = [Cell(CHAIN, 0, -1, "")] * len(chains)
            if not below.ring:
                self._found_chain(chains[::-1])
                return Source(chains[::-1], cells)
            return Source(list(chains), cells, closed=True)
        if not below.edge:
            return None
        if self.known and self.above_edge == below.edge:
            source = self.above  # equal rounds may share what they were worked from
        else:
            source = self.by_edge.get(id(below.edge)) or self._guessed(below.edge)
        if source is not None and is_turned(origin.kind, origin.steps, below):
            round_on_round = origin.kind is Kind.ROUND and below.closed
            source = source.turned_round() if round_on_round else source.turned()
        return source

    def _found_chain(self, chains: list[int]) -> None:
        self.foundation = chains

    def _guessed(self, edge: Edge) -> Source | None:
        """A count started again, over the stitches that were made; None behind a gap."""
        if self.above is None or not self.known or not self.above.nodes:
            return None
        cells = cells_of(edge)
        nodes = self.above.nodes
        shared = [nodes[i * len(nodes) // len(cells)] for i in range(len(cells))]
        return Source(shared, cells, self.above.closed, exact=False)

    def _free(self, origin: Origin) -> Source | None:
        if origin.free is not None and id(origin.free) in self.by_edge:
            return self.by_edge[id(origin.free)]
        for number in reversed(self.by_number):
            if self.by_number[number] is not self.above:
                return self.by_number[number]
        return None

    def _sides(self) -> tuple[list[int], list[int]]:
        """The ends of the rows: down the side at which the hook is, and up the other."""
        down, up = [], []
        for back, (first, last) in enumerate(reversed(self.row_ends)):
            down.append(last if back % 2 == 0 else first)
            up.append(first if back % 2 == 0 else last)
        return down, up[::-1]

    def _after(self, origin: Origin, kept: Record, layer: LineLayer, laid: Laid, sized: SizedRound) -> None:
        self.run, self.foundation, self.colour = layer.run, layer.foundation, layer.colour
        below = layer.below
        if (
            origin.kind is Kind.ROW
            and below is not None
            and 0 < kept.left_from < below.units
            and not below.closed
        ):
            place = below.place_at(kept.left_from)
            self.left = Source(below.nodes[place:], below.cells[place:])
        if laid.source is not None:
            self.above, self.above_edge, self.known = laid.source, sized.edge, True
            self.by_edge[id(sized.edge)] = laid.source

    # ---------------------------------------------------------------------- what a round is

    def _close(
        self,
        worked: WorkedRound,
        start: int,
        laid: Laid,
        section: int,
        index: int,
        line: int,
        *,
        is_round: bool,
    ) -> None:
        stop = len(self.out.kind)
        tops = np.array(laid.source.nodes if laid.source is not None else (), np.int32)
        if worked.number is not None and laid.source is not None:
            self.by_number[worked.number] = laid.source
        foundation = (
            laid.source is not None and bool(laid.source.cells) and laid.source.cells[0].name == CHAIN
        )
        if foundation and not any(flag & Flag.COUNTS for flag in self.out.flags[start:stop]):
            for chain in laid.source.nodes if laid.source is not None else ():
                self.out.flags[chain] = (self.out.flags[chain] | Flag.FOUNDATION) & ~Flag.TURNING
        spiral = is_round and not laid.joined and bool(len(tops)) and not foundation
        if worked.kind == Kind.ROW.value and stop > start and not foundation:
            self.row_ends.append((self._end(start, stop, 1), self._end(stop - 1, start - 1, -1)))
        self._link(start, tops, laid)
        self.rounds.append(
            GraphRound(
                worked.key, section, index, line, worked.number, worked.kind, start, stop, gap=False,
                restarted=worked.restarted, joined=laid.joined, spiral=spiral,
                direction=-1 if foundation else self.direction, tops=tops, repeats=worked.repeats,
                exact=laid.exact, why=worked.why,
            )
        )  # fmt: skip

    def _end(self, at: int, stop: int, step: int) -> int:
        """The first stitch from an end of a row that is a place, else its first stitch."""
        for stitch in range(at, stop, step):
            if self.out.flags[stitch] & Flag.TOP:
                return stitch
        return at

    def _link(self, start: int, tops: NDArray[np.int32], laid: Laid) -> None:
        """From the end of the round before to the first stitch of this one, and the join."""
        known = [top for top in tops.tolist() if top >= 0]
        if laid.joined and len(known) > 2:
            self.links.append((known[-1], known[0], Along.JOIN))
        before = next((one for one in reversed(self.rounds) if one.stop > one.start), None)
        if before is None or not self.rounds or self.rounds[-1].gap or start >= len(self.out.kind):
            return
        last = before.stop - 1
        while last > before.start and self.out.flags[last] & Flag.JOIN:
            last -= 1
        kind = Along.SPIRAL if before.spiral else Along.TURN
        if before.joined:
            last = before.stop - 1
        self.links.append((last, start, kind))

    # ---------------------------------------------------------------------------- the arrays

    def graph(self) -> StitchGraph:
        out = self.out
        number = len(out.kind)
        round_index = np.zeros(number, np.int32)
        position = np.zeros(number, np.int32)
        for index, one in enumerate(self.rounds):
            round_index[one.start : one.stop] = index
            position[one.start : one.stop] = np.arange(one.stop - one.start)
        into = np.column_stack((out.child, out.parent)).astype(np.int32).reshape(-1, 2)
        flags = np.array(out.flags, np.uint16)
        into_kind = np.array(out.into, np.int8)
        chain = np.array(out.kind, np.int16) == out.names.get(CHAIN, -1)
        group = _groups(np.array(out.first_parent, np.int32), round_index, chain, flags, into, into_kind)
        _mark_shaping(flags, into, into_kind, group, chain)
        along, along_kind = _along(round_index, flags, self.links)
        return StitchGraph(
            tuple(out.names), tuple(out.colours), np.array(out.kind, np.int16), round_index, position,
            np.array(out.colour, np.int16), flags, group, np.array(out.repeat, np.int32),
            np.array(out.pass_number, np.int32), np.array(out.space, np.int32), into, into_kind,
            along, along_kind, tuple(self.rounds),
        )  # fmt: skip


def _groups(
    parent: NDArray[np.int32],
    round_index: NDArray[np.int32],
    chain: NDArray[np.bool_],
    flags: NDArray[np.uint16],
    into: NDArray[np.int32],
    into_kind: NDArray[np.int8],
) -> NDArray[np.int32]:
    """Stitches in one place share a number; so do the chains between them."""
    group = np.full(len(parent), -1, np.int32)
    plain = np.isin(into_kind, (Into.TOP, Into.SPACE, Into.POST, Into.SPIKE, Into.UNDERSIDE))
    single = np.zeros(len(parent), bool)
    single[into[plain, 0]] = True
    counts = (flags & Flag.COUNTS) != 0
    stitches = np.flatnonzero((~chain & single & ((flags & Flag.JOIN) == 0)) | counts)
    if len(stitches) < 2:
        return group
    stands = parent.copy()
    stands[counts] = _bases(parent, chain, np.flatnonzero(counts))
    same = (stands[stitches][1:] == stands[stitches][:-1]) & (stands[stitches][1:] >= 0)
    same &= round_index[stitches][1:] == round_index[stitches][:-1]
    number = np.concatenate(([0], np.cumsum(~same)))
    member = np.zeros(len(stitches), bool)
    member[1:] |= same
    member[:-1] |= same
    group[stitches[member]] = number[member]
    before = np.searchsorted(stitches, np.arange(len(parent)), side="right") - 1
    inner = chain & (before >= 0) & (before < len(stitches) - 1) & (group < 0)
    at = before[inner]
    joined = same[at]
    group[np.flatnonzero(inner)[joined]] = number[at[joined]]
    return group


def _bases(parent: NDArray[np.int32], chain: NDArray[np.bool_], tops: NDArray[np.intp]) -> list[int]:
    """What the turning chain below each of its top chains stands on."""
    found = []
    for top in tops.tolist():
        at = top
        while at > 0 and parent[at] < 0 and chain[at - 1]:
            at -= 1
        found.append(int(parent[at]))
    return found


def _mark_shaping(
    flags: NDArray[np.uint16],
    into: NDArray[np.int32],
    into_kind: NDArray[np.int8],
    group: NDArray[np.int32],
    chain: NDArray[np.bool_],
) -> None:
    flags[(group >= 0) & ~chain] |= np.uint16(Flag.INCREASE)
    hangs = np.bincount(into[into_kind != Into.UNKNOWN, 0], minlength=len(flags))
    flags[(hangs > 1) & ~chain] |= np.uint16(Flag.DECREASE)


def _along(
    round_index: NDArray[np.int32], flags: NDArray[np.uint16], links: list[tuple[int, int, int]]
) -> tuple[NDArray[np.int32], NDArray[np.int8]]:
    number = len(round_index)
    left = np.arange(max(number - 1, 0), dtype=np.int32)
    same = round_index[1:] == round_index[:-1] if number else np.zeros(0, bool)
    pairs = np.column_stack((left, left + 1))[same]
    kinds = np.zeros(len(pairs), np.int8)
    if links:
        more = np.array(links, np.int32)
        pairs = np.concatenate((pairs, more[:, :2]))
        kinds = np.concatenate((kinds, more[:, 2].astype(np.int8)))
    return pairs.astype(np.int32), kinds
