"""The settled shape of a piece: a picture that turns, its sizes, its filling, and a file to take along."""

from __future__ import annotations

from typing import Any, Final

from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from craft.fabric.graph import MOST_STITCHES
from patterns import form_measures
from patterns.checking import Checked, check
from patterns.models import Pattern
from patterns.selectors import pattern_or_404, reasons_of, source_of
from patterns.shapes import Asked, Kept, asked_for, failed, kept, progress_of, stop, work_now, work_soon
from patterns.shapes.words import alt_of, facts_of, remarks_of, strained_of
from workroom.http import StaffRequest

__all__ = ["form", "form_data", "form_glb", "form_state", "form_still", "form_stop"]

QUICK: Final = 700
"""Pieces of no more stitches are worked out while the page waits: they take about half a second."""


@require_safe
def form(request: StaffRequest, slug: str) -> HttpResponse:
    """The page. `?size=` and `?part=` are positions; what can't be used is as if not said."""
    pattern = pattern_or_404(slug)
    checked = _checked(pattern)
    asked = _asked(pattern, checked, request.GET)
    context: dict[str, Any] = {"pattern": pattern, "tab": "form", "sizes": checked.sizes, "asked": asked}
    if asked is not None:
        context |= _state(pattern, asked, begin=_may_begin(asked, request.GET))
        context |= _said(pattern, asked, context["kept"])
        context |= form_measures.context(pattern, checked, asked.size, asked.piece.sections)
    return render(request, "patterns/form.html", context)


@require_safe
def form_state(request: StaffRequest, slug: str) -> HttpResponse:
    """How far the work is; when it is done the page is asked for again."""
    pattern = pattern_or_404(slug)
    asked = _asked_or_404(pattern, request.GET)
    context = {"pattern": pattern, "asked": asked, **_state(pattern, asked, begin=False)}
    response = render(request, "patterns/_form_state.html", context)
    if context["kept"] is not None or context["progress"] is None:
        response["HX-Refresh"] = "true"
    return response


@require_POST
def form_stop(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    asked = _asked_or_404(pattern, request.POST)
    stop(asked.key)
    place = reverse("patterns:form", args=[slug])
    return redirect(f"{place}?size={asked.size}&part={asked.piece.index}&stopped=1")


@require_safe
def form_data(request: StaffRequest, slug: str) -> HttpResponse:
    """The patches for the script that turns the picture."""
    return _file(_kept_or_404(slug, request.GET).turning(), "application/json")


@require_safe
def form_still(request: StaffRequest, slug: str) -> HttpResponse:
    """A picture. `?view=` corner, front, side or above."""
    found = _kept_or_404(slug, request.GET)
    try:
        return _file(found.still(request.GET.get("view", "corner")), "image/png")
    except KeyError as unknown:
        raise Http404(_("There is no such picture.")) from unknown


@require_safe
def form_glb(request: StaffRequest, slug: str) -> HttpResponse:
    found = _kept_or_404(slug, request.GET)
    response = _file(found.glb(), "model/gltf-binary")
    response["Content-Disposition"] = f'attachment; filename="{slug}.glb"'
    return response


def _checked(pattern: Pattern) -> Checked:
    return check(source_of(pattern), pattern.terms, reasons_of(pattern))


def _asked(pattern: Pattern, checked: Checked, said: QueryDict) -> Asked | None:
    return asked_for(pattern, checked, _number(said, "size"), _number(said, "part"))


def _asked_or_404(pattern: Pattern, said: QueryDict) -> Asked:
    asked = _asked(pattern, _checked(pattern), said)
    if asked is None:
        raise Http404(_("No part of this pattern could be worked out."))
    return asked


def _kept_or_404(slug: str, said: QueryDict) -> Kept:
    """By its key, which the page has; whose pattern it is, the page has asked already."""
    pattern_or_404(slug)
    key = said.get("key", "")
    found = kept(key) if len(key) == 64 else None
    if found is None:
        raise Http404(_("This shape has not been worked out yet."))
    return found


def _may_begin(asked: Asked, said: QueryDict) -> bool:
    """Work begins by itself, unless somebody stopped it or it broke."""
    return "again" in said or ("stopped" not in said and not failed(asked.key))


def _number(said: QueryDict, name: str) -> int:
    words = said.get(name, "")
    return int(words) if words.isdecimal() and len(words) < 4 else 0


def _state(pattern: Pattern, asked: Asked, *, begin: bool) -> dict[str, Any]:
    """The shape, or how far it is. `begin`: set about it if nobody has."""
    if asked.stitches > MOST_STITCHES:
        return {"kept": None, "progress": None, "too_many": True}
    found, progress = kept(asked.key), progress_of(asked.key)
    if found is None and progress is None and begin:
        if asked.stitches <= QUICK:
            found = work_now(asked)
        else:
            work_soon(asked)
            progress = 0.0
    return {"kept": found, "progress": progress, "percent": round(100 * (progress or 0))}


def _said(pattern: Pattern, asked: Asked, found: Kept | None) -> dict[str, Any]:
    if found is None:
        return {}
    shape = found.shape
    return {
        "facts": facts_of(asked, shape), "remarks": remarks_of(shape), "strained": strained_of(shape),
        "says": alt_of(asked, shape, pattern.title),
    }  # fmt: skip


def _file(content: bytes, kind: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    response["Cache-Control"] = "private, max-age=604800, immutable"
    return response
