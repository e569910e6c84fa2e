"""What the check looks for: an index with search, and a page for each check."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from patterns.check_pages import page_of, search
from workroom.http import StaffRequest

__all__ = ["check_list", "check_page"]


@require_safe
def check_list(request: StaffRequest) -> HttpResponse:
    words = request.GET.get("q", "")[:200]
    found = search(words)
    number = sum(len(group.pages) for group in found)
    return render(request, "patterns/checks.html", {"groups": found, "words": words, "number": number})


@require_safe
def check_page(request: StaffRequest, check_slug: str) -> HttpResponse:
    page = page_of(check_slug)
    if page is None:
        raise Http404
    return render(request, "patterns/check_page.html", {"check": page})
