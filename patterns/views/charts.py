"""The chart of a pattern at the desk: symbols beside the words, and the stitches of each round as a line."""

from __future__ import annotations

from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from craft.charting import SymbolSet
from patterns.chart import charts
from patterns.checking import Checked, check
from patterns.freezing import freeze
from patterns.models import ChartSet, Pattern
from patterns.round_rows import round_rows
from patterns.selectors import pattern_or_404, reasons_of, source_of
from patterns.symbol_chart import SymbolChart, live_pieces, symbol_chart
from workroom.http import StaffRequest

__all__ = ["chart", "chart_svg"]


@require_safe
def chart(request: StaffRequest, slug: str) -> HttpResponse:
    """Both charts of one size. `?size=` its position, `?set=` the symbols, `?part=` of one that is too large,
    `?whole=` draws what repeats exactly; what can't be used is as if not said.
    """
    pattern = pattern_or_404(slug)
    checked = _checked(pattern)
    size = _size(request.GET, checked)
    rows = round_rows(checked)
    drawn = _drawn(pattern, checked, size, request.GET)
    words = {
        "pattern": pattern, "tab": "chart", "charts": charts(rows, size), "rows": rows, "size": size,
        "sizes": checked.sizes, "size_label": checked.sizes[size] if checked.sizes else "",
        "symbols": drawn, "sets": ChartSet.choices, "whole": "whole" in request.GET,
    }  # fmt: skip
    return render(request, "patterns/chart.html", words)


@require_safe
def chart_svg(request: StaffRequest, slug: str) -> HttpResponse:
    """One drawing as a file of its own. `?piece=` its number, from 1."""
    pattern = pattern_or_404(slug)
    checked = _checked(pattern)
    drawn = _drawn(pattern, checked, _size(request.GET, checked), request.GET)
    number = _number(request.GET, "piece", 1)
    figure = next((each for each in drawn.figures if each.number == number), None)
    svg = figure.file() if figure else None
    if svg is None:
        raise Http404(_("There is no such drawing."))
    response = HttpResponse(svg, content_type="image/svg+xml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{pattern.slug}-chart-{number}.svg"'
    response["Cache-Control"] = "private, no-store"
    return response


def _checked(pattern: Pattern) -> Checked:
    return check(source_of(pattern), pattern.terms, reasons_of(pattern))


def _size(said: QueryDict, checked: Checked) -> int:
    size = _number(said, "size", 0)
    return size if size < len(checked.sizes) else 0


def _number(said: QueryDict, name: str, otherwise: int) -> int:
    words = said.get(name, "")
    return int(words) if words.isdecimal() and len(words) < 4 else otherwise


def _drawn(pattern: Pattern, checked: Checked, size: int, said: QueryDict) -> SymbolChart:
    frozen = freeze(pattern, checked)
    chosen = said.get("set", "")
    return symbol_chart(
        live_pieces(checked.fabric, size), frozen.rounds, frozen.facts,
        SymbolSet(chosen if chosen in ChartSet.values else pattern.chart_set),
        size=checked.sizes[size] if checked.sizes else "",
        part=_number(said, "part", 1), whole="whole" in said,
    )  # fmt: skip
