"""Group N: references to other rows, parts, markers and pictures."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from craft.notation.tree import AsRound, Line, Marker, Place, Section, Skip, Span, Unworked, Work
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, listed, quoted, round_name
from craft.techedit.finding import Level
from craft.techedit.misfits import slips_of
from craft.techedit.registry import Hit, check
from craft.techedit.widths import plain

# ----------------------------------------------------------------------------------- N1, N2


@check("repeated-row-not-there", "N1", Level.ERROR)
def repeated_row_not_there(case: Case) -> Iterator[Hit]:
    """A repeated row, as in "repeat Row n", is there and comes earlier.

    Why: "repeat Row 12" in a part of nine rows was right before three rows were taken out.

    Wrong:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Repeat Row 12.
    Right:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Repeat Row 2.

    Limits: a row of another part that is named, or of the part before where this one goes on with
    it, is fine; parts with stretches that were not understood are left alone.

    Trade checks: N1.
    """
    reached = 0
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        known = {number for line in lines for number in line.label.numbers}
        reached = max(known | {reached})
        if _unsure(section, lines):
            continue
        for line in lines:
            for step in line.steps:
                if isinstance(step, AsRound) and step.part is None:
                    by_size = "(" in case.words_at(step.span) or case.for_some_sizes(line)
                    missing = [n for n in step.numbers if n not in known and n > reached]
                    missing = [] if by_size else missing
                    if missing and known:
                        values = {
                            "here": line_name(line),
                            "missing": listed(str(n) for n in missing),
                            "last": max(known),
                        }
                        yield Hit(step.span, values, round_number=_number(line))


def _unsure(section: Section, lines: Sequence[Line]) -> bool:
    unnumbered = any(not line.label.numbers and line.label.word for line in lines)
    return section.continues or unnumbered or not any(line.label.numbers for line in lines)


@check("repeated-row-does-not-fit", "N2", Level.ERROR)
def repeated_row_does_not_fit(case: Case) -> Iterator[Hit]:
    """A row that is repeated works on the count that there is now.

    Why: Row 4 has fixed numbers for 36 stitches; repeated on 38 it leaves two.

    Wrong:
        Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn (12)
        Row 2: Ch 1, (sc in next 2 sts, dc in next st) 4 times, turn (12)
        Row 3: Ch 1, 2 sc in first st, sc in next 10 sts, 2 sc in last st, turn (14)
        Row 4: Repeat Row 2.
    Right:
        Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn (12)
        Row 2: Ch 1, (sc in next 2 sts, dc in next st) 4 times, turn (12)
        Row 3: Ch 1, sc in each st across, turn (12)
        Row 4: Repeat Row 2.

    Trade checks: N2.
    """
    for slip in slips_of(case):
        if slip.slug != "repeated-row-does-not-fit":
            continue
        again = next(step for step in slip.worked.line.steps if isinstance(step, AsRound))
        if set(again.numbers) & set(slip.worked.line.label.numbers):
            continue  # "4th and 5th rows: as 3rd and 4th rows" speaks of itself
        values = {
            "here": round_name(slip.worked),
            "words": quoted(case, *again.span),
            "available": slip.misfit.available,
            "left": abs(slip.misfit.left),
            "way": "left over" if slip.misfit.left > 0 else "too few",
        }
        line = slip.worked.source or slip.worked.line
        sure = case.trusted(slip.worked) and plain(line.steps) and slip.small
        level = None if sure else Level.WARNING
        yield Hit(again.span, values, level=level, round_number=slip.worked.number)


# ----------------------------------------------------------------------------------- N3, N4

_AS_OTHER_SIDE = re.compile(
    r"\b(?:(?:work|make)\s+(?:\w+\s+){0,3}?)?(?:same|identical|identically) (?:as"
    r"|to) (?:the )?(?P<side>left|right|first)\b"
    r"|\bas for (?:the )?(?P<side2>left|right)\b",
    re.IGNORECASE,
)
_REVERSED = re.compile(r"\brevers|\bmirror|\bopposite|\brev\b", re.IGNORECASE)
_SIDED = ("front", "shoulder", "neck", "sleeve", "armhole", "half")


@check("mirror-not-said", "N3", Level.WARNING)
def mirror_not_said(case: Case) -> Iterator[Hit]:
    """A piece made "same as left front" says what is to be reversed.

    Why: worked the very same, two left fronts come off the hook.

    Wrong:
        LEFT FRONT
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Row 2: Ch 1, sc2tog, sc in each st across, turn (19)

        RIGHT FRONT
        Work same as left front.
    Right:
        LEFT FRONT
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Row 2: Ch 1, sc2tog, sc in each st across, turn (19)

        RIGHT FRONT
        Work same as left front, reversing all shaping.

    Limits: asked for fronts, shoulders, necks, sleeves and halves that are shaped.

    Trade checks: N3.
    """
    for match in _AS_OTHER_SIDE.finditer(case.text) if case.says_any("left", "right") else ():
        end = case.text.find("\n\n", match.end())
        around = case.text[max(0, match.start() - 80) : end if end > 0 else match.end() + 160][:320].lower()
        sided = (match["side"] or match["side2"]).lower() != "first"
        if sided and any(word in around for word in _SIDED) and not _REVERSED.search(around):
            yield Hit(Span(match.start(), match.end()), {"words": match[0]})


@check("as-before-has-two-meanings", "N4", Level.WARNING)
def as_before_has_two_meanings(case: Case) -> Iterator[Hit]:
    """A part that is named, as in "work as for border", is one part only.

    Why: with two borders above, half of the makers take the other.

    Wrong:
        BORDER
        Rnd 1: 40 sc in magic ring (40)

        BORDER
        Rnd 1: 60 sc in magic ring (60)

        FRAME
        Work as for border.
    Right:
        FIRST BORDER
        Rnd 1: 40 sc in magic ring (40)

        SECOND BORDER
        Rnd 1: 60 sc in magic ring (60)

        FRAME
        Work as for second border.

    Limits: compares the part that is named with the headings above, word for word.

    Trade checks: N4.
    """
    titles = [(section.title.lower().strip(" :"), section) for section in case.sections if section.title]
    for match in _AS_FOR.finditer(case.text) if case.says_any("as") else ():
        name = match["name"].lower()
        same = [t for t, s in titles if t == name and s.span.start < match.start()]
        if len(same) > 1:
            yield Hit(Span(match.start(), match.end()), {"words": match[0], "name": name, "times": len(same)})


_AS_FOR = re.compile(r"\b(?:as (?:for|given for)|same as) (?:the )?(?P<name>[A-Za-z]+)\b", re.IGNORECASE)

# --------------------------------------------------------------------------------------- N5

_PICTURE = re.compile(
    r"\b(?P<what>photo|picture|figure|fig|step photo|image)\.?\s*(?:no\.?\s*)?(?P<n>\d{1,3})\b", re.IGNORECASE
)


@check("picture-missing-in-sequence", "N5", Level.WARNING)
def picture_missing_in_sequence(case: Case) -> Iterator[Hit]:
    """Pictures are numbered in order and none is left out.

    Why: a reader who meets photo 15 after photo 13 looks for the one between.

    Wrong:
        Rnd 1: 6 sc in magic ring (photo 1) (6)
        Rnd 2: inc x 6 (photo 2) (12)
        Rnd 3: (sc, inc) x 6 (photo 4) (18)
    Right:
        Rnd 1: 6 sc in magic ring (photo 1) (6)
        Rnd 2: inc x 6 (photo 2) (12)
        Rnd 3: (sc, inc) x 6 (photo 3) (18)

    Limits: needs three numbered pictures; a picture may be named more than once.

    Trade checks: N5.
    """
    if not case.says_any("photo", "picture", "figure", "fig", "image"):
        return
    reached = 0
    found = [(int(m["n"]), m) for m in _PICTURE.finditer(case.text)]
    if len({n for n, _ in found}) < 3 or found[0][0] != 1:
        return
    for number, match in found:
        if number > reached + 1:
            values = {"words": match[0], "missing": listed(str(n) for n in range(reached + 1, number))}
            yield Hit(Span(match.start(), match.end()), values)
        reached = max(reached, number)


# ----------------------------------------------------------------------------------- N6, N7


@check("marker-never-placed", "N6", Level.WARNING)
def marker_never_placed(case: Case) -> Iterator[Hit]:
    """A marker is placed before the work goes to it.

    Why: "sc in each st to marker" with no marker on the work.

    Wrong:
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Row 2: Ch 1, sc in each st to marker, turn
    Right:
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, place marker in 10th st, turn
        (20)
        Row 2: Ch 1, sc in each st to marker, turn

    Limits: any word of placing, moving or marking before it is enough.

    Trade checks: N6.
    """
    if not case.says_any("marker", "markers", "marked"):
        return
    placed = [s.start for w in _PLACING for s in case.spans_of(w)]
    placed += [spot.step.span.start for spot in case.spots if isinstance(spot.step, Marker)]
    for spot in case.spots:
        place = _place_of(spot.step)
        if place is None or "marker" not in (place.what, place.until):
            continue
        if not any(at < spot.step.span.start for at in placed):
            values = {"words": quoted(case, *spot.step.span), "here": line_name(spot.line)}
            yield Hit(spot.step.span, values, round_number=_number(spot.line))
            return


_PLACING = ("place", "pm", "mark", "insert", "attach", "placing", "marking", "put", "position", "move")


def _place_of(step: object) -> Place | None:
    return step.place if isinstance(step, (Work, Skip)) else None


_TAKEN_UP = ("unworked", "skipped", "remaining", "rem", "free", "rejoin", "evenly", "missed", "held")


@check("unworked-never-taken-up", "N7", Level.NOTE)
def unworked_never_taken_up(case: Case) -> Iterator[Hit]:
    """Stitches that are left unworked are taken up again, or said to stay.

    Why: twelve neck stitches that no later line speaks of leave a raw edge.

    Wrong:
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Row 2: Ch 1, sc in next 12 sts, leave last 8 sts unworked, turn (12)
        Row 3: Ch 1, sc in each st across, fasten off (12)
    Right:
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Row 2: Ch 1, sc in next 12 sts, leave last 8 sts unworked for the thumb, turn (12)
        Row 3: Ch 1, sc in each st across, fasten off (12)
        Rejoin yarn in first unworked st.

    Limits: any later word of joining there, of unworked, skipped or remaining stitches or of an
    edging is enough; said only where four stitches or more are left by number.

    Trade checks: N7.
    """
    left = [
        spot
        for spot in case.spots
        if isinstance(spot.step, Unworked) and spot.step.number and (spot.step.number[0] or 0) >= 4
    ]
    if not left:
        return
    last = left[-1]
    later = [
        span.start
        for word in (*_TAKEN_UP, "edging", "border", "neckband", "seam", "sew", "edge", "join", "around")
        for span in case.spans_of(word)
        if span.start > last.line.span.end
    ]
    if not later and isinstance(last.step, Unworked) and last.step.number:
        values = {"here": line_name(last.line), "left": last.step.number[0] or 0}
        yield Hit(last.step.span, values, round_number=_number(last.line))


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None
