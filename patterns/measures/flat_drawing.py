"""The judgement of flatness as places of an SVG: length around against distance from the middle."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from craft.fabric.flatness import BAND_LIMITS, Flatness

__all__ = ["FlatDrawing", "flat_drawing"]

FLAT_WIDTH: Final = 560
FLAT_HEIGHT: Final = 284
LEFT, RIGHT, TOP, BOTTOM = 56, 132, 16, 28
MOST_TICKS: Final = 12


@dataclass(frozen=True, slots=True)
class FlatDot:
    x: str
    y: str
    low_y: str
    high_y: str
    number: int | None
    percent: int


@dataclass(frozen=True, slots=True)
class Tick:
    place: str
    label: str


@dataclass(frozen=True, slots=True)
class FlatDrawing:
    """Length around (up, in cm) by distance from the middle (across, in cm): what lies flat and what there
    is.
    """

    band: str
    needs: str
    has: str
    dots: tuple[FlatDot, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    needs_y: str
    has_y: str
    ranged: bool
    box: str = f"0 0 {FLAT_WIDTH} {FLAT_HEIGHT}"
    left: str = str(LEFT)
    right: str = str(FLAT_WIDTH - RIGHT)
    label_x: str = str(FLAT_WIDTH - RIGHT + 8)
    beside: str = str(LEFT - 8)
    base: str = str(FLAT_HEIGHT - BOTTOM)
    tick_y: str = str(FLAT_HEIGHT - BOTTOM + 18)


def flat_drawing(flat: Flatness) -> FlatDrawing:
    """The judgement as a picture: the flat band, the line that lies flat and the rounds."""
    rounds = flat.rounds
    farthest = rounds[-1].distance
    ratio = max(flat.high / flat.index, 1.0)
    flat_low, flat_high = BAND_LIMITS[1][0], BAND_LIMITS[2][0]
    longest = max(max(r.has * ratio, r.needs * flat_high) for r in rounds)
    top = longest * 1.05

    def x(mm: float) -> str:
        return f"{LEFT + (FLAT_WIDTH - LEFT - RIGHT) * mm / farthest:.1f}"

    def y(mm: float) -> str:
        return f"{FLAT_HEIGHT - BOTTOM - (FLAT_HEIGHT - TOP - BOTTOM) * mm / top:.1f}"

    upper = [f"{x(r.distance)},{y(r.needs * flat_high)}" for r in rounds]
    lower = [f"{x(r.distance)},{y(r.needs * flat_low)}" for r in reversed(rounds)]
    low_ratio = flat.low / flat.index
    needs_y, has_y = _apart(float(y(rounds[-1].needs)), float(y(rounds[-1].has)))
    return FlatDrawing(
        band=" ".join([*upper, *lower]),
        needs=" ".join(f"{x(r.distance)},{y(r.needs)}" for r in rounds),
        has=" ".join(f"{x(r.distance)},{y(r.has)}" for r in rounds),
        dots=tuple(
            FlatDot(
                x(r.distance), y(r.has), y(r.has * low_ratio), y(r.has * ratio), r.level.number,
                round(100 * r.index),
            )
            for r in rounds
        ),
        across=tuple(_across(flat, x)),
        up=tuple(Tick(y(10 * cm), f"{cm:g}") for cm in _steps(longest / 10)),
        needs_y=needs_y,
        has_y=has_y,
        ranged=flat.high > flat.low,
    )  # fmt: skip


def _apart(first: float, second: float) -> tuple[str, str]:
    """Two labels at least a line apart, the higher one moved up."""
    gap = 20 - abs(first - second)
    if gap > 0:
        up, down = (first, second) if first <= second else (second, first)
        up, down = up - gap / 2, down + gap / 2
        first, second = (up, down) if first <= second else (down, up)
    return f"{first:.1f}", f"{second:.1f}"


def _across(flat: Flatness, x: Callable[[float], str]) -> Iterator[Tick]:
    every = math.ceil(len(flat.rounds) / MOST_TICKS)
    for place, each in enumerate(flat.rounds):
        if place % every == 0 and each.level.number is not None:
            yield Tick(x(each.distance), str(each.level.number))


def _steps(longest: float) -> list[float]:
    """Marks from 0 up in steps of 1, 2 or 5 times a power of ten: four to eight of them."""
    power = 0.1
    while True:
        for step in (power, 2 * power, 5 * power):
            if longest <= 6 * step:
                return [step * at for at in range(int(longest / step) + 1)]
        power *= 10
