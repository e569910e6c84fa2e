"""Group P: making up."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Section, Span
from craft.techedit.case import Case
from craft.techedit.checks.words import quoted
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_NUMBERS = {"both": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "pair": 2}


def _noun(section: Section) -> str:
    """The last word of a heading in the singular: "EARS (make 2)" -> "ear"."""
    words = re.findall(r"[a-z]+", re.sub(r"\(.*?\)|\bmake\b.*", "", section.title.lower()))
    if not words:
        return ""
    last = str(words[-1])
    if last.endswith("ves"):
        return last[:-3] + "f"
    return last[:-1] if last.endswith("s") and not last.endswith("ss") else last


@check("pieces-made-and-sewn-differ", "P1", Level.WARNING)
def pieces_made_and_sewn_differ(case: Case) -> Iterator[Hit]:
    """As many pieces are made as are sewn on.

    Why: "EAR (make 1)" and "sew both ears to the head".

    Wrong:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        EAR (make 1)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        FINISHING
        Sew both ears to the head.
    Right:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        EAR (make 2)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        FINISHING
        Sew both ears to the head.

    Limits: compares the number in a heading with "both", "two" or a number before the same word
    after "sew" or "attach"; parts told under left and right headings are left alone.

    Trade checks: P1.
    """
    nouns = [_noun(section) for section in case.sections]
    for section, noun in zip(case.sections, nouns, strict=True):
        made = section.make[0] if len(section.make) == 1 else None
        stated = "make" in section.title.lower() or re.search(r"\d", section.title)
        if not noun or made is None or nouns.count(noun) > 1 or not stated:
            continue
        pattern = re.compile(
            rf"\b(?:sew|attach|join|stitch)\b[^.\n]{{0,30}}\b(?P<n>both|two|three|four|five|six"
            rf"|\d)\s+(?:\w+\s)?{noun}s\b",
            re.IGNORECASE,
        )
        match = pattern.search(case.text) if case.says_any("sew", "attach", "join", "stitch") else None
        sewn = _count(match["n"]) if match else made
        if match and sewn != made and not case.in_work(match.start()):
            values = {"part": section.title, "made": made, "sewn": sewn, "words": match[0]}
            yield Hit(Span(match.start(), match.end()), values)


def _count(word: str) -> int:
    return int(word) if word.isdigit() else _NUMBERS.get(word.lower(), 2)


_TAIL = re.compile(
    r"\b(?:tail|long end|length of yarn|end for sewing|for sewing|enough (?:yarn )?to sew|yarn end"
    r"|\d+ ?(?:\"|”|cm|in)[^.\n]{0,12}end)\b",
    re.IGNORECASE,
)


@check("no-tail-for-sewing", "P2", Level.NOTE)
def no_tail_for_sewing(case: Case) -> Iterator[Hit]:
    """A piece that is sewn on later leaves a tail for it.

    Why: the tail is free; a new strand leaves two more ends.

    Wrong:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        EAR (make 2)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, fasten off (12)

        FINISHING
        Sew ears to head.
    Right:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

        EAR (make 2)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, fasten off, leaving a long tail (12)

        FINISHING
        Sew ears to head.

    Limits: said of parts whose heading gives a number to make and that are fastened off, where no
    word of a tail stands anywhere in the text.

    Trade checks: P2.
    """
    if not case.says_any("sew") or _TAIL.search(case.text):
        return
    for section in case.sections:
        noun = _noun(section)
        stated = re.search(r"\bmake|\d", section.title, re.IGNORECASE)
        if len(noun) < 3 or not section.lines or not stated:
            continue
        match = re.search(rf"\bsew (?:the )?(?:\w+ )?{noun}s?\b", case.text, re.IGNORECASE)
        if match and match.start() > section.span.end and not case.in_work(match.start()):
            yield Hit(section.span, {"part": section.title, "words": match[0]})
            return


_BETWEEN = re.compile(
    r"\b(?:between|from)\s+(?:(?P<kind>rnds?|rounds?|rows?)\s+)?(?P<a>\d+)(?:st|nd|rd|th)?\s*(?:and|to"
    r"|&|-|–)\s*(?P<b>\d+)(?:st|nd|rd|th)?(?P<after>\s+(?:rnds?|rounds?|rows?))?\b",
    re.IGNORECASE,
)


@check("position-beyond-last-round", "P3", Level.ERROR)
def position_beyond_last_round(case: Case) -> Iterator[Hit]:
    """A place for eyes or a piece names rounds that exist.

    Why: "between Rnds 9 and 12" of a head of eight rounds.

    Wrong:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnds 3-8: sc in each st around (12)
        Place eyes between Rnds 9 and 12.
    Right:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnds 3-8: sc in each st around (12)
        Place eyes between Rnds 6 and 7.

    Limits: compares with the highest round of the whole pattern, so that a place on any part is
    fine; patterns with rounds that have no numbers, or that go on "until it measures", are left
    alone.

    Trade checks: P3.
    """
    numbered = [n for line in case.lines for n in line.label.numbers]
    endless = any(worked.repeats is None or worked.number is None for worked in case.fabric.rounds)
    if not numbered or endless or not case.says_any("between", "eyes", "place", "sew", "attach"):
        return
    highest = max(numbered)
    for match in _BETWEEN.finditer(case.text):
        named = match["kind"] or match["after"]
        if named and int(match["b"]) > highest + 1 and not case.in_work(match.start()):
            values = {"words": match[0], "highest": highest}
            yield Hit(Span(match.start(), match.end()), values)


_STEAM = re.compile(
    r"(?<!not )(?<!n['’]t )(?<!never )(?<!without )(?<!or )"
    r"\b(?:steam(?:ing)?[ -]?(?:block|press|iron)?\w*|(?:hot )?iron\b(?! ?-?on))",
    re.IGNORECASE,
)
_SYNTHETIC = frozenset({"acrylic", "polyester", "nylon", "polyamide", "microfibre", "microfiber", "chenille"})


@check("heat-against-fibre", "P4", Level.WARNING, needs="yarns")
def heat_against_fibre(case: Case) -> Iterator[Hit]:
    """Blocking suits the fibre.

    Why: hot steam kills acrylic: it goes limp and stays so.

    Wrong:
        Yarn: Gull Soft DK, 100% acrylic, 50 g / 120 m, 3 balls
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Steam block to measurements.
    Right:
        Yarn: Gull Soft DK, 100% acrylic, 50 g / 120 m, 3 balls
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Wet block to measurements.

    Limits: asked where half of the yarn or more is acrylic, polyester or nylon; a light hover of
    steam is some makers' practice, and "do not iron" is what such a yarn asks for.

    Trade checks: P4.
    """
    synthetic = [
        y for y in case.facts.yarns if sum(f.percent for f in y.fibres if f.name in _SYNTHETIC) >= 50
    ]
    steam = _STEAM.search(case.text) if case.says_any("steam", "iron", "steaming") else None
    if synthetic and steam:
        fibre = next(f.name for f in synthetic[0].fibres if f.name in _SYNTHETIC)
        yield Hit(Span(steam.start(), steam.end()), {"words": steam[0], "fibre": fibre})


_BLOCKED = re.compile(r"\b(?P<not>un|not |before |without )?block(?:ed|ing)\b", re.IGNORECASE)


@check("size-and-gauge-blocked-differently", "P5", Level.WARNING, needs="gauges measures")
def size_and_gauge_blocked_differently(case: Case) -> Iterator[Hit]:
    """Finished size and gauge are both measured blocked or both not.

    Why: lace grows by a tenth in blocking; a size measured before and a gauge after do not meet.

    Wrong:
        Finished size: 40 cm wide, unblocked
        Gauge: 16 dc and 8 rows = 10 cm, blocked
        Row 1: Ch 13, dc in 4th ch from hook and in each ch across, turn (11)
    Right:
        Finished size: 40 cm wide, blocked
        Gauge: 16 dc and 8 rows = 10 cm, blocked
        Row 1: Ch 13, dc in 4th ch from hook and in each ch across, turn (11)

    Trade checks: P5.
    """
    gauge = case.facts.gauge
    if gauge is None or gauge.blocked is None:
        return
    for measure in case.facts.measures:
        line = case.places.line_text(case.places.line(measure.span.start))
        said = _BLOCKED.search(line)
        if said and (said["not"] is None) != gauge.blocked:
            states = {True: "blocked", False: "unblocked"}
            values = {"size": states[said["not"] is None], "gauge": states[gauge.blocked]}
            yield Hit(measure.span, values)
            return


@check("stuffing-without-amount", "P6", Level.NOTE, needs="notions")
def stuffing_without_amount(case: Case) -> Iterator[Hit]:
    """The amount of stuffing is given.

    Why: a bag of 250 g or a handful? The parcel has to be ordered.

    Wrong:
        Notions: yarn needle, stuffing
        Rnd 1: 6 sc in magic ring (6)
        Stuff firmly.
    Right:
        Notions: yarn needle, 40 g stuffing
        Rnd 1: 6 sc in magic ring (6)
        Stuff firmly.

    Trade checks: P6.
    """
    for notion in case.facts.notions:
        if notion.what == "stuffing":
            line = case.places.line_text(case.places.line(notion.span.start))
            if not re.search(r"\d+\s?(?:g|oz|kg|grams?)\b", line):
                yield Hit(notion.span, {"word": quoted(case, *notion.span)})
                return
