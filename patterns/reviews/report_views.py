"""The tester's report: kept while it is written, sent when it is done, with photos if she likes."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from patterns.edition import gauge_sentence
from patterns.reviews.models import Review
from patterns.reviews.reading import (
    MOST_PHOTOS,
    ReadingError,
    report_keep,
    report_of,
    report_photo_add,
    report_photo_remove,
    report_send,
)
from patterns.reviews.report_form import ReportForm
from patterns.reviews.views import for_reader
from workroom.http import StaffRequest
from workroom.media import PhotoError, store
from workroom.throttle import take_try
from workroom.views.entry import address_of

__all__ = ["report", "report_photos"]


@require_http_methods(["GET", "HEAD", "POST"])
@for_reader
def report(request: StaffRequest, review: Review) -> HttpResponse:
    """`do`: "keep" keeps whatever stands in the fields, "send" reads it."""
    _testers_only(review)
    if request.method != "POST":
        return _show(request, review, ReportForm(review=review, initial=report_of(review).typed))
    form = ReportForm(request.POST, review=review)
    if request.POST.get("do") != "send":
        return _keep(request, review, form)
    if not form.is_valid():
        report_keep(review, form.typed())
        return _show(request, review, form, status=422)
    report_send(review, form.typed(), form.findings())
    messages.success(request, _("Thank you. Your report is sent; you can still change it and send it again."))
    return redirect("review:report", review.pk)


def _keep(request: StaffRequest, review: Review, form: ReportForm) -> HttpResponse:
    report_keep(review, form.typed())
    if request.htmx:
        return render(request, "review/_kept.html", {"report": report_of(review)})
    messages.success(request, _("Kept. Go on whenever you like; it is not sent yet."))
    return redirect("review:report", review.pk)


@require_POST
@for_reader
def report_photos(request: StaffRequest, review: Review) -> HttpResponse:
    """Add a photo, or (`do=remove:7`) take one away."""
    _testers_only(review)
    act, _colon, number = request.POST.get("do", "").partition(":")
    if act == "remove" and number.isdecimal() and len(number) < 15:
        report_photo_remove(review, int(number))
        return redirect(f"{_address(review)}#photos")
    upload = request.FILES.get("photo")
    problem = _("Choose a photo first.")
    if not take_try(f"photos:{review.pk}", address_of(request)):
        problem = _("That were many photos at once. Wait a quarter of an hour and go on.")
    elif upload is not None and upload.file is not None:
        try:
            report_photo_add(review, store(upload.file))
        except (PhotoError, ReadingError) as refusal:
            problem = str(refusal)
        else:
            messages.success(request, _("The photo is kept."))
            return redirect(f"{_address(review)}#photos")
    form = ReportForm(review=review, initial=report_of(review).typed)
    return _show(request, review, form, photo_problem=problem, status=422)


def _address(review: Review) -> str:
    return reverse("review:report", args=[review.pk])


def _testers_only(review: Review) -> None:
    if not review.is_tester:
        raise Http404


def _show(
    request: StaffRequest, review: Review, form: ReportForm, *, photo_problem: str = "", status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {
        "review": review,
        "tab": "report",
        "form": form,
        "report": report_of(review),
        "photo_problem": photo_problem,
        "most_photos": MOST_PHOTOS,
        "sizes": review.copy.facts["sizes"],
        "gauge": gauge_sentence(review.copy.facts["gauge"]),
    }
    return render(request, "review/report.html", context, status=status)
