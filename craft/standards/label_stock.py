"""Self-adhesive label sheets by their measures.

Common sizes: the figures are those that makers of label sheets share (common practice, no source). The
margins are worked out: a grid stands in the middle of its sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

__all__ = ["LABEL_SHEETS", "PAPER_MM", "LabelSheet", "label_sheet", "places_on"]

PaperName = Literal["A4", "Letter"]

PAPER_MM: Final[dict[PaperName, tuple[Decimal, Decimal]]] = {
    "A4": (Decimal(210), Decimal(297)),
    "Letter": (Decimal("215.9"), Decimal("279.4")),
}
"""Width and height. A4: ISO 216. Letter: 8 1/2 x 11 in, ANSI/ASME Y14.1."""


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A grid of equal labels. Millimetres; the steps are from one label's edge to the next one's."""

    paper: PaperName
    across: int
    down: int
    width_mm: Decimal
    height_mm: Decimal
    step_x_mm: Decimal
    step_y_mm: Decimal

    @property
    def key(self) -> str:
        """Like "a4-3x8-70x37": what a form sends."""
        size = f"{self.width_mm}x{self.height_mm}"
        return f"{self.paper.lower()}-{self.across}x{self.down}-{size}"

    @property
    def name(self) -> str:
        """For people: "A4, 3 × 8, 70 × 37 mm"."""
        return f"{self.paper}, {self.across} × {self.down}, {self.width_mm} × {self.height_mm} mm"

    @property
    def labels(self) -> int:
        return self.across * self.down

    @property
    def left_mm(self) -> Decimal:
        """From the sheet's left edge to the first label."""
        grid = (self.across - 1) * self.step_x_mm + self.width_mm
        return (PAPER_MM[self.paper][0] - grid) / 2

    @property
    def top_mm(self) -> Decimal:
        """From the sheet's upper edge to the first label."""
        grid = (self.down - 1) * self.step_y_mm + self.height_mm
        return (PAPER_MM[self.paper][1] - grid) / 2


def _sheet(paper: PaperName, grid: tuple[int, int], size: str, step: str) -> LabelSheet:
    width, height = map(Decimal, size.split("x"))
    step_x, step_y = map(Decimal, step.split("x"))
    return LabelSheet(paper, *grid, width, height, step_x, step_y)


LABEL_SHEETS: Final = (
    _sheet("A4", (3, 8), "70x37", "70x37"),
    _sheet("A4", (3, 7), "63.5x38.1", "66.04x38.1"),
    _sheet("A4", (3, 6), "63.5x46.6", "66.04x46.6"),
    _sheet("A4", (2, 7), "99.1x38.1", "101.6x38.1"),
    _sheet("A4", (4, 10), "48.5x25.4", "48.5x25.4"),
    _sheet("A4", (5, 13), "38.1x21.2", "40.64x21.2"),
    _sheet("Letter", (3, 10), "66.7x25.4", "69.85x25.4"),
    _sheet("Letter", (2, 10), "101.6x25.4", "106.36x25.4"),
    _sheet("Letter", (2, 5), "101.6x50.8", "106.36x50.8"),
)


def label_sheet(key: str) -> LabelSheet | None:
    """The sheet of that key."""
    return next((sheet for sheet in LABEL_SHEETS if sheet.key == key), None)


def places_on(sheet: LabelSheet, count: int, start: int = 1) -> list[tuple[int, Decimal, Decimal]]:
    """Return where so many labels go: page from 0, left and top in mm. Rows first.

    `start`: the first label still on the first sheet, from 1. Raises ValueError beyond the sheet.
    """
    if not 1 <= start <= sheet.labels:
        raise ValueError(f"A sheet has the places 1 to {sheet.labels}.")
    found = []
    for number in range(start - 1, start - 1 + count):
        page, place = divmod(number, sheet.labels)
        row, column = divmod(place, sheet.across)
        left, top = sheet.left_mm + column * sheet.step_x_mm, sheet.top_mm + row * sheet.step_y_mm
        found.append((page, left, top))
    return found
