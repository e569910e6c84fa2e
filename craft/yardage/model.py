"""Yarn that a piece needs, from its stitch tallies."""

from __future__ import annotations

from collections.abc import Mapping

from craft.yardage.calibration import Calibration
from craft.yardage.values import Extras, Gauge, Tally, Working, Yarn, YarnEstimate

__all__ = ["estimate"]


def estimate(
    tallies: Mapping[str, Tally],
    *,
    yarns: Mapping[str, Yarn],
    gauge: Gauge | None = None,
    hook_mm: float | None = None,
    extras: Mapping[str, Extras] | None = None,
    working: Working | None = None,
    calibration: Calibration | None = None,
) -> YarnEstimate:
    """Estimate the yarn of a piece, colour by colour.

    `tallies`: colour -> stitches of one piece by US name. `yarns`: colour -> yarn. `gauge` None:
    worked out from `hook_mm` and the yarn of the first colour, with a wider spread. Raises
    InvalidYardageError.
    """
    raise NotImplementedError
