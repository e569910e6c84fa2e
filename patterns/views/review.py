"""What an editor looks at: the sheet of the technical edit and its PDF."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from patterns.paper import Paper, pdf_of
from patterns.press import PressError
from patterns.selectors import pattern_or_404
from patterns.sheet import prepare_sheet, sheet_of
from workroom.http import StaffRequest
from workroom.selectors import current_studio

__all__ = ["sheet", "sheet_pdf"]


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
