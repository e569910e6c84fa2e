"""What an editor looks at: the sheet of the technical edit, its PDF, and the chart of stitches per round."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from patterns.chart import charts
from patterns.checking import check
from patterns.paper import Paper, pdf_of
from patterns.press import PressError
from patterns.round_rows import round_rows
from patterns.selectors import pattern_or_404, reasons_of, source_of
from patterns.sheet import prepare_sheet, sheet_of
from workroom.http import StaffRequest
from workroom.selectors import current_studio

__all__ = ["chart", "sheet", "sheet_pdf"]


@require_safe
def sheet(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    return render(
        request, "patterns/sheet.html", {"pattern": pattern, "sheet": sheet_of(pattern), "tab": "sheet"}
    )


@require_safe
def sheet_pdf(request: StaffRequest, slug: str) -> HttpResponse:
    """The sheet on the studio's paper."""
    studio = current_studio()
    pattern = pattern_or_404(slug)
    made = sheet_of(pattern)
    prepared = prepare_sheet(made, Paper(studio.paper), studio)
    try:
        content = pdf_of(prepared)
    except PressError as error:
        problem = _("The PDF could not be made just now (%s). This page has all that stands in it.") % error
        words = {"pattern": pattern, "sheet": made, "tab": "sheet", "problem": problem}
        return render(request, "patterns/sheet.html", words, status=503)
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{prepared.file_name}"'
    response["Cache-Control"] = "private, no-store"
    return response


@require_safe
def chart(request: StaffRequest, slug: str) -> HttpResponse:
    """Stitches per round of one size; `?size=` its position, the first where it names none."""
    pattern = pattern_or_404(slug)
    checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
    said = request.GET.get("size", "")
    size = int(said) if said.isdecimal() and len(said) < 4 else 0
    size = size if size < len(checked.sizes) else 0
    rows = round_rows(checked)
    words = {
        "pattern": pattern, "tab": "chart", "charts": charts(rows, size), "rows": rows, "size": size,
        "sizes": checked.sizes, "size_label": checked.sizes[size] if checked.sizes else "",
    }  # fmt: skip
    return render(request, "patterns/chart.html", words)
