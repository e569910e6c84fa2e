"""What the editor's page shows: remarks with their places as the browser counts them, and counts by line.

The browser counts UTF-16 units where we count code points; a text with emoji shows the difference.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from django.utils.translation import gettext as _

from craft.fabric.model import Verdict
from craft.techedit.finding import Level
from patterns.checking import Checked, Remark, RoundCount, check
from patterns.fields import field_page, field_words
from patterns.models import Pattern
from patterns.selectors import reasons_of, source_of

__all__ = ["CountRow", "EditorPanel", "RemarkRow", "apply_rewrite", "panel", "undo_rewrite"]

LEVEL_CLASSES: Final = {
    Level.ERROR: "must-mend",
    Level.WARNING: "look-again",
    Level.NOTE: "good-to-know",
}
VERDICT_CLASSES: Final = {
    Verdict.AGREES: "agrees",
    Verdict.DIFFERS: "differs",
    Verdict.UNSTATED: "unstated",
    Verdict.NOT_CHECKED: "unchecked",
}


@dataclass(frozen=True, slots=True)
class RemarkRow:
    """A remark and its place in UTF-16 units of the instructions."""

    remark: Remark
    css: str
    start: int
    end: int
    rewrite_start: int = 0
    rewrite_end: int = 0

    @property
    def in_text(self) -> bool:
        return self.remark.field == "text"

    @property
    def field_page(self) -> str:
        return field_page(self.remark.field)

    @property
    def field_words(self) -> str:
        return field_words(self.remark.field)


@dataclass(frozen=True, slots=True)
class CountRow:
    """A count beside its line, in words: a page has hundreds, and a template is slow to work them out.

    `shown`: the size asked for, or all; `all_sizes`; `by_size`: JSON list of one text per size;
    `because`: why it was not checked, and the reading used.
    """

    count: RoundCount
    css: str
    shown: str
    by_size: str
    line: str
    label: str
    verdict: str
    all_sizes: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EditorPanel:
    """The whole answer of the check for one text."""

    checked: Checked
    remarks: tuple[RemarkRow, ...]
    aside: tuple[RemarkRow, ...]
    counts: tuple[CountRow, ...]
    size: int | None = None

    @property
    def empty(self) -> bool:
        return not self.checked.source.text.strip()

    @property
    def must_mend(self) -> int:
        return self._number(Level.ERROR)

    @property
    def look_again(self) -> int:
        return self._number(Level.WARNING)

    @property
    def good_to_know(self) -> int:
        return self._number(Level.NOTE)

    def _number(self, level: Level) -> int:
        return sum(row.remark.level is level for row in self.remarks)


def panel(pattern: Pattern, text: str, size: int | None = None) -> EditorPanel:
    """Check a text that may not be saved yet. `size`: position of the one size to show."""
    checked = check(source_of(pattern, text), pattern.terms, reasons_of(pattern))
    units = _Units(text)
    rows = [_remark_row(remark, units) for remark in checked.remarks]
    return EditorPanel(
        checked=checked,
        remarks=tuple(row for row in rows if row.remark.aside is None),
        aside=tuple(row for row in rows if row.remark.aside is not None),
        counts=tuple(_count_row(count, size) for count in checked.rounds),
        size=size,
    )


def apply_rewrite(text: str, remark: Remark) -> tuple[str, str]:
    """The text with the suggestion put in, and what `undo_rewrite` needs to take it out again."""
    rewrite = remark.rewrite
    if rewrite is None:
        return text, ""
    before = text[rewrite.start : rewrite.end]
    after = text[: rewrite.start] + rewrite.text + text[rewrite.end :]
    return after, json.dumps([rewrite.start, rewrite.text, before])


def undo_rewrite(text: str, undo: str) -> str:
    """The text as it was before; unchanged where the place has been changed since."""
    try:
        start, put_in, before = json.loads(undo)
    except (ValueError, TypeError):
        return text
    if not (isinstance(start, int) and isinstance(put_in, str) and isinstance(before, str)):
        return text
    if text[start : start + len(put_in)] != put_in:
        return text
    return text[:start] + before + text[start + len(put_in) :]


class _Units:
    """Code points to UTF-16 units; the same number for a text without astral characters."""

    def __init__(self, text: str) -> None:
        self.astral: Sequence[int] = [place for place, character in enumerate(text) if character > "\uffff"]

    def of(self, place: int) -> int:
        return place + sum(astral < place for astral in self.astral)


def _remark_row(remark: Remark, units: _Units) -> RemarkRow:
    css = LEVEL_CLASSES[remark.level]
    if remark.field != "text":
        return RemarkRow(remark, css, 0, 0)
    rewrite = remark.rewrite
    return RemarkRow(
        remark,
        css,
        units.of(remark.start),
        units.of(remark.end),
        units.of(rewrite.start) if rewrite else 0,
        units.of(rewrite.end) if rewrite else 0,
    )


def _count_row(count: RoundCount, size: int | None) -> CountRow:
    texts = ["?" if total is None else str(total) for total in count.totals]
    all_sizes = count.shown
    return CountRow(
        count,
        VERDICT_CLASSES[count.verdict],
        texts[size] if size is not None and size < len(texts) else all_sizes,
        json.dumps(texts),
        str(count.line),
        _label(count),
        _VERDICTS[count.verdict](),
        all_sizes,
        tuple(words for words in (count.why, count.reading) if words),
    )


def _label(count: RoundCount) -> str:
    """Such as "Rnd 5–9"; a dash for a line without a number."""
    if not count.number:
        return "–"
    word = _("Row") if count.kind == "row" else _("Rnd")
    last = f"–{count.last_number}" if count.last_number and count.last_number != count.number else ""
    return f"{word} {count.number}{last}"


_VERDICTS: Final[Mapping[Verdict, Callable[[], str]]] = {
    Verdict.AGREES: lambda: _("agrees"),
    Verdict.DIFFERS: lambda: _("differs"),
    Verdict.UNSTATED: lambda: _("none printed"),
    Verdict.NOT_CHECKED: lambda: _("not checked"),
}
