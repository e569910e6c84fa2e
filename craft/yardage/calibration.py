"""Learning a maker's own yarn use from pieces that were weighed."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Calibration"]


@dataclass(frozen=True, slots=True)
class Calibration:
    """What is known of ln(actual/predicted) for one maker: a normal with this mean and these
    spreads.
    """

    mean_log: float = 0.0
    sd_log: float = 0.17
    noise_log: float = 0.05
    observations: int = 0
