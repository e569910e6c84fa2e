"""Patterns of bodies that mathematics knows, written out group by group."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

__all__ = ["ball", "cone", "disc", "hyperbolic", "rounds", "tube"]


def rounds(counts: Sequence[int], title: str = "") -> str:
    """A pattern in single crochet whose rounds have these counts, shaping spread evenly."""
    lines = [title] if title else []
    lines.append(f"Rnd 1: {counts[0]} sc in magic ring. ({counts[0]})")
    for number, (below, count) in enumerate(pairwise(counts), 2):
        lines.append(f"Rnd {number}: {_steps(below, count, number)}. ({count})")
    return "\n".join(lines) + "\n"


def _steps(below: int, count: int, number: int) -> str:
    change = abs(count - below)
    if not change:
        return "Sc in each st around"
    places = below if count > below else below - change
    steps = []
    shift = (number % 2) * 0.5  # staggered, as makers do
    for group in range(change):
        start, stop = (int((group + each + shift) * places / change) for each in (0, 1))
        plain = max(min(stop, places) - start - 1, 0)
        steps.append((f"sc in next {plain} sts, " if plain else "") + _shaping(count > below))
    rest = below - _used(below, count, number)
    return ", ".join(steps) + (f", sc in next {rest} sts" if rest else "")


def _shaping(gains: bool) -> str:
    return "2 sc in next st" if gains else "sc2tog"


def _used(below: int, count: int, number: int) -> int:
    change = abs(count - below)
    places = below if count > below else below - change
    shift = (number % 2) * 0.5
    used = 0
    for group in range(change):
        start, stop = (int((group + each + shift) * places / change) for each in (0, 1))
        used += max(min(stop, places) - start - 1, 0) + (1 if count > below else 2)
    return used


def disc(number: int, rate: int = 6) -> str:
    return rounds([rate * each for each in range(1, number + 1)])


def tube(count: int, number: int) -> str:
    return rounds([count] * number)


def cone(rate: int, number: int) -> str:
    return rounds([rate * each for each in range(2, number + 2)])


def ball(radius_mm: float, stitch_mm: float, row_mm: float) -> str:
    """Counts N = 2 pi R sin(k h / R) / w of the circles of latitude of a sphere, k h from the pole."""
    number = int(math.pi * radius_mm / row_mm)
    counts = [
        max(5, round(2 * math.pi * radius_mm * math.sin(each * row_mm / radius_mm) / stitch_mm))
        for each in range(1, number)
    ]
    return rounds(counts, "Ball") + "Stuff firmly.\n"


def hyperbolic(every: int, number: int) -> str:
    """One increase in so many stitches, round after round."""
    lines = ["Rnd 1: 6 sc in magic ring. (6)", "Rnd 2: 2 sc in each st around. (12)"]
    lines += [
        f"Rnd {each}: *Sc in next {every - 1} sts, 2 sc in next st; rep from * around."
        for each in range(3, number + 1)
    ]
    return "\n".join(lines) + "\n"
