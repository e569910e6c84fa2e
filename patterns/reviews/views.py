"""The reader's pages. No account: the link opens them, in the one browser that it is bound to.

Whatever goes wrong, what was typed comes back in its field. A browser that did not open the link, a
foreign number and a number that does not exist look alike.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, Final

from django.conf import settings
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import HttpResponseClientRefresh

from patterns.paper import Paper, pdf_of, prepare
from patterns.press import PressError
from patterns.reviews.copies import as_revision
from patterns.reviews.forms import RemarkForm
from patterns.reviews.links import COOKIE_DAYS, bind, bound_here, cookie_name, find, of_browser
from patterns.reviews.models import Review
from patterns.reviews.pages import RemarkRow, draft_page, edition_of
from patterns.reviews.reading import (
    ReadingError,
    own_remarks,
    remark_change,
    remark_withdraw,
    remark_write,
    review_finish,
    review_seen,
)
from workroom.http import StaffRequest
from workroom.media import SUFFIXES, photo_bytes
from workroom.selectors import current_studio
from workroom.throttle import WINDOW, forget_tries, take_try
from workroom.views.entry import address_of

__all__ = ["draft", "finish", "for_reader", "opening", "paper", "photo", "remark", "sheet"]

View = Callable[..., HttpResponse]

ROBOTS: Final = "noindex, nofollow, noarchive"


def private(response: HttpResponse) -> HttpResponse:
    """Nothing of a draft is indexed. The referrer policy of the house already tells other sites nothing;
    "no-referrer" would make browsers send forms with the origin "null", which is refused as a forgery.
    """
    response["X-Robots-Tag"] = ROBOTS
    return response


def for_reader(view: View) -> View:
    """Give the view the review of this browser; another browser gets 404, an ended review 410."""

    @never_cache
    @wraps(view)
    def opened(request: StaffRequest, review_id: int, *args: Any, **kwargs: Any) -> HttpResponse:
        review = of_browser(review_id, request.COOKIES)
        if review is None:
            return private(_ended(request, "elsewhere", 404))
        if not review.is_open:
            return private(_ended(request, "closed" if review.closed_at else "withdrawn", 410, review))
        return private(view(request, review, *args, **kwargs))

    return opened


def _ended(request: StaffRequest, why: str, status: int, review: Review | None = None) -> HttpResponse:
    """The page that says why nothing opens; htmx loads it whole, or it would land in a line."""
    if request.htmx:
        return HttpResponseClientRefresh()
    return render(request, "review/ended.html", {"why": why, "review": review}, status=status)


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def opening(request: StaffRequest, token: str) -> HttpResponse:
    """The link itself: GET says what it is, POST binds it to this browser."""
    return private(_opening(request, token))


def _opening(request: StaffRequest, token: str) -> HttpResponse:
    who, address = f"review:{token[:80]}", address_of(request)
    if not take_try(who, address):
        answer = _ended(request, "too-often", 429)
        answer["Retry-After"] = str(WINDOW.seconds)
        return answer
    review = find(token)
    if review is None:
        return _ended(request, "unknown", 410)
    forget_tries(who, address)
    if review.closed_at:
        return _ended(request, "closed", 410, review)
    return _again(request, review) if review.browser_digest else _first(request, review)


def _again(request: StaffRequest, review: Review) -> HttpResponse:
    if bound_here(review, request.COOKIES):
        return redirect("review:draft", review.pk)
    return _ended(request, "elsewhere", 409, review)


def _first(request: StaffRequest, review: Review) -> HttpResponse:
    if request.method != "POST":
        return render(request, "review/open.html", {"review": review})
    secret = bind(review)
    if secret is None:
        return _ended(request, "elsewhere", 409, review)
    response = redirect("review:draft", review.pk)
    response.set_cookie(
        cookie_name(review.pk), secret, max_age=COOKIE_DAYS * 24 * 60 * 60, path="/review/",
        secure=settings.BEHIND_TLS, httponly=True, samesite="Lax",
    )  # fmt: skip
    return response


@require_safe
@for_reader
def draft(request: StaffRequest, review: Review) -> HttpResponse:
    """`?line=14` opens the form of a line, `?change=7` that of a remark, `?size=mine` reads for one size."""
    review_seen(review)
    form = changing = None
    line, change = _number(request.GET.get("line")), _number(request.GET.get("change"))
    if line is not None and line <= review.copy.text.count("\n") + 1:
        form = RemarkForm(line=line)
    if change is not None and (own := own_remarks(review).filter(pk=change).first()):
        changing = RemarkRow(own, form=RemarkForm.of(own))
    return _draft(request, review, form=form, changing=changing)


def _draft(
    request: StaffRequest, review: Review, *, form: RemarkForm | None = None,
    changing: RemarkRow | None = None, problem: str = "", status: int = 200,
) -> HttpResponse:  # fmt: skip
    page = draft_page(review, one_size=request.GET.get("size") == "mine", form=form, changing=changing)
    words = {"page": page, "problem": problem}
    if request.htmx:
        return render(
            request, "review/_line.html", {**words, **_line_of(page, form, changing)}, status=status
        )
    return _page(request, review, "draft", words, status)


def _line_of(page: Any, form: RemarkForm | None, changing: RemarkRow | None) -> dict[str, Any]:
    """The one line that an answer to htmx is about."""
    number = form.line if form else 0
    lines = (page.general, *page.lines)
    if changing:
        holds = (line for line in lines if any(row.remark.pk == changing.remark.pk for row in line.remarks))
        return {"line": next(holds, page.general)}
    return {"line": lines[number]}


@require_http_methods(["POST"])
@for_reader
def remark(request: StaffRequest, review: Review, line: int) -> HttpResponse:
    """Write a remark on a line, 0 for the whole."""
    form = RemarkForm(request.POST, line=line)
    problem = ""
    if form.is_valid():
        try:
            remark_write(review, form_key=form.cleaned_data["form_key"], line=line, said=form.said())
        except ReadingError as refusal:
            problem = str(refusal)
        else:
            return _kept(request, review, line)
    return _draft(request, review, form=_still_there(review, form, request), problem=problem, status=422)


def _still_there(review: Review, form: RemarkForm, request: StaffRequest) -> RemarkForm:
    """The form, on the whole where the draft has no such line, with what was typed."""
    if form.line <= review.copy.text.count("\n") + 1:
        return form
    moved = {name.replace(f"{form.prefix}-", "r0-", 1): said for name, said in request.POST.items()}
    return RemarkForm(moved, line=0)


@require_POST
@for_reader
def own_remark(request: StaffRequest, review: Review, remark_id: int) -> HttpResponse:
    """Change or (`do=withdraw`) take back one's own remark."""
    own = get_object_or_404(own_remarks(review), pk=remark_id)
    form = RemarkForm.of(own, request.POST)
    try:
        if request.POST.get("do") == "withdraw":
            remark_withdraw(own)
            return _kept(request, review, own.line, _("Taken back."))
        if form.is_valid():
            remark_change(own, form.said())
            return _kept(request, review, own.line)
    except ReadingError as refusal:
        return _draft(request, review, changing=RemarkRow(own, form=form), problem=str(refusal), status=409)
    return _draft(request, review, changing=RemarkRow(own, form=form), status=422)


