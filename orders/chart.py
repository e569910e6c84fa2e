"""The picture of price against pay for an hour, as numbers for an SVG: two axes and a line.

Coordinates are strings with a point, so that no language writes a comma into the drawing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

__all__ = ["Chart", "Mark", "draw_chart"]

WIDTH, HEIGHT = 360, 220
LEFT, RIGHT, TOP, BOTTOM = 16, 16, 26, 30
NEAR = 22


@dataclass(frozen=True, slots=True)
class Mark:
    """A price on the line. `letter` stands at the mark and in the legend; of marks that nearly meet the
    first carries all letters (`letters`), the others none.
    """

    letter: str
    name: str
    price: int
    pay: int
    x: str = ""
    y: str = ""
    letters: str = ""
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
    zero: int = 0
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT

    @property
    def zero_text_y(self) -> str:
        """Under its line at the right, where the line of pay is high above it."""
        return f"{float(self.zero_y) + 14:.1f}"

    @property
    def wage_text_y(self) -> str:
        """Above its line at the left, where the line of pay is far below it."""
        return f"{float(self.wage_y) - 5:.1f}"


def draw_chart(marks: Sequence[Mark], wage: int) -> Chart | None:
    """Lay out marks (minor units) on a line; None where all stand at one price and there is no line."""
    prices = [mark.price for mark in marks]
    low, high = min(prices), max(prices)
    if low == high:
        return None
    margin = max(1, (high - low) // 8)
    start, end = max(0, low - margin), high + margin
    first, last = marks[prices.index(low)], marks[prices.index(high)]
    slope = (last.pay - first.pay) / (high - low)
    left_pay, right_pay = first.pay - slope * (low - start), last.pay + slope * (end - high)
    bottom, top = min(0.0, left_pay), max(float(wage), right_pay)
    span = (top - bottom) or 1.0

    def x(price: float) -> str:
        share = (price - start) / (end - start)
        return f"{LEFT + share * (WIDTH - LEFT - RIGHT):.1f}"

    def y(pay: float) -> str:
        return f"{HEIGHT - BOTTOM - (pay - bottom) / span * (HEIGHT - TOP - BOTTOM):.1f}"

    letters = _letters(marks, [float(x(mark.price)) for mark in marks])
    placed = tuple(
        replace(mark, x=x(mark.price), y=y(mark.pay), letters=said, letter_y=_above(y(mark.pay)))
        for mark, said in zip(marks, letters, strict=True)
    )
    ends = (x(start), y(left_pay), x(end), y(right_pay))
    return Chart(ends, placed, y(0), y(wage), wage, start, end)


def _above(y: str) -> str:
    """A letter stands above its mark."""
    return f"{float(y) - 10:.1f}"


def _letters(marks: Sequence[Mark], places: Sequence[float]) -> list[str]:
    """What to write at each mark, so that letters of near marks don't lie on each other."""
    said = [""] * len(marks)
    carrier = -1
    for number in sorted(range(len(marks)), key=lambda n: places[n]):
        if carrier >= 0 and places[number] - places[carrier] < NEAR:
            said[carrier] += f" {marks[number].letter}"
        else:
            carrier = number
            said[number] = marks[number].letter
    return said
