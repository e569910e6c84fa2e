"""The settled shape of a piece: from the worked fabric to knots at rest, with its sizes and its strains."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from craft.fabric.filled import filled as rounded_out
from craft.fabric.gauge import UNKNOWN_GAUGE, Gauge
from craft.fabric.graph import Flag, StitchGraph, stitch_graph
from craft.fabric.levels import part_levels
from craft.fabric.model import Fabric
from craft.fabric.profile import Profile, profile_of
from craft.form.net import Net, net_of
from craft.form.settle import Settings, Strains, settle, strains_of
from craft.form.skin import area_of, faces_of, volume_of
from craft.form.start import lies_flat, start_of

__all__ = ["TORN", "Form", "Strained", "is_filled", "settle_piece"]

Floats = NDArray[np.float64]
TORN = 0.25
"""A stitch whose length is off by more than a quarter is pulled out of shape: ours."""
FILLED, OPEN = 0.012, 0.004
"""Stretch that filling gives, and what keeps an empty vessel from falling in on itself: ours, not measured.
"""
GIVE = 0.08
"""The part by which fabric gives at most without a pull: ours; blocking does as much."""
WAVY = 1.25
_STUFF = re.compile(r"\b(?:stuff(?:ed|ing)?|fill(?:ed|ing)?)\b", re.IGNORECASE)
_ON_TOP = re.compile(r"\b(?:head|crown|hat|cap|beanie|bonnet|yoke|roof|lid)\b", re.IGNORECASE)
_NOT = re.compile(r"\b(?:do not|don['’]t|not|without|no|un)\W*(?:\w+\W+)?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Strained:
    """A stitch that is off its size: `part` of its rest length, + longer, - shorter."""

    stitch: int
    name: str
    round_number: int | None
    round_key: str
    part: float


@dataclass(frozen=True, eq=False)
class Form:
    """Knots of a net at rest. `filled`: it was pressed outwards as filling does. Lengths in mm."""

    net: Net
    position: Floats
    filled: bool
    profiles: tuple[Profile, ...] = ()

    @property
    def graph(self) -> StitchGraph:
        return self.net.graph

    @cached_property
    def _skin(self) -> tuple[NDArray[np.int32], int]:
        return faces_of(self.net, capped=True)

    @property
    def faces(self) -> NDArray[np.int32]:
        """The skin (F, 3) over the knots, without what shuts its holes."""
        faces, caps = self._skin
        return faces[: len(faces) - caps]

    @property
    def closed_faces(self) -> NDArray[np.int32]:
        """The skin with its open edges shut."""
        return self._skin[0]

    @cached_property
    def size_mm(self) -> tuple[float, float, float]:
        """Outside dimensions, the greatest first, along the body's own axes."""
        if len(self.position) < 2:
            return (0.0, 0.0, 0.0)
        middle = self.position - self.position.mean(axis=0)
        _, axes = np.linalg.eigh(middle.T @ middle)
        turned = middle @ axes
        reach = sorted(np.ptp(turned, axis=0).tolist(), reverse=True)
        return reach[0], reach[1], reach[2]

    @property
    def volume_mm3(self) -> float:
        """Enclosed, with open edges shut by a flat lid; next to nothing for flat pieces."""
        return volume_of(self.position, self.closed_faces)

    @property
    def area_mm2(self) -> float:
        """Of the fabric on one side, holes of lace included."""
        return area_of(self.position, self.faces)

    @property
    def is_shut(self) -> bool:
        """Whether the last round is drawn together: small against the widest."""
        closed = [len(curve.knots) for curve in self.net.curves if curve.closed]
        return bool(closed) and closed[-1] <= 12 and closed[-1] * 2 < max(closed)

    @cached_property
    def strains(self) -> Strains:
        return strains_of(self.net, self.position)

    def worst(self, number: int = 5, above: float = TORN) -> tuple[Strained, ...]:
        """The stitches furthest off their size, at most one a round."""
        net, strains = self.net, self.strains
        knots = np.concatenate((net.along[:, 0], net.up_child))
        low = net.up_rest < 0.5 * net.gauge.row_mm  # a slip stitch has no height to speak of
        parts = np.concatenate((strains.along, np.where(low, 0.0, strains.up)))
        found: dict[int, Strained] = {}
        for at in np.argsort(-np.abs(parts)).tolist():
            if abs(parts[at]) <= above or len(found) >= number:
                break
            stitch = int(net.stitch[knots[at]])
            index = int(self.graph.round_index[stitch])
            one = self.graph.rounds[index]
            if one.kind != "round" and self.graph.name(stitch) == "ch":
                continue
            strained = Strained(stitch, self.graph.name(stitch), one.number, one.key, float(parts[at]))
            found.setdefault(index, strained)
        return tuple(found.values())

    def stitch_positions(self) -> Floats:
        """A position for every stitch of the graph; what has no knot lies with its neighbour."""
        knot = self.net.knot
        known = np.flatnonzero(knot >= 0)
        if not len(known):
            return np.zeros((len(knot), 3))
        nearest = known[np.clip(np.searchsorted(known, np.arange(len(knot))), 0, len(known) - 1)]
        found: Floats = self.position[knot[nearest]]
        return found


