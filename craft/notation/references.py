"""References to other parts: "Work from ** to ** as given for Back" and what they stand for.

Marks of two stars and more stand in the text wherever the maker put them, in the middle of a line too;
a reference is given the stretch of text between them, so that its lines can be worked again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from craft.notation.tokens import Raw
from craft.notation.tree import AsRound, Line, Prose, Section, Span, Step, Unread

__all__ = ["resolve"]


def resolve(raw: Raw, sections: Sequence[Section]) -> tuple[Section, ...]:
    """The sections with `AsRound.copies` filled in where the part and the marks are found."""
    if not any(_refers(line) for section in sections for line in section.lines):
        return tuple(sections)
    marks = [(word, raw.starts[i]) for i, word in enumerate(raw.words) if word[0] == "*" and len(word) > 1]
    return tuple(
        replace(section, lines=tuple(_resolved(line, index, sections, marks) for line in section.lines))
        for index, section in enumerate(sections)
    )


def _refers(line: object) -> bool:
    return isinstance(line, Line) and any(
        isinstance(step, AsRound) and step.part is not None and not step.numbers for step in line.steps
    )


def _resolved(
    line: Line | Prose | Unread,
    index: int,
    sections: Sequence[Section],
    marks: Sequence[tuple[str, int]],
) -> Line | Prose | Unread:
    if not isinstance(line, Line) or not _refers(line):
        return line
    steps: list[Step] = []
    for step in line.steps:
        if isinstance(step, AsRound) and step.part is not None and not step.numbers:
            copies = _stretch(step, line.span.start, index, sections, marks)
            steps.append(replace(step, copies=copies))
        else:
            steps.append(step)
    return replace(line, steps=tuple(steps))


def _stretch(
    step: AsRound,
    before: int,
    index: int,
    sections: Sequence[Section],
    marks: Sequence[tuple[str, int]],
) -> Span | None:
    """The text that the reference stands for, somewhere above it."""
    part = _part(step.part or "", sections[:index])
    if part is None:
        return None
    start = sections[part].span.start
    named = [word for word in (step.until or "").split() if word.strip("*") == "" and len(word) > 1]
    if len(named) == 2:
        return _between(named[0], named[1], start, before, marks)
    if step.until is not None:
        return None
    end = next((s.span.start for s in sections[part + 1 : index + 1] if not s.continues), before)
    return Span(start, min(end, before))


def _part(name: str, sections: Sequence[Section]) -> int | None:
    """The nearest part above of that name: the same title, else one that holds the name."""
    wanted = name.strip().lower()
    titles = [section.title.strip().lower() for section in sections]
    for same in (lambda title: title == wanted, lambda title: wanted in title):
        for index in range(len(titles) - 1, -1, -1):
            if titles[index] and same(titles[index]):
                return index
    return None


def _between(first: str, second: str, start: int, end: int, marks: Sequence[tuple[str, int]]) -> Span | None:
    """From the first mark of the one name behind `start` to the next of the other."""
    opened: int | None = None
    for word, at in marks:
        if at < start or at >= end:
            continue
        if opened is None:
            opened = at if word == first else None
        elif word == second:
            return Span(opened, at)
    return None
