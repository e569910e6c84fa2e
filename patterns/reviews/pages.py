"""What a reader's page shows: the frozen draft line by line, with the reader's own remarks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from craft.notation.writing.sizes_in_words import for_size
from patterns.differences import SideBySide, side_by_side
from patterns.edition import Edition, edition
from patterns.reviews.copies import as_revision, copy_sizes, size_label
from patterns.reviews.forms import RemarkForm
from patterns.reviews.models import DraftCopy, ReaderRemark, Review
from patterns.reviews.places import line_places
from patterns.reviews.reading import own_remarks

__all__ = ["DraftLine", "DraftPage", "RemarkRow", "draft_line", "draft_page", "edition_of"]


@dataclass(frozen=True, slots=True)
class RemarkRow:
    """One of the reader's remarks. `form` stands in its place while it is being changed.

    `older`: the number of the draft that it was written on, where that is not the copy shown.
    """

    remark: ReaderRemark
    older: str = ""
    form: RemarkForm | None = None


@dataclass(frozen=True, slots=True)
class DraftLine:
    """One line of the draft. `css`: "round", "heading", "words" or "blank". `form`: being remarked on."""

    number: int
    words: str
    css: str
    remarks: tuple[RemarkRow, ...] = ()
    form: RemarkForm | None = None


@dataclass(frozen=True, slots=True)
class DraftPage:
    """The whole draft. `general`: remarks on the whole. `homeless`: on lines that are gone."""

    review: Review
    edition: Edition
    size_label: str
    one_size: bool
    lines: tuple[DraftLine, ...]
    general: DraftLine
    homeless: tuple[RemarkRow, ...]
    changes: SideBySide | None


def draft_page(
    review: Review,
    *,
    one_size: bool = False,
    form: RemarkForm | None = None,
    changing: RemarkRow | None = None,
) -> DraftPage:
    """`form`: the line that is being remarked on; `changing`: the remark that is being changed."""
    copy = review.copy
    rows = _rows(review, changing)
    lines = tuple(
        _line(copy, number, rows.get(number, ()), form)
        for number in range(1, copy.text.count("\n") + 2)
    )  # fmt: skip
    place = _position(copy, review.size_key)
    if one_size and place is not None:
        several = len(copy_sizes(copy))
        lines = tuple(replace(line, words=for_size(line.words, place, several)) for line in lines)
    earlier = review.earlier_copy
    return DraftPage(
        review=review,
        edition=edition(as_revision(copy)),
        size_label=size_label(copy, review.size_key),
        one_size=one_size and place is not None,
        lines=lines,
        general=draft_line(copy, 0, rows.get(0, ()), form),
        homeless=tuple(rows.get(-1, ())),
        changes=side_by_side(earlier.text, copy.text) if earlier else None,
    )


def draft_line(
    copy: DraftCopy, number: int, remarks: Sequence[RemarkRow] = (), form: RemarkForm | None = None
) -> DraftLine:
    return _line(copy, number, remarks, form)


def edition_of(review: Review, *, one_size: bool) -> Edition:
    """The reader's copy as it would be printed; for all sizes where the copy has the reader's no more."""
    chosen = one_size and size_label(review.copy, review.size_key)
    return edition(as_revision(review.copy), review.size_key if chosen else None)


def _line(copy: DraftCopy, number: int, remarks: Sequence[RemarkRow], form: RemarkForm | None) -> DraftLine:
    words = copy.text.split("\n")[number - 1] if number else ""
    return DraftLine(
        number=number,
        words=words,
        css=_css(copy, number, words),
        remarks=tuple(remarks),
        form=form if form and form.line == number else None,
    )


def _css(copy: DraftCopy, number: int, words: str) -> str:
    if not words.strip():
        return "blank"
    rows: Sequence[Mapping[str, Any]] = copy.sheet["rows"]
    if any(row["line"] == number for row in rows):
        return "round"
    titles = {section["title"].strip().rstrip(":") for section in copy.rounds["sections"]}
    return "heading" if words.strip().rstrip(":") in titles else "words"


def _position(copy: DraftCopy, size_key: str) -> int | None:
    """Where the size stands among several; None where there is nothing to choose."""
    keys = [size.key for size in copy_sizes(copy)]
    return keys.index(size_key) if len(keys) > 1 and size_key in keys else None


def _rows(review: Review, changing: RemarkRow | None) -> dict[int, list[RemarkRow]]:
    """The reader's remarks by the line of the copy shown; -1 for those whose line is gone."""
    rows: dict[int, list[RemarkRow]] = {}
    for remark in own_remarks(review):
        line, older = remark.line, ""
        if remark.copy_id != review.copy_id and line:
            place = line_places(remark.copy.text, review.copy.text).get(line)
            line = place.line if place and place.line else -1
            older = remark.copy.number
        row = RemarkRow(remark, older)
        if changing and changing.remark.pk == remark.pk:
            row = replace(changing, older=older)
        rows.setdefault(line, []).append(row)
    return rows
