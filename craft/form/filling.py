"""Filling by volume, and whether a thing is small enough to be swallowed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

__all__ = ["FILLING_G_PER_LITRE", "Filling", "SmallParts", "filling_for", "fits_small_parts"]

FILLING_G_PER_LITRE: Final = (25.0, 45.0, 70.0)
"""Fibre filling from soft to firm, grams a litre: common practice, no source; to be replaced by weighings."""

CYLINDER_ACROSS_MM: Final = 31.7
CYLINDER_SHALLOW_MM: Final = 25.4
CYLINDER_DEEP_MM: Final = 57.1
"""16 CFR 1501.4, Figure 1: 1.25 in across, its floor slanting from 1 in to 2.25 in (31.7, 25.4, 57.1 mm as
printed there); the slant is from memory, diameter and greatest depth stand in the sources of
`trade/standards` too.
"""


@dataclass(frozen=True, slots=True)
class Filling:
    """Grams: likely, soft and firm. `measured`: False until pieces have been weighed."""

    grams: float
    low: float
    high: float
    measured: bool = False


class SmallParts(str):
    """The answer to whether a thing fits the small-parts cylinder: "fits", "may fit" or "does not fit"."""

    __slots__ = ()


FITS, MAY_FIT, TOO_LARGE = SmallParts("fits"), SmallParts("may fit"), SmallParts("does not fit")


def filling_for(volume_mm3: float, pieces: int = 1) -> Filling:
    """Grams of fibre filling for so many bodies of this volume."""
    litres = volume_mm3 / 1_000_000 * pieces
    low, likely, high = (litres * each for each in FILLING_G_PER_LITRE)
    return Filling(likely, low, high)


def fits_small_parts(size_mm: tuple[float, float, float], doubt: float = 0.0) -> SmallParts:
    """Whether a thing of these outside dimensions goes wholly into the cylinder of 16 CFR 1501.4, in any
    position, not pressed. It stands for the box of those dimensions; a body rounder than its box may go in
    where the box does not, so the cross-section is taken as an ellipse. `doubt`: part by which the dimensions
    may be off; where that decides, "may fit". The law's own test is with the thing itself: this only warns.
    """
    if _fits(size_mm, 1 + doubt):
        return FITS
    return MAY_FIT if doubt and _fits(size_mm, 1 - doubt) else TOO_LARGE


def _fits(size_mm: tuple[float, float, float], factor: float) -> bool:
    """The longest dimension upright, the second against the bore; by its middle a slanted floor leaves the
    mean depth, and a point can reach the deep side.
    """
    long, middle, _ = sorted((each * factor for each in size_mm), reverse=True)
    return middle <= CYLINDER_ACROSS_MM and long <= CYLINDER_DEEP_MM
