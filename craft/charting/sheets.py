"""How a chart goes on paper: at one scale that can be read, on one sheet or over several that overlap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final

from craft.charting.model import Box, Placed

__all__ = ["LARGEST_MM", "SMALLEST_MM", "Sheet", "sheets_of"]

SMALLEST_MM: Final = 2.7
"""A stitch on one of several sheets; its number is then 6 points high."""
SMALLEST_WHOLE_MM: Final = 2.2
"""A stitch is printed no narrower, and so narrow only if all then goes on one sheet."""
LARGEST_MM: Final = 5.0
OVERLAP: Final = 3.0
"""Stitches that two neighbouring sheets share, with a line to lay them on each other in the middle."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of paper. `window`: what it shows; `guides_x`, `guides_y`: lines shared with its neighbours.

    `number` of `of`; `column` and `row` from 1, the top left sheet first. `width_mm`, `height_mm`: of the
    drawing.
    """

    window: Box
    number: int
    of: int
    column: int
    row: int
    width_mm: float
    height_mm: float
    guides_x: tuple[float, ...] = ()
    guides_y: tuple[float, ...] = ()


def sheets_of(placed: Placed, width_mm: float, height_mm: float) -> tuple[Sheet, ...]:
    """The sheets for a space of so many mm; sheets on which nothing lies are left out."""
    box = placed.box
    fits = min(width_mm / box.width, height_mm / box.height)
    scale = min(fits, LARGEST_MM)
    if scale >= SMALLEST_WHOLE_MM:
        return (Sheet(box, 1, 1, 1, 1, box.width * scale, box.height * scale),)
    wide, high = width_mm / SMALLEST_MM, height_mm / SMALLEST_MM
    across = _cuts(box.left, box.width, wide)
    down = _cuts(box.top, box.height, high)
    windows = [
        (column, row, Box(left, top, left + min(wide, box.width), top + min(high, box.height)))
        for row, top in enumerate(down, 1)
        for column, left in enumerate(across, 1)
    ]
    used = [each for each in windows if _has_work(placed, each[2])]
    return tuple(_sheets(used, across, down))


def _cuts(start: float, whole: float, part: float) -> list[float]:
    """Where parts begin so that they cover the whole and overlap."""
    if whole <= part:
        return [start]
    number = ceil((whole - OVERLAP) / (part - OVERLAP))
    step = (whole - part) / (number - 1)
    return [start + step * place for place in range(number)]


def _has_work(placed: Placed, window: Box) -> bool:
    return any(window.has(mark.top) for mark in placed.marks)


def _sheets(used: list[tuple[int, int, Box]], across: list[float], down: list[float]) -> Iterator[Sheet]:
    for number, (column, row, window) in enumerate(used, 1):
        yield Sheet(
            window, number, len(used), column, row, window.width * SMALLEST_MM, window.height * SMALLEST_MM,
            _guides(across, window.width, column - 1), _guides(down, window.height, row - 1),
        )  # fmt: skip


def _guides(starts: list[float], size: float, place: int) -> tuple[float, ...]:
    """The middles of the overlaps with the sheets before and after."""
    pairs = [(place - 1, place), (place, place + 1)]
    return tuple(
        (starts[first] + size + starts[second]) / 2
        for first, second in pairs
        if first >= 0 and second < len(starts)
    )
