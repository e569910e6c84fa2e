"""Group C: hooks and notions."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from decimal import Decimal

from craft.notation.tree import Chain, Skip, Span, Step
from craft.standards.hooks import hook_by_mm, hooks_by_us, nearest_hook, steel_hook
from craft.techedit.case import Case
from craft.techedit.checks.words import listed, quoted
from craft.techedit.facts import Hook
from craft.techedit.facts.things import NOTIONS
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_HOOK_SAID = re.compile(
    r"(?<![\d.])(?P<mm>\d{1,3}(?:\.\d{1,3})?)\s?-?mm\b(?=[^.\n]{0,25}\bhook)"
    r"|\bhook\b[^.\n\d]{0,12}(?P<after>\d{1,3}(?:\.\d{1,3})?)\s?mm\b",
    re.IGNORECASE,
)


def _facts_end(case: Case) -> list[Span]:
    return [fact.span for fact in case.draft.facts]


def _in_facts(case: Case, at: int) -> bool:
    return any(span.start <= at < span.end for span in _facts_end(case))


def _said_in_work(case: Case) -> list[tuple[Span, float]]:
    """Hooks in millimetres named below the fact lines."""
    if not case.says_any("hook", "hooks"):
        return []
    return [
        (Span(match.start(), match.end()), float(match["mm"] or match["after"]))
        for match in _HOOK_SAID.finditer(case.text)
        if not _in_facts(case, match.start())
    ]


@check("hook-not-listed", "C1", Level.ERROR, needs="hooks")
def hook_not_listed(case: Case) -> Iterator[Hit]:
    """Every hook that the work asks for stands in the list of hooks.

    Why: "change to the 3.5 mm hook" where only 4 mm is listed.

    Wrong:
        Hook: 4 mm
        BAND
        Row 1: With 3.5 mm hook, ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
    Right:
        Hook: 4 mm and 3.5 mm
        BAND
        Row 1: With 3.5 mm hook, ch 11, sc in 2nd ch from hook and in each ch across, turn (10)

    Limits: reads hooks in millimetres; letters alone are not followed.

    Trade checks: C1.
    """
    known = {hook.mm for hook in case.facts.hooks if hook.mm}
    if not known:
        return
    for span, mm in _said_in_work(case):
        if mm not in known:
            yield Hit(span, {"hook": f"{mm:g}", "known": listed(f"{k:g} mm" for k in sorted(known))})


@check("hook-not-used", "C1", Level.WARNING, needs="hooks")
def hook_not_used(case: Case) -> Iterator[Hit]:
    """Every hook of the list is used.

    Why: with two hooks listed and one named in the work, the maker asks where the other belongs.

    Wrong:
        Hook: 4 mm and 5 mm
        BAND
        Row 1: With 4 mm hook, ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
    Right:
        Hook: 4 mm and 5 mm
        BAND
        Row 1: With 4 mm hook, ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: With 5 mm hook, ch 1, sc in each st across, turn (10)

    Limits: silent where the text says "larger hook", "smaller hook" or names no hook at all.

    Trade checks: C1.
    """
    known = {hook.mm: hook for hook in case.facts.hooks if hook.mm}
    used = {mm for _, mm in _said_in_work(case)} | {g.hook_mm for g in case.facts.gauges if g.hook_mm}
    if len(known) < 2 or not used or case.says_any("larger", "smaller", "largest", "smallest", "obtain"):
        return
    for mm, hook in known.items():
        if mm not in used:
            yield Hit(hook.span, {"hook": f"{mm:g}"})


@check("hook-name-mismatch", "C2", Level.ERROR, needs="hooks")
def hook_name_mismatch(case: Case) -> Iterator[Hit]:
    """The letter or number of a hook belongs to the millimetres beside it.

    Why: 5 mm is H-8; "5 mm (G)" sends one half of the makers to 4 mm. The millimetre is the size.

    Wrong:
        Hook: 5 mm (G-6)
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Hook: 5 mm (H-8)
        Rnd 1: 6 sc in magic ring (6)

    Limits: makers of hooks differ by a step, so a neighbour within half a millimetre is let pass.

    Trade checks: C2.
    """
    for hook in case.facts.hooks:
        if hook.mm and hook.us and (sizes := _sizes_of(hook)):
            near = min(abs(size - Decimal(str(hook.mm))) for size in sizes)
            if near > Decimal("0.5"):
                label = _usual_name(hook)
                values = {"mm": f"{hook.mm:g}", "us": hook.us, "is": f"{sizes[0]:f}".rstrip("0").rstrip(".")}
                yield Hit(hook.span, {**values, "right": label}, "" if label else "none")


def _sizes_of(hook: Hook) -> list[Decimal]:
    """The millimetres that a printed US name stands for."""
    name = (hook.us or "").replace(" ", "").replace("1/2", "½")
    if hook.steel:
        try:
            return [steel_hook(name).mm]
        except LookupError:
            return []
    found = (
        hooks_by_us(name) or hooks_by_us(name.replace("-", "/")) or hooks_by_us(re.split(r"[-/]", name)[0])
    )
    return [each.mm for each in found]


def _usual_name(hook: Hook) -> str:
    exact = hook_by_mm(Decimal(str(hook.mm))) or nearest_hook(Decimal(str(hook.mm)))
    return exact.us or ""


@check("hook-without-millimetres", "C2", Level.WARNING, needs="hooks")
def hook_without_millimetres(case: Case) -> Iterator[Hit]:
    """A hook is given in millimetres, with the letter or number after it.

    Why: letters and numbers differ by maker and country; UK 8 is 4 mm and US 8 is 5 mm.

    Wrong:
        Hook: H-8
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Hook: 5 mm (H-8)
        Rnd 1: 6 sc in magic ring (6)

    Trade checks: C2.
    """
    for hook in case.facts.hooks:
        if hook.mm is None:
            sizes = _sizes_of(hook)
            yield Hit(hook.span, {"us": hook.us or "", "mm": f"{float(sizes[0]):g} mm" if sizes else "…"})


# ------------------------------------------------------------------------------ C3, C4, C5

# What the work says and the notion that it takes.
_TAKES: dict[str, tuple[str, ...]] = {
    "marker": ("marker", "markers", "pm"),
    "stuffing": ("stuff", "stuffing", "fibrefill", "fiberfill"),
    "button": ("button", "buttons"),
    "zip": ("zip", "zipper"),
    "magnet": ("magnet", "magnets"),
    "elastic": ("elastic",),
    "ribbon": ("ribbon",),
    "wire": ("wire",),
    "bead": ("bead", "beads"),
    "felt": ("felt",),
}
_ALWAYS_AT_HAND = frozenset({"needle", "marker", "lining", "cord", "felt"})


@check("notion-not-listed", "C3", Level.WARNING, needs="notions")
def notion_not_listed(case: Case) -> Iterator[Hit]:
    """What the work asks for beside yarn and hook stands in the list.

    Why: "stuff firmly" on Rnd 12, and no stuffing in the house.

    Wrong:
        Notions: yarn needle
        BODY
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Stuff the body.
    Right:
        Notions: yarn needle, stuffing
        BODY
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Stuff the body.

    Limits: knows markers, stuffing, buttons, zips, magnets, elastic, ribbon, wire, beads and felt.

    Trade checks: C3.
    """
    have = {notion.what for notion in case.facts.notions}
    for what, words in _TAKES.items():
        if what in have:
            continue
        places = [span for word in words for span in case.spans_of(word) if not _in_facts(case, span.start)]
        if places:
            first = min(places)
            yield Hit(first, {"what": what, "word": case.words_at(first)})


@check("notion-not-used", "C4", Level.WARNING, needs="notions")
def notion_not_used(case: Case) -> Iterator[Hit]:
    """Everything in the list of notions has its place in the work.

    Why: a 20 cm zip that is never sewn in was left over from another pattern, or its step was.

    Wrong:
        Notions: 20 cm zip, yarn needle
        BODY
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Notions: 20 cm zip, yarn needle
        BODY
        Rnd 1: 6 sc in magic ring (6)
        Sew in the zip.

    Limits: needles, markers, lining, cord and felt are taken to be at hand and in use.

    Trade checks: C4.
    """
    for notion in case.facts.notions:
        if notion.what in _ALWAYS_AT_HAND:
            continue
        pattern = re.compile(rf"\b(?:{NOTIONS[notion.what]}|{notion.what}\w*|stuff\w*)\b", re.IGNORECASE)
        if notion.what != "stuffing":
            pattern = re.compile(rf"\b(?:{NOTIONS[notion.what]}|{notion.what}\w*)\b", re.IGNORECASE)
        used = any(not _in_facts(case, match.start()) for match in pattern.finditer(case.text))
        if not used:
            yield Hit(notion.span, {"what": case.words_at(notion.span)})


_HOLES = re.compile(
    r"\b(?P<number>\d+|one|two|three|four|five|six|seven|eight|nine|ten)\s+(?:button ?)?holes?\b",
    re.IGNORECASE,
)
_NUMBER_WORDS = {
    word: at
    for at, word in enumerate(
        ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    )
}


@check("buttons-and-holes", "C5", Level.WARNING, needs="notions")
def buttons_and_holes(case: Case) -> Iterator[Hit]:
    """There are as many buttons in the list as holes in the band.

    Why: editors name button numbers as a known slip: the band was lengthened, the list was not.

    Wrong:
        Notions: 5 buttons
        BAND
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        The band has 6 buttonholes. Sew on the buttons.
    Right:
        Notions: 6 buttons
        BAND
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        The band has 6 buttonholes. Sew on the buttons.

    Limits: reads a number of holes where it is said; holes are not counted from the stitches.

    Trade checks: C5.
    """
    listed_buttons = [n for n in case.facts.notions if n.what == "button" and n.number]
    if len(listed_buttons) != 1 or "button" not in case.text.lower():
        return
    said = {_number(match["number"]): match for match in _HOLES.finditer(case.text)}
    if len(said) == 1:
        holes, match = next(iter(said.items()))
        if holes != listed_buttons[0].number:
            values = {"buttons": listed_buttons[0].number, "holes": holes}
            yield Hit(Span(match.start(), match.end()), values)


def _number(word: str) -> int:
    return int(word) if word.isdigit() else _NUMBER_WORDS[word.lower()]


@check("button-does-not-fit-hole", "C6", Level.WARNING, needs="notions gauges")
def button_does_not_fit_hole(case: Case) -> Iterator[Hit]:
    """A button goes through its hole: the hole is about as long as the button is wide.

    Why: a 30 mm button and a hole of two chains at 16 stitches to 10 cm (12 mm).

    Wrong:
        Notions: 3 buttons (30 mm)
        Gauge: 16 sc and 18 rows = 10 cm
        BAND
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2 (buttonholes): Ch 1, sc in next 4 sts, ch 2, skip 2 sts, sc in next 4 sts, turn
    Right:
        Notions: 3 buttons (15 mm)
        Gauge: 16 sc and 18 rows = 10 cm
        BAND
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2 (buttonholes): Ch 1, sc in next 4 sts, ch 2, skip 2 sts, sc in next 4 sts, turn

    Limits: fabric gives, so only a button more than half as wide again as its hole, or less than
    half of it, is mentioned; the hole is taken from a line that speaks of buttonholes.

    Trade checks: C6.
    """
    sizes = [n.size_mm for n in case.facts.notions if n.what == "button" and n.size_mm]
    rate = next((g.stitches_per_10_cm for g in case.facts.gauges if g.stitches_per_10_cm), None)
    if not sizes or rate is None:
        return
    for line in case.lines:
        if "buttonhole" not in case.words_at(line.span).lower():
            continue
        skipped = _bridge(line.steps)
        hole_mm = skipped * 100 / rate
        if skipped and not 0.5 * hole_mm <= sizes[0] <= 1.5 * hole_mm:
            values = {"button": f"{sizes[0]:g}", "stitches": skipped, "hole": f"{hole_mm:.0f}"}
            yield Hit(line.label.span, values)
            return


def _bridge(steps: tuple[Step, ...]) -> int:
    """The stitches skipped under a chain, 0 where the line has no such pair."""
    for first, second in itertools.pairwise(steps):
        pair = {type(first), type(second)}
        skip = first if isinstance(first, Skip) else second
        if pair == {Chain, Skip} and isinstance(skip, Skip) and skip.place.number:
            return skip.place.number[0] or 0
    return 0


# --------------------------------------------------------------------------------------- C7

_CHANGE = re.compile(
    r"\b(?:change|changing|switch|switching) (?:back )?to\b[^.\n]{0,30}\bhook\b", re.IGNORECASE
)


@check("hook-not-changed-back", "C7", Level.WARNING, needs="hooks")
def hook_not_changed_back(case: Case) -> Iterator[Hit]:
    """After a change of hook the change back is written, or the next part names its hook.

    Why: the cuff hook stays in hand for the whole sleeve.

    Wrong:
        Hook: 4 mm and 5 mm
        CUFF
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Change to 5 mm hook.
        Row 2: Ch 1, sc in each st across, fasten off (10)

        COLLAR
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
    Right:
        Hook: 4 mm and 5 mm
        CUFF
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Change to 5 mm hook.
        Row 2: Ch 1, sc in each st across, fasten off (10)

        COLLAR
        With 4 mm hook, ch 21.
        Row 1: Sc in 2nd ch from hook and in each ch across, turn (20)

    Limits: looks only at whether a later part names a hook at all.

    Trade checks: C7.
    """
    changes = list(_CHANGE.finditer(case.text)) if case.says_any("hook") else []
    if not changes or len({hook.mm for hook in case.facts.hooks}) < 2:
        return
    last = changes[-1]
    later = [
        s
        for s, lines in zip(case.sections, case.lines_by_section, strict=True)
        if s.span.start > last.start() and lines
    ]
    hooks = [span.start for span in case.spans_of("hook") if not _from_hook(case, span)]
    if later and not any(at >= later[0].span.start for at in hooks):
        values = {"change": quoted(case, last.start(), last.end()), "part": later[0].title or "the next part"}
        yield Hit(Span(last.start(), last.end()), values)


def _from_hook(case: Case, span: Span) -> bool:
    """The words "2nd ch from hook" name no hook."""
    return (
        case.text[max(0, span.start - 9) : span.start].lower().rstrip().endswith(("from", "from the", "on"))
    )