def is_filled(fabric: Fabric, sections: Sequence[int]) -> bool:
    """Whether the pattern says to stuff one of these parts, and does not say the contrary there."""
    says = False
    for index in sections:
        text = _words_of(fabric, index)
        for found in _STUFF.finditer(text):
            if _NOT.search(text[max(0, found.start() - 30) : found.start()]):
                return False
            says = True
    return says


def begins_on_top(fabric: Fabric, sections: Sequence[int]) -> bool:
    """Whether a piece is worn or stands with its first round uppermost, as its title tells."""
    return bool(_ON_TOP.search(fabric.sections[sections[0]].section.title)) if sections else False


def _words_of(fabric: Fabric, index: int) -> str:
    """The text from the start of a section to the start of the next."""
    text = fabric.draft.text
    starts = [section.section.span.start for section in fabric.sections]
    later = [start for start in starts if start > starts[index]]
    return text[starts[index] : min(later, default=len(text))]


def settle_piece(
    fabric: Fabric,
    sections: Sequence[int],
    size: int = 0,
    gauge: Gauge | None = None,
    *,
    filled: bool | None = None,
    progress: Callable[[float], bool] | None = None,
) -> Form:
    """The settled shape of sections that are worked onto each other (see `craft.fabric.graph.pieces`).

    `filled`: None asks the pattern's own words. Raises CancelledError when `progress` returns False, and
    TooManyStitchesError. Without a gauge sizes are a guess, as `craft.fabric.gauge.UNKNOWN_GAUGE` says.
    """
    used = gauge or UNKNOWN_GAUGE
    graph = stitch_graph(fabric, tuple(sections), size)
    net = net_of(graph, used)
    parts = (p for p in part_levels(fabric, used) if p.size == size and p.section_index in set(sections))
    profiles = tuple(profile for part in parts if (profile := profile_of(part)) is not None)
    stuffed = is_filled(fabric, sections) if filled is None else filled
    start = start_of(net, tuple(map(rounded_out, profiles)) if stuffed else profiles)
    position = settle(net, start, _settings(net, profiles, start, filled=stuffed), progress)
    if begins_on_top(fabric, sections):
        position = position * (1.0, -1.0, -1.0)
    return Form(net, position, stuffed, profiles)


def _settings(net: Net, profiles: Sequence[Profile], start: Floats, *, filled: bool) -> Settings:
    """Flat pieces are not pressed; those that wave get longer."""
    flat = all(lies_flat(profile) for profile in profiles)
    wavy = not flat and any(profile.stations[-1].over > WAVY for profile in profiles if profile.stations)
    loops = bool(net.graph.has(Flag.SPACE).any())
    if filled and not any(one.gap for one in net.graph.rounds):
        return Settings(press=FILLED, passes=200)
    tall = float(np.ptp(start[:, 2])) > 2 * net.gauge.row_mm
    gaps = any(one.gap for one in net.graph.rounds)
    if any(curve.closed for curve in net.curves) and tall and not (wavy or loops or gaps):
        return Settings(press=OPEN, squeeze=_slack(profiles, flat=False))
    if wavy:
        return Settings(passes=400)
    slack = _slack(profiles, flat=flat)
    return Settings(give=slack, squeeze=slack, passes=60 if loops and tall else 200)


def _slack(profiles: Sequence[Profile], *, flat: bool) -> float:
    """How far the stitches have to give so that the piece can have its shape, within `GIVE`."""
    found = 0.01
    for profile in profiles:
        reached = profile.first_radius
        for station in profile.stations:
            reached += station.level.height
            found = max(found, station.over - 1, 1 - station.radius / reached if flat else 0.0)
    return min(found, GIVE)
