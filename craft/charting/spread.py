"""Even spacing that keeps every stitch as near as can be to what it is worked into.

The places x minimise the sum of (x - wanted)^2 under x[i + 1] - x[i] >= gap[i]: least squares under an order,
solved by pooling adjacent violators (Ayer, Brunk, Ewing, Reid and Silverman, Annals of Mathematical
Statistics 26, 1955), in linear time.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

__all__ = ["around", "evened", "in_order"]

_COPIES = 3


def in_order(wanted: Sequence[float], gaps: Sequence[float]) -> list[float]:
    """Places in order. `gaps[i]` is the least distance from i to i + 1 (the last is not used)."""
    steps = [0.0, *accumulate(gaps[: len(wanted) - 1])]
    sums: list[float] = []
    counts: list[int] = []
    for place, step in zip(wanted, steps, strict=True):
        total, count = place - step, 1
        while sums and sums[-1] * count >= total * counts[-1]:
            total += sums.pop()
            count += counts.pop()
        sums.append(total)
        counts.append(count)
    level = (total / count for total, count in zip(sums, counts, strict=True) for _ in range(count))
    return [base + step for base, step in zip(level, steps, strict=True)]


def around(wanted: Sequence[float], gaps: Sequence[float], length: float) -> list[float]:
    """The same on a closed way: the first follows the last. Three turns are laid out, the middle one kept."""
    turns = [place + turn * length for turn in range(_COPIES) for place in wanted]
    laid = in_order(turns, list(gaps) * _COPIES)
    return [place - length for place in laid[len(wanted) : 2 * len(wanted)]]


def evened(wanted: Sequence[float], widths: Sequence[float], share: float) -> list[float]:
    """Pull the wanted places by `share` towards even spacing about their common middle.

    `widths`: the room of each; neighbours that stand evenly are half the sum of theirs apart.
    """
    if not wanted:
        return []
    steps = [0.0, *accumulate((a + b) / 2 for a, b in pairwise(widths))]
    offset = sum(place - step for place, step in zip(wanted, steps, strict=True)) / len(wanted)
    return [(1 - share) * place + share * (offset + step) for place, step in zip(wanted, steps, strict=True)]
