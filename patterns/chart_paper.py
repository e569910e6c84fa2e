"""The symbol chart on paper: its sheets and its key as pictures that the press carries by name."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from craft.charting import Sheet
from patterns.symbol_chart import Figure, KeyRow, SymbolChart

__all__ = ["ChartPaper", "chart_paper"]

KEPT: Final = 16
ROOM_MM: Final = {"a4": (166.0, 226.0), "letter": (171.0, 208.0)}
"""What a page leaves for a drawing under its heading, inside the margins of paper.css."""


@dataclass(frozen=True, slots=True)
class PaperSheet:
    """One sheet of a drawing. `name`: of its picture; `caption`: "" where there is only one."""

    name: str
    alt: str
    caption: str
    large: bool


@dataclass(frozen=True, slots=True)
class PaperFigure:
    title: str
    says: str
    sheets: tuple[PaperSheet, ...]


@dataclass(frozen=True, slots=True)
class PaperKey:
    """One row of the key. `name`: of its picture."""

    name: str
    row: KeyRow


@dataclass(frozen=True, slots=True)
class ChartPaper:
    """All of a chart that is printed. `drawings`: name -> SVG."""

    chart: SymbolChart
    figures: tuple[PaperFigure, ...]
    key: tuple[PaperKey, ...]
    drawings: dict[str, bytes] = field(default_factory=dict)

    @property
    def large(self) -> bool:
        """Whether it begins with a drawing that needs a page."""
        return any(sheet.large for figure in self.figures[:1] for sheet in figure.sheets)


def chart_paper(chart: SymbolChart | None, paper: str) -> ChartPaper | None:
    """The chart for a size of paper ("a4", "letter"); None where there is none."""
    return None if chart is None else _drawn(chart, paper, get_language())


@lru_cache(maxsize=KEPT)
def _drawn(chart: SymbolChart, paper: str, language: str | None) -> ChartPaper:
    """Drawn once for each chart and language: a reader's browser asks again and again whether it changed."""
    drawings: dict[str, bytes] = {}
    width, height = ROOM_MM[paper]
    figures = tuple(_figure(figure, width, height, drawings) for figure in chart.figures)
    key = tuple(PaperKey(_kept(row.svg, drawings), row) for row in chart.key)
    return ChartPaper(chart, figures, key, drawings)


def _figure(figure: Figure, width: float, height: float, drawings: dict[str, bytes]) -> PaperFigure:
    sheets = figure.sheets(width, height)
    return PaperFigure(
        figure.title,
        figure.says,
        tuple(
            PaperSheet(
                _kept(svg, drawings), _alt(figure, sheet), _caption(sheet), sheet.height_mm * 2 > height
            )
            for sheet, svg in sheets
        ),
    )


def _kept(svg: str, drawings: dict[str, bytes]) -> str:
    """The name under which a drawing travels: a hash of itself, so that a paper changes with it."""
    content = svg.encode()
    name = f"chart-{hashlib.sha256(content).hexdigest()[:20]}.svg"
    drawings[name] = content
    return name


def _alt(figure: Figure, sheet: Sheet) -> str:
    words = _("Symbol chart: %(title)s. The instructions say the same in words.") % {
        "title": figure.words.title
    }
    return words if sheet.of == 1 else f"{words} {_caption(sheet)}"


def _caption(sheet: Sheet) -> str:
    if sheet.of == 1:
        return ""
    words = _(
        "Sheet %(number)s of %(of)s: row %(row)s, column %(column)s. Lay the dashed lines on each other."
    )
    return words % {"number": sheet.number, "of": sheet.of, "row": sheet.row, "column": sheet.column}
