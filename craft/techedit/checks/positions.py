"""Group J, second half: the places that stitches go into, and what a line leaves unsaid."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from craft.fabric.model import Verdict, WorkedRound
from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    FastenOff,
    Group,
    How,
    Line,
    Loops,
    OnlySizes,
    Place,
    Repeat,
    Skip,
    Span,
    Step,
    Turn,
    Work,
)
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted, round_name
from craft.techedit.finding import Level
from craft.techedit.misfits import goes_round_a_chain, slips_of
from craft.techedit.registry import Hit, check

# ------------------------------------------------------------------------- J10, J11, J12


def _missing(case: Case, slug: str) -> Iterator[Hit]:
    spoken: set[int] = set()
    for slip in slips_of(case):
        if slip.slug == slug:
            spoken.add(id(slip.worked.line))
            span = slip.step.span if slip.step else slip.misfit.span
            yield _missing_hit(case, slip.below, slip.worked, span)
    for below, worked, step in case.once("spaces not there", _no_spaces):
        if _NO_SPACE_SLUGS[isinstance(step, Skip)] == slug and id(worked.line) not in spoken:
            spoken.add(id(worked.line))
            yield _missing_hit(case, below, worked, step.span)


_NO_SPACE_SLUGS = {True: "skip-over-nothing", False: "place-not-there"}


def _no_spaces(case: Case) -> tuple[tuple[WorkedRound, WorkedRound, Work | Group | Skip], ...]:
    """Steps that name a chain space over a round that was worked without a single chain or space."""
    return tuple(
        (below, worked, step)
        for below, worked in case.pairs
        if below is not None and case.understood(worked) and _plain(below) and worked.source is None
        for step in _flat(worked.line.steps)
        if isinstance(step, (Work, Group, Skip)) and _names_space(step.place)
    )


def _plain(worked: WorkedRound) -> bool:
    """Whether a round offers stitches and nothing else, in every size."""
    offers = [name for sized in worked.per_size if sized for name, _ in sized.by_kind]
    return bool(offers) and not any(name == "ch" or name.endswith("sp") for name in offers)


def _names_space(place: Place) -> bool:
    here = place.below == 0 and place.round_number is None and place.of is None
    return here and place.what == "ch-sp" and place.how in {How.NEXT, How.EACH, How.FIRST}


def _flat(steps: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from _flat(step.steps)


def _missing_hit(case: Case, below: WorkedRound | None, worked: WorkedRound, span: Span) -> Hit:
    values = {
        "here": round_name(worked),
        "words": quoted(case, *span),
        "below": round_name(below) if below and below.number else "the round below",
        "has": _edge_words(below),
    }
    sure = case.trusted(worked) and not goes_round_a_chain(worked.line) and not _turning_space(below)
    level = None if sure else Level.WARNING
    return Hit(span, values, level=level, round_number=worked.number)


def _turning_space(below: WorkedRound | None) -> bool:
    """Whether the round below begins with a chain, which some work into as a space."""
    steps = below.line.steps if below else ()
    return bool(steps) and isinstance(steps[0], Chain) and (steps[0].number[0] or 0) > 1


def _edge_words(below: WorkedRound | None) -> str:
    """What a round offers: "12 sc", "12 dc and 6 ch-1 sp"."""
    sized = next((s for s in below.per_size if s), None) if below else None
    if sized is None:
        return "what is there"
    return " and ".join(f"{n} {name}" for name, n in sized.by_kind[:4]) or f"{sized.total} stitches"


@check("place-not-there", "J10", Level.ERROR)
def place_not_there(case: Case) -> Iterator[Hit]:
    """A place that a stitch goes into is there in the round below.

    Why: "in next ch-2 sp" over a round of plain dc means that one of the two rounds was changed
    alone.

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, sc in each st around, join (12)
        Rnd 3: Ch 1, *3 sc in next ch-2 sp; rep from * around, join
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, (sc in next st, ch 2, skip 1 st) 6 times, join (6 sc, 6 ch-2 sps)
        Rnd 3: Ch 1, *3 sc in next ch-2 sp; rep from * around, join

    Limits: looks at the round just below; places further down or named by markers are not looked
    up.

    Trade checks: J10.
    """
    return _missing(case, "place-not-there")


@check("skip-over-nothing", "J11", Level.WARNING)
def skip_over_nothing(case: Case) -> Iterator[Hit]:
    """What is skipped is there to be skipped.

    Why: "skip next ch-1 sp" over a round without spaces sends the maker looking.

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, (sc in next st, skip next ch-1 sp) 12 times, join (12)
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, (sc in next st, skip next st) 6 times, join (6)

    Trade checks: J11.
    """
    return _missing(case, "skip-over-nothing")


@check("post-without-post", "J12", Level.WARNING)
def post_without_post(case: Case) -> Iterator[Hit]:
    """A post stitch goes round a stitch that has a post.

    Why: a front post stitch in the first row over a chain has nothing to go round.

    Wrong:
        Ch 12.
        Row 1: FPdc around next 12 ch, turn
        Row 2: Ch 2, dc in each st across, turn
    Right:
        Row 1: Ch 12, dc in 3rd ch from hook and in each ch across, turn (10)
        Row 2: Ch 2, FPdc around each st across, turn (10)

    Limits: looks at the first row over a foundation chain or ring.

    Trade checks: J12.
    """
    yield from _missing(case, "post-without-post")
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        before, first = _over_chain(lines)
        work = _first_stitch(first.steps) if first and not section.continues else None
        if work is not None and first is not None and before and work.stitch.post:
            values = {"here": line_name(first), "words": quoted(case, *work.span), "below": "the chain"}
            yield Hit(work.span, {**values, "has": "chains"})


def _over_chain(lines: Sequence[Line]) -> tuple[bool, Line | None]:
    """The first line with stitches, and whether only chains come before its first stitch."""
    chains = False
    for line in lines:
        for step in line.steps:
            if isinstance(step, Chain):
                chains = True
            elif isinstance(step, (Work, Repeat, Group)):
                return chains, line
            elif not isinstance(step, (Turn, Colour)):
                return False, None
    return False, None


def _first_stitch(steps: Sequence[Step]) -> Work | None:
    return next((step for step in steps if isinstance(step, Work)), None)


# ------------------------------------------------------------------------------------- J13


@check("loops-not-left", "J13", Level.ERROR)
def loops_not_left(case: Case) -> Iterator[Hit]:
    """Loops that are taken up later were left free: the round above used only the other loop.

    Why: "in the unworked front loops of Rnd 12" cannot be done when Rnd 13 took both.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc in each st around (12)
        Rnd 4: working in unworked front loops of Rnd 2, sc in each st around (12)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: in back loops only, sc in each st around (12)
        Rnd 4: working in unworked front loops of Rnd 2, sc in each st around (12)

    Limits: follows rounds that are named by number within one part.

    Trade checks: J13.
    """
    if not case.says_any("loop", "loops"):
        return
    for lines in case.lines_by_section:
        by_number = {number: line for line in lines for number in line.label.numbers}
        for line in lines:
            match = _FREE_LOOPS.search(case.text, *line.span)
            above = by_number.get(int(match["n"]) + 1) if match else None
            if match and above is not None and above is not line and not _leaves_loops(above.steps):
                values = {"here": line_name(line), "named": match["n"], "above": line_name(above)}
                yield Hit(Span(match.start(), match.end()), values, round_number=_number(line))


_FREE_LOOPS = re.compile(
    r"\b(?:unworked|free|unused|remaining|rem) (?:front |back )?loops?(?: only)? (?:of|on|from|in) (?:the )?"
    r"(?:(?:rnd|round|row) (?P<n>\d+)\b)",
    re.IGNORECASE,
)


def _places(steps: Sequence[Step]) -> Iterator[tuple[Place, Work]]:
    for step in steps:
        if isinstance(step, Work):
            yield step.place, step
        elif isinstance(step, (Repeat, Group, OnlySizes)):
            yield from _places(step.steps)


def _leaves_loops(steps: Sequence[Step]) -> bool:
    """Whether any stitch uses one loop only, or leaves or skips places."""
    one_loop = any(place.loops in {Loops.FRONT, Loops.BACK} for place, _ in _places(steps))
    unclear = any(not isinstance(step, (Work, Repeat, Group)) for step in steps)
    return one_loop or (unclear and not any(True for _ in _places(steps)))


# ------------------------------------------------------------------------------------- J15


@check("count-missing", "J15", Level.WARNING)
def count_missing(case: Case) -> Iterator[Hit]:
    """Every line that changes the count ends with the new count, where the pattern prints counts.

    Why: a count a line is what buyers ask for most; the one line without it is the one they lose
    their place in.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6
        Rnd 5: (sc 3, inc) x 6 (30)
        Rnd 6: (sc 4, inc) x 6 (36)
        Rnd 7: (sc 5, inc) x 6 (42)
        Rnd 8: (sc 6, inc) x 6 (48)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)
        Rnd 6: (sc 4, inc) x 6 (36)
        Rnd 7: (sc 5, inc) x 6 (42)
        Rnd 8: (sc 6, inc) x 6 (48)

    Limits: said only in a part where at least five lines out of six that change the count print it;
    a pattern that prints none is left alone.

    Trade checks: J15.
    """
    for section in case.fabric.sections:
        changing = [(b, w) for b, w in pairwise(section.rounds[:-1]) if _changes(b, w)]
        silent = [w for _, w in changing if _silent(w)]
        if case.comes_out(section) and len(changing) >= 5 and 0 < len(silent) * 6 <= len(changing):
            for worked in silent:
                made = worked.per_size[0].total if worked.per_size[0] else "?"
                values = {"here": round_name(worked), "made": made}
                yield Hit(worked.line.label.span, values, round_number=worked.number)


def _silent(worked: WorkedRound) -> bool:
    """Whether a numbered round prints no count and neither begins nor ends its piece."""
    line = worked.line
    ends = any(isinstance(step, (FastenOff, AsRound)) for step in line.steps)
    few = worked.per_size[0] is None or worked.per_size[0].total <= 6
    middle = len(line.label.numbers) == 1 and worked.number != 1 and not ends and not few
    return middle and line.stated is None and not line.inner


def _changes(below: WorkedRound, worked: WorkedRound) -> bool:
    before = [sized.total if sized else None for sized in below.per_size]
    after = [sized.total if sized else None for sized in worked.per_size]
    return (
        None not in before
        and None not in after
        and before != after
        and worked.verdict is not Verdict.NOT_CHECKED
    )


# ------------------------------------------------------------------------------------- J17


@check("sides-not-alike", "J17", Level.NOTE)
def sides_not_alike(case: Case) -> Iterator[Hit]:
    """A row that is shaped alike at both ends has the same stitches on both sides.

    Why: dec, 20, dec with 21 on one side moves the middle by a stitch, and nobody sees why it
    leans.

    Wrong:
        Row 1: Ch 25, sc in 2nd ch from hook and in each ch across, turn (24)
        Row 2: Ch 1, sc in next 5 sts, sc2tog, sc in next 10 sts, sc2tog, sc in next 5 sts, turn
        (22)
        Row 3: Ch 1, sc in next 5 sts, sc2tog, sc in next 8 sts, sc2tog, sc in next 5 sts, turn (20)
        Row 4: Ch 1, sc in next 5 sts, sc2tog, sc in next 6 sts, sc2tog, sc in next 5 sts, turn (18)
        Row 5: Ch 1, sc in next 4 sts, sc2tog, sc in next 5 sts, sc2tog, sc in next 5 sts, turn (16)
    Right:
        Row 1: Ch 25, sc in 2nd ch from hook and in each ch across, turn (24)
        Row 2: Ch 1, sc in next 5 sts, sc2tog, sc in next 10 sts, sc2tog, sc in next 5 sts, turn
        (22)
        Row 3: Ch 1, sc in next 5 sts, sc2tog, sc in next 8 sts, sc2tog, sc in next 5 sts, turn (20)
        Row 4: Ch 1, sc in next 5 sts, sc2tog, sc in next 6 sts, sc2tog, sc in next 5 sts, turn (18)
        Row 5: Ch 1, sc in next 4 sts, sc2tog, sc in next 6 sts, sc2tog, sc in next 4 sts, turn (16)

    Limits: needs three shaped lines of the same part that are alike on both sides; only one pair of
    numbers may differ, and by one.

    Trade checks: J17.
    """
    for lines in case.lines_by_section:
        shaped = [(line, runs) for line in lines if (runs := _runs(line.steps)) and len(runs) >= 3]
        even = [line for line, runs in shaped if runs == runs[::-1]]
        if len(even) < 3:
            continue
        for line, runs in shaped:
            pair = _uneven_pair(runs)
            if pair is not None:
                values = {"here": line_name(line), "left": pair[0], "right": pair[1]}
                yield Hit(line.label.span, values, round_number=_number(line))


def _runs(steps: Sequence[Step]) -> tuple[tuple[str, int], ...] | None:
    """(stitch, number) of each run of a flat line with shaping, None for other lines."""
    works = [step for step in steps if isinstance(step, (Work, Repeat, Group, Skip))]
    if not all(isinstance(step, Work) for step in works):
        return None
    runs = []
    for step in works:
        if not isinstance(step, Work) or not step.place.number or len(step.place.number) > 1:
            return None
        runs.append((f"{step.each}{step.stitch.name}", step.place.number[0] or 0))
    shaped = any("tog" in name or "inc" in name or "dec" in name or "(2,)" in name for name, _ in runs)
    return tuple(runs) if shaped else None


def _uneven_pair(runs: tuple[tuple[str, int], ...]) -> tuple[int, int] | None:
    """The two numbers that spoil a symmetry, where only they do and by one."""
    if [name for name, _ in runs] != [name for name, _ in reversed(runs)]:
        return None
    half = len(runs) // 2
    pairs = [(runs[i][1], runs[-1 - i][1]) for i in range(half)]
    uneven = [(a, b) for a, b in pairs if a != b]
    return uneven[0] if len(uneven) == 1 and abs(uneven[0][0] - uneven[0][1]) == 1 else None


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None
