"""Freezing a draft for its readers: text, facts, rounds, estimate, and the sheet of its edit.

The sheet is frozen as the page shows it, so that a reader's copy stays what it was when the reader
of the technical edit changes:

    {"draft": "12.3", "checked": {"broken": false}, "found": [...], "aside": [...], "unread": [...],
     "not_counted": [...], "omitted": [...], "rows": [...], "made": [...], "number_made": 120, "sizes": [...]}
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from django.db import transaction

from patterns.freezing import freeze
from patterns.models import Pattern, Revision
from patterns.reviews.models import DraftCopy
from patterns.revisions import SizeInfo
from patterns.round_rows import RoundRow
from patterns.sheet import Sheet, SheetRemark, draft_number, sheet_of

__all__ = ["as_revision", "copy_now", "copy_sizes", "size_label"]


def copy_now(pattern: Pattern) -> DraftCopy:
    """The draft as it is saved now. What has not changed since the last copy is that copy."""
    with transaction.atomic():
        current = Pattern.objects.select_for_update().get(pk=pattern.pk)
        content = _content(current)
        digest = hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()
        made = current.draft_copies.filter(digest=digest).first()
        if made:
            return made
        number = _number(current)
        content["sheet"]["draft"] = number
        return DraftCopy.objects.create(
            pattern=current, number=number, digest=digest, text_edit=current.text_edit, **content
        )


def as_revision(copy: DraftCopy) -> Revision:
    """The copy as a revision that was never published, for what draws pages and papers."""
    return Revision(
        pattern=copy.pattern, title=copy.title, text=copy.text, facts=copy.facts, rounds=copy.rounds,
        estimate=copy.estimate, findings=[], version="",
    )  # fmt: skip


def copy_sizes(copy: DraftCopy) -> tuple[SizeInfo, ...]:
    return tuple(SizeInfo(**size) for size in copy.facts["sizes"])


def size_label(copy: DraftCopy, key: str) -> str:
    """What a size is called in this copy; "" for one that it has not."""
    return next((size.label for size in copy_sizes(copy) if size.key == key), "")


def _content(pattern: Pattern) -> dict[str, Any]:
    sheet = sheet_of(pattern)
    revision = freeze(pattern, sheet.checked)
    return {
        "title": pattern.title,
        "text": pattern.text,
        "facts": revision.facts,
        "rounds": revision.rounds,
        "estimate": revision.estimate,
        "sheet": _sheet(sheet),
    }


def _number(pattern: Pattern) -> str:
    """The draft's number; with a letter where photos or reasons have changed and words have not."""
    taken = set(pattern.draft_copies.values_list("number", flat=True))
    return next(number for number in _numbers(draft_number(pattern)) if number not in taken)


def _numbers(stem: str) -> Iterator[str]:
    yield stem
    yield from (f"{stem}{letter}" for letter in "bcdefghijklmnopqrstuvwxyz")
    yield from (f"{stem}-{count}" for count in range(27, 10_000))


def _sheet(sheet: Sheet) -> dict[str, Any]:
    return {
        "checked": {"broken": sheet.checked.broken},
        "found": [_remark(row) for row in sheet.found],
        "aside": [_remark(row) for row in sheet.aside],
        "unread": [asdict(each) for each in sheet.unread],
        "not_counted": [_round(row) for row in sheet.not_counted],
        "omitted": [
            {"page": {"what": str(each.page.what)}, "missing": [str(fact) for fact in each.missing]}
            for each in sheet.omitted
        ],
        "rows": [_round(row) for row in sheet.rows],
        "made": [
            {"name": str(group.name), "pages": [{"what": str(page.what)} for page in group.pages]}
            for group in sheet.made
        ],
        "number_made": sheet.number_made,
        "sizes": list(sheet.sizes),
    }


def _remark(row: SheetRemark) -> dict[str, Any]:
    remark = row.remark
    return {
        "css": row.css,
        "line": row.line,
        "where": str(row.where),
        "remark": {
            "line": remark.line,
            "sizes": list(remark.sizes),
            "check": remark.check,
            "says": remark.says,
            "aside": remark.aside,
            "rewrite": {"text": remark.rewrite.text} if remark.rewrite else None,
        },
    }


def _round(row: RoundRow) -> dict[str, Any]:
    return {**asdict(row), "cells": list(row.cells), "totals": list(row.totals)}
