"""Time at the hook, from the stitches of a piece."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil
from typing import Final

__all__ = ["minutes_at_the_hook"]

STITCHES_A_MINUTE: Final[Mapping[str, float]] = {
    "ch": 40.0,
    "sl st": 28.0,
    "sc": 20.0,
    "hdc": 17.0,
    "dc": 14.0,
    "tr": 11.0,
}
"""A practised hand, common practice, no source."""

OTHER: Final = 9.0
"""Stitches of several strokes: bobbles, clusters, stitches worked together."""


def minutes_at_the_hook(tally: Mapping[str, int]) -> int:
    """Whole minutes for the stitches alone: no making up, no breaks."""
    return ceil(sum(n / STITCHES_A_MINUTE.get(name, OTHER) for name, n in tally.items()))
