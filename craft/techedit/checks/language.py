"""Group S: language and number style."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from craft.notation.tree import Repeat, Span
from craft.techedit.case import Case, Spot
from craft.techedit.checks.words import line_name, quoted
from craft.techedit.finding import Level, Suggestion
from craft.techedit.registry import Hit, check

# Slips seen again and again in craft writing, each with the word that is meant; common practice, no source.
_SLIPS = {
    "stich": "stitch", "stiches": "stitches", "sitch": "stitch", "stitchs": "stitches", "stitche": "stitch",
    "crochett": "crochet", "croceht": "crochet", "chrochet": "crochet", "corchet": "crochet",
    "repaet": "repeat", "reapeat": "repeat", "repeate": "repeat", "rouund": "round", "roung": "round",
    "aroud": "around", "arround": "around", "arond": "around", "accross": "across", "acros": "across",
    "smae": "same", "teh": "the", "hte": "the", "fron": "front", "form hook": "from hook",
    "sip stitch": "slip stitch", "slp st": "sl st", "sl sl": "sl st", "begining": "beginning",
    "beggining": "beginning", "begininng": "beginning", "seperate": "separate", "seperately": "separately",
    "foundaton": "foundation", "fundation": "foundation", "chian": "chain", "cahin": "chain",
    "trun": "turn", "tunr": "turn", "trebel": "treble", "duoble": "double", "doulbe": "double",
    "fatsen": "fasten", "fasen": "fasten", "wieght": "weight", "lenght": "length", "widht": "width",
    "heigth": "height", "guage": "gauge", "guauge": "gauge", "gague": "gauge", "recieve": "receive",
    "untill": "until", "remaing": "remaining", "remianing": "remaining", "folowing": "following",
    "follwing": "following", "alternat": "alternate", "incease": "increase", "increse": "increase",
    "decrese": "decrease", "decease": "decrease", "finsih": "finish", "finised": "finished",
    "neddle": "needle", "neeedle": "needle", "tappestry": "tapestry", "tapestery": "tapestry",
    "wrog": "wrong", "rigth": "right", "skipp": "skip", "contine": "continue",
    "continous": "continuous", "contiue": "continue", "colro": "color", "coulor": "colour",
    "magc": "magic", "cirlce": "circle",
}  # fmt: skip
_TWO_WORDS = tuple(slip for slip in _SLIPS if " " in slip)


@check("spelling-slip", "S1", Level.WARNING)
def spelling_slip(case: Case) -> Iterator[Hit]:
    """Craft words are spelled as they should be.

    Why: "stich" is harmless, but "decease" for "decrease" is not, and a searching reader finds
    neither.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 sc in each stich around (12)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 sc in each stitch around (12)

    Limits: knows the slips that craft writing is full of, not every English word; doubled words
    ("next next") are caught too.

    Trade checks: S1.
    """
    for slip in _SLIPS.keys() & case.words:
        for span in case.spans_of(slip)[:3]:
            yield _slip(case, span, _SLIPS[slip])
    lowered = case.lowered
    for slip in _TWO_WORDS:
        at = lowered.find(slip) if slip.split()[0] in case.words else -1
        if at >= 0 and not lowered[at + len(slip) : at + len(slip) + 1].isalpha():
            yield _slip(case, Span(at, at + len(slip)), _SLIPS[slip])
    doubled = any(f"{word} {word}" in lowered for word in _OFTEN_DOUBLED)
    for match in _DOUBLED.finditer(case.text) if doubled else ():
        span = Span(match.start(), match.end())
        yield _slip(case, span, match[1], variant="doubled")


_OFTEN_DOUBLED = (
    "next", "each", "the", "same", "across", "around", "repeat", "skip", "turn", "into", "from",
)  # fmt: skip
_DOUBLED = re.compile(rf"\b({'|'.join(_OFTEN_DOUBLED)})[ \t]\1\b", re.IGNORECASE)


def _slip(case: Case, span: Span, right: str, variant: str = "") -> Hit:
    word = case.words_at(span)
    right = right.capitalize() if word[:1].isupper() else right
    return Hit(span, {"word": word, "right": right}, variant, suggestion=Suggestion(span, right))


_CHATTY = re.compile(
    r"\b(?:you will|you'll|we will|we'll|i will|i'll|you are going to|you want to|go ahead and"
    r"|you should now be \w+ing)\b[^.\n]{0,30}"
    r"\b(?:chain|crochet|work|make|do|be|sc|dc|hdc|turn|join)(?:ing)?\b",
    re.IGNORECASE,
)


@check("not-imperative", "S2", Level.NOTE)
def not_imperative(case: Case) -> Iterator[Hit]:
    """Instructions are written in one voice: the imperative.

    Why: "you will now be chaining 3" is longer than "ch 3" and hides the number.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: You will now be working 2 sc in each st around (12)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 sc in each st around (12)

    Limits: looks at lines of work; notes may chat. Said once.

    Trade checks: S2.
    """
    if not case.says_any("you", "we", "i", "you'll", "we'll", "i'll", "ahead"):
        return
    for match in _CHATTY.finditer(case.text):
        if case.in_work(match.start()):
            yield Hit(Span(match.start(), match.end()), {"words": " ".join(match[0].split())})
            return


@check("capitals-after-label-vary", "S3", Level.NOTE)
def capitals_after_label_vary(case: Case) -> Iterator[Hit]:
    """The first word after a label has a capital in every line, or in none.

    Why: mixed capitals are the first thing that an editor's eye stops at, though they mislead
    nobody.

    Wrong:
        Rnd 1: Make 6 sc in magic ring (6)
        Rnd 2: Inc in each st (12)
        Rnd 3: Sc in each st around (12)
        Rnd 4: Sc in each st around (12)
        Rnd 5: Sc in each st around (12)
        Rnd 6: Sc in each st around (12)
        Rnd 7: Sc in each st around (12)
        Rnd 8: sc in each st around (12)
    Right:
        Rnd 1: Make 6 sc in magic ring (6)
        Rnd 2: Inc in each st (12)
        Rnd 3: Sc in each st around (12)

    Limits: one line in seven or fewer that goes another way is mentioned, the first only; lines
    that begin with a number, a bracket or a star have no first word.

    Trade checks: S3.
    """
    firsts = [
        (line, case.text[at])
        for line in case.lines
        if line.label.numbers and (at := _first_letter(case, line.label.span.end)) is not None
    ]
    upper = [pair for pair in firsts if pair[1].isupper()]
    lower = [pair for pair in firsts if pair[1].islower()]
    few, many = sorted((upper, lower), key=len)
    if few and len(few) * 7 <= len(many):
        line = few[0][0]
        style = "a capital" if many is upper else "a small letter"
        yield Hit(line.label.span, {"here": line_name(line), "lines": len(many), "style": style})


def _first_letter(case: Case, at: int) -> int | None:
    """Where the first word after a label begins, None where a number or a mark stands there."""
    match = _AFTER_LABEL.match(case.text, at)
    return match.end() - 1 if match else None


_AFTER_LABEL = re.compile(r"[\s:.)–—-]{0,12}[A-Za-z]")

# ------------------------------------------------------------------------------- S4, S5, S6

_UNIT_STYLE = re.compile(r"\d(?P<space> ?)(?:cm|mm|g|m|oz|yd)\b")


@check("unit-spacing-varies", "S4", Level.NOTE)
def unit_spacing_varies(case: Case) -> Iterator[Hit]:
    """Numbers and units are set in one way: "10 cm" throughout, or "10cm" throughout.

    Why: the eye takes mixed setting for several hands at work.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm
        Hook: 5 mm
        Finished size: 24 cm wide, 30 cm long, 8 cm deep, strap 60cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Gauge: 16 sc and 18 rows = 10 cm
        Hook: 5 mm
        Finished size: 24 cm wide, 30 cm long, 8 cm deep, strap 60 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: a form used for one in four or fewer is mentioned, the first only; a unit in an
    adjective ("5-mm hook") is left alone.

    Trade checks: S4.
    """
    found = list(_UNIT_STYLE.finditer(case.text)) if case.amounts else []
    tally = Counter(bool(match["space"]) for match in found)
    few = min((True, False), key=lambda style: tally[style])
    if 0 < tally[few] * 4 <= tally[not few]:
        odd = next(match for match in found if bool(match["space"]) == few)
        usual = next(match for match in found if bool(match["space"]) != few)
        values = {"form": _around(case, odd), "usual": _around(case, usual)}
        yield Hit(Span(odd.start(), odd.end()), values)


def _around(case: Case, match: re.Match[str]) -> str:
    start = match.start()
    while start and (case.text[start - 1].isdigit() or case.text[start - 1] == "."):
        start -= 1
    return case.text[start : match.end()]


@check("one-unit-only", "S5", Level.NOTE)
def one_unit_only(case: Case) -> Iterator[Hit]:
    """Lengths stand in both systems of units everywhere, or in one everywhere.

    Why: a strap given in inches alone, in a pattern that gives all else twice, was forgotten.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm (4 in)
        Finished size: 24 cm (9 1/2 in) wide, 30 cm (12 in) long, 8 cm (3 in) deep, flap 5 cm (2 in)
        Rnd 1: 6 sc in magic ring (6)
        Work the strap until it measures 24 in.
    Right:
        Gauge: 16 sc and 18 rows = 10 cm (4 in)
        Finished size: 24 cm (9 1/2 in) wide, 30 cm (12 in) long, 8 cm (3 in) deep, flap 5 cm (2 in)
        Rnd 1: 6 sc in magic ring (6)
        Work the strap until it measures 61 cm (24 in).

    Limits: needs four lengths given in both and one that is not; hooks and other millimetres are
    left alone.

    Trade checks: S5.
    """
    paired = [pair for pair in case.amount_pairs if pair[0].cm and pair[1].cm]
    inside = {amount.span for pair in paired for amount in pair}
    alone = [
        a
        for a in case.amounts
        if a.unit in {"cm", "in"} and a.span not in inside and not _near_pair(a.span, inside)
    ]
    if len(paired) >= 4 and len(alone) == 1:
        missing = "centimetres" if alone[0].unit == "in" else "inches"
        yield Hit(alone[0].span, {"words": quoted(case, *alone[0].span), "missing": missing})


def _near_pair(span: Span, inside: set[Span]) -> bool:
    """Whether a length stands within a row of them, as in "18 x 20 cm [7 x 8 in]"."""
    return any(abs(span.start - other.end) < 14 or abs(other.start - span.end) < 14 for other in inside)


_COMMON = re.compile(r"\d(?: ?[½¼¾⅓⅔⅛]|[ -]\d/\d)")
_DECIMAL_INCH = re.compile(r"\d\.\d+ ?(?:in\b|inch|[\"”])")


@check("fraction-forms-vary", "S6", Level.NOTE)
def fraction_forms_vary(case: Case) -> Iterator[Hit]:
    """Fractions of an inch are written in one form.

    Why: 5 1/2 in one line and 5.5 in the next are the same and look as if they were not.

    Wrong:
        Finished size: 9 1/2 in wide, 11 1/2 in long, strap 5.5 in
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Finished size: 9 1/2 in wide, 11 1/2 in long, strap 5 1/2 in
        Rnd 1: 6 sc in magic ring (6)

    Limits: compares inches only; decimals of a centimetre are usual beside fractions of an inch.

    Trade checks: S6.
    """
    decimals = list(_DECIMAL_INCH.finditer(case.text)) if case.amounts else []
    common = _COMMON.search(case.text) if decimals else None
    if common:
        values = {"form": decimals[0][0], "other": common[0]}
        yield Hit(Span(decimals[0].start(), decimals[0].end()), values)


# ------------------------------------------------------------------------------- S7 to S10

_VAGUE = re.compile(
    r"\b(?:a few (?:more )?(?:rows?|rnds?|rounds?|sts|stitches|times)|some (?:more )?(?:rows|rounds"
    r"|rnds|sts|stitches)|several (?:rows|rounds|rnds|times)"
    r"|a couple (?:of )?(?:rows|rounds|rnds|sts|stitches|times)|here and there|and so on"
    r"|as many (?:rows|rounds|stitches) as you (?:like|want)|roughly \d+ (?:sts|stitches|rows))\b",
    re.IGNORECASE,
)


@check("vague-words", "S7", Level.WARNING)
def vague_words(case: Case) -> Iterator[Hit]:
    """Numbers stand where a maker needs numbers.

    Why: "work a few rows" gives one maker three and the next eight.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Work a few more rounds, then fasten off.
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Work 4 more rounds, then fasten off.

    Limits: looks for "a few", "some", "several", "a couple" and the like before rows, rounds,
    stitches and times; "to desired length" is a choice and no fault.

    Trade checks: S7.
    """
    if not case.says_any("few", "some", "several", "couple", "here", "so", "many", "roughly"):
        return
    for match in list(_VAGUE.finditer(case.text))[:3]:
        yield Hit(Span(match.start(), match.end()), {"words": match[0]})


_DEPTH = 2


@check("line-too-deep", "S8", Level.NOTE)
def line_too_deep(case: Case) -> Iterator[Hit]:
    """A line holds no more repeats inside each other than a maker can keep in mind.

    Why: three brackets within each other are read three times by everybody.

    Wrong:
        Rnd 1: 48 sc in magic ring (48)
        Rnd 2: *[(sc in next st, dc in next st) 2 times, {sc in next 2 sts, (dc in next st, sc in
        next st) 3 times} 1 time] 2 times; rep from * around
    Right:
        Rnd 1: 48 sc in magic ring (48)
        Rnd 2: *sc in next st, dc in next st; rep from * around (48)

    Limits: more than two repeats inside each other; groups worked into one place are not counted.

    Trade checks: S8.
    """
    deepest: dict[int, Spot] = {}
    for spot in case.spots:
        known = deepest.get(id(spot.line))
        if (
            isinstance(spot.step, Repeat)
            and spot.depth >= _DEPTH
            and (known is None or spot.depth > known.depth)
        ):
            deepest[id(spot.line)] = spot
    for spot in deepest.values():
        yield Hit(spot.step.span, {"here": line_name(spot.line), "depth": spot.depth + 1})


_BODY_WORDS = {
    "normal size": "a size in numbers",
    "normal sized": "a size in numbers", "regular size": "a size in numbers",
    "plus size": "the size in numbers", "plus-size": "the size in numbers", "petite": "the size in numbers",
    "flattering": "what the shape does", "problem areas": "what the shape does",
    "big girls": "the size in numbers",
    "husky": "the size in numbers", "ladies": "people, or the size", "slimming": "what the shape does",
}  # fmt: skip


@check("loaded-size-words", "S9", Level.NOTE)
def loaded_size_words(case: Case) -> Iterator[Hit]:
    """Sizes and bodies are spoken of in numbers and neutral words.

    Why: "normal size" tells everybody else that theirs is not.

    Wrong:
        Notes: This hat fits a normal size head.
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Notes: This hat fits a head of 56 cm.
        Rnd 1: 6 sc in magic ring (6)

    Limits: a short list of words; yarn and colour names may hold them.

    Trade checks: S9.
    """
    lowered = case.lowered
    for words, better in _BODY_WORDS.items():
        if words.split()[0].split("-")[0] not in case.words and words not in case.words:
            continue
        at = lowered.find(words)
        if at >= 0 and not lowered[at + len(words) : at + len(words) + 1].isalpha():
            yield Hit(Span(at, at + len(words)), {"words": case.text[at : at + len(words)], "better": better})


_ENDINGS = {
    "fasten off": r"\bfasten(?:ing)? off\b", "finish off": r"\bfinish(?:ing)? off\b",
    "break off": r"\bbreak(?:ing)? off\b",
    "bind off": r"\bbind(?:ing)? off\b", "FO": r"\bFO\b",
    "cast off": r"\bcast(?:ing)? off\b", "tie off": r"\btie off\b",
}  # fmt: skip


@check("ways-to-say-fasten-off", "S10", Level.NOTE)
def ways_to_say_fasten_off(case: Case) -> Iterator[Hit]:
    """The same act has the same phrase: fasten off is fasten off.

    Why: three phrases for one act make a careful reader look for three acts.

    Wrong:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, fasten off (12)

        EAR
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, finish off (12)
    Right:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, fasten off (12)

        EAR
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6, fasten off (12)

    Limits: follows fasten, finish, break, bind, cast and tie off, and FO.

    Trade checks: S10.
    """
    if not case.says_any("off", "fo"):
        return
    used = {name: m for name, words in _ENDINGS.items() if (m := re.search(words, case.text, _flags(name)))}
    if len(used) > 1:
        counts = {name: len(re.findall(_ENDINGS[name], case.text, _flags(name))) for name in used}
        usual = max(counts, key=lambda name: counts[name])
        other = min(counts, key=lambda name: (counts[name], name == usual))
        match = used[other] if other != usual else next(m for n, m in used.items() if n != usual)
        yield Hit(Span(match.start(), match.end()), {"form": match[0], "usual": usual})


def _flags(name: str) -> re.RegexFlag:
    return re.RegexFlag(0) if name == "FO" else re.IGNORECASE
