"""Photos of a pattern."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from patterns.forms import PhotoForm
from patterns.models import Photo
from patterns.selectors import pattern_or_404
from patterns.services import photo_add, photo_describe, photo_move, photo_remove
from workroom.http import StaffRequest
from workroom.media import PhotoError, store

__all__ = ["photo_change", "photos"]


@require_http_methods(["GET", "HEAD", "POST"])
def photos(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    posted = request.method == "POST"
    form = PhotoForm(request.POST, request.FILES) if posted else PhotoForm()
    if posted and form.is_valid():
        try:
            stored = store(form.cleaned_data["photo"].file)
        except PhotoError as error:
            form.add_error("photo", str(error))
        else:
            photo_add(pattern, stored, alt=form.cleaned_data["alt"])
            messages.success(request, _("The photo is kept."))
            return redirect("patterns:photos", slug)
    context = {"pattern": pattern, "form": form, "photos": pattern.photos.all(), "tab": "photos"}
    return render(request, "patterns/photos.html", context, status=422 if posted else 200)


@require_POST
def photo_change(request: StaffRequest, slug: str, photo_id: int) -> HttpResponse:
    """`do`: "words" keeps the description, "first" and "later" move it, "remove" takes it away."""
    photo = get_object_or_404(Photo, pk=photo_id, pattern__slug=slug)
    act = request.POST.get("do", "")
    if act == "remove":
        photo_remove(photo)
        messages.success(request, _("The photo is taken away."))
    elif act in {"first", "later"}:
        photo_move(photo, first=act == "first")
    else:
        photo_describe(photo, alt=" ".join(request.POST.get("alt", "").split())[:300])
        messages.success(request, _("Saved."))
    return redirect("patterns:photos", slug)
