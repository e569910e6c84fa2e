"""Group O, edges: pieces that are joined to each other have to meet."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.fabric.model import WorkedSection
from craft.notation.tree import Span
from craft.standards.proportions import relative_height
from craft.techedit.case import Case
from craft.techedit.checks.words import size_words
from craft.techedit.facts import Measure
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_SIDES = re.compile(
    r"\b(?:(?:sew|seam|join) (?:the |both )?)?side seams?\b|\b(?:sew|seam|join) (?:the |both )?sides\b",
    re.IGNORECASE,
)
_FEW_ROWS = 2  # an edging or a cast-off edge takes up as many


@check("joined-sides-differ", "O4", Level.WARNING)
def joined_sides_differ(case: Case) -> Iterator[Hit]:
    """Front and back that are sewn at the sides are of one height.

    Why: 60 rows sewn to 48 pucker, and nobody sees it before the last seam.

    Wrong:
        FRONT
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Rows 2-60: Ch 1, sc in each st across, turn (20)

        BACK
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Rows 2-48: Ch 1, sc in each st across, turn (20)

        FINISHING
        Sew side seams.
    Right:
        FRONT
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Rows 2-60: Ch 1, sc in each st across, turn (20)

        BACK
        Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
        Rows 2-60: Ch 1, sc in each st across, turn (20)

        FINISHING
        Sew side seams.

    Limits: looks only at one part headed front and one headed back, worked in rows in the same stitch,
    in the first size; two rows or one in twelve are let pass, and so is a back that is said to be longer.

    Trade checks: O4.
    """
    seam = _SIDES.search(case.text) if case.says_any("side", "sides") else None
    if seam is None or case.says_any("longer", "shorter", "vent", "vents", "ease", "hi-lo"):
        return
    front, back = _only_part(case, "front"), _only_part(case, "back")
    if front is None or back is None or _main_stitch(front) != _main_stitch(back):
        return
    first, second = len(front.rounds), len(back.rounds)
    if abs(first - second) > max(_FEW_ROWS, max(first, second) / 12):
        values = {"one": front.section.title, "first": first, "other": back.section.title, "second": second}
        yield Hit(Span(seam.start(), seam.end()), {**values, "words": seam[0]})


def _only_part(case: Case, word: str) -> WorkedSection | None:
    """The one part whose heading is that word, if all of it was worked and in rows."""
    titled = [s for s in case.fabric.sections if word in re.findall(r"[a-z]+", s.section.title.lower())]
    if len(titled) != 1 or not titled[0].rounds:
        return None
    rows = all(r.kind == "row" and r.repeats == 1 and r.per_size and r.per_size[0] for r in titled[0].rounds)
    return titled[0] if rows else None


def _main_stitch(part: WorkedSection) -> str | None:
    """The stitch that all rows of a part are worked in, None where they differ in height."""
    names = {name for r in part.rounds for s in r.per_size[:1] if s for name, _ in s.by_kind}
    heights = {name: _height(name) for name in names}
    single = len({round(height, 1) for height in heights.values() if height}) == 1
    return min(names) if names and single and all(heights.values()) else None


def _height(name: str) -> float | None:
    try:
        return relative_height(name)
    except LookupError:
        return None


_PART_OUT = 0.12  # a cap is eased in by about a tenth; common practice, no source


@check("sleeve-does-not-fit-armhole", "O5", Level.WARNING, needs="measures")
def sleeve_does_not_fit_armhole(case: Case) -> Iterator[Hit]:
    """The top of a sleeve is as long as the armhole that it is sewn into.

    Why: 44 cm of sleeve cannot be eased into 36 cm of armhole.

    Wrong:
        Measurements: sleeve top 44 cm, armhole 36 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Measurements: sleeve top 44 cm, armhole 42 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: reads the two from the finished measurements. An armhole depth is taken twice; an eighth of
    difference is let pass.

    Trade checks: O5.
    """
    sleeve = _measure(case, "sleeve", ("top", "cap"))
    armhole = _measure(case, "armhole", ())
    if sleeve is None or armhole is None or len(sleeve.cm) != len(armhole.cm):
        return
    times = 2 if "depth" in armhole.name or "deep" in armhole.name else 1
    around = tuple(value * times for value in armhole.cm)
    far = [
        at
        for at, (a, b) in enumerate(zip(sleeve.cm, around, strict=True))
        if abs(a - b) > _PART_OUT * max(a, b)
    ]
    if far:
        at, by_size = far[0], len(around) > 1
        sizes = f" for {size_words(case, far)}" if by_size else ""
        values = {"sleeve": f"{sleeve.cm[at]:g}", "armhole": f"{around[at]:g}", "sizes": sizes}
        yield Hit(sleeve.span, values, sizes=tuple(far) if by_size else None)


def _measure(case: Case, word: str, others: tuple[str, ...]) -> Measure | None:
    names = ((measure, measure.name.split()) for measure in case.facts.measures)
    return next((m for m, name in names if word in name and (not others or set(others) & set(name))), None)
