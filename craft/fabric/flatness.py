"""Whether a part that grows from its middle lies flat, judged from the size reached.

A round at distance d from the middle has room for 2 pi d (an oval: its two straight sides besides; a square
from the middle: 8 d). The index is its length, stitches x width, as a part of that room. 1 lies flat; less
draws it into a bowl (a cone of half-angle arcsin(index), standards section 6c), more makes it wave.

The bands are this house's own, no standard: drawn so that ordinary published work that is worked flat (13
sts x 15 rows with 6 a round: 1.10; hdc with 10 a round: 1.22) is not called a ruffle (trade notes section
3.3).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from craft.fabric.kinds import family
from craft.fabric.levels import Level, PartLevels, Start
from craft.fabric.profile import around_factor

__all__ = [
    "BAND_LIMITS",
    "FIRST_JUDGED",
    "FLAT_GAUGE_SPREAD",
    "Band",
    "Drift",
    "Flatness",
    "RoundFlatness",
    "WhyOpen",
    "band_of",
    "drift_of",
    "flatness_of",
]

FIRST_JUDGED: Final = 3
"""Judge after several rounds, not after one (standards section 6c)."""
FLAT_GAUGE_SPREAD: Final = 0.10
"""How far height by width may be off where the gauge was not measured in the round: ours."""
OTHER_STITCH_SPREAD: Final = 0.10
"""The same where the height of the stitch is taken from the proportions of the trade: ours. Published hdc,
for one, run from 1.33 to 1.5 single crochets.
"""


class Band(StrEnum):
    """What the piece does, from few stitches to many."""

    BOWL = "bowl"
    CUPS = "cups"
    FLAT = "flat"
    MAY_WAVE = "may wave"
    RUFFLES = "ruffles"


BAND_LIMITS: Final = ((0.80, Band.BOWL), (0.90, Band.CUPS), (1.15, Band.FLAT), (1.25, Band.MAY_WAVE))
"""Upper limits; above the last it ruffles."""


class WhyOpen(StrEnum):
    """Why there is a range and no verdict."""

    FLAT_GAUGE = "flat gauge"  # measured on a flat swatch
    NOT_SAID = "not said"  # the gauge does not say how it was measured
    ESTIMATE = "estimate"  # no gauge
    OTHER_STITCH = "other stitch"  # most of the rounds are in another stitch than the gauge
    LACE = "lace"  # chains, whose room nobody knows, make up much of the round


@dataclass(frozen=True, slots=True)
class RoundFlatness:
    """One round: `distance` from the middle, the length it `needs` to lie flat and what it `has`, in mm."""

    level: Level
    distance: float
    needs: float
    has: float

    @property
    def index(self) -> float:
        return self.has / self.needs


@dataclass(frozen=True, slots=True)
class Flatness:
    """The judgement of one part in one size, from its rounds that grow.

    `band` is None where only a range can be given (`why_open`); `low` and `high` are the ends of the index
    at the last round (both its value where the gauge was measured in the round). `usual`: how many stitches
    a round lie flat at this gauge, `grows`: how many the part grows by, on the mean.
    """

    part: PartLevels
    rounds: tuple[RoundFlatness, ...]
    band: Band | None
    low: float
    high: float
    why_open: WhyOpen | None
    usual: float
    grows: float

    @property
    def index(self) -> float:
        return self.rounds[-1].index

    @property
    def bands(self) -> tuple[Band, ...]:
        """Every band that the range touches."""
        return tuple(band for band in Band if _touches(band, self.low, self.high))

    @property
    def half_angle(self) -> float | None:
        """Degrees between the axis and the side of the cone that it draws into; None where it lies flat or
        waves.
        """
        return math.degrees(math.asin(self.index)) if self.index < 1 else None


def band_of(index: float) -> Band:
    """The band of an index; each limit belongs to the band above it, except that 0.90 to 1.15 is flat."""
    for limit, band in BAND_LIMITS:
        if index < limit or (band is Band.FLAT and index <= limit):
            return band
    return Band.MAY_WAVE if index <= BAND_LIMITS[-1][0] else Band.RUFFLES


def _touches(band: Band, low: float, high: float) -> bool:
    order = list(Band)
    return order.index(band_of(low)) <= order.index(band) <= order.index(band_of(high))


def flatness_of(part: PartLevels) -> Flatness | None:
    """Judge a part; None where it grows from no ring or oval, or has fewer than three rounds that grow."""
    if part.start not in {Start.RING, Start.OVAL}:
        return None
    disc = _disc(part)
    if len(disc) < FIRST_JUDGED:
        return None
    rounds = tuple(_rounds(part, disc))
    spread, why = _spread(part, disc)
    index = rounds[-1].index
    low, high = index * (1 - spread), index * (1 + spread)
    if why is WhyOpen.LACE:
        low, high = index * _stitches_share(disc[-1]), index
    return Flatness(
        part,
        rounds,
        None if why else band_of(index),
        low,
        high,
        why,
        usual=around_factor(part.sides) * _mean_height(disc) / part.gauge.stitch_mm,
        grows=(disc[-1].count - disc[0].count) / (len(disc) - 1),
    )


def _rounds(part: PartLevels, disc: Sequence[Level]) -> Iterator[RoundFlatness]:
    distance = 0.0
    straight = 2 * part.straight * part.gauge.stitch_mm
    for level in disc:
        distance += level.height
        yield RoundFlatness(level, distance, around_factor(part.sides) * distance + straight, level.around)


def _disc(part: PartLevels) -> list[Level]:
    """The rounds from the middle on that grow: up to the first of two together that gain less than half of
    what a flat circle needs. A gap ends them, for the distance is not known after one, and so do loose
    loops.
    """
    disc: list[Level] = []
    slow = 0
    for level in part.levels:
        if level.gap or level.loose or level.open_ended:
            break
        slow = slow + 1 if disc and _is_slow(part, disc[-1], level) else 0
        disc.append(level)
        if slow == 2:
            return disc[:-2]
    return disc if len(disc) == len(part.levels) or not slow else disc[:-1]


def _is_slow(part: PartLevels, before: Level, level: Level) -> bool:
    needed = around_factor(part.sides) * level.height
    return level.around - before.around < needed / 2


def _mean_height(disc: Sequence[Level]) -> float:
    return disc_height(disc) / len(disc)


def _spread(part: PartLevels, disc: Sequence[Level]) -> tuple[float, WhyOpen | None]:
    gauge = part.gauge
    if gauge.estimated:
        return min(0.6, math.hypot(gauge.width_spread, gauge.height_spread)), WhyOpen.ESTIMATE
    if _stitches_share(disc[-1]) < 0.9:
        return 0.0, WhyOpen.LACE
    if gauge.in_round is not True:
        return FLAT_GAUGE_SPREAD, WhyOpen.NOT_SAID if gauge.in_round is None else WhyOpen.FLAT_GAUGE
    own = sum(level.height for level in disc if family(level.name) == family(gauge.stitch))
    if 2 * own < disc_height(disc):
        return OTHER_STITCH_SPREAD, WhyOpen.OTHER_STITCH
    return 0.0, None


def disc_height(disc: Sequence[Level]) -> float:
    """Distance of the last round from the middle, in mm."""
    return sum(level.height for level in disc)


def _stitches_share(level: Level) -> float:
    """The part of a round's length that is stitches, not chains."""
    return 1 - level.chains / level.count if level.count else 1.0


# -------------------------------------------------------------------------- lean and drift

HALF_A_STITCH: Final = 0.5
"""Each stitch stands between two below, so a column walks half a stitch a round
(stitchesnscraps.com, why continuous rounds shift; trade notes section 3.6)."""


@dataclass(frozen=True, slots=True)
class Drift:
    """How a part that is not turned leans. `stitches`: how far the start of the round has walked at the
    last one; `mm` the same along the edge; `degrees`: the lean of a column. Half a stitch a round is
    geometry, taken for all stitches.
    """

    rounds: int
    stitches: float
    mm: float
    degrees: float
    joined: bool


def drift_of(part: PartLevels) -> Drift | None:
    """The lean of a part worked in rounds without turning; None for rows and for turned rounds."""
    known = part.known
    if part.start is Start.ROWS or part.turned or len(known) < 2:
        return None
    walked = HALF_A_STITCH * len(known)
    mean = sum(level.height for level in known) / len(known)
    lean = math.degrees(math.atan2(HALF_A_STITCH * part.gauge.stitch_mm, mean)) if mean else 0.0
    return Drift(len(known), walked, walked * part.gauge.stitch_mm, lean, part.joined)
