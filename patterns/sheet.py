"""The sheet of a technical edit: what was checked, found, set aside and not checked, with the counts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.template.loader import render_to_string
from django.utils.functional import Promise
from django.utils.translation import get_language
from django.utils.translation import gettext as _

import craft.techedit
from patterns.check_pages import CheckPage, Group, fact_words, groups, level_css, page_of
from patterns.checking import Checked, Remark, check
from patterns.fields import field_words
from patterns.models import Pattern
from patterns.paper import Paper, Prepared
from patterns.round_rows import RoundRow, round_rows
from patterns.selectors import reasons_of, source_of
from workroom.models import Studio

__all__ = ["Sheet", "draft_number", "prepare_sheet", "sheet_of"]


@dataclass(frozen=True, slots=True)
class SheetRemark:
    """A remark with the page of its check, and the words of its line. `where`: the field, if not the text."""

    remark: Remark
    css: str
    page: CheckPage | None
    line: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Omitted:
    """A check that was not made, and the facts that it lacks."""

    page: CheckPage
    missing: tuple[str | Promise, ...]


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that were not understood; `line` from 1, 0 for words of the facts."""

    line: int
    words: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that stands on a sheet, as values."""

    pattern: Pattern
    draft: str
    checked: Checked
    found: tuple[SheetRemark, ...]
    aside: tuple[SheetRemark, ...]
    made: tuple[Group, ...]
    omitted: tuple[Omitted, ...]
    unread: tuple[Unread, ...]
    rows: tuple[RoundRow, ...]

    @property
    def number_made(self) -> int:
        return sum(len(group.pages) for group in self.made)

    @property
    def not_counted(self) -> tuple[RoundRow, ...]:
        """Rounds that were not checked, and those without a printed count that no size could work."""
        return tuple(row for row in self.rows if row.css == "unchecked" or row.is_unknown)

    @property
    def sizes(self) -> tuple[str, ...]:
        return self.checked.sizes


def draft_number(pattern: Pattern) -> str:
    """What tells one draft from the next: saves of the instructions, then saves of the facts."""
    return f"{pattern.text_edit}.{pattern.facts_edit}"


def sheet_of(pattern: Pattern) -> Sheet:
    """Check what is saved now and gather the sheet."""
    checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
    omitted = _omitted(checked)
    left_out = {each.page.slug for each in omitted}
    return Sheet(
        pattern=pattern,
        draft=draft_number(pattern),
        checked=checked,
        found=tuple(_remark(remark, checked) for remark in checked.open_remarks),
        aside=tuple(_remark(remark, checked) for remark in checked.set_aside),
        made=() if checked.broken else _made(left_out),
        omitted=omitted,
        unread=_unread(checked),
        rows=round_rows(checked),
    )


def prepare_sheet(sheet: Sheet, paper: Paper, studio: Studio) -> Prepared:
    """HTML and style sheet for the press."""
    context = {"sheet": sheet, "studio": studio, "language": get_language() or "en"}
    return Prepared(
        html=render_to_string("patterns/sheet_paper.html", context),
        css=_css(paper, studio),
        address="",
        photos={},
        file_name=f"{sheet.pattern.slug}-edit-{sheet.draft}-{paper.value}.pdf",
    )


def _css(paper: Paper, studio: Studio) -> str:
    words: Mapping[str, Any] = {"page_word": _("page"), "of_word": _("of")}
    base = {"paper": paper.css, "accent": studio.accent, **words}
    return render_to_string("patterns/paper.css", base) + render_to_string("patterns/sheet.css")


def _remark(remark: Remark, checked: Checked) -> SheetRemark:
    lines = checked.source.text.split("\n")
    page, css = page_of(remark.check), level_css(remark.level)
    if remark.field != "text":
        return SheetRemark(remark, css, page, remark.words, field_words(remark.field))
    return SheetRemark(remark, css, page, lines[remark.line - 1] if remark.line <= len(lines) else "")


def _made(left_out: set[str]) -> tuple[Group, ...]:
    kept = (
        Group(group.letter, group.name, tuple(page for page in group.pages if page.slug not in left_out))
        for group in groups()
    )
    return tuple(group for group in kept if group.pages)


def _omitted(checked: Checked) -> tuple[Omitted, ...]:
    if checked.draft is None or checked.fabric is None:
        return ()
    not_made = craft.techedit.not_checked(checked.draft, checked.fabric, checked.facts)
    pairs = ((page_of(each.check), each.missing) for each in not_made)
    return tuple(Omitted(page, tuple(fact_words(need) for need in needs)) for page, needs in pairs if page)


def _unread(checked: Checked) -> tuple[Unread, ...]:
    text = checked.source.text
    return tuple(
        Unread(text.count("\n", 0, place.start) + 1, text[place.start : place.end])
        for place in checked.unread
        if place.field == "text"
    )
