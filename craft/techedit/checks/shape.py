"""Group O: shape and geometry."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from craft.fabric.model import WorkedRound, WorkedSection
from craft.notation.tree import Chain, Evenly, Numbers, Repeat, Skip, Span, Step, Work
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted, round_name
from craft.techedit.facts import Gauge
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check
from craft.techedit.stagger import staggered
from craft.techedit.widths import width

# Bands of the flatness index F = stitches * width / (2 pi * distance from the centre). Published
# worsted sc at 6 a round gives 1.10 and hdc at 10 a round 1.22, both worked flat, so only what lies
# well outside is spoken of. The bands are this house's own and not a standard.
_BOWL, _RUFFLE = 0.80, 1.25
_FLAT_KINDS = frozenset({"coaster", "blanket"})


@check("disc-does-not-lie-flat", "O1", Level.WARNING, needs="gauges")
def disc_does_not_lie_flat(case: Case) -> Iterator[Hit]:
    """A flat disc grows as fast as its gauge asks: 2 pi x stitch gauge / row gauge stitches a round.

    Why: 8 a round in single crochet as high as it is wide makes waves; 6 lies flat.

    Wrong:
        Title: Harbour Coaster
        Gauge: 16 sc and 16 rows = 10 cm
        Rnd 1: 9 sc in magic ring (9)
        Rnd 2: inc x 9 (18)
        Rnd 3: (sc, inc) x 9 (27)
        Rnd 4: (sc 2, inc) x 9 (36)
        Rnd 5: (sc 3, inc) x 9 (45)
    Right:
        Title: Harbour Coaster
        Gauge: 16 sc and 16 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)

    Limits: parts that grow from a ring in one stitch by the same number for four rounds or more, in
    the stitch of the gauge; judged from the size reached. Ruffles and bowls that are meant are let
    pass.

    Trade checks: O1.
    """
    meant = case.says_any("ruffle", "ruffled", "frill", "bowl", "wave", "wavy", "hyperbolic", "basket", "cup")
    for section in case.fabric.sections if not meant else ():
        disc = _disc(section)
        gauge = _gauge_for(case, disc[-1]) if disc else None
        if gauge is None or not gauge.stitches_per_10_cm or not gauge.rows_per_10_cm:
            continue
        last = disc[-1].per_size[0]
        if last is None:
            continue
        index = last.total / gauge.stitches_per_10_cm / (2 * math.pi * len(disc) / gauge.rows_per_10_cm)
        exact = 2 * math.pi * gauge.stitches_per_10_cm / gauge.rows_per_10_cm
        rate = _rate(disc)
        flat = case.facts.kind in _FLAT_KINDS
        values = {"here": round_name(disc[-1]), "rate": rate, "exact": f"{exact:.1f}"}
        if index > _RUFFLE:
            yield Hit(disc[-1].line.label.span, values, "ruffles", round_number=disc[-1].number)
        elif index < _BOWL and flat:
            yield Hit(disc[-1].line.label.span, values, "bowls", round_number=disc[-1].number)


def _disc(section: WorkedSection) -> list[WorkedRound]:
    """The rounds from a ring that grow by one number a round; [] where fewer than four do."""
    disc: list[WorkedRound] = []
    for worked in section.rounds:
        sized = worked.per_size[0] if worked.per_size else None
        if sized is None or worked.kind != "round" or len(sized.by_kind) != 1:
            break
        if (
            disc
            and disc[-1].per_size[0]
            and sized.total - disc[-1].per_size[0].total != _rate(disc, sized.total)
        ):
            break
        disc.append(worked)
    first = disc[0].per_size[0] if disc else None
    grows = len(disc) >= 4 and first is not None and first.total == _rate(disc)
    return disc if grows else []


def _rate(disc: Sequence[WorkedRound], then: int | None = None) -> int:
    """Stitches added from the first round to the second."""
    totals = [r.per_size[0].total for r in disc[:2] if r.per_size[0]]
    totals += [then] if then is not None and len(totals) < 2 else []
    return totals[1] - totals[0] if len(totals) > 1 else totals[0]


def _gauge_for(case: Case, worked: WorkedRound) -> Gauge | None:
    sized = worked.per_size[0]
    name = sized.by_kind[0][0] if sized else None
    return next((g for g in case.facts.gauges if g.stitch == name), None)


@check("increases-stacked", "O2", Level.NOTE, needs="kind")
def increases_stacked(case: Case) -> Iterator[Hit]:
    """Increases that stand above each other round after round make corners; staggered they make a
    circle.

    Why: six stacked increases stick out by 15 % after many rounds: a hexagon.

    Wrong:
        Title: Harbour Doily
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)
        Rnd 6: (sc 4, inc) x 6 (36)
        Rnd 7: (sc 5, inc) x 6 (42)
        Rnd 8: (sc 6, inc) x 6 (48)
        Rnd 9: (sc 7, inc) x 6 (54)
        Rnd 10: (sc 8, inc) x 6 (60)
        Rnd 11: (sc 9, inc) x 6 (66)
        Rnd 12: (sc 10, inc) x 6 (72)
    Right:
        Title: Harbour Doily
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)

    Limits: flat pieces (coasters, mats, doilies, blankets) of eight rounds or more with the
    increase always at the end of the group; toys and hats, where it is hardly seen, are left alone,
    as is a text that speaks of a hexagon. The rewrite keeps every count; it is worked before it is
    offered, and not offered where the round has more in it than one repeat.

    Trade checks: O2.
    """
    meant = case.says_any("hexagon", "octagon", "pentagon", "corner", "corners", "hexagonal")
    if case.facts.kind not in _FLAT_KINDS or meant:
        return
    for section in case.fabric.sections:
        stacked = [r for r in section.rounds if _one_group(r.line.steps)]
        if len(stacked) >= 8 and len(stacked) >= len(section.rounds) - 3:
            corners = _one_group(stacked[-1].line.steps)
            values = {"here": round_name(stacked[-1]), "rounds": len(stacked), "corners": corners}
            k = (width(_group(stacked[-1].line.steps)) or 4) - 2
            yield Hit(
                stacked[-1].line.label.span, {**values, "half": k // 2}, suggestion=staggered(case, stacked)
            )


def _group(steps: Sequence[Step]) -> tuple[Step, ...]:
    repeats = [step for step in steps if isinstance(step, Repeat)]
    return repeats[0].steps if len(repeats) == 1 else ()


def _one_group(steps: Sequence[Step]) -> int:
    """The times of a line that is one repeat of plain stitches and a closing increase, else 0."""
    group = _group(steps)
    works = [step for step in steps if isinstance(step, Work)]
    repeat = next((step for step in steps if isinstance(step, Repeat)), None)
    closing = group[-1] if group else None
    increases = isinstance(closing, Work) and (closing.stitch.makes > 1 or closing.each == (2,))
    if repeat is None or works or not increases or len(group) != 2:
        return 0
    return (repeat.times.number or (6,))[0] or 0


# --------------------------------------------------------------------------------------- O3

_EVERY = re.compile(
    r"\bevery (?:(?P<n>\d+)(?:st|nd|rd|th)|(?P<word>other|2nd|alternate|alt))? ?(?:rows?|rnds?"
    r"|rounds?)\b[^.\n]{0,30}?"
    r"(?P<times>\d+) (?:more )?times\b[^.\n]{0,60}?\b(?:in|over"
    r"|within) (?:the (?:next )?)?(?P<rows>\d+) (?:rows|rnds|rounds)\b",
    re.IGNORECASE,
)


@check("shaping-needs-more-rows", "O3", Level.ERROR)
def shaping_needs_more_rows(case: Case) -> Iterator[Hit]:
    """Shaping every n-th row so many times fits into the rows that there are.

    Why: twelve times every 4th row takes 48 rows; 44 are to be worked.

    Wrong:
        Row 1: Ch 61, sc in 2nd ch from hook and in each ch across, turn (60)
        Decrease 1 st each end of every 4th row 12 times in 44 rows.
    Right:
        Row 1: Ch 61, sc in 2nd ch from hook and in each ch across, turn (60)
        Decrease 1 st each end of every 4th row 11 times in 44 rows.

    Limits: reads a sentence that names the rate, the times and the rows together.

    Trade checks: O3.
    """
    for match in _EVERY.finditer(case.text) if case.says_any("every") else ():
        every = int(match["n"]) if match["n"] else 2 if match["word"] else 1
        times, rows = int(match["times"]), int(match["rows"])
        if every * times > rows + every - 1:
            values = {"words": match[0], "every": every, "times": times, "needs": every * times, "rows": rows}
            values["fits"] = rows // every
            yield Hit(Span(match.start(), match.end()), values)


# --------------------------------------------------------------------------------------- O6

_ROW_ENDS = re.compile(
    r"\b(?P<n>\d+) (?P<stitch>sc|hdc|dc) (?:in|into|for|along) (?:each|every|the end of (?:each"
    r"|every)) row(?:[ -]ends?)?\b"
    r"|\b(?P<stitch2>sc|hdc|dc) in (?:each|every|the end of (?:each|every)) row[ -]?end\b",
    re.IGNORECASE,
)


@check("pick-up-rate-off", "O6", Level.WARNING, needs="gauges")
def pick_up_rate_off(case: Case) -> Iterator[Hit]:
    """Stitches along row ends are as many as the gauge asks: stitch gauge / row gauge for each row.

    Why: one stitch in every row end at 16 stitches and 20 rows flares; four in five rows lie flat.

    Wrong:
        Gauge: 14 sc and 20 rows = 10 cm
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        EDGING
        Work 1 sc in each row end along both sides.
    Right:
        Gauge: 16 dc and 8 rows = 10 cm
        Row 1: Ch 13, dc in 4th ch from hook and in each ch across, turn (11)
        EDGING
        Work 2 sc in each row end along both sides.

    Limits: said where the rate is out by more than a quarter; the gauge is the body's, which the
    border may not share.

    Trade checks: O6.
    """
    gauge = case.facts.gauge
    if gauge is None or not gauge.stitches_per_10_cm or not gauge.rows_per_10_cm or not case.says_any("row"):
        return
    right = gauge.stitches_per_10_cm / gauge.rows_per_10_cm
    for match in _ROW_ENDS.finditer(case.text):
        said = int(match["n"] or 1)
        if not 0.75 <= said / right <= 1.3:
            values = {"words": match[0], "said": said, "right": _in_rows(right)}
            values["way"] = "flares" if said > right else "pulls in"
            yield Hit(Span(match.start(), match.end()), values)


def _in_rows(rate: float) -> str:
    """A rate as whole stitches in whole rows: 0.8 -> "4 stitches in 5 rows"."""
    rows = min(range(1, 9), key=lambda n: (abs(round(n * rate) / n - rate) > 0.06, n))
    return f"{round(rows * rate)} stitches in {rows} {'row' if rows == 1 else 'rows'}"


# --------------------------------------------------------------------------------------- O7


@check("evenly-without-spacing", "O7", Level.NOTE)
def evenly_without_spacing(case: Case) -> Iterator[Hit]:
    """What is to be done "evenly" has a spacing that can be written out.

    Why: "increase 13 evenly" over 72 stitches sends the maker to pencil and paper; the groups are 5
    and 6.

    Wrong:
        Rnd 1: 72 sc in magic ring (72)
        Rnd 2: sc around, increasing 13 sts evenly (85)
    Right:
        Rnd 1: 72 sc in magic ring (72)
        Rnd 2: (sc in next 5 sts, inc) 12 times (84)

    Limits: offers the groups; each group ends with the increase. The rule is
    floor((i + 1) N / k) - floor(i N / k) stitches for group i.

    Trade checks: O7.
    """
    for before, worked in case.pairs:
        below = before.per_size[0] if before and before.per_size else None
        for step in worked.line.steps:
            change = _single(step.change) if isinstance(step, Evenly) else None
            if below is None or not change or abs(change) < 3 or below.total < 2 * abs(change):
                continue
            groups = _groups(below.total, abs(change))
            values = {"words": quoted(case, *step.span), "here": round_name(worked), "total": below.total}
            values |= {
                "change": abs(change),
                "groups": groups,
                "way": "increase" if change > 0 else "decrease",
            }
            yield Hit(step.span, values, round_number=worked.number)


def _single(numbers: Numbers | None) -> int | None:
    return numbers[0] if numbers and len(numbers) == 1 else None


def _groups(total: int, change: int) -> str:
    """Such as "6 groups of 5 and 7 of 6"."""
    sizes = [(i + 1) * total // change - i * total // change for i in range(change)]
    small = min(sizes)
    few, many = sizes.count(small), change - sizes.count(small)
    first = f"{few} groups of {small} stitches"
    return f"{first} and {many} of {small + 1}" if many else first


# --------------------------------------------------------------------------------------- O8


@check("openings-off-centre", "O8", Level.WARNING)
def openings_off_centre(case: Case) -> Iterator[Hit]:
    """Two handles or openings in a round stand opposite each other.

    Why: 28, 10, 30, 10 on 78 stitches puts one handle a stitch off the middle; 29, 10, 29, 10 does
    not.

    Wrong:
        Rnd 1: 40 sc in magic ring (40)
        Rnd 2: sc in next 9 sts, ch 10, skip 10 sts, sc in next 11 sts, ch 10, skip 10 sts
    Right:
        Rnd 1: 40 sc in magic ring (40)
        Rnd 2: sc in next 10 sts, ch 10, skip 10 sts, sc in next 10 sts, ch 10, skip 10 sts

    Limits: lines of plain stitches with just two equal openings of three stitches or more; the
    stitches before the first and after the last are taken together.

    Trade checks: O8.
    """
    for line in case.lines:
        parts = _parts(line.steps) if sum(isinstance(step, Skip) for step in line.steps) == 2 else None
        if parts is None:
            continue
        plain, holes = parts
        if len(holes) == 2 and holes[0] == holes[1] >= 3 and len(plain) == 3:
            outer, middle = plain[0] + plain[2], plain[1]
            if outer != middle and abs(outer - middle) <= 4 and line.label.kind.value == "round":
                values = {"here": line_name(line), "first": outer, "second": middle, "hole": holes[0]}
                half, rest = divmod(outer + middle, 2)
                values["even"] = f"{half}" if not rest else f"{half} and {half + 1}"
                yield Hit(line.label.span, values)


def _parts(steps: Sequence[Step]) -> tuple[list[int], list[int]] | None:
    """Plain stitches between openings and the stitches of each opening; None for any other line."""
    plain, holes = [0], []
    for first, second in pairwise([*steps, None]):
        if isinstance(first, Work):
            taken = width([first])
            if taken is None or first.stitch.uses != 1:
                return None
            plain[-1] += taken
        elif isinstance(first, Skip) and isinstance(second, (Chain, Work, type(None))):
            number = _single(first.place.number)
            if number is None:
                return None
            holes.append(number)
            plain.append(0)
        elif isinstance(first, Repeat):
            return None
    return plain, holes


# --------------------------------------------------------------------------------------- O9

_STUFF = ("stuff", "stuffing", "fill", "fiberfill", "fibrefill", "polyfill")


@check("stuffed-after-closing", "O9", Level.WARNING)
def stuffed_after_closing(case: Case) -> Iterator[Hit]:
    """A part is stuffed before it is closed.

    Why: "close the hole. Stuff the body" cannot be done in that order.

    Wrong:
        BODY
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc in each st around (12)
        Rnd 4: sc2tog around (6)
        Fasten off and close the opening. Stuff the body firmly.
    Right:
        BODY
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc in each st around (12)
        Stuff the body firmly.
        Rnd 4: sc2tog around (6)
        Fasten off and close the opening.

    Limits: looks at the order of words within one part that is closed with eight stitches or fewer.

    Trade checks: O9.
    """
    for section, lines in zip(case.fabric.sections, case.lines_by_section, strict=True):
        last = section.rounds[-1].per_size[0] if section.rounds else None
        if last is None or last.total > 8 or not lines:
            continue
        start, end = section.section.span.start, _end_of(case, section)
        stuffed = [s for w in _STUFF for s in case.spans_of(w) if start <= s.start < end]
        closed = _CLOSE.search(case.text, lines[-1].span.start, end)
        if stuffed and closed and min(stuffed).start > closed.end():
            yield Hit(min(stuffed), {"words": closed[0], "part": section.section.title or "the part"})


_CLOSE = re.compile(
    r"\b(?:close (?:the )?(?:hole|opening|up|gap)|pull (?:tight|closed)|sew (?:the )?(?:hole"
    r"|opening) (?:closed|shut))",
    re.IGNORECASE,
)


def _end_of(case: Case, section: WorkedSection) -> int:
    later = [s.span.start for s in case.sections if s.span.start > section.section.span.start]
    return min(later, default=len(case.text))
