"""Stitches per round as a line, one drawing for each part of a pattern and one size.

Places are in units of the drawing's own box; the page scales it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil
from typing import Final

from patterns.round_rows import RoundRow

__all__ = ["Chart", "Dot", "charts"]

WIDTH: Final = 720
HEIGHT: Final = 260
LEFT, RIGHT, TOP, BOTTOM = 52, 16, 16, 34
MOST_LABELS: Final = 12
MOST_DOTS: Final = 400
"""More rounds than this are drawn as a line without a dot on each; those at fault keep theirs."""


@dataclass(frozen=True, slots=True)
class Dot:
    """One round. `x`, `y` as text with a decimal point, whatever the language."""

    x: str
    y: str
    css: str
    row: RoundRow
    total: int


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on an axis and the number beside it."""

    place: str
    label: str


@dataclass(frozen=True, slots=True)
class Chart:
    """The drawing of one part. `lines`: runs of rounds worked out one after another, as SVG points."""

    title: str
    lines: tuple[str, ...]
    dots: tuple[Dot, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    first: int
    most: int
    last: int
    box: str = f"0 0 {WIDTH} {HEIGHT}"
    left: str = str(LEFT)
    right: str = str(WIDTH - RIGHT)
    base: str = str(HEIGHT - 12)
    beside: str = str(LEFT - 8)


def charts(rows: Sequence[RoundRow], size: int) -> tuple[Chart, ...]:
    """A drawing for each part with at least two rounds worked out in that size (its position)."""
    parts = (list(part) for _index, part in groupby(rows, key=lambda row: row.section_index))
    drawn = (_chart(part, size) for part in parts)
    return tuple(chart for chart in drawn if chart is not None)


def _total(row: RoundRow, size: int) -> int | None:
    return row.totals[size] if size < len(row.totals) else None


def _chart(rows: list[RoundRow], size: int) -> Chart | None:
    totals = [_total(row, size) for row in rows]
    known = [total for total in totals if total is not None]
    if len(known) < 2:
        return None
    step = _step(max(known))
    top = max(1, ceil(max(known) / step)) * step
    dots = [
        Dot(_x(place, len(rows)), _y(total, top), row.css, row, total) if total is not None else None
        for place, (row, total) in enumerate(zip(rows, totals, strict=True))
    ]
    return Chart(
        title=rows[0].section,
        lines=tuple(_lines(dots)),
        dots=tuple(dot for dot in dots if dot and (len(rows) <= MOST_DOTS or dot.css == "differs")),
        across=tuple(_across(rows)),
        up=tuple(Tick(_y(value, top), str(value)) for value in range(0, top + 1, step)),
        first=known[0],
        most=max(known),
        last=known[-1],
    )


def _lines(dots: Sequence[Dot | None]) -> Iterator[str]:
    for is_gap, run in groupby(dots, key=lambda dot: dot is None):
        points = " ".join(f"{dot.x},{dot.y}" for dot in run if dot)
        if not is_gap:
            yield points


def _across(rows: list[RoundRow]) -> Iterator[Tick]:
    every = ceil(len(rows) / MOST_LABELS)
    for place, row in enumerate(rows):
        if place % every == 0 and row.number is not None:
            yield Tick(_x(place, len(rows)), str(row.number))


def _x(place: int, number: int) -> str:
    return f"{LEFT + (WIDTH - LEFT - RIGHT) * place / max(1, number - 1):.1f}"


def _y(value: int, top: int) -> str:
    return f"{HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * value / top:.1f}"


def _step(most: int) -> int:
    """Steps of 1, 2 or 5 times a power of ten, so that four to eight lines are drawn."""
    power = 1
    while True:
        for step in (power, 2 * power, 5 * power):
            if most <= step * 6:
                return step
        power *= 10
