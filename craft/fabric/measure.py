"""How large the worked fabric comes out: diameters, circumferences, widths, heights and lengths of every
part in every size, from the gauge or from an estimate of it.

Geometry: circumference = stitches x stitch width, width of a row likewise, length = the sum of the heights
of rows or rounds, diameter and height of a part in rounds from its profile (`craft.fabric.profile`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from craft.fabric.gauge import UNKNOWN_GAUGE, Gauge
from craft.fabric.levels import Level, PartLevels, Start, part_levels
from craft.fabric.model import Fabric
from craft.fabric.profile import Profile, profile_of

__all__ = ["Gauge", "Measured", "PartSize", "What", "measure", "measure_part"]


Shape: TypeAlias = Callable[[PartLevels], Profile | None]
"""What form a part in rounds has; None for one in rows."""


class What(StrEnum):
    """What a length is of."""

    DIAMETER = "diameter"
    ACROSS = "across"  # of a square or other shape with corners: from side to side
    SIDE = "side"  # one side of it
    WIDTH = "width"
    NARROWEST = "narrowest"  # the narrowest row, where it is another than the widest
    LENGTH = "length"
    CIRCUMFERENCE = "circumference"
    OPENING = "opening"  # around the last round, where it is another than the widest
    HEIGHT = "height"
    DEPTH = "depth"  # along the fabric from the middle to the edge, as a hat is measured


@dataclass(frozen=True, slots=True)
class Measured:
    """One length in mm, and the 80 % range where the gauge is an estimate (else `low` = `high` = `mm`).
    `at_least`: rows that are not known or "until it measures" are not in it.
    """

    what: What
    mm: float
    low: float
    high: float
    at_least: bool = False


@dataclass(frozen=True, slots=True)
class PartSize:
    """One part in one size, in mm; None where the shape has no such measure or a round is not known.

    `shape`: "flat" (rows), "disc" (rounds that lie flat), "tube" (rounds with a wall). `width` is the
    widest row or round; `height` that of the rows, or of the body; `lengths` has all there is to say, in
    the order of a table. `estimated`: no gauge was given. `open_height`: rows "until it measures" are not
    in it. `gaps`: rounds that were not worked out. `filled`: measured as filling rounds it. `closed`: drawn
    shut at the end.
    """

    section_index: int
    size: int
    title: str
    shape: str
    width: float | None
    height: float | None
    diameter: float | None
    estimated: bool
    open_height: bool
    lengths: tuple[Measured, ...]
    gaps: tuple[Level, ...]
    filled: bool
    closed: bool = False

    def of(self, what: What) -> Measured | None:
        return next((each for each in self.lengths if each.what is what), None)


def measure(fabric: Fabric, gauge: Gauge | None = None, *, shape: Shape = profile_of) -> tuple[PartSize, ...]:
    """Measure every part that was worked, size by size. Without a gauge the numbers are estimates for a
    medium yarn and say so. `shape`: `craft.fabric.filled.filled_profile_of` for a stuffed piece.
    """
    return tuple(measure_part(part, shape=shape) for part in part_levels(fabric, gauge or UNKNOWN_GAUGE))


def measure_part(part: PartLevels, *, shape: Shape = profile_of) -> PartSize:
    """Measure one part of one size."""
    profile = shape(part)
    if profile is None:
        return _in_rows(part)
    return _in_rounds(part, profile)


def _made(
    part: PartLevels, shape: str, lengths: tuple[Measured, ...], profile: Profile | None = None
) -> PartSize:
    by_name = {each.what: each for each in lengths}
    widest = by_name.get(What.WIDTH) if shape == "flat" else None
    around = max(level.around for level in part.known)
    height = by_name.get(What.HEIGHT) or (by_name.get(What.LENGTH) if shape == "flat" else None)
    diameter = by_name.get(What.DIAMETER)
    return PartSize(
        part.section_index,
        part.size,
        part.title,
        shape,
        widest.mm if widest else around,
        None if height is None or (part.gaps and height.at_least) else height.mm,
        diameter.mm if diameter else None,
        part.gauge.estimated,
        any(level.open_ended for level in part.known),
        lengths,
        part.gaps,
        profile is not None and profile.filled,
        profile is not None and profile.closed,
    )


def _length(
    part: PartLevels, what: What, mm: float, *, upright: bool = False, both: bool = False
) -> Measured:
    """A length with its range: across the stitches, up the rows (`upright`), or a mixture (`both`)."""
    gauge = part.gauge
    spread = gauge.height_spread if upright else gauge.width_spread
    if both:
        spread = max(gauge.height_spread, gauge.width_spread)
    at_least = (upright or both) and bool(part.gaps or any(level.open_ended for level in part.known))
    return Measured(what, mm, mm * (1 - spread), mm * (1 + spread), at_least)


# ------------------------------------------------------------------------------------ rows


def _in_rows(part: PartLevels) -> PartSize:
    rows = [level for level in part.known if level.kind == "row"]
    border = [level for level in part.known if level.kind != "row"]
    edged = 2 * sum(level.height for level in border) if _is_border(rows, border) else 0.0
    counted = rows if edged or not border else list(part.known)
    widest = max(level.around for level in counted)
    narrowest = min(level.around for level in counted)
    length = sum(level.height for level in counted)
    lengths = [_length(part, What.WIDTH, widest + edged)]
    if narrowest < 0.95 * widest:
        lengths.append(_length(part, What.NARROWEST, narrowest + edged))
    lengths.append(_length(part, What.LENGTH, length + edged, upright=True))
    return _made(part, "flat", tuple(lengths))


def _is_border(rows: list[Level], border: list[Level]) -> bool:
    """Rounds after rows that go all the way round the piece."""
    return bool(rows and border) and border[0].around > 1.5 * max(level.around for level in rows)


# ---------------------------------------------------------------------------------- rounds


def _in_rounds(part: PartLevels, profile: Profile) -> PartSize:
    flat = part.start is not Start.AROUND and profile.height < 0.25 * profile.radius and not profile.closed
    shape = "disc" if flat else "tube"
    lengths = tuple(_flat_lengths(part, profile) if flat else _body_lengths(part, profile))
    return _made(part, shape, lengths, profile)


def _flat_lengths(part: PartLevels, profile: Profile) -> Iterator[Measured]:
    if part.sides:
        yield _length(part, What.ACROSS, profile.diameter, both=True)
        yield _length(part, What.SIDE, 2 * profile.radius * math.tan(math.pi / part.sides), both=True)
    elif profile.straight_mm:
        yield _length(part, What.LENGTH, profile.length, both=True)
        yield _length(part, What.WIDTH, profile.diameter, both=True)
    else:
        yield _length(part, What.DIAMETER, profile.diameter, both=True)


def _body_lengths(part: PartLevels, profile: Profile) -> Iterator[Measured]:
    if profile.straight_mm:
        yield _length(part, What.LENGTH, profile.length, both=True)
        yield _length(part, What.WIDTH, profile.diameter, both=True)
    else:
        yield _length(part, What.DIAMETER, profile.diameter)
    widest, last = max(level.around for level in part.known), part.known[-1].around
    yield _length(part, What.CIRCUMFERENCE, widest)
    if not profile.closed and last < 0.95 * widest:
        yield _length(part, What.OPENING, last)
    yield _length(part, What.HEIGHT, profile.height, both=True)
    if part.start is Start.RING and not profile.closed:
        yield _length(part, What.DEPTH, profile.along, upright=True)
