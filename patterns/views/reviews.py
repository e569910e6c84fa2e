"""Reviews at the desk: who reads a draft, what they say of it, what goes into the text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from patterns.models import Pattern
from patterns.reviews.answers import (
    AnswerError,
    LineChangedError,
    remark_answer,
    remark_reopen,
    remark_set_aside,
    remark_take_in,
    remark_undo,
)
from patterns.reviews.asking import (
    ReviewError,
    review_close,
    review_invite,
    review_link_renew,
    review_move_due,
    review_newest_draft,
    review_reopen,
    review_withdraw,
    reviews_close,
)
from patterns.reviews.board import board_of, sizes_now
from patterns.reviews.figures import csv_rows, figures_of
from patterns.reviews.forms import DueForm, InviteReaderForm
from patterns.reviews.mail import send_review_link
from patterns.reviews.models import ReaderRemark, Review
from patterns.selectors import pattern_or_404
from patterns.services import StaleEditError
from workroom.http import StaffRequest
from workroom.mail import can_mail
from workroom.selectors import current_studio, local_today
from workroom.spreadsheet import csv_response
from workroom.views.people import full_address

__all__ = [
    "close_round",
    "invite",
    "numbers",
    "person",
    "remark",
    "report",
    "reviews",
]

NEW_LINK: Final = "new_review_link"
MOST_WORDS: Final = 4000


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why an act on a remark was refused, and what had been typed."""

    remark_id: int
    says: str
    typed: Mapping[str, str]
    then: str = ""
    now: str = ""
    both: bool = False


@require_safe
def reviews(request: StaffRequest, slug: str) -> HttpResponse:
    """`?show=` which remarks; `?done=` one that stays in sight."""
    return _show(request, pattern_or_404(slug))


