"""Group J, the marks: brackets and stars that are closed and have a return."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Line, Repeat, Span, Step
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name
from craft.techedit.finding import Level
from craft.techedit.marks import crossed, stretches, unpaired
from craft.techedit.marks import openers as openers_of
from craft.techedit.registry import Hit, check


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

    Limits: looks at lines of work, one by one; list marks such as "a)" and smiling faces are left
    alone.

    Trade checks: J6.
    """
    for line, span in stretches(case):
        lost = unpaired(case, span)
        if lost is not None:
            mark = case.text[lost]
            other = crossed(case, span, lost)
            variant = "crossed" if other else "" if mark in "([{" else "closed"
            values = {"mark": mark, "here": line_name(line), "other": other}
            yield Hit(Span(lost, lost + 1), values, variant, round_number=_number(line))


@check("star-missing", "J6", Level.WARNING)
def star_missing(case: Case) -> Iterator[Hit]:
    """A line that says "repeat from *" has its star in the line.

    Why: stars get lost when a text is converted. The sums are usually right if the star stood after
    the starting chain, but a maker has to find that out.

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, sc in next st, 2 sc in next st; rep from * around, join (18)
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join (18)

    Limits: the line is worked with the star where it fits, so that this alone is never an error.

    Trade checks: J6.
    """
    for line, span in stretches(case) if "*" in case.text else ():
        step = next((s for s in _repeats(line.steps) if s.fence == "none"), None)
        if step is None or openers_of(case, span):
            continue
        star = case.text.find("*", *span)
        if star >= 0 and not re.search(r"^[ \t]*\*", case.text[:star], re.MULTILINE):
            yield Hit(Span(star, star + 1), {"here": line_name(line)}, round_number=_number(line))


_RETURN = re.compile(
    r"\b(?:rep|repeat|reps|repeating|from|between|ending|around|across)\b|\d\s*(?:times|x)\b|\bx ?\d",
    re.IGNORECASE,
)


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

    Limits: one single star in a line with no word of repeating; a star before a number is a
    multiplication sign, one at the end may point to a footnote.

    Trade checks: J6.
    """
    for line, span in stretches(case) if "*" in case.text else ():
        words = case.text[span.start : span.end]
        openers = openers_of(case, span) if words.count("*") == 1 else []
        if openers and _begins_line(case, openers[0]):
            continue  # a mark that other lines return to
        if openers and not _RETURN.search(words[openers[0] - span.start :]):
            yield Hit(
                Span(openers[0], openers[0] + 1),
                {"here": line_name(line)},
                round_number=_number(line),
            )


def _begins_line(case: Case, at: int) -> bool:
    return not case.text[case.text.rfind("\n", 0, at) + 1 : at].strip()


def _repeats(steps: tuple[Step, ...]) -> Iterator[Repeat]:
    for step in steps:
        if isinstance(step, Repeat):
            yield step
            yield from _repeats(step.steps)


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None
