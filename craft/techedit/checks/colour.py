"""Group M: colour."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Colour, Line, Numbers, Repeat, Span, Step, Work
from craft.techedit.case import Case, Spot
from craft.techedit.checks.words import line_name, quoted
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_CARRY_STITCHES = 12
_MANY_ENDS = 30


def _changes(case: Case) -> list[tuple[Spot, Colour]]:
    return [(spot, spot.step) for spot in case.spots if isinstance(spot.step, Colour)]


def _labels(case: Case) -> set[str]:
    return {colour.label for _, colour in _changes(case)}


_WHERE = re.compile(
    r"\blast (?:yo|yoh|yarn over|loop|pull|2 loops|two loops|st|stitch|sc|dc|hdc|\d)\b|\bfinal (?:yo"
    r"|yarn over|loop|pull)|"
    r"\b(?:new|next) (?:colou?r|yarn)\b[^.\n]{0,40}\b(?:through|loop|hook)"
    r"|\bthrough[^.\n]{0,30}\b(?:new|next) colou?r|"
    r"\bto change colou?rs?\b|\bcolou?r change\b|\bwhen changing colou?rs?\b|\bchanging colou?rs?\b"
    r"|\blast (?:2|two) loops\b",
    re.IGNORECASE,
)


@check("change-place-not-said", "M1", Level.NOTE)
def change_place_not_said(case: Case) -> Iterator[Hit]:
    """Where in the stitch a colour is changed is said once.

    Why: a change made after the stitch shows as a speck of the old colour; made at its last yarn
    over it is clean.

    Wrong:
        Rnd 1: With A, 12 sc in magic ring (12)
        Rnd 2: sc in next 6 sts, change to B, sc in next 6 sts (12)
    Right:
        Notes: Change colour at the last yarn over of the stitch before.
        Rnd 1: With A, 12 sc in magic ring (12)
        Rnd 2: sc in next 6 sts, change to B, sc in next 6 sts (12)

    Limits: asked only for changes within a line, and silent as soon as the text speaks of it
    anywhere.

    Trade checks: M1.
    """
    inner = [
        (spot, colour)
        for spot, colour in _changes(case)
        if colour.act == "change"
        and _stitches_before(spot.line, colour)
        and _stitches_after(spot.line, colour)
    ]
    if inner and not _WHERE.search(case.text):
        spot, colour = inner[0]
        yield Hit(colour.span, {"words": quoted(case, *colour.span), "here": line_name(spot.line)})


def _stitches_before(line: Line, colour: Colour) -> bool:
    return any(isinstance(s, (Work, Repeat)) and s.span.end <= colour.span.start for s in line.steps)


def _stitches_after(line: Line, colour: Colour) -> bool:
    return any(isinstance(s, (Work, Repeat)) and s.span.start >= colour.span.end for s in line.steps)


@check("part-without-colour", "M2", Level.WARNING, needs="yarns")
def part_without_colour(case: Case) -> Iterator[Hit]:
    """Each part says which colour it begins with.

    Why: a new heading and no colour: the maker looks at the picture and hopes.

    Wrong:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        BODY
        Rnd 1: With A, 8 sc in magic ring (8)
        Rnd 2: With B, 2 sc in each st around, fasten off (16)

        EAR (make 2)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 sc in each st around, fasten off (12)
    Right:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        BODY
        Rnd 1: With A, 8 sc in magic ring (8)
        Rnd 2: With B, 2 sc in each st around, fasten off (16)

        EAR (make 2)
        Rnd 1: With B, 6 sc in magic ring (6)
        Rnd 2: 2 sc in each st around, fasten off (12)

    Limits: needs a list with two letters or more, both used; a colour named in the heading or the
    words above the first line is enough.

    Trade checks: M2.
    """
    labels = {yarn.label for yarn in case.facts.yarns if yarn.label} & _labels(case)
    if len(labels) < 2:
        return
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        if not lines or section.continues or not section.title:
            continue
        head = case.text[section.span.start : lines[0].span.end]
        named = any(re.search(rf"\b{re.escape(label)}\b", head) for label in labels)
        words = {yarn.colour for yarn in case.facts.yarns if yarn.colour}
        if not named and not any(word in head.lower() for word in words) and "same" not in head.lower():
            yield Hit(section.span, {"part": section.title, "labels": " or ".join(sorted(labels))})


@check("long-carry", "M3", Level.NOTE)
def long_carry(case: Case) -> Iterator[Hit]:
    """A yarn that is carried is not carried far.

    Why: a strand over 40 stitches catches fingers and pulls the fabric in; a second ball is better.

    Wrong:
        Notes: Carry the colour not in use behind the work.
        Rnd 1: With A, 50 sc in magic ring (50)
        Rnd 2: with A, sc in next 4 sts, with B, sc in next 42 sts, with A, sc in next 4 sts (50)
    Right:
        Notes: Carry the colour not in use behind the work.
        Rnd 1: With A, 50 sc in magic ring (50)
        Rnd 2: with A, sc in next 4 sts, with B, sc in next 4 sts, with A, sc in next 42 sts (50)

    Limits: speaks of lines where a colour is taken up again in the same line after more than twelve
    stitches of another, and only where the text speaks of carrying.

    Trade checks: M3.
    """
    if not case.says_any("carry", "carrying", "carried"):
        return
    for line in case.lines:
        gap = _longest_gap(line.steps)
        if gap and gap[1] > _CARRY_STITCHES:
            values = {"here": line_name(line), "label": gap[0].label, "stitches": gap[1]}
            yield Hit(gap[0].span, values)


def _longest_gap(steps: tuple[Step, ...]) -> tuple[Colour, int] | None:
    """The colour taken up again after the most stitches of others, in one flat line."""
    left_at: dict[str, int] = {}
    best: tuple[Colour, int] | None = None
    at, current = 0, ""
    for step in steps:
        if isinstance(step, Colour):
            left_at[current] = at
            if step.label in left_at and (best is None or at - left_at[step.label] > best[1]):
                best = (step, at - left_at[step.label])
            current = step.label
        elif isinstance(step, Work):
            at += _one(step.place.number)
    return best


def _one(numbers: Numbers | None) -> int:
    return numbers[0] or 0 if numbers and len(numbers) == 1 else 0


_STRIPES = re.compile(
    r"\b(?P<stripes>\d+) stripes? of (?P<rows>\d+) (?:rows?|rnds?"
    r"|rounds?)\b[^.\n]{0,40}?\b(?P<total>\d+) (?:rows?|rnds?|rounds?)\b"
    r"|\b(?P<rows2>\d+) (?:rows?|rnds?"
    r"|rounds?)\s*[x×]\s*(?P<stripes2>\d+) stripes?\b[^.\n]{0,40}?\b(?P<total2>\d+) (?:rows?|rnds?"
    r"|rounds?)\b",
    re.IGNORECASE,
)


@check("stripes-do-not-add-up", "M4", Level.ERROR)
def stripes_do_not_add_up(case: Case) -> Iterator[Hit]:
    """The rows of the stripes make the rows that are said.

    Why: five stripes of three rows are fifteen, and the sixteenth row has no colour.

    Wrong:
        Notes: Work 5 stripes of 3 rows each, 16 rows in all.
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
    Right:
        Notes: Work 5 stripes of 3 rows each, 15 rows in all.
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)

    Trade checks: M4.
    """
    for match in _STRIPES.finditer(case.text) if case.says_any("stripe", "stripes") else ():
        stripes = int(match["stripes"] or match["stripes2"])
        rows = int(match["rows"] or match["rows2"])
        total = int(match["total"] or match["total2"])
        if stripes * rows != total:
            values = {
                "words": match[0],
                "stripes": stripes,
                "rows": rows,
                "makes": stripes * rows,
                "said": total,
            }
            yield Hit(Span(match.start(), match.end()), values)


_NAMED = re.compile(
    r"(?<![\w'-])(?P<label>[A-H]|MC|CC\d?)\s?(?:\((?P<name>[a-z]+(?: [a-z]+)?)\)"
    r"|=\s?(?P<after>[a-z]+))(?![\w-])"
)
_COLOURS = frozenset(
    [
        "white",
        "cream",
        "ivory",
        "black",
        "grey",
        "gray",
        "charcoal",
        "silver",
        "brown",
        "tan",
        "beige",
        "taupe",
        "sand",
        "camel",
        "red",
        "pink",
        "rose",
        "rust",
        "coral",
        "orange",
        "peach",
        "yellow",
        "gold",
        "mustard",
        "green",
        "olive",
        "sage",
        "mint",
        "teal",
        "turquoise",
        "aqua",
        "blue",
        "navy",
        "denim",
        "sky",
        "sea",
        "purple",
        "lilac",
        "lavender",
        "plum",
        "violet",
        "burgundy",
        "wine",
        "maroon",
        "natural",
        "ecru",
        "copper",
        "bronze",
        "lime",
    ]
)


@check("letter-and-name-disagree", "M5", Level.ERROR)
def letter_and_name_disagree(case: Case) -> Iterator[Hit]:
    """A colour letter stands for one colour name everywhere.

    Why: B is sage above and rust on page three; one of the two was changed.

    Wrong:
        Rnd 1: With A (sand), 6 sc in magic ring (6)
        Rnd 2: With B (sage), inc x 6 (12)
        Rnd 3: With B (rust), (sc, inc) x 6 (18)
    Right:
        Rnd 1: With A (sand), 6 sc in magic ring (6)
        Rnd 2: With B (sage), inc x 6 (12)
        Rnd 3: With B (sage), (sc, inc) x 6 (18)

    Limits: knows the common colour words; several versions of one piece ("Version 2:") are left
    alone.

    Trade checks: M5.
    """
    if case.says_any("version", "versions", "colorway", "colourway", "contrast"):
        return
    if case.words.isdisjoint(_COLOURS):
        return
    first = {yarn.label: yarn.colour for yarn in case.facts.yarns if yarn.label and yarn.colour}
    for match in _NAMED.finditer(case.text):
        name = match["name"] or match["after"]
        if name.split()[-1] not in _COLOURS or case.in_fact(match.start()):
            continue
        before = first.setdefault(match["label"], name)
        if before != name and before.split()[-1] in _COLOURS and before.split()[-1] != name.split()[-1]:
            values = {"label": match["label"], "name": name, "before": before}
            yield Hit(Span(match.start(), match.end()), values)
            return


@check("many-ends", "M6", Level.NOTE)
def many_ends(case: Case) -> Iterator[Hit]:
    """Where many ends have to be woven in, the pattern says how many.

    Why: 64 ends are an evening's work; a reader who knows can work over them or leave the stripes
    out.

    Wrong:
        Rnd 1: With A, 6 sc in magic ring, fasten off (6)
        Rnds 2-20: Join B, ch 1, sc in each st around, join with sl st to first sc, fasten off (6)
    Right:
        Notes: There will be about 40 ends to weave in.
        Rnd 1: With A, 6 sc in magic ring, fasten off (6)
        Rnds 2-20: Join B, ch 1, sc in each st around, join with sl st to first sc, fasten off (6)

    Limits: counts two ends for each colour joined in a round, times the pieces to be made; said
    above thirty.

    Trade checks: M6.
    """
    ends = 0
    first: Span | None = None
    for section in case.fabric.sections:
        made = section.section.make[0] or 1
        for worked in section.rounds:
            joins = [s for s in worked.line.steps if isinstance(s, Colour) and s.act == "join"]
            ends += 2 * len(joins) * made
            first = first or (joins[0].span if joins else None)
    said = re.search(
        r"\b(?:many|about \d+|\d+|lots of) ends\b|\bwork(?:ing)? over (?:the )?ends\b",
        case.text,
        re.IGNORECASE,
    )
    if first is not None and ends > _MANY_ENDS and not said:
        yield Hit(first, {"ends": ends})
