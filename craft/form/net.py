"""A stitch graph as a net of rest lengths: what holds to what, and how far apart it wants to be.

The knots of the net are the tops of stitches and the single chains of spaces and foundations. Along a round,
neighbours lie one stitch width apart. Upwards, the top of a stitch lies one stitch height from the edge that
it is worked into, measured square to that edge: a stitch may lean, as stitches do, so that increases shared
over a round make it round. Two braces, to half a stitch on either side, keep it from leaning further. Where
on the edge it stands is a point between two neighbours there; several stitches in one place spread over that
place.

Heights of stitches follow `craft.fabric.gauge` (the trade's proportions); a chain is as long as a stitch is
wide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from craft.fabric.gauge import Gauge
from craft.fabric.graph import Flag, Into, StitchGraph
from craft.fabric.kinds import family

__all__ = ["Curve", "Net", "net_of"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]
WIDEST_RING = 1.8
"""Times the room of a flat first round: as in `craft.fabric.levels`."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """The edge that a round leaves: its knots in the order made. `round_index`: of the graph, `closed`:
    round.
    """

    knots: Ints
    closed: bool
    round_index: int


@dataclass(frozen=True, slots=True, eq=False)
class Net:
    """Knots and rest lengths in mm.

    `knot` (N,): the knot of each stitch of the graph, -1 for none; `stitch` (K,): the stitch of each knot, -1
    for the middle of a ring. `along` (A, 2) with `along_rest`; `rope` marks chains, which take no push.
    `up_child` (U,) hangs on the point (1 - t) of `up_edge`[:, 0] and t of `up_edge`[:, 1], `up_rest` away.
    `brace_edge` and `brace_at`: the same for half a stitch before and behind that point, one after the other
    (2 U). `curve_of`, `place_of` (K,): the curve a knot lies in and its place there. `at` (K,): where on the
    curve below each knot stands, in knots of `below` (index of a curve, -1 for none).
    """

    graph: StitchGraph
    gauge: Gauge
    knot: Ints
    stitch: Ints
    along: Ints
    along_rest: Floats
    rope: NDArray[np.bool_]
    up_child: Ints
    up_edge: Ints
    up_at: Floats
    up_rest: Floats
    brace_edge: NDArray[np.int32]
    brace_at: Floats
    curves: tuple[Curve, ...]
    curve_of: Ints
    place_of: Ints
    below: Ints
    at: Floats
    height: Floats

    @property
    def size(self) -> int:
        return len(self.stitch)


def net_of(graph: StitchGraph, gauge: Gauge) -> Net:
    """The net of a graph at a gauge. Rounds behind a gap stand for themselves."""
    return _Weaver(graph, gauge).net()


class _Weaver:
    """The steps from graph to net, each an array over the stitches."""

    def __init__(self, graph: StitchGraph, gauge: Gauge) -> None:
        self.graph, self.gauge = graph, gauge
        self.rounds = graph.rounds
        self.chain = graph.kind == (graph.names.index("ch") if "ch" in graph.names else -1)
        self.round_of = graph.round_index
        self.parent_row = np.isin(graph.into_kind, (Into.RING, Into.UNKNOWN), invert=True)
        self.active = self._active()
        self.knot = np.full(graph.size, -1, np.int32)
        self.knot[self.active] = np.arange(int(self.active.sum()))
        self.stitches = np.flatnonzero(self.active).astype(np.int32)
        self.curves: list[Curve] = []
        self.curve_of = np.full(len(self.stitches), -1, np.int32)
        self.place_of = np.full(len(self.stitches), -1, np.int32)
        self._lay_curves()
        self.heights = self._heights()

    def _active(self) -> NDArray[np.bool_]:
        graph = self.graph
        founded = graph.has(Flag.FOUNDATION) & self._worked_foundations()
        counts = graph.has(Flag.COUNTS) & ~graph.has(Flag.JOIN)
        found: NDArray[np.bool_] = (
            (graph.has(Flag.TOP) & ~self.chain & ~graph.has(Flag.JOIN))
            | graph.has(Flag.SPACE)
            | founded
            | counts
        )
        return found

    def _worked_foundations(self) -> NDArray[np.bool_]:
        """Foundation chains that something is worked into, whole; not the chain of a ring."""
        graph = self.graph
        chains = graph.has(Flag.FOUNDATION)
        parents = np.zeros(graph.size + 1, bool)
        rows = self.parent_row & ~graph.has(Flag.JOIN)[graph.into[:, 0]]
        parents[graph.into[rows, 1]] = True
        starts = np.flatnonzero(chains & ~np.concatenate(([False], chains[:-1])))
        out = np.zeros(graph.size, bool)
        for start in starts.tolist():
            stop = start
            while (
                stop < graph.size
                and chains[stop]
                and (stop == start or self.round_of[stop] == self.round_of[start])
            ):
                stop += 1
            used = np.flatnonzero(parents[start:stop])
            if len(used) >= 2:
                out[start + used[0] : start + used[-1] + 1] = True
        return out

    # ---------------------------------------------------------------------------- the curves

    def _lay_curves(self) -> None:
        graph = self.graph
        foundation = self.active & graph.has(Flag.FOUNDATION) & ~graph.has(Flag.COUNTS)
        for index, one in enumerate(self.rounds):
            if one.gap:
                continue
            span = np.arange(one.start, one.stop)
            self._curve(span[foundation[span]], index, closed=one.joined and one.kind == "round")
            tops = self._expanded(one.tops)
            self._curve(tops[~foundation[tops]], index, closed=one.kind == "round")
            rest = span[self.active[span]]
            rest = rest[self.curve_of[self.knot[rest]] < 0]
            self._curve(rest, index, closed=False)

    def _expanded(self, tops: Ints) -> Ints:
        """The stitches of an edge, a chain space by all its chains."""
        graph = self.graph
        tops = tops[tops >= 0]
        spaces = graph.space[tops]
        if not (spaces >= 0).any():
            return tops[self.active[tops]]
        out: list[Ints] = []
        for top, space in zip(tops.tolist(), spaces.tolist(), strict=True):
            if space < 0:
                out.append(np.array([top], np.int32))
                continue
            first = last = top
            while first > 0 and graph.space[first - 1] == space:
                first -= 1
            while last + 1 < graph.size and graph.space[last + 1] == space:
                last += 1
            out.append(np.arange(first, last + 1, dtype=np.int32))
        found = np.concatenate(out)
        return found[self.active[found]]

    def _curve(self, stitches: NDArray[np.integer], round_index: int, *, closed: bool) -> None:
        stitches = stitches[np.sort(np.unique(stitches, return_index=True)[1])]
        if not len(stitches):
            return
        knots = self.knot[stitches]
        self.curve_of[knots] = len(self.curves)
        self.place_of[knots] = np.arange(len(knots))
        self.curves.append(Curve(knots.astype(np.int32), closed and len(knots) >= 3, round_index))

    # --------------------------------------------------------------------------- rest lengths

    def _heights(self) -> Floats:
        """Height of each kind of stitch, for each stitch; a turning chain has that of its neighbour."""
        graph = self.graph
        known = np.array([self._height(name) for name in graph.names] or [0.0])
        heights = known[graph.kind] if graph.size else np.zeros(0)
        for top in np.flatnonzero(graph.has(Flag.COUNTS)).tolist():
            beside = top + 1
            while beside < graph.size and self.chain[beside]:
                beside += 1
            same = beside < graph.size and self.round_of[beside] == self.round_of[top]
            heights[top] = heights[beside] if same else self._height("dc")
        return heights

    def _height(self, name: str) -> float:
        return self.gauge.height_of(self.gauge.stitch if name in {"st", "in pattern"} else family(name))

    def _along(self) -> tuple[Ints, Floats, NDArray[np.bool_]]:
        graph = self.graph
        stitches = self.stitches
        same = self.round_of[stitches[1:]] == self.round_of[stitches[:-1]]
        same &= self.curve_of[:-1] == self.curve_of[1:]
        left = np.flatnonzero(same).astype(np.int32)
        pairs = [np.column_stack((left, left + 1))]
        pairs += [np.array([[c.knots[-1], c.knots[0]]], np.int32) for c in self.curves if c.closed]
        along = np.concatenate(pairs).astype(np.int32)
        loose = graph.has(Flag.SPACE)[stitches]
        rope = loose[along[:, 0]] | loose[along[:, 1]]
        return along, np.full(len(along), self.gauge.stitch_mm), rope

    def _hangings(self) -> tuple[Ints, Ints, Floats, NDArray[np.int8]]:
        """(child knot, curve below, place on it, kind), one for each stitch that stands on known places."""
        graph = self.graph
        rows = self.parent_row & self.active[np.maximum(graph.into[:, 0], 0)]
        rows &= graph.into[:, 1] >= 0
        child, parent, kind = graph.into[rows, 0], graph.into[rows, 1], graph.into_kind[rows]
        child, parent, kind = self._with_counting(child, parent, kind)
        ok = self.active[parent] & (~self.chain[child] | self.graph.has(Flag.COUNTS)[child])
        child, parent, kind = child[ok], parent[ok], kind[ok]
        knots = self.knot[parent]
        place = self.place_of[knots].astype(float)
        curve = self.curve_of[knots]
        place, width = self._middles_of_spaces(parent, place)
        rank, many = self._ranks(child)
        sign = self._signs(child, curve, place)
        place = place + sign * ((rank + 0.5) / many - 0.5) * width
        return _merged(
            self.knot[child], curve, place, kind, [len(c.knots) if c.closed else 0 for c in self.curves]
        )

    def _with_counting(
        self, child: Ints, parent: Ints, kind: NDArray[np.int8]
    ) -> tuple[Ints, Ints, NDArray[np.int8]]:
        """A turning chain that counts stands where its first chain does."""
        graph = self.graph
        first: dict[int, tuple[int, int]] = {}
        for one, two, how in zip(graph.into[:, 0], graph.into[:, 1], graph.into_kind, strict=True):
            if self.chain[one] and two >= 0:
                first[int(one)] = int(two), int(how)
        more: list[tuple[int, int, int]] = []
        for top in np.flatnonzero(graph.has(Flag.COUNTS) & self.active).tolist():
            at = top
            while at >= 0 and at not in first and at > 0 and self.chain[at - 1]:
                at -= 1
            if at in first and at != top:
                more.append((top, *first[at]))
        if not more:
            return child, parent, kind
        extra = np.array(more, np.int32)
        return (
            np.concatenate((child, extra[:, 0])),
            np.concatenate((parent, extra[:, 1])),
            np.concatenate((kind, extra[:, 2].astype(np.int8))),
        )

    def _middles_of_spaces(self, parent: Ints, place: Floats) -> tuple[Floats, Floats]:
        """The middle of the space that a place lies in, and its width in knots."""
        space = self.graph.space[parent]
        if not (space >= 0).any():
            return place, np.ones(len(place))
        members = self.graph.space[self.stitches]
        held = members >= 0
        number = int(members.max()) + 1
        count = np.bincount(members[held], minlength=number)
        total = np.bincount(members[held], weights=self.place_of[held], minlength=number)
        middle = total / np.maximum(count, 1)
        whole = (space >= 0) & self._whole_space(parent)
        width = np.ones(len(place))
        place = place.copy()
        place[whole] = middle[space[whole]]
        width[whole] = count[space[whole]]
        return place, width

    def _whole_space(self, parent: Ints) -> NDArray[np.bool_]:
        """Whether a space is entered as a whole: only its middle chain is worked into."""
        return self.graph.has(Flag.TOP)[parent]

    def _ranks(self, child: Ints) -> tuple[Floats, Floats]:
        """The place of a stitch among those in the same place, and how many these are."""
        group = self.graph.group[self.stitches]
        rank = np.zeros(len(self.stitches))
        many = np.ones(len(self.stitches))
        held = np.flatnonzero(group >= 0)
        if len(held):
            order = held[np.argsort(group[held], kind="stable")]
            values = group[order]
            starts = np.flatnonzero(np.concatenate(([True], values[1:] != values[:-1])))
            lengths = np.diff(np.concatenate((starts, [len(values)])))
            rank[order] = np.arange(len(values)) - np.repeat(starts, lengths)
            many[order] = np.repeat(lengths, lengths)
        knots = self.knot[child]
        return rank[knots], many[knots]

    def _signs(self, child: Ints, curve: Ints, place: Floats) -> Floats:
        """Whether the places go up or down along each curve as the stitches of a round go on."""
        order = np.lexsort((child, curve, self.round_of[child]))
        key = self.round_of[child][order].astype(np.int64) * (len(self.curves) + 1) + curve[order]
        steps = np.clip(np.diff(place[order]), -1.5, 1.5)
        same = key[1:] == key[:-1]
        values, inverse = np.unique(key, return_inverse=True)
        sums = np.bincount(inverse[1:][same], weights=steps[same], minlength=len(values))
        signs = np.where(sums < 0, -1.0, 1.0)[inverse]
        out = np.empty(len(child))
        out[order] = signs
        return out

    # ----------------------------------------------------------------------------- the whole

    def net(self) -> Net:
        along, rest, rope = self._along()
        child, curve, place, kind = self._hangings()
        edge, at = self._edges(curve, place)
        before, behind = self._edges(curve, place - 0.5), self._edges(curve, place + 0.5)
        heights = self.heights[self.stitches]
        up_rest = heights[child]
        spike = kind == Into.SPIKE
        up_rest[spike] *= 2
        below = np.full(len(self.stitches), -1, np.int32)
        below[child] = curve
        at_place = np.zeros(len(self.stitches))
        at_place[child] = place
        stitch = self.stitches
        rings = self._rings(len(stitch))
        if rings:
            child = np.concatenate((child, *(knots for knots, _ in rings))).astype(np.int32)
            middles = np.concatenate([np.full(len(knots), middle) for knots, middle in rings]).astype(
                np.int32
            )
            edge = np.concatenate((edge, np.column_stack((middles, middles)))).astype(np.int32)
            at = np.concatenate((at, np.zeros(len(middles))))
            both = np.column_stack((middles, middles))
            before = np.concatenate((before[0], both)), np.concatenate((before[1], np.zeros(len(middles))))
            behind = np.concatenate((behind[0], both)), np.concatenate((behind[1], np.zeros(len(middles))))
            up_rest = np.concatenate((up_rest, *(heights[knots] for knots, _ in rings)))
            more = len(rings)
            stitch = np.concatenate((stitch, np.full(more, -1, np.int32)))
            self.curve_of = np.concatenate((self.curve_of, np.full(more, -1, np.int32)))
            self.place_of = np.concatenate((self.place_of, np.full(more, -1, np.int32)))
            below = np.concatenate((below, np.full(more, -1, np.int32)))
            at_place = np.concatenate((at_place, np.zeros(more)))
            heights = np.concatenate((heights, np.zeros(more)))
        return Net(
            self.graph, self.gauge, self.knot, stitch, along, rest, rope, child.astype(np.int32), edge, at,
            up_rest, np.concatenate((before[0], behind[0])).astype(np.int32),
            np.concatenate((before[1], behind[1])), tuple(self.curves), self.curve_of, self.place_of, below,
            at_place, heights,
        )  # fmt: skip

    def _edges(self, curve: Ints, place: Floats) -> tuple[Ints, Floats]:
        """The two neighbours on the curve between which each place lies, and how far from the first."""
        sizes = np.array([len(one.knots) for one in self.curves] or [1])
        starts = np.concatenate(([0], np.cumsum(sizes)))
        flat = np.concatenate([one.knots for one in self.curves]) if self.curves else np.zeros(0, np.int32)
        closed = np.array([one.closed for one in self.curves] or [False])[curve]
        size = sizes[curve]
        place = np.where(closed, np.mod(place, size), np.clip(place, 0, size - 1))
        low = np.floor(place).astype(int)
        low = np.where(~closed & (low >= size - 1), np.maximum(size - 2, 0), low)
        high = np.where(closed, (low + 1) % size, np.minimum(low + 1, size - 1))
        pairs = np.column_stack((flat[starts[curve] + low], flat[starts[curve] + high])).astype(np.int32)
        return pairs.reshape(-1, 2), place - low

    def _rings(self, knots: int) -> list[tuple[Ints, int]]:
        """The first rounds that are worked into a ring, each with a knot for its middle."""
        graph = self.graph
        in_ring = np.zeros(graph.size, bool)
        in_ring[graph.into[graph.into_kind == Into.RING, 0]] = True
        for top in np.flatnonzero(graph.has(Flag.COUNTS)).tolist():
            in_ring[top] |= in_ring[self.rounds[self.round_of[top]].start : top].any()
        found: list[tuple[Ints, int]] = []
        for one in self.rounds:
            span = np.arange(one.start, one.stop)
            members = self.knot[span[in_ring[span] & self.active[span]]]
            if not len(members):
                continue
            room = 2 * np.pi * self.heights[self.stitches[members]].max()
            if len(one.tops) * self.gauge.stitch_mm <= WIDEST_RING * room or found:
                found.append((members.astype(np.int32), knots + len(found)))
        return found


def _merged(
    child: Ints, curve: Ints, place: Floats, kind: NDArray[np.int8], around: Sequence[int]
) -> tuple[Ints, Ints, Floats, NDArray[np.int8]]:
    """One hanging for each stitch: a decrease hangs on the middle of its places."""
    order = np.argsort(child, kind="stable")
    child, curve, place, kind = child[order], curve[order], place[order], kind[order]
    first = np.concatenate(([True], child[1:] != child[:-1])) if len(child) else np.zeros(0, bool)
    which = np.cumsum(first) - 1
    starts = np.flatnonzero(first)
    base = place[starts][which]
    turn = np.array([*around, 0])[curve]
    apart = place - base
    half = turn / 2
    apart = np.where((turn > 0) & (apart > half), apart - turn, apart)
    apart = np.where((turn > 0) & (apart < -half), apart + turn, apart)
    apart = np.where(curve == curve[starts][which], apart, 0.0)
    count = np.bincount(which)
    mean = np.bincount(which, weights=apart) / np.maximum(count, 1) if len(which) else np.zeros(0)
    return child[starts], curve[starts], place[starts] + mean, kind[starts]
