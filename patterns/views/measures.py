"""How large a pattern comes out, whether it lies flat, what form it has; and taking sizes over."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from patterns.checking import check
from patterns.measures import MeasuresPage, measures_page
from patterns.measures.finished import NothingToTakeError, finished_take
from patterns.models import Pattern
from patterns.selectors import pattern_or_404, reasons_of, source_of
from patterns.services import StaleEditError
from workroom.http import StaffRequest

__all__ = ["measures", "measures_take"]


@require_safe
def measures(request: StaffRequest, slug: str) -> HttpResponse:
    """The page; `?size=` is a position, the first where it names none."""
    pattern = pattern_or_404(slug)
    said = request.GET.get("size", "")
    size = int(said) if said.isdecimal() and len(said) < 4 else 0
    return _show(request, pattern, _page(pattern, size))


@require_POST
def measures_take(request: StaffRequest, slug: str) -> HttpResponse:
    """Put the measurements of the parts ticked into the facts as finished sizes."""
    pattern = pattern_or_404(slug)
    page = _page(pattern, 0)
    problem, status = "", 422
    try:
        words = page.taken(request.POST.getlist("part")) if page else ()
        finished_take(pattern, seen=_seen(request), words=words)
    except NothingToTakeError as error:
        problem = str(error)
    except StaleEditError as stale:
        pattern, status = stale.current, 409
        problem = _("Somebody saved the facts in the meantime. Look at them and press again.")
    else:
        messages.success(request, _("Taken over: the facts now give these as the finished sizes."))
        return redirect("patterns:measures", slug)
    return _show(request, pattern, page, problem=problem, status=status)


def _page(pattern: Pattern, size: int) -> MeasuresPage | None:
    return measures_page(pattern, check(source_of(pattern), pattern.terms, reasons_of(pattern)), size)


def _seen(request: StaffRequest) -> int:
    seen = request.POST.get("seen", "")
    return int(seen) if seen.isdecimal() and len(seen) < 10 else -1


def _show(
    request: StaffRequest,
    pattern: Pattern,
    page: MeasuresPage | None,
    *,
    problem: str = "",
    status: int = 200,
) -> HttpResponse:
    context = {
        "pattern": pattern, "page": page, "tab": "measures", "problem": problem,
        "ticked": request.POST.getlist("part"), "seen": pattern.facts_edit,
    }  # fmt: skip
    return render(request, "patterns/measures.html", context, status=status)
