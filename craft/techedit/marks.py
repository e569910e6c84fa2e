"""Brackets and stars of the lines of work: what is opened, closed and returned to."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Line, Span
from craft.techedit.case import Case

__all__ = ["broken_lines", "crossed", "openers", "stretches", "unpaired"]

_PAIRS = {")": "(", "]": "[", "}": "{"}
_BRACKET = re.compile(r"[()\[\]{}]")
_FACE = re.compile(r"[:;]-?\)|[:;]-\(|^[ \t]*[a-z0-9]{1,2}\)", re.MULTILINE)
# A star that multiplies ("(sc, inc) * 6"), that is returned to ("from *"), or that stands in prose.
_NO_STAR = re.compile(
    r"(?:[)\]\w]\s?|\b(?:from|to|at|rep|repeat|the)\s*)$|[.!?]\s+[A-Z][a-z]+ [a-z]+ [a-z]+ [a-z]+$"
)
_OPENS = re.compile(r"\*{1,9}\s{0,4}[\w(\[]")


def stretches(case: Case) -> tuple[tuple[Line, Span], ...]:
    """Each labelled line with the unlabelled ones that go on from it: perhaps the same line, wrapped."""
    return case.once("stretches", lambda each: tuple(_joined_lines(each)))


def broken_lines(case: Case) -> frozenset[int]:
    """`id(line)` of the lines with a bracket lost: what they come to is anybody's guess."""
    return case.once("broken lines", _broken_lines)


def _broken_lines(case: Case) -> frozenset[int]:
    spans = [span for _, span in stretches(case) if unpaired(case, span) is not None]
    return frozenset(
        id(line)
        for line in (case.lines if spans else ())
        if any(span.start <= line.span.start < span.end for span in spans)
    )


def _joined_lines(case: Case) -> Iterator[tuple[Line, Span]]:
    for lines in case.lines_by_section:
        first: Line | None = None
        end = 0
        for line in lines:
            goes_on = first is not None and not line.label.numbers and not line.label.word
            if first is not None and not goes_on:
                yield first, Span(first.span.start, end)
            first, end = (first if goes_on else line), line.span.end
        if first is not None:
            yield first, Span(first.span.start, end)


def unpaired(case: Case, span: Span) -> int | None:
    """The place of the first bracket without a partner in a stretch."""
    words = case.text[span.start : span.end]
    if all(words.count(mark) == words.count(_PAIRS[mark]) for mark in _PAIRS):
        return None  # as good as paired: brackets closed across each other in one line are rare
    faces = {match.end() - 1 for match in _FACE.finditer(case.text, *span)}
    opened: list[int] = []
    for match in _BRACKET.finditer(case.text, *span):
        if match.start() in faces:
            continue
        mark = match[0]
        if mark in "([{":
            opened.append(match.start())
        elif not opened or case.text[opened[-1]] != _PAIRS[mark]:
            return match.start() if _PAIRS[mark] not in {case.text[at] for at in opened} else opened[-1]
        else:
            opened.pop()
    return opened[-1] if opened else None


def crossed(case: Case, span: Span, lost: int) -> str:
    """The bracket of another kind that the one at `lost` was meant to pair with: "(" for the "]" of
    "(sc, inc] 6 times"; "" where none is left over.
    """
    mark = case.text[lost]
    words = case.text[span.start : span.end]
    over = {opens: words.count(opens) - words.count(closes) for closes, opens in _PAIRS.items()}
    if mark in _PAIRS:
        return next((opens for opens, left in over.items() if left == 1 and opens != _PAIRS[mark]), "")
    closing = {opens: closes for closes, opens in _PAIRS.items()}
    return next((closing[opens] for opens, left in over.items() if left == -1 and opens != mark), "")


def openers(case: Case, span: Span) -> list[int]:
    """The stars of a stretch from which a repeat may begin."""
    words = case.text[span.start : span.end]
    stars = [match.start() for match in re.finditer(r"\*+", words)] if "*" in words else []
    return [span.start + at for at in stars if _OPENS.match(words, at) and not _NO_STAR.search(words, 0, at)]
