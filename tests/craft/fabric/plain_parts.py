"""Texts of plain parts for measuring, worked from counts alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from craft.fabric import work
from craft.fabric.gauge import Gauge
from craft.fabric.levels import PartLevels, part_levels
from craft.fabric.model import Fabric
from craft.notation import read


def worked(text: str) -> Fabric:
    return work(read(text))


def part(text: str, gauge: Gauge, size: int = 0) -> PartLevels:
    """The first part of a text in one size."""
    return next(each for each in part_levels(worked(text), gauge) if each.size == size)


def disc(rounds: int, added: int, stitch: str = "sc") -> str:
    """A disc that grows by one number a round, increases stacked: 6, 12, 18..."""
    lines = [
        f"Rnd 1: {added} {stitch} in a magic ring. ({added})",
        f"Rnd 2: 2 {stitch} in each st around. ({2 * added})",
    ]
    for number in range(3, rounds + 1):
        group = f"{stitch} in next {number - 2} sts, 2 {stitch} in next st"
        lines.append(f"Rnd {number}: [{group}] {added} times. ({added * number})")
    return "\n".join(lines) + "\n"


def of_counts(counts: Sequence[int], stitch: str = "sc") -> str:
    """A part from a ring with just these counts, shaping spread over each round."""
    lines = [f"Rnd 1: {counts[0]} {stitch} in a magic ring. ({counts[0]})"]
    for number, (below, count) in enumerate(pairwise(counts), 2):
        lines.append(f"Rnd {number}: {_shaped(below, count, stitch)}. ({count})")
    return "\n".join(lines) + "\n"


def _shaped(below: int, count: int, stitch: str) -> str:
    change = count - below
    if change > 0 and change == below:
        return f"2 {stitch} in each st around"
    if change > 0:
        return f"2 {stitch} in each of next {change} sts, {stitch} in each of next {below - change} sts"
    if change < 0:
        plain = below + 2 * change
        rest = f", {stitch} in each of next {plain} sts" if plain else ""
        return f"[{stitch}2tog] {-change} times{rest}"
    return f"{stitch} in each st around"


def ball_counts(radius: float, width: float, height: float) -> list[int]:
    """Counts of a ball: round k lies k heights from the pole, so it is 2 pi R sin(k h / R) around. It ends
    on the last round of five stitches or more that halving the one below can give, and is drawn shut.
    """
    counts: list[int] = []
    for number in range(1, int(math.pi * radius / height) + 1):
        around = 2 * math.pi * radius * math.sin(number * height / radius)
        count = round(around / width)
        if counts and (count < 5 or 2 * count < counts[-1]):
            break
        counts.append(count)
    return counts