@require_http_methods(["GET", "HEAD", "POST"])
def invite(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    sizes = sizes_now(pattern)
    if request.method != "POST":
        return _invite_page(request, pattern, InviteReaderForm(sizes=sizes), 200)
    form = InviteReaderForm(request.POST, sizes=sizes)
    if not form.is_valid():
        return _invite_page(request, pattern, form, 422)
    try:
        review, token = review_invite(pattern, form.invitation(), by=request.user)
    except ReviewError as refusal:
        form.add_error(None, str(refusal))
        return _invite_page(request, pattern, form, 422)
    _hand_over(request, review, token)
    return redirect("patterns:reviews", slug)


@require_POST
def person(request: StaffRequest, slug: str, review_id: int) -> HttpResponse:
    """`do`: "link", "newest", "due", "withdraw", "close" or "reopen"."""
    review = get_object_or_404(
        Review.objects.select_related("pattern", "copy"), pk=review_id, pattern__slug=slug
    )
    act = PERSON_ACTS.get(request.POST.get("do", ""))
    if act is None:
        raise Http404
    try:
        act(request, review)
    except ReviewError as refusal:
        messages.error(request, str(refusal))
    return redirect("patterns:reviews", slug)


@require_POST
def close_round(request: StaffRequest, slug: str) -> HttpResponse:
    closed = reviews_close(pattern_or_404(slug))
    says = ngettext("%(number)s review is closed.", "%(number)s reviews are closed.", closed)
    messages.success(request, says % {"number": closed})
    return redirect("patterns:reviews", slug)


@require_POST
def remark(request: StaffRequest, slug: str, remark_id: int) -> HttpResponse:
    """`do`: "answer", "aside", "take", "undo" or "reopen"."""
    pattern = pattern_or_404(slug)
    said = get_object_or_404(
        ReaderRemark.objects.select_related("review", "copy"), pk=remark_id, review__pattern=pattern,
        withdrawn_at=None,
    )  # fmt: skip
    act = REMARK_ACTS.get(request.POST.get("do", ""))
    if act is None:
        raise Http404
    typed = {name: _words(request, name) for name in ("words", "wording")}
    try:
        act(request, said)
    except LineChangedError as changed:
        trouble = Trouble(said.pk, str(changed), typed, changed.then, changed.now, both=True)
        return _show(request, pattern_or_404(slug), trouble, 409)
    except StaleEditError:
        says = _("Somebody saved the instructions since you looked. Look at the line and press once more.")
        return _show(request, pattern_or_404(slug), Trouble(said.pk, says, typed), 409)
    except AnswerError as refusal:
        return _show(request, pattern, Trouble(said.pk, str(refusal), typed), 422)
    query = f"?show={_show_of(request)}&done={said.pk}#remark-{said.pk}"
    return redirect(reverse("patterns:reviews", args=[slug]) + query)


@require_safe
def report(request: StaffRequest, slug: str, review_id: int) -> HttpResponse:
    """All that one tester sent."""
    pattern = pattern_or_404(slug)
    one = Review.objects.filter(pk=review_id, pattern=pattern, report__sent_at__isnull=False)
    figures = figures_of(one.select_related("copy", "report"))
    if not figures:
        raise Http404
    words = {"pattern": pattern, "tab": "reviews", "figures": figures[0]}
    return render(request, "patterns/review_report.html", words)


@require_safe
def numbers(request: StaffRequest, slug: str) -> HttpResponseBase:
    """The testers' numbers as CSV."""
    pattern = pattern_or_404(slug)
    told = figures_of(pattern.reviews.select_related("copy", "report").prefetch_related("report__yarns"))
    return csv_response(f"{pattern.slug}-testers.csv", csv_rows(told))


def _show_of(request: StaffRequest) -> str:
    show = request.POST.get("show") or request.GET.get("show") or ""
    return show if show in {"open", "answered", "all"} else "open"


def _show(
    request: StaffRequest, pattern: Pattern, trouble: Trouble | None = None, status: int = 200
) -> HttpResponse:
    said = request.GET.get("done", "")
    done = int(said) if said.isdecimal() and len(said) < 15 else None
    board = board_of(
        pattern, today=local_today(), show=_show_of(request), done=trouble.remark_id if trouble else done
    )
    words: dict[str, Any] = {
        "pattern": pattern,
        "tab": "reviews",
        "board": board,
        "trouble": trouble,
        "new_link": request.session.pop(NEW_LINK, None),
    }
    return render(request, "patterns/reviews.html", words, status=status)


def _invite_page(
    request: StaffRequest, pattern: Pattern, form: InviteReaderForm, status: int
) -> HttpResponse:
    words = {"pattern": pattern, "tab": "reviews", "form": form, "can_mail": can_mail()}
    return render(request, "patterns/review_invite.html", words, status=status)


def _hand_over(request: StaffRequest, review: Review, token: str) -> None:
    """Show the link on the next page, and mail it where that can be done."""
    link = full_address(request, reverse("review:open", args=[token]))
    request.session[NEW_LINK] = {"name": review.name, "link": link}
    if not (can_mail() and review.email):
        return
    if send_review_link(review=review, link=link, studio=current_studio()):
        messages.success(request, _("The link was mailed to %(email)s.") % {"email": review.email})
    else:
        messages.warning(request, _("The mail server did not take the letter. Hand the link over yourself."))


def _new_link(request: StaffRequest, review: Review) -> None:
    _hand_over(request, review, review_link_renew(review))


def _newest(request: StaffRequest, review: Review) -> None:
    if review_newest_draft(review):
        says = _("%(name)s reads the newest draft now, by the same link.")
        messages.success(request, says % {"name": review.name})
    else:
        messages.info(request, _("%(name)s has the newest draft already.") % {"name": review.name})


def _due(request: StaffRequest, review: Review) -> None:
    form = DueForm(request.POST)
    if not form.is_valid():
        raise ReviewError(_("Write the day as 2026-05-14. Nothing was changed."))
    review_move_due(review, form.cleaned_data["due_on"])
    messages.success(request, _("Saved."))


def _withdraw(request: StaffRequest, review: Review) -> None:
    review_withdraw(review)
    messages.success(request, _("The link of %(name)s opens nothing any more.") % {"name": review.name})


def _close(request: StaffRequest, review: Review) -> None:
    review_close(review)
    messages.success(request, _("The review of %(name)s is closed.") % {"name": review.name})


def _reopen(request: StaffRequest, review: Review) -> None:
    review_reopen(review)
    messages.success(request, _("The review of %(name)s is open again.") % {"name": review.name})


PERSON_ACTS: Final[Mapping[str, Callable[[StaffRequest, Review], None]]] = {
    "link": _new_link,
    "newest": _newest,
    "due": _due,
    "withdraw": _withdraw,
    "close": _close,
    "reopen": _reopen,
}


def _answer(request: StaffRequest, said: ReaderRemark) -> None:
    remark_answer(said, answer=_words(request, "words"), by=request.user)
    messages.success(request, _("Answered."))


def _aside(request: StaffRequest, said: ReaderRemark) -> None:
    remark_set_aside(said, reason=_words(request, "words"), by=request.user)
    messages.success(request, _("Set aside; the line stays as it is."))


def _take(request: StaffRequest, said: ReaderRemark) -> None:
    remark_take_in(said, wording=_words(request, "wording"), seen=_seen(request), by=request.user)
    messages.success(request, _("The line is changed in the draft and saved."))


def _undo(request: StaffRequest, said: ReaderRemark) -> None:
    remark_undo(said, seen=_seen(request), by=request.user)
    messages.success(request, _("The line is as it was before."))


def _open_again(request: StaffRequest, said: ReaderRemark) -> None:
    remark_reopen(said)


REMARK_ACTS: Final[Mapping[str, Callable[[StaffRequest, ReaderRemark], None]]] = {
    "answer": _answer,
    "aside": _aside,
    "take": _take,
    "undo": _undo,
    "reopen": _open_again,
}


def _words(request: StaffRequest, name: str) -> str:
    """What was typed, without the NUL that no database keeps."""
    return request.POST.get(name, "").replace("\0", "")[:MOST_WORDS]


def _seen(request: StaffRequest) -> int:
    seen = request.POST.get("seen", "")
    return int(seen) if seen.isdecimal() and len(seen) < 10 else -1
