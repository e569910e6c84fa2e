"""The picture of price against pay for an hour, as numbers for an SVG: two axes and a line.

Coordinates are strings with a point, so that no language writes a comma into the drawing.
"""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Chart", "Mark", "draw_chart"]

WIDTH, HEIGHT = 360, 220
LEFT, RIGHT, TOP, BOTTOM = 16, 16, 26, 30


@dataclass(frozen=True, slots=True)
class Mark:
    """A price on the line. `letter` stands at the mark and in the legend."""

    letter: str
    name: str
    price: int
    pay: int
    x: str = ""
    y: str = ""
    letter_y: str = ""
    kind: str = "floor"


@dataclass(frozen=True, slots=True)
class Chart:
    """`line`: the two ends of pay against price; `zero_y`, `wage_y`: where nothing and the wage are paid."""

    line: tuple[str, str, str, str]
    marks: tuple[Mark, ...]
    zero_y: str
    wage_y: str
    wage: int
    low: int
    high: int
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT
    base: int = HEIGHT - BOTTOM


def draw_chart(marks: Sequence[Mark], wage: int) -> Chart | None:
    """Lay out marks (minor units) on a line; None where all stand at one price and there is no line."""
    prices = [mark.price for mark in marks]
    low, high = min(prices), max(prices)
    if low == high:
        return None
    margin = max(1, (high - low) // 8)
    first, last = marks[prices.index(low)], marks[prices.index(high)]
    slope = (last.pay - first.pay) / (high - low)
    left_pay, right_pay = first.pay - slope * margin, last.pay + slope * margin
    bottom, top = min(0.0, left_pay), max(float(wage), right_pay)
    span = (top - bottom) or 1.0

    def x(price: float) -> str:
        share = (price - (low - margin)) / (high - low + 2 * margin)
        return f"{LEFT + share * (WIDTH - LEFT - RIGHT):.1f}"

    def y(pay: float) -> str:
        return f"{HEIGHT - BOTTOM - (pay - bottom) / span * (HEIGHT - TOP - BOTTOM):.1f}"

    placed = tuple(
        Mark(m.letter, m.name, m.price, m.pay, x(m.price), y(m.pay), _above(y(m.pay), n), m.kind)
        for n, m in enumerate(marks)
    )
    ends = (x(low - margin), y(left_pay), x(high + margin), y(right_pay))
    return Chart(ends, placed, y(0), y(wage), wage, low - margin, high + margin)


def _above(y: str, number: int) -> str:
    """Letters stand above their marks, every second one below, so that near ones don't meet."""
    return f"{float(y) + (18 if number % 2 else -10):.1f}"
