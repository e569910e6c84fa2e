"""The exact profile of a part worked in rounds: how far from the axis and how high each round lies.

A round of n stitches is n x stitch width around, and one row height from the round before it along the
fabric. So its distance from the axis is around / 2 pi, and it rises by sqrt(height² - change of distance²):
a disc where the distance grows by the whole height, a tube where it does not change, a cone between. Ovals
carry two straight sides, squares from the middle have 8 times the distance around them instead of 2 pi.

What cannot be so has its own word: a round that is longer than the fabric reaches (`over` above 1: it
waves), and one that is drawn in by more than its height (`gathered`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from craft.fabric.levels import Level, PartLevels, Start

__all__ = ["Profile", "Station", "around_factor", "evened", "profile_of"]

MOST_BEND = 2
EVENING_PASSES = 30
_CLOSED_AT_MOST = 9
"""Stitches that a last round may have to be drawn shut: ours; patterns close on 5 to 8."""


@dataclass(frozen=True, slots=True)
class Station:
    """The upper edge of one round: `radius` from the axis (for an oval from the end of its straight part,
    for a square to the middle of a side) and `height`, in mm. `over`: its length as a part of what the
    radius allows, above 1 where it waves. `after_gap`: the rounds before it are not known, so that it
    stands apart.
    """

    level: Level
    radius: float
    height: float
    over: float = 1.0
    gathered: bool = False
    after_gap: bool = False


@dataclass(frozen=True, slots=True)
class Profile:
    """A part as a body around an axis. Lengths in mm; `first_radius`: the edge that it begins at;
    `straight_mm`: one straight side of an oval; `factor`: length around for one unit of radius (2 pi; 8 for
    a square). `closed`: drawn shut at the end. `filled`: rounded by filling, see `craft.fabric.filled`.
    """

    part: PartLevels
    first_radius: float
    stations: tuple[Station, ...]
    factor: float = 2 * math.pi
    straight_mm: float = 0.0
    closed: bool = False
    filled: bool = False

    @property
    def radius(self) -> float:
        """The greatest distance from the axis."""
        return max((station.radius for station in self.stations), default=0.0)

    @property
    def diameter(self) -> float:
        """Across the widest round, the straight part of an oval not counted."""
        return 2 * self.radius

    @property
    def length(self) -> float:
        """Across the widest round the long way."""
        return self.diameter + self.straight_mm

    @property
    def height(self) -> float:
        """From the lowest to the highest point."""
        heights = [0.0, *(station.height for station in self.stations)]
        return max(heights) - min(heights)

    @property
    def along(self) -> float:
        """Along the fabric from where it begins to its last round."""
        return sum(station.level.height for station in self.stations)

    @property
    def area_mm2(self) -> float:
        """Of the fabric's surface, the hole drawn shut included."""
        whole = sum(self._belt(a, b) for a, b in self._pairs())
        last = self.stations[-1].radius if self.stations and self.closed else 0.0
        return whole + self._flat(last)

    @property
    def volume_mm3(self) -> float:
        """Held by the body up to its last round."""
        return sum(
            (b.height - a.height) * (self._flat(a.radius) + self._flat(b.radius) + 4 * self._middle(a, b)) / 6
            for a, b in self._pairs()
        )

    def _pairs(self) -> Iterator[tuple[Station, Station]]:
        first = Station(self.part.levels[0], self.first_radius, 0.0)
        for a, b in zip((first, *self.stations), self.stations, strict=False):
            if not b.after_gap:
                yield a, b

    def _belt(self, a: Station, b: Station) -> float:
        slant = math.hypot(b.radius - a.radius, b.height - a.height)
        return (self.factor * (a.radius + b.radius) / 2 + 2 * self.straight_mm) * slant

    def _flat(self, radius: float) -> float:
        return self.factor / 2 * radius * radius + 2 * radius * self.straight_mm

    def _middle(self, a: Station, b: Station) -> float:
        return self._flat((a.radius + b.radius) / 2)


def around_factor(sides: int) -> float:
    """Length around for one unit of the distance to the middle of a side: 2 pi, or 2 k tan(pi / k)."""
    return 2 * sides * math.tan(math.pi / sides) if sides >= 3 else 2 * math.pi


def profile_of(part: PartLevels) -> Profile | None:
    """The profile of a part in rounds; None for one in rows."""
    if part.start is Start.ROWS:
        return None
    factor = around_factor(part.sides)
    straight = part.straight * part.gauge.stitch_mm
    first = part.entered / factor
    known = part.known
    closed = known[-1].count <= _CLOSED_AT_MOST and 2 * known[-1].count < max(each.count for each in known)
    bare = Profile(part, first, (), factor, straight, closed)
    return replace(bare, stations=tuple(_stations(bare)))


def evened(levels: Sequence[Level]) -> list[float]:
    """Lengths around with the whole stitches evened out: a count is a rounded number, so within half a
    stitch the rounds lie as their neighbours have them. Only where three rounds bend by two stitches or
    fewer: a corner, as between base and wall, stays.
    """
    counts = [float(level.count) for level in levels]
    bends = [
        at
        for at in range(1, len(levels) - 1)
        if not any(each.gap or each.loose for each in levels[at - 1 : at + 2])
        and 0 < abs(levels[at - 1].count - 2 * levels[at].count + levels[at + 1].count) <= MOST_BEND
    ]
    for _ in range(EVENING_PASSES if bends else 0):
        for at in bends:
            middle = (counts[at - 1] + counts[at + 1]) / 2
            counts[at] = min(max(middle, levels[at].count - 0.5), levels[at].count + 0.5)
    return [
        level.around * count / level.count if level.count else 0.0
        for level, count in zip(levels, counts, strict=True)
    ]


def _stations(bare: Profile) -> Iterator[Station]:
    radius, height, after_gap = bare.first_radius, 0.0, False
    for level, around in zip(bare.part.levels, evened(bare.part.levels), strict=True):
        if level.gap:
            after_gap = True
            height += bare.part.gauge.row_mm  # room for the gap; what stood there is not known
            continue
        wanted = max(0.0, (around - 2 * bare.straight_mm) / bare.factor)
        station = (
            Station(level, wanted, height + level.height, after_gap=True)
            if after_gap
            else _next(bare, level, wanted, radius, height)
        )
        radius, height, after_gap = station.radius, station.height, False
        yield station


def _next(bare: Profile, level: Level, wanted: float, radius: float, height: float) -> Station:
    change = wanted - radius
    if change > level.height:
        reached = radius + level.height
        allowed = bare.factor * reached + 2 * bare.straight_mm
        return Station(level, reached, height, over=max(1.0, level.around / allowed) if allowed else 1.0)
    if change < -level.height:
        return Station(level, wanted, height, gathered=True)
    return Station(level, wanted, height + math.sqrt(level.height**2 - change**2))
