"""The rounds of a revision as JSON: words and counts of every line, in the order of the text.

    {"sizes": ["s", "m"],                     keys, in the order of every list of counts
     "sections": [{"key": "0", "title": "Crown", "make": [1, 1], "items": [
        {"what": "round", "key": "0:1", "kind": "round", "line": 3, "label": "Rnd 1", "numbers": [1],
         "body": "6 sc in ring.", "count": "6 sts", "totals": [[6, 6]], "verdict": "agrees"},
        {"what": "note", "topic": "note", "text": "Do not join."}]}],
     "tally": {"s": {"sc": 468}}, "by_colour": {"s": {"A": {"sc": 468}}}}

`totals`: one list of counts per size for each round that the line stands for; null where not worked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any, Final

from craft.fabric.model import Counts, Fabric, Verdict, WorkedRound, WorkedSection
from craft.notation.tree import Line, Prose, Unread
from patterns.checking import Checked

__all__ = ["frozen_rounds"]

_BRACKETS: Final = (("(", ")"), ("[", "]"), ("{", "}"))
_LEADING_DASH: Final = re.compile(r"^[-–—]\s*(?=\w)")
"""A dash that parts the count from the words, not the one of a size that leaves the round out."""
_LABEL_END: Final = " \t\n:.-–—"
_BODY_START: Final = " \t\n:.–—"


def frozen_rounds(checked: Checked, size_keys: Sequence[str]) -> dict[str, Any]:
    """The JSON described above. A text that could not be checked is frozen as notes alone."""
    if checked.fabric is None:
        return {"sizes": list(size_keys), "sections": [], "tally": {}, "by_colour": {}}
    fabric, head = checked.fabric, len(checked.source.head)
    sections = [_section(each, checked.source.whole, head) for each in fabric.sections]
    return {
        "sizes": list(size_keys),
        "sections": [section for section in sections if section["items"]],
        "tally": {key: dict(tally) for key, tally in _by_size(size_keys, fabric.tally)},
        "by_colour": {
            key: {label: dict(tally) for label, tally in colours}
            for key, colours in _by_size(size_keys, _colours(fabric))
        },
    }


def _colours(fabric: Fabric) -> Sequence[Sequence[tuple[str, Sequence[tuple[str, int]]]]]:
    """Tallies by colour; all under "" where the text names no colours."""
    return fabric.by_colour or tuple((("", tally),) for tally in fabric.tally)


def _by_size(keys: Sequence[str], values: Sequence[Any]) -> Iterable[tuple[str, Any]]:
    """Pair size keys with values; one value serves every size."""
    if len(values) == 1:
        return [(key, values[0]) for key in keys]
    return zip(keys, values, strict=False)


def _section(worked: WorkedSection, text: str, head: int) -> dict[str, Any]:
    by_line: dict[int, list[WorkedRound]] = {}
    for each in worked.rounds:
        by_line.setdefault(id(each.line), []).append(each)
    items = [
        _item(item, by_line.get(id(item), []), text)
        for item in worked.section.lines
        if item.span.start >= head or isinstance(item, Line)
    ]
    return {
        "key": str(worked.index),
        "title": worked.section.title,
        "make": list(worked.make),
        "items": [item for item in items if item is not None],
    }


def _item(item: Line | Prose | Unread, rounds: Sequence[WorkedRound], text: str) -> dict[str, Any] | None:
    if isinstance(item, Line):
        return _round(item, rounds, text)
    words = _joined(text[item.span.start : item.span.end])
    topic = item.topic if isinstance(item, Prose) else "note"
    return {"what": "note", "topic": topic, "text": words} if words else None


def _round(line: Line, rounds: Sequence[WorkedRound], text: str) -> dict[str, Any]:
    label = text[line.label.span.start : line.label.span.end].strip(_LABEL_END)
    return {
        "what": "round",
        "key": rounds[0].key if rounds else f"line-{line.line_number}",
        "kind": str(line.label.kind.value),
        "line": line.line_number,
        "label": _joined(label),
        "numbers": list(line.label.numbers),
        "body": _body(line, text),
        "count": _count(line, rounds, text),
        "totals": [[sized.total if sized else None for sized in worked.per_size] for worked in rounds],
        "verdict": _verdict(rounds).value,
    }


def _verdict(rounds: Sequence[WorkedRound]) -> Verdict:
    verdicts = {worked.verdict for worked in rounds}
    for verdict in (Verdict.DIFFERS, Verdict.NOT_CHECKED, Verdict.AGREES):
        if verdict in verdicts:
            return verdict
    return Verdict.UNSTATED


def _body(line: Line, text: str) -> str:
    """The words between the label and the count; a count in the middle stays where it is."""
    end = line.span.end
    start = line.label.span.end if line.label.span.end <= end else line.span.start
    if line.stated and not text[line.stated.span.end : end].strip(" \t\n.;"):
        end = max(start, line.stated.span.start)
    body = _joined(text[start:end]).lstrip(_BODY_START)
    if body[:1] in {")", "]"} and "(" not in body and "[" not in body:
        body = body[1:].lstrip(_BODY_START)
    return body.rstrip(" =-–—(")


def _count(line: Line, rounds: Sequence[WorkedRound], text: str) -> str:
    """The printed count without its brackets; the worked one where none is printed."""
    if line.stated:
        return _bare(text[line.stated.span.start : line.stated.span.end])
    if not line.label.numbers and not line.label.word:
        return ""  # a foundation chain or the like: its number stands in its words
    counts = {tuple(sized.total if sized else None for sized in each.per_size) for each in rounds}
    if len(counts) != 1:
        return ""
    return _written(counts.pop())


def _written(totals: Counts) -> str:
    """Counts as house style has them: "18 sts", "18 (21, 24) sts"; "" where one is missing."""
    if not totals or any(total is None for total in totals):
        return ""
    first, *others = (str(total) for total in totals)
    many = f"{first} ({', '.join(others)})" if len(set(totals)) > 1 else first
    return f"{many} st" if totals == (1,) else f"{many} sts"


def _bare(words: str) -> str:
    count = _LEADING_DASH.sub("", _joined(words).strip(" .;:="))
    for opening, closing in _BRACKETS:
        if _wrapped(count, opening, closing):
            count = count[1:-1]
    count = count.strip(" .;:=")
    return f"{count} sts" if re.fullmatch(r"\d+", count) else count


def _wrapped(words: str, opening: str, closing: str) -> bool:
    """Whether the first bracket is closed by the last character and not before."""
    if not (words.startswith(opening) and words.endswith(closing)):
        return False
    depth = 0
    for place, character in enumerate(words):
        depth += (character == opening) - (character == closing)
        if depth == 0:
            return place == len(words) - 1
    return False


def _joined(words: str) -> str:
    return " ".join(words.split())
