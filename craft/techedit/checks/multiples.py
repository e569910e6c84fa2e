"""Group K: multiples of a stitch pattern."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from craft.notation.tree import Chain, How, Line, Repeat, Span, Work
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted, round_name
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check
from craft.techedit.widths import width

_NUMBER_WORDS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10, "twelve": 12}
_MULTIPLE = re.compile(
    r"\bmultiple (?:of )?(?P<m>\d+|two|three|four|five|six|eight|ten|twelve)\b(?:\s*(?:sts?|stitches"
    r"|chs?|chains)\b)?"
    r"(?:\s*(?:\+|plus)\s*(?P<e>\d+)(?![\d,]*\s*(?:for|to turn)))?"
    r"(?P<turn>[^.\n)]{0,24}?(?:\+|plus|add)\s*(?P<t>\d+)\s*(?:for|to turn|turning|chs?)?)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Multiple:
    """A stated multiple: m k + e, with the chains added for turning where they are said."""

    m: int
    e: int
    turning: int | None
    span: Span


def _stated(case: Case) -> Iterator[_Multiple]:
    for match in _MULTIPLE.finditer(case.text) if case.says_any("multiple") else ():
        m = int(match["m"]) if match["m"].isdigit() else _NUMBER_WORDS[match["m"].lower()]
        turning = int(match["t"]) if match["t"] else None
        yield _Multiple(m, int(match["e"] or 0), turning, Span(match.start(), match.end()))


def _repeats(case: Case, after: int) -> Iterator[tuple[Line, Repeat, int]]:
    """Repeats that run to the end of a line, with the width of one pass, in the part that a place is
    in.
    """
    for lines in case.lines_by_section:
        if not lines or lines[-1].span.end < after:
            continue
        for line in lines:
            for step in line.steps:
                open_end = isinstance(step, Repeat) and (
                    step.times.to_end or step.times.until_left is not None
                )
                if isinstance(step, Repeat) and open_end and (one := width(step.steps)):
                    yield line, step, one
        return


@check("multiple-is-another", "K1 H5", Level.WARNING)
def multiple_is_another(case: Case) -> Iterator[Hit]:
    """The multiple that the notes state is the one that the repeat takes.

    Why: makers change sizes by it. A note of 4 + 1 over a repeat of 6 gives a chain that never
    comes out.

    Wrong:
        Notes: Worked over a multiple of 4 + 1 stitches.
        Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn (19)
        Row 2: Ch 1, sc in first st, *skip 2 sts, 5 dc in next st, skip 2 sts, sc in next st; rep
        from * across, turn
    Right:
        Notes: Worked over a multiple of 6 + 1 stitches.
        Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn (19)
        Row 2: Ch 1, sc in first st, *skip 2 sts, 5 dc in next st, skip 2 sts, sc in next st; rep
        from * across, turn

    Limits: a repeat that divides the multiple, or that the multiple divides, fits; repeats over
    spaces are left alone.

    Trade checks: K1, H5.
    """
    for stated in _stated(case):
        found = list(_repeats(case, stated.span.start))
        fitting = [one for _, _, one in found if stated.m % one == 0 or one % stated.m == 0]
        if found and not fitting:
            line, step, one = found[0]
            values = {
                "note": quoted(case, *stated.span),
                "multiple": stated.m,
                "repeat": one,
                "here": line_name(line),
                "words": quoted(case, *step.span, longest=40),
            }
            yield Hit(stated.span, values)
            return


@check("chain-is-no-multiple", "K2", Level.WARNING)
def chain_is_no_multiple(case: Case) -> Iterator[Hit]:
    """The foundation chain is the multiple of the pattern with what is added for the turn.

    Why: "multiple of 6 + 2, add 2 for turning: ch 118" fits only with both added. Printing the sum
    removes the doubt.

    Wrong:
        Notes: Multiple of 6 + 1.
        Row 1: Ch 23, sc in 2nd ch from hook and in each ch across, turn
    Right:
        Notes: Multiple of 6 + 1.
        Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn

    Limits: the chain may hold the multiple with the chains that the first row skips, or without
    them; only one that fits neither way is mentioned.

    Trade checks: K2.
    """
    if len(case.draft.sizes) > 1:
        return
    for stated in _stated(case):
        chain = _foundation(case, stated.span.start)
        if chain is None or stated.m < 3:
            continue
        step, number, skipped = chain
        extras = {0, stated.turning or 0, skipped}
        if not any((number - stated.e - extra) % stated.m == 0 for extra in extras):
            low = (number - stated.e) // stated.m
            values = {
                "chain": number,
                "m": stated.m,
                "e": stated.e,
                "below": stated.m * low + stated.e + skipped,
                "above": stated.m * (low + 1) + stated.e + skipped,
                "skipped": skipped,
            }
            yield Hit(step.span, values)


def _foundation(case: Case, after: int) -> tuple[Chain, int, int] | None:
    """The first long chain of the part that the note stands in or before, with the chains that the
    first row skips.
    """
    chain: Chain | None = None
    for spot in case.spots:
        step = spot.step
        if isinstance(step, Chain) and step.span.start >= after - 60 and (step.number[0] or 0) >= 10:
            chain = chain or step
        if chain and isinstance(step, Work) and step.place.how is How.HOOK and step.place.ordinal:
            return chain, chain.number[0] or 0, step.place.ordinal - 1
        if chain and isinstance(step, (Work, Repeat)):
            return None
    return None


@check("pattern-resumes-off-multiple", "K4", Level.WARNING)
def pattern_resumes_off_multiple(case: Case) -> Iterator[Hit]:
    """After shaping, the stitch pattern goes on with a count that it divides.

    Why: a yoke of 94 on a pattern of 6 + 1 has a broken repeat at its end for the rest of the
    garment.

    Wrong:
        Notes: Multiple of 6 + 1.
        Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn (19)
        Row 2: Ch 1, sc in first st, *skip 2 sts, 5 dc in next st, skip 2 sts, sc in next st; rep
        from * across, turn
        Row 3: Ch 1, sc in next 17 sts, leave rem sts unworked, turn (17)
        Resume pattern over these 17 stitches.
    Right:
        Notes: Multiple of 6 + 1.
        Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn (19)
        Row 2: Ch 1, sc in first st, *skip 2 sts, 5 dc in next st, skip 2 sts, sc in next st; rep
        from * across, turn
        Row 3: Ch 1, sc in next 13 sts, leave rem sts unworked, turn (13)
        Resume pattern over these 13 stitches.

    Limits: reads a count that is named where the pattern resumes.

    Trade checks: K4.
    """
    stated = next(_stated(case), None)
    if stated is None:
        return
    for match in _RESUMES.finditer(case.text):
        count = int(match["n"])
        if (count - stated.e) % stated.m:
            low = (count - stated.e) // stated.m * stated.m + stated.e
            values = {"words": match[0], "count": count, "m": stated.m, "e": stated.e}
            span = Span(match.start(), match.end())
            yield Hit(span, {**values, "below": low, "above": low + stated.m})


_RESUMES = re.compile(
    r"\b(?:resume|continue|cont|go on|return to|work)(?: in)?(?: (?:the|stitch|st"
    r"|established))* pat(?:tern|t)?\b"
    r"[^.\n]{0,30}?\b(?:over|on)\b[^.\n\d]{0,20}(?P<n>\d+) (?:sts|stitches)",
    re.IGNORECASE,
)
_MOTIF = re.compile(
    r"\b(?P<n>\d+)[ -](?:st|stitch)(?:es)? (?:colou?r |chart |colou?rwork )?(?:repeat|motif|chart)\b",
    re.IGNORECASE,
)


@check("chart-width-does-not-divide", "K6", Level.WARNING)
def chart_width_does_not_divide(case: Case) -> Iterator[Hit]:
    """The width of a colour chart divides the round that it is worked on.

    Why: a motif of 24 stitches on 100 leaves a broken motif at the round's start.

    Wrong:
        Rnd 1: Ch 50, join with sl st to form a ring.
        Rnd 2: Ch 1, sc in each ch around, join (50)
        Rnd 3: Ch 1, sc in each st around, following the 12-st chart repeat, join (50)
    Right:
        Rnd 1: Ch 48, join with sl st to form a ring.
        Rnd 2: Ch 1, sc in each ch around, join (48)
        Rnd 3: Ch 1, sc in each st around, following the 12-st chart repeat, join (48)

    Limits: reads "n-st repeat" or "n-st chart" in the line itself; rows may have edge stitches and
    are left alone.

    Trade checks: K6.
    """
    if not case.says_any("chart", "motif", "repeat"):
        return
    for match in _MOTIF.finditer(case.text):
        line = case.line_at(match.start())
        rounds = case.rounds_by_line.get(id(line), ()) if line else ()
        sized = rounds[0].per_size[0] if rounds and rounds[0].per_size else None
        motif = int(match["n"])
        if rounds and sized and rounds[0].kind == "round" and motif > 2 and sized.total % motif:
            rest = sized.total % motif
            values = {"here": round_name(rounds[0]), "motif": motif, "total": sized.total, "rest": rest}
            span = Span(match.start(), match.end())
            yield Hit(span, {**values, "times": sized.total // motif}, round_number=rounds[0].number)
