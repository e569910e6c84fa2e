"""The editor: instructions with their counts beside the lines and the remarks about them.

Every button of the page posts the whole form, so that whatever happens the words come back in their
field. `do` says which: "save", "check", "import", "apply:KEY", "written", "undo", "aside:KEY", "back:KEY".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from patterns.differences import SideBySide, side_by_side
from patterns.editor import EditorPanel, apply_rewrite, panel, undo_rewrite
from patterns.incoming import NotATextError
from patterns.intake import read_document
from patterns.models import Pattern
from patterns.reviews.board import open_by_line
from patterns.selectors import pattern_or_404
from patterns.services import StaleEditError, remark_set_aside, remark_take_back, text_save
from patterns.source import LARGEST_TEXT, TextTooLongError, cleaned_text
from workroom.http import StaffRequest

__all__ = ["check_fragment", "edit"]


@dataclass(frozen=True, slots=True)
class Page:
    """The editor as it is shown: the words in the field and what is said about them."""

    pattern: Pattern
    text: str
    seen: int
    size: int | None = None
    undo: str = ""
    problem: str = ""
    says: str = ""
    theirs: SideBySide | None = None
    checkable: bool = True
    saved: bool = True

    @property
    def status(self) -> int:
        if self.theirs is not None:
            return 409
        return 422 if self.problem else 200


@require_http_methods(["GET", "HEAD", "POST"])
def edit(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    if request.method != "POST":
        return _show(request, Page(pattern, pattern.text, pattern.text_edit))
    page = _posted(request, pattern)
    act, _colon, key = request.POST.get("do", "check").partition(":")
    if not page.checkable:
        return _show(request, page)
    if act == "save":
        return _save(request, page)
    return _show(request, ACTS.get(act, _unchanged)(request, page, key))


@require_POST
def check_fragment(request: StaffRequest, slug: str) -> HttpResponse:
    """The answer of the check alone, for a text that is being typed."""
    page = _posted(request, pattern_or_404(slug))
    act, _colon, key = request.POST.get("do", "check").partition(":")
    if act in {"aside", "back"} and page.checkable:
        page = ACTS[act](request, page, key)
    # Without what only whole pages show (menu, studio): it is asked for while one types.
    return HttpResponse(
        render_to_string("patterns/_check.html", {**_context(page), "request": request}), status=page.status
    )


def _posted(request: StaffRequest, pattern: Pattern) -> Page:
    """The page as it was sent. A text that is too long stays in its field, unchecked."""
    raw, seen = request.POST.get("text", ""), request.POST.get("seen", "")
    page = Page(
        pattern, raw, int(seen) if seen.isdecimal() and len(seen) < 10 else 0, _size(request),
        saved=False, undo=request.POST.get("undo", ""),
    )  # fmt: skip
    try:
        return replace(page, text=cleaned_text(raw))
    except TextTooLongError as error:
        problem = _(
            "These instructions have %(length)s characters; at most %(most)s are taken. Nothing was "
            "saved and your words are still in the field: split them into two patterns."
        ) % {"length": f"{error.length:,}", "most": f"{LARGEST_TEXT:,}"}
        return replace(page, problem=problem, checkable=False)


def _size(request: StaffRequest) -> int | None:
    size = request.POST.get("size", "")
    return int(size) if size.isdecimal() and len(size) < 4 else None


def _save(request: StaffRequest, page: Page) -> HttpResponse:
    try:
        saved = text_save(page.pattern, text=page.text, seen=page.seen, by=request.user)
    except StaleEditError as stale:
        return _show(request, _both_versions(page, stale.current))
    messages.success(request, _("Saved."))
    return redirect("patterns:edit", saved.slug)


def _both_versions(page: Page, current: Pattern) -> Page:
    """Somebody saved in between: yours stays in the field, theirs stands beside it."""
    return replace(
        page,
        pattern=current,
        seen=current.text_edit,
        theirs=side_by_side(current.text, page.text),
    )


def _unchanged(request: StaffRequest, page: Page, key: str) -> Page:
    return page


def _apply(request: StaffRequest, page: Page, key: str) -> Page:
    for row in panel(page.pattern, page.text).remarks:
        if row.remark.key == key and row.remark.rewrite:
            text, undo = apply_rewrite(page.text, row.remark)
            return replace(page, text=text, undo=undo, says=_("Changed in the field, not yet saved."))
    return replace(page, problem=_("That line has changed since; look at the remarks again."))


def _written(request: StaffRequest, page: Page, key: str) -> Page:
    """Words that come from the page where they were written anew; the way back comes with them."""
    return replace(page, says=_("Written anew in the field, not yet saved."))


def _undo(request: StaffRequest, page: Page, key: str) -> Page:
    return replace(page, text=undo_rewrite(page.text, page.undo), undo="")


def _aside(request: StaffRequest, page: Page, key: str) -> Page:
    reason = " ".join(request.POST.get(f"reason-{key}", "").split())[:300]
    if not reason:
        return replace(page, problem=_("Say in a few words why this remark is set aside."))
    for row in panel(page.pattern, page.text).remarks:
        if row.remark.key == key:
            remark_set_aside(
                page.pattern, check=row.remark.check, line=row.remark.words, reason=reason,
                by=request.user,
            )  # fmt: skip
    return page


def _back(request: StaffRequest, page: Page, key: str) -> Page:
    for row in panel(page.pattern, page.text).aside:
        if row.remark.key == key:
            remark_take_back(page.pattern, check=row.remark.check, line=row.remark.words)
    return page


def _import(request: StaffRequest, page: Page, key: str) -> Page:
    upload = request.FILES.get("file")
    if upload is None or upload.file is None:
        return replace(page, problem=_("Choose a file first."))
    try:
        incoming = read_document(upload.file)
        text = cleaned_text(incoming.text)
    except NotATextError as error:
        return replace(page, problem=str(error))
    except TextTooLongError:
        return replace(page, problem=_("This file is too large for one pattern. Split it."))
    says = _("Read from the file, not yet saved.")
    if incoming.guessed:
        says += " " + _("It was not UTF-8: look at the accents and quotes before you save.")
    return replace(page, text=text, says=says)


Act = Callable[[StaffRequest, Page, str], Page]
ACTS: Final[Mapping[str, Act]] = {
    "check": _unchanged,
    "apply": _apply,
    "written": _written,
    "undo": _undo,
    "aside": _aside,
    "back": _back,
    "import": _import,
}


def _context(page: Page) -> dict[str, Any]:
    answer: EditorPanel | None = None
    if page.checkable:
        answer = panel(page.pattern, page.text, page.size)
    return {"pattern": page.pattern, "page": page, "panel": answer, "tab": "edit"}


def _show(request: StaffRequest, page: Page) -> HttpResponse:
    words = {**_context(page), "reader_remarks": open_by_line(page.pattern)}
    return render(request, "patterns/edit.html", words, status=page.status)
