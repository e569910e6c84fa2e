"""How large the worked fabric comes out: widths, heights, discs and tubes, from the gauge or an estimate.

Geometry: circumference = stitches x stitch width, diameter = circumference / pi, height = the sum of the
heights of the rounds. A round lies in the disc of a base while it gains about as many stitches as a flat
circle needs (2 pi x height / width, standards section 6b); plain rounds after that are the wall of a tube.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from craft.fabric.kinds import family
from craft.fabric.model import Fabric, SizedRound, WorkedSection
from craft.notation.tree import Kind
from craft.standards.proportions import relative_height
from craft.standards.terms import UnknownTermError

__all__ = ["Gauge", "PartSize", "measure"]

ESTIMATED_WIDTH_MM = 6.0  # a sc in medium yarn, 16 to 10 cm; marked as an estimate wherever it is used


@dataclass(frozen=True, slots=True)
class Gauge:
    """Stitches and rows of one stitch in plain fabric. `stitch_mm` is the width of one stitch, `row_mm` the
    height of one row, `stitch` the US name of the stitch that was measured.
    """

    stitch_mm: float
    row_mm: float
    stitch: str = "sc"

    def height_of(self, name: str) -> float:
        """Height of a row of another stitch, in mm, by the trade's proportions."""
        return self.row_mm * _relative(name) / _relative(self.stitch)


@dataclass(frozen=True, slots=True)
class PartSize:
    """One part in one size, in mm; None where the shape has no such measure or a round is not known.

    `shape`: "flat" (rows), "disc" (rounds that lie flat), "tube" (rounds with a wall). `width` is the widest
    row, or the circumference of the last round; `height` that of the rows, or of the wall. `estimated`: no
    gauge was given. `open_height`: rows "until it measures" are not in it.
    """

    section_index: int
    size: int
    shape: str
    width: float | None
    height: float | None
    diameter: float | None
    estimated: bool
    open_height: bool


def measure(fabric: Fabric, gauge: Gauge | None = None) -> tuple[PartSize, ...]:
    """Measure every part that was worked, size by size. Without a gauge the numbers are estimates for a
    medium yarn and say so.
    """
    used = gauge or Gauge(ESTIMATED_WIDTH_MM, ESTIMATED_WIDTH_MM)
    found: list[PartSize] = []
    for section in fabric.sections:
        for size in range(max(len(fabric.draft.sizes), 1)):
            part = _part(section, size, used, estimated=gauge is None)
            if part is not None:
                found.append(part)
    return tuple(found)


def _part(section: WorkedSection, size: int, gauge: Gauge, *, estimated: bool) -> PartSize | None:
    rounds = [
        (worked, sized)
        for worked in section.rounds
        if (sized := worked.per_size[size]) is not None and sized.total and not _is_foundation(sized)
    ]
    if not rounds:
        return None
    is_open = any(worked.repeats is None for worked, _ in rounds)
    whole = all(worked.per_size[size] is not None or not worked.line.steps for worked in section.rounds)
    heights = [_height(sized, gauge) for worked, sized in rounds if worked.repeats is not None]
    widths = [sized.total * gauge.stitch_mm for _, sized in rounds]
    if rounds[-1][0].kind != Kind.ROUND.value:
        height = sum(heights) if whole else None
        return PartSize(section.index, size, "flat", max(widths), height, None, estimated, is_open)
    base = _flat_rounds([sized for _, sized in rounds], gauge)
    wall = sum(heights[base:])
    shape = "disc" if base == len(rounds) else "tube"
    height = (wall if shape == "tube" else None) if whole else None
    return PartSize(section.index, size, shape, widths[-1], height, widths[-1] / math.pi, estimated, is_open)


def _is_foundation(sized: SizedRound) -> bool:
    return all(name == "ch" for name, _ in sized.by_kind)


def _flat_rounds(rounds: list[SizedRound], gauge: Gauge) -> int:
    """How many rounds from the first on lie flat: each gains at least half of what a flat circle needs."""
    below = 0
    for index, sized in enumerate(rounds):
        needed = 2 * math.pi * _height(sized, gauge) / gauge.stitch_mm
        if sized.total - below < needed / 2:
            return index
        below = sized.total
    return len(rounds)


def _height(sized: SizedRound, gauge: Gauge) -> float:
    """Height of a round: that of its commonest stitch."""
    names = [(count, name) for name, count in sized.by_kind if not name.endswith(" sp")]
    return gauge.height_of(family(max(names)[1])) if names else gauge.row_mm


def _relative(name: str) -> float:
    try:
        return relative_height(family(name)) or 1.0
    except UnknownTermError:
        return relative_height("dc") if name != "st" else 1.0
