"""Facts, sizes, yarns and notions of a pattern."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.forms import BaseForm
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from patterns.checking import check
from patterns.edition import Edition, edition
from patterns.forms import FactsForm
from patterns.freezing import freeze
from patterns.models import Pattern
from patterns.rows import notion_rows, size_rows, yarn_rows
from patterns.selectors import pattern_or_404, reasons_of, source_of
from patterns.services import StaleEditError, facts_save, materials_save
from workroom.http import StaffRequest

__all__ = ["edit_facts", "edit_materials"]


@dataclass(frozen=True, slots=True)
class Difference:
    """A field that somebody else saved otherwise than it stands in one's own form."""

    label: str
    theirs: str
    yours: str


@require_http_methods(["GET", "HEAD", "POST"])
def edit_facts(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    data = request.POST if request.method == "POST" else None
    form, sizes = FactsForm(data, instance=pattern), size_rows(pattern, data)
    context = {"form": form, "sizes": sizes, "tab": "facts"}
    if data is None:
        return _show(request, "patterns/facts.html", pattern, context)
    if not (form.is_valid() and sizes.is_valid()):
        return _show(request, "patterns/facts.html", pattern, context, status=422)
    try:
        facts_save(pattern, seen=_seen(request), values=form.values(), sizes=sizes.rows())
    except StaleEditError as stale:
        context["theirs"] = _differences(FactsForm(data, instance=stale.current))
        return _show(request, "patterns/facts.html", stale.current, context, status=409)
    messages.success(request, _("Saved."))
    return redirect("patterns:facts", slug)


@require_http_methods(["GET", "HEAD", "POST"])
def edit_materials(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    data = request.POST if request.method == "POST" else None
    yarns, notions = yarn_rows(pattern, data), notion_rows(pattern, data)
    context: dict[str, Any] = {"yarns": yarns, "notions": notions, "tab": "materials"}
    if data is None:
        context["edition"] = _as_it_stands(pattern)
        return _show(request, "patterns/materials.html", pattern, context)
    if not (yarns.is_valid() and notions.is_valid()):
        return _show(request, "patterns/materials.html", pattern, context, status=422)
    try:
        materials_save(pattern, seen=_seen(request), yarns=yarns.rows(), notions=notions.rows())
    except StaleEditError as stale:
        context["theirs"] = _row_differences(stale.current)
        return _show(request, "patterns/materials.html", stale.current, context, status=409)
    messages.success(request, _("Saved."))
    return redirect("patterns:materials", slug)


def _as_it_stands(pattern: Pattern) -> Edition:
    """What would be published now: the yarn of the list is worked out from the stitches."""
    checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
    return edition(freeze(pattern, checked))


def _seen(request: StaffRequest) -> int:
    seen = request.POST.get("seen", "")
    return int(seen) if seen.isdecimal() and len(seen) < 10 else -1


def _show(
    request: StaffRequest,
    template: str,
    pattern: Pattern,
    context: dict[str, Any],
    status: int = 200,
) -> HttpResponse:
    seen = pattern.facts_edit if status == 409 or request.method != "POST" else _seen(request)
    return render(request, template, {**context, "pattern": pattern, "seen": seen}, status=status)


def _differences(form: BaseForm) -> list[Difference]:
    """Fields where what is saved now differs from what stands in the form."""
    return [
        Difference(str(form[name].label), _said(form.initial.get(name)), _said(form.data.get(name)))
        for name in form.changed_data
    ]


def _row_differences(pattern: Pattern) -> list[Difference]:
    """The rows as somebody else saved them; one's own stand in the form below."""
    rows: Iterable[Any] = [*pattern.yarns.all(), *pattern.notions.all()]
    return [Difference(_("Saved now"), str(row), "") for row in rows]


def _said(value: Any) -> str:
    return "–" if value in {None, ""} else str(value)
