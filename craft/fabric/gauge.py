"""The gauge as sizes of one stitch, with how far each is to be believed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from craft.fabric.kinds import family
from craft.standards.proportions import relative_height
from craft.standards.terms import UnknownTermError

__all__ = ["SLIP_STITCH_HEIGHT", "UNKNOWN_GAUGE", "Gauge", "height_in_sc"]

SLIP_STITCH_HEIGHT: Final = 0.3
"""Height of a round of slip stitches in single crochets; ours, for the trade's ladder has nought."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """Stitches and rows of one stitch in plain fabric. `stitch_mm` is the width of one stitch, `row_mm` the
    height of one row, `stitch` the US name of the stitch that was measured.

    `in_round`: whether it was measured in the round, None where that is not said. `width_spread` and
    `height_spread`: half the 80 % range of width and height as a part of them, 0 for a gauge that was
    measured; above 0 it is an estimate and everything made from it says so.
    """

    stitch_mm: float
    row_mm: float
    stitch: str = "sc"
    in_round: bool | None = None
    width_spread: float = 0.0
    height_spread: float = 0.0

    @property
    def estimated(self) -> bool:
        return self.width_spread > 0 or self.height_spread > 0

    def height_of(self, name: str) -> float:
        """Height of a row of another stitch, in mm, by the trade's proportions."""
        return self.row_mm * height_in_sc(name) / height_in_sc(self.stitch)


UNKNOWN_GAUGE: Final = Gauge(6.0, 5.5, width_spread=0.35, height_spread=0.35)
"""Where nothing is known of yarn and hook: single crochet in a light to medium yarn, 11 to 21 stitches to
10 cm (the council's Light and Medium, Standard Yarn Weight System), 0.92 as high as wide.
"""


@cache
def height_in_sc(name: str) -> float:
    """Height of a stitch in single crochets. A stitch of no known height is taken for a double crochet, and a
    stitch without a name for a single crochet.
    """
    if name == "sl st":
        return SLIP_STITCH_HEIGHT
    try:
        return relative_height(family(name)) or 1.0
    except UnknownTermError:
        return 1.0 if name == "st" else relative_height("dc")
