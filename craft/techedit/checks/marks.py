"""Group J, the marks: brackets and stars that are closed and have a return."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Line, Repeat, Span, Step
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_PAIRS = {")": "(", "]": "[", "}": "{"}
_BRACKET = re.compile(r"[()\[\]{}]")
_FACE = re.compile(r"[:;][-']?[()]|^[ \t]*[a-z0-9]{1,2}\)", re.MULTILINE)


@check("bracket-not-closed", "J6", Level.ERROR)
def bracket_not_closed(case: Case) -> Iterator[Hit]:
    """Every bracket that is opened is closed, and the reverse.

    Why: with one bracket lost nobody knows how much of the line is repeated.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (inc, sc in next st x 3 (9)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (inc, sc in next st) x 3 (9)

    Limits: looks at lines of work, one by one; list marks such as "a)" and smiling faces are left alone.
    """
    for line in case.lines:
        lost = _unpaired(case, line)
        if lost is not None:
            mark = case.text[lost]
            variant = "" if mark in "([{" else "closed"
            span = Span(lost, lost + 1)
            yield Hit(span, {"mark": mark, "here": line_name(line)}, variant, round_number=_number(line))


def _unpaired(case: Case, line: Line) -> int | None:
    """The place of the first bracket without a partner in a line."""
    faces = {match.end() - 1 for match in _FACE.finditer(case.text, *line.span)}
    opened: list[int] = []
    for match in _BRACKET.finditer(case.text, *line.span):
        if match.start() in faces:
            continue
        mark = match[0]
        if mark in "([{":
            opened.append(match.start())
        elif not opened or case.text[opened[-1]] != _PAIRS[mark]:
            return opened[-1] if opened and _crossed(case, opened[-1], line) else match.start()
        else:
            opened.pop()
    return opened[-1] if opened else None


def _crossed(case: Case, at: int, line: Line) -> bool:
    """Whether an opened bracket has no closing one of its kind in the rest of the line."""
    closing = {"(": ")", "[": "]", "{": "}"}[case.text[at]]
    return closing not in case.text[at : line.span.end]


@check("star-missing", "J6", Level.WARNING)
def star_missing(case: Case) -> Iterator[Hit]:
    """ "Repeat from *" has its star in the line.

    Why: stars get lost when a text is converted. The sums are usually right if the star stood after
    the starting chain, but a maker has to find that out.

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, sc in next st, 2 sc in next st; rep from * around, join (18)
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join (18)

    Limits: the line is worked with the star where it fits, so that this alone is never an error.
    """
    for line in case.lines:
        step = next((s for s in _repeats(line.steps) if s.fence == "none"), None)
        star = case.text.find("*", *line.span) if step else -1
        if step is not None and star >= 0:
            yield Hit(Span(star, star + 1), {"here": line_name(line)}, round_number=_number(line))


_RETURN = re.compile(r"\b(?:rep|repeat|reps|repeating|from|to|between|end|ending|work)\b", re.IGNORECASE)
_STAR = re.compile(r"(?<![*\w])\*+(?!\s?\d)")


@check("star-without-return", "J6", Level.WARNING)
def star_without_return(case: Case) -> Iterator[Hit]:
    """A star is returned to.

    Why: "*sc in next 3 sts, inc" and no word of repeating: once, or all the way round?

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, *sc in next st, 2 sc in next st, join (18)
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join (18)

    Limits: one single star in a line with no word of repeating; a star before a number is a multiplication sign, one
    at the end may point to a footnote.
    """
    for line in case.lines:
        end = line.span.end
        stars = [m for m in _STAR.finditer(case.text, line.label.span.end, end) if m.end() < end - 12]
        if len(stars) == 1 and "*" not in case.text[stars[0].end() : end]:
            rest = case.text[stars[0].end() : end]
            letters = re.match(r"\s*[\w(\[]", rest)
            if letters and not _RETURN.search(rest) and not re.search(r"\d\s*(?:times|x)\b|x ?\d", rest):
                values = {"here": line_name(line)}
                yield Hit(Span(*stars[0].span()), values, round_number=_number(line))


def _repeats(steps: tuple[Step, ...]) -> Iterator[Repeat]:
    for step in steps:
        if isinstance(step, Repeat):
            yield step
            yield from _repeats(step.steps)


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None
