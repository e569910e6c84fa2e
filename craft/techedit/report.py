"""A worked and checked pattern as the machine's object and as the person's text.

`as_object` gives the JSON object of `manage.py tech_edit --json`, `as_text` the remarks with the line
and a caret under the place, and a table of rounds. Lines and columns count from 1 and in code points.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from craft.fabric.model import Counts, Fabric, SizedRound, WorkedRound
from craft.notation.tree import AsRound, Draft, Evenly, Group, OnlySizes, Repeat, Span, Unread, Work
from craft.techedit.finding import Finding, Level, Suggestion
from craft.techedit.places import Places

__all__ = ["as_object", "as_text"]

MAKES_STITCHES = (Work, Group, Repeat, Evenly, AsRound, OnlySizes, Unread)
LEVEL_WORDS = {Level.ERROR: "must mend", Level.WARNING: "look again", Level.NOTE: "good to know"}


# --------------------------------------------------------------------------- for the machine


def as_object(name: str, draft: Draft, fabric: Fabric, findings: Iterable[Finding]) -> dict[str, Any]:
    """The object of one file, ready for `json.dumps`. A text of unknown terms was worked as US."""
    places = Places(draft.text)
    return {
        "file": name,
        "terms": draft.terms or "us",
        "sizes": list(draft.sizes),
        "rounds": [_round_object(worked, fabric) for worked in fabric.rounds if not _is_start(worked)],
        "tally": _by_name(fabric.tally),
        "findings": [_finding_object(finding, draft.sizes, places) for finding in findings],
        "unread": [
            {**places.span(unread.span), "text": draft.text[unread.span.start : unread.span.end]}
            for unread in draft.unread
        ],
    }


def _is_start(worked: WorkedRound) -> bool:
    """True for a bare foundation ("Ch 21.", "Ch 5, join to form a ring."): a start, no round or row."""
    label = worked.line.label
    named = bool(label.numbers or label.word or label.stated_number_of_rounds)
    return not named and not any(isinstance(step, MAKES_STITCHES) for step in worked.line.steps)


def _round_object(worked: WorkedRound, fabric: Fabric) -> dict[str, Any]:
    return {
        "line": worked.line.line_number,
        "section": fabric.sections[worked.section_index].section.title,
        "kind": worked.kind,
        "number": worked.number,
        "repeats": worked.repeats,
        "worked": worked_counts(worked.per_size),
        "stated": {what: list(counts) for what, counts in worked.stated} or None,
        "verdict": worked.verdict.value,
        "why": worked.why,
        "reading": worked.reading,
    }


def worked_counts(per_size: Sequence[SizedRound | None]) -> dict[str, list[int | None]] | None:
    """{"total": [18, None], "sc": [18, None]}; None where no size could be worked."""
    if not any(per_size):
        return None
    totals = [sized.total if sized else None for sized in per_size]
    kinds = _by_name(tuple(sized.by_kind if sized else None for sized in per_size))
    return {"total": totals, **kinds}


def _by_name(per_size: Sequence[tuple[tuple[str, int], ...] | None]) -> dict[str, list[int | None]]:
    """Turn one list of (name, count) per size into one list of counts per name."""
    counts = [dict(pairs) if pairs is not None else None for pairs in per_size]
    names = dict.fromkeys(name for pairs in counts if pairs for name in pairs)
    return {name: [None if pairs is None else pairs.get(name, 0) for pairs in counts] for name in names}


def _finding_object(finding: Finding, sizes: Sequence[str], places: Places) -> dict[str, Any]:
    return {
        "check": finding.check,
        "ids": list(finding.ids),
        "level": finding.level.value,
        **places.span(finding.span),
        "round": finding.round_number,
        "sizes": None if finding.sizes is None else [sizes[position] for position in finding.sizes],
        "says": finding.says,
        "suggest": _suggestion_object(finding.suggestion, places),
    }


def _suggestion_object(suggestion: Suggestion | None, places: Places) -> dict[str, Any] | None:
    return None if suggestion is None else {**places.span(suggestion.span), "text": suggestion.text}


# ---------------------------------------------------------------------------- for the person


def as_text(name: str, draft: Draft, fabric: Fabric, findings: Sequence[Finding]) -> str:
    """The remarks of one file with their places, then the table of rounds."""
    places = Places(draft.text)
    remarks = [_remark(name, finding, places) for finding in findings]
    unread = [_unread_remark(name, item.span, places) for item in draft.unread]
    return "\n\n".join([*remarks, *unread, _table(fabric), _summary(name, findings)]) + "\n"


def _remark(name: str, finding: Finding, places: Places) -> str:
    lines = [
        _headline(name, finding.span, LEVEL_WORDS[finding.level], finding.check, places),
        *_pointed(finding.span, places),
        finding.says,
    ]
    if finding.suggestion is not None:
        lines.append(f"Write instead: {finding.suggestion.text}")
    return "\n".join(lines)


def _unread_remark(name: str, span: Span, places: Places) -> str:
    head = _headline(name, span, "not understood", "unread", places)
    return "\n".join([head, *_pointed(span, places)])


def _headline(name: str, span: Span, word: str, slug: str, places: Places) -> str:
    line, column = places.line_and_column(span.start)
    return f"{name}:{line}:{column}: {word} [{slug}]"


def _pointed(span: Span, places: Places) -> tuple[str, str]:
    """The line of the text and a row of carets under the place, cut at the end of the line."""
    line, column = places.line_and_column(span.start)
    text = places.line_text(line).replace("\t", " ")
    length = max(1, min(span.end - span.start, len(text) - column + 1))
    return f"    {text}", "    " + " " * (column - 1) + "^" * length


def _table(fabric: Fabric) -> str:
    head = ("line", "round", "worked", "printed", "verdict")
    rows = [_table_row(worked) for worked in fabric.rounds]
    widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head))]
    parts: list[str] = []
    for section in fabric.sections:
        if section.rounds:
            parts += ["", section.section.title or "(no heading)", _padded(head, widths)]
            parts += [_padded(_table_row(worked), widths) for worked in section.rounds]
    return "\n".join(parts[1:]) if parts else "No rounds or rows were found."


def _table_row(worked: WorkedRound) -> tuple[str, str, str, str, str]:
    number = "next" if worked.number is None else str(worked.number)
    counts = tuple(sized.total if sized else None for sized in worked.per_size)
    printed = ", ".join(_stated_words(what, counts) for what, counts in worked.stated)
    remarks = "; ".join(filter(None, (worked.verdict.value, worked.why, worked.reading)))
    return (
        str(worked.line.line_number),
        f"{worked.kind} {number}",
        counts_words(counts),
        printed or "-",
        remarks,
    )


def _stated_words(what: str, counts: Counts) -> str:
    return counts_words(counts) if what == "total" else f"{counts_words(counts)} {what}"


def counts_words(counts: Counts) -> str:
    """18 for one size, "18 (20, 24)" for several, a dash where a size lacks the round."""
    words = ["-" if count is None else str(count) for count in counts]
    if not words:
        return "-"
    return words[0] if len(words) == 1 else f"{words[0]} ({', '.join(words[1:])})"


def _padded(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def _summary(name: str, findings: Sequence[Finding]) -> str:
    tally = {level: sum(finding.level is level for finding in findings) for level in Level}
    words = ", ".join(f"{tally[level]} {LEVEL_WORDS[level]}" for level in Level)
    return f"{name}: {words}."
