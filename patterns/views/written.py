"""The words of a pattern in another form: on the page, as a file, and back into the field of the draft."""

from __future__ import annotations

import json

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from patterns.models import Pattern
from patterns.selectors import pattern_or_404
from patterns.written import TooLongToWriteError, WritingForm, Written, pattern_draft, written
from workroom.http import StaffRequest

__all__ = ["text", "text_file"]


@require_safe
def text(request: StaffRequest, slug: str) -> HttpResponse:
    """The page. "Copy into the draft" sends the words to the editor, where they can be saved or undone."""
    pattern = pattern_or_404(slug)
    words = {"pattern": pattern, "tab": "text", "asked": request.GET.urlencode()}
    try:
        form, made = _written(request, pattern)
    except TooLongToWriteError as error:
        return render(request, "patterns/text.html", {**words, "problem": str(error)}, status=422)
    words |= {"form": form, "written": made}
    if made is None:
        return render(request, "patterns/text.html", words, status=422)
    undo = json.dumps([0, made.text, pattern.text])
    return render(request, "patterns/text.html", {**words, "undo": undo})


@require_safe
def text_file(request: StaffRequest, slug: str) -> HttpResponse:
    """The same as a file of plain text. What can't be asked for is shown on the page."""
    pattern = pattern_or_404(slug)
    try:
        form, made = _written(request, pattern)
    except TooLongToWriteError:
        made = None
    if made is None:
        return text(request, slug)
    response = HttpResponse(made.whole, content_type="text/plain; charset=utf-8")
    response["Content-Disposition"] = (
        f'attachment; filename="{pattern.slug}-{form.cleaned_data["terms"]}.txt"'
    )
    response["Cache-Control"] = "private, no-store"
    return response


def _written(request: StaffRequest, pattern: Pattern) -> tuple[WritingForm, Written | None]:
    """What is asked for, and the words; None where it can't be asked for. Raises TooLongToWriteError."""
    draft, within = pattern_draft(pattern)
    form = WritingForm(draft, request.GET, terms=pattern.terms)
    return form, written(pattern, draft, within, form) if form.is_valid() else None