def _kept(request: StaffRequest, review: Review, line: int, says: str = "") -> HttpResponse:
    if request.htmx:
        page = draft_page(review, one_size=request.GET.get("size") == "mine")
        return render(request, "review/_line.html", {"page": page, "line": (page.general, *page.lines)[line]})
    messages.success(request, says or _("Your remark is kept."))
    size = "?size=mine" if request.GET.get("size") == "mine" else ""
    return redirect(f"{reverse('review:draft', args=[review.pk])}{size}#line-{line}")


@require_safe
@for_reader
def sheet(request: StaffRequest, review: Review) -> HttpResponse:
    return _page(request, review, "sheet", {"sheet": review.copy.sheet})


@require_safe
@for_reader
def paper(request: StaffRequest, review: Review) -> HttpResponse:
    """The copy as a PDF with the draft's number on every page."""
    studio = current_studio()
    shown = edition_of(review, one_size=request.GET.get("size") == "mine")
    prepared = prepare(as_revision(review.copy), shown, Paper(studio.paper), studio, draft=review.copy.number)
    try:
        content = pdf_of(prepared)
    except PressError:
        problem = _("The PDF could not be made just now. The page itself has all that stands in it.")
        return _draft(request, review, problem=problem, status=503)
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{prepared.file_name}"'
    return response


@require_safe
@for_reader
def photo(request: StaffRequest, review: Review, digest: str, width: str, suffix: str) -> HttpResponse:
    """A photo of the copy, or one that this reader sent. No other."""
    known = {each["digest"] for each in review.copy.facts["photos"]}
    if review.is_tester:
        known |= set(_own_photos(review))
    if digest not in known:
        raise Http404
    try:
        content = photo_bytes(digest, int(width), suffix)
    except FileNotFoundError:
        raise Http404 from None
    response = HttpResponse(content, content_type=SUFFIXES[suffix])
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _own_photos(review: Review) -> list[str]:
    report = getattr(review, "report", None)
    return [] if report is None else list(report.photos.values_list("digest", flat=True))


@require_POST
@for_reader
def finish(request: StaffRequest, review: Review) -> HttpResponse:
    """An editor says that the reading is done; remarks can still be written."""
    review_finish(review)
    messages.success(
        request, _("Thank you. The designer sees that you are through; you can still add remarks.")
    )
    return redirect("review:draft", review.pk)


def _page(
    request: StaffRequest, review: Review, tab: str, words: Mapping[str, Any], status: int = 200
) -> HttpResponse:
    context = {"review": review, "tab": tab, "own_remarks": own_remarks(review), **words}
    return render(request, f"review/{tab}.html", context, status=status)


def _number(said: str | None) -> int | None:
    return int(said) if said and said.isdecimal() and len(said) < 10 else None
