"""Group T: licence, care, cautions, and what the pattern's own fields say."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Fact, Span
from craft.standards.care import care_for, care_word
from craft.standards.fibres import fibre
from craft.techedit.case import Case
from craft.techedit.checks.words import listed, quoted
from craft.techedit.facts import Gauge, fact_slot
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

# --------------------------------------------------------------------------------------- T2

_MAY_SELL = re.compile(
    r"\b(?:(?:may|can|are free to|are welcome to) sell\b|(?:may|can) be sold\b)",
    re.IGNORECASE,
)
_MAY_NOT_SELL = re.compile(
    r"\b(?:personal use only"
    r"|(?:may|can|must) ?not (?:be sold|sell (?:what|any|finished|the finished|items?|pieces?))"
    r"|(?:finished )?(?:items?|pieces?)[^.\n]{0,30} (?:are|is|may) not (?:for sale|to be sold|be sold))\b",
    re.IGNORECASE,
)
_PATTERN_ITSELF = re.compile(r"\b(?:pattern|file|pdf)\b[^.\n]{0,40}$", re.IGNORECASE)


@check("permission-contradicts", "T2", Level.WARNING)
def permission_contradicts(case: Case) -> Iterator[Hit]:
    """What others may do with the pieces is said once, and in one way.

    Why: "personal use only" under "you may sell what you make" leaves a maker at a fair without an
    answer.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        You may sell what you make from this.
        For personal use only.
    Right:
        Rnd 1: 6 sc in magic ring (6)
        You may sell what you make from this.
        Please do not sell or copy the pattern itself.

    Limits: knows the usual phrases; a sentence about the pattern or the file is not taken for one about
    the pieces.

    Trade checks: T2.
    """
    if not case.says_any("sell", "sold", "sale"):
        return
    allowed = next(_about_pieces(case, _MAY_SELL), None)
    denied = next(_about_pieces(case, _MAY_NOT_SELL), None)
    if allowed and denied:
        span = Span(denied.start(), denied.end())
        yield Hit(span, {"denied": denied[0], "allowed": allowed[0]})


def _about_pieces(case: Case, pattern: re.Pattern[str]) -> Iterator[re.Match[str]]:
    """Phrases that speak of what is made, outside the lines of work."""
    for match in pattern.finditer(case.text):
        before = case.text[max(0, match.start() - 60) : match.start()]
        if not case.in_work(match.start()) and not _PATTERN_ITSELF.search(before):
            yield match


# --------------------------------------------------------------------------------------- T5

_WASH = re.compile(
    r"(?<!not )(?<!never )\bmachine[ -]?wash(?:able|ed)?\b(?:[^.\n]{0,40}?(?P<degrees>[3-9]\d) ?°? ?C?\b)?"
    r"|\bwash(?:ed)?\b[^.\n]{0,30}?(?P<hot>[3-9]\d) ?°",
    re.IGNORECASE,
)
_TREATED = ("superwash", "washable", "band")
_BY_HAND = 30.0  # cool water, where hand washing is advised


@check("care-against-fibre", "T5", Level.WARNING, needs="yarns")
def care_against_fibre(case: Case) -> Iterator[Hit]:
    """The washing advised suits every fibre of the yarn; the most delicate decides.

    Why: at 60 degrees a trim of wool felts and takes the cotton piece with it.

    Wrong:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 3 balls
        Rnd 1: 6 sc in magic ring (6)
        Care: machine wash at 60 °C.
    Right:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 3 balls
        Rnd 1: 6 sc in magic ring (6)
        Care: wash by hand in cool water.

    Limits: a cautious start for each fibre, which the ball band overrules; silent where the text speaks
    of superwash or the band. Only washing is compared.

    Trade checks: T5.
    """
    names = {part.name for yarn in case.facts.yarns for part in yarn.fibres if fibre(part.name)}
    wash = _WASH.search(case.text) if names and not case.says_any(*_TREATED) else None
    if wash is None:
        return
    degrees = float(wash["degrees"] or wash["hot"] or _BY_HAND)
    tender = min(sorted(names), key=_hottest)
    hand = _hottest(tender) < _BY_HAND
    machine = "machine" in wash[0].lower()
    if degrees > max(_hottest(tender), _BY_HAND) or (hand and machine):
        advice = next(word for word in care_for([tender]) if word.operation == "wash").words
        values = {"words": wash[0].strip(), "fibre": tender, "advice": advice[0].lower() + advice[1:]}
        yield Hit(Span(wash.start(), wash.end()), values)


def _hottest(name: str) -> float:
    """The hottest wash advised for a fibre, degrees C; below 30 where it is washed by hand."""
    slug = next(word.slug for word in care_for([name]) if word.operation == "wash")
    degrees = re.search(r"\d\d", care_word(slug).slug)
    return float(degrees[0]) if degrees else _BY_HAND - 1


# --------------------------------------------------------------------------------------- T6

_SMALL = frozenset({"button", "eye", "magnet", "bead", "snap", "clasp"})


@check("small-parts-denied", "T6", Level.WARNING, needs="notions fields_end")
def small_parts_denied(case: Case) -> Iterator[Hit]:
    """Where the facts say that a piece has no small parts, none stand in its list of notions.

    Why: which cautions are printed hangs on that fact. Eyes, buttons, beads and magnets come off, and
    small children put them into their mouths.

    Wrong: the facts say "no small parts", and two safety eyes are listed.
    Right: the facts say "small parts", or the eyes are embroidered.

    Limits: knows buttons, eyes, magnets, beads, snaps and clasps by name. Whether a part is small, and
    what must be said of it, the rules of the place of sale decide.

    Trade checks: T6.
    """
    if case.facts.small_parts is not False:
        return
    for notion in case.facts.notions:
        if notion.what in _SMALL:
            yield Hit(notion.span, {"what": case.words_at(notion.span)})
            return


# --------------------------------------------------------------------------------------- T9


@check("fields-and-text-disagree", "T9", Level.ERROR, needs="fields_end")
def fields_and_text_disagree(case: Case) -> Iterator[Hit]:
    """What the text says of hook, gauge, terms and level is what the pattern's own fields say.

    Why: the page, the list of materials and the estimate of yarn are made of the fields, the paper
    prints the text. With 4.5 mm in one and 5 mm in the other, two makers make two pieces.

    Wrong: the field has a 4.5 mm hook, and the text begins "Hook: 5 mm".
    Right: both say 4.5 mm, or the text says nothing of the hook.

    Limits: compares only what is printed in lines of their own above the instructions: hooks in
    millimetres, gauges in the same stitch, terms, level.

    Trade checks: T9.
    """
    yield from _hooks_disagree(case)
    yield from _gauges_disagree(case)
    for slot, own in (("terms", _terms_of(case.facts.terms)), ("level", (case.facts.level or "").lower())):
        fact = next((f for f in _stated_below(case) if fact_slot(f.name) == slot), None)
        said = _said_of(slot, fact.value) if fact else ""
        if fact and own and said and said != own:
            yield Hit(fact.span, {"what": slot, "printed": said, "field": own})


def _stated_below(case: Case) -> Iterator[Fact]:
    """Fact lines of the text itself."""
    return (fact for fact in case.draft.facts if fact.span.start >= case.facts.fields_end)


def _hooks_disagree(case: Case) -> Iterator[Hit]:
    end = case.facts.fields_end
    own = [hook for hook in case.facts.hooks if hook.span.start < end]
    printed = [hook for hook in case.facts.hooks if hook.span.start >= end and hook.mm]
    sizes = {hook.mm for hook in own}
    if own and printed and sizes.isdisjoint(hook.mm for hook in printed):
        said = listed(f"{hook.mm:g} mm" for hook in printed)
        values = {"what": "the hook", "printed": said, "field": f"{own[0].mm:g} mm"}
        yield Hit(printed[0].span, values)


def _gauges_disagree(case: Case) -> Iterator[Hit]:
    end = case.facts.fields_end
    own = next((g for g in case.facts.gauges if g.span.start < end), None)
    for printed in case.facts.gauges if own else ():
        alike = own and printed.span.start >= end and printed.stitch in {own.stitch, None}
        if own and alike and not printed.fabric and _rates_differ(own, printed):
            values = {"what": "the gauge", "printed": quoted(case, *printed.span)}
            yield Hit(printed.span, {**values, "field": quoted(case, *own.span)})
            return


def _rates_differ(one: Gauge, other: Gauge) -> bool:
    """Whether two gauges differ by more than a fiftieth, in stitches or in rows."""
    rates = (
        (one.stitches_per_10_cm, other.stitches_per_10_cm),
        (one.rows_per_10_cm, other.rows_per_10_cm),
    )
    return any(a and b and abs(a - b) > 0.02 * max(a, b) for a, b in rates)


def _terms_of(terms: str | None) -> str:
    return (terms or "").upper()


_LEVEL_WORDS = ("basic", "beginner", "easy", "intermediate", "complex", "advanced", "experienced")
_SAME_LEVEL = {"beginner": "basic", "advanced": "complex", "experienced": "complex"}


def _said_of(slot: str, value: str) -> str:
    """The terms or the level that a fact line speaks of; nothing where it names two, or none."""
    if slot == "terms":
        found = {word.upper() for word in re.findall(r"\b(?:UK|US)\b", value.upper().replace(".", ""))}
    else:
        found = {_SAME_LEVEL.get(word, word) for word in _LEVEL_WORDS if word in value.lower()}
    return found.pop() if len(found) == 1 else ""
