"""Yarn that a piece needs, from its stitch tallies."""

from __future__ import annotations

from collections.abc import Mapping

from craft.yardage.calibration import Calibration
from craft.yardage.values import Extras, Fabric, Gauge, Tally, Yarn, YarnEstimate

__all__ = ["estimate"]


def estimate(
    tallies: Mapping[str, Tally],
    *,
    yarns: Mapping[str, Yarn],
    gauge: Gauge | None = None,
    hook_mm: float | None = None,
    extras: Mapping[str, Extras] | None = None,
    held: Mapping[str, tuple[str, ...]] | None = None,
    fabric: Fabric = Fabric.SOLID,
    in_rounds: bool | None = None,
    calibration: Calibration | None = None,
    pieces: int = 1,
    risk: float = 0.05,
) -> YarnEstimate:
    """Estimate the yarn of `pieces` equal pieces, colour by colour.

    `tallies`: colour -> stitches of one piece by US name. `yarns`: colour -> yarn. `gauge` None: worked out
    from `hook_mm` and the yarn of the first colour, with a wider spread. `held`: a tally whose
    strands differ, e.g. {"marl": ("sand", "sea")}; each of these gets its own length.
    `risk`: chance of running out that is acceptable, 0 < risk < 0.5.
    Raises InvalidYardageError.
    """
    raise NotImplementedError
