"""Group L: turning chains, joins, ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from craft.fabric.model import Block, Cells, WorkedRound
from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    FastenOff,
    Group,
    How,
    Join,
    Kind,
    Line,
    Repeat,
    Span,
    Step,
    Turn,
    Unread,
    Work,
)
from craft.standards.terms import UnknownTermError, stitch
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted, round_name
from craft.techedit.finding import Level
from craft.techedit.misfits import slips_of
from craft.techedit.registry import Hit, check

# --------------------------------------------------------------------------------------- L2


@check("chain-too-short", "L2", Level.WARNING)
def chain_too_short(case: Case) -> Iterator[Hit]:
    """The starting chain is about as high as the stitch that follows it.

    Why: one chain before trebles pulls the edge down by three quarters of the row's height.

    Wrong:
        Row 1: Ch 14, tr in 5th ch from hook and in each ch across, turn (11)
        Row 2: Ch 1, tr in each st across, turn (11)
    Right:
        Row 1: Ch 14, tr in 5th ch from hook and in each ch across, turn (11)
        Row 2: Ch 4 (counts as tr), tr in next 10 sts, turn (11)

    Limits: the usual ladder is 1, 2, 3, 4 chains for sc, hdc, dc, tr; one chain fewer is common and
    let pass, as is everything that the pattern explains by saying what the chain counts as. Said
    once for each height.

    Trade checks: L2.
    """
    seen: set[tuple[int, str]] = set()
    for line in case.lines:
        start = _start(line)
        if start is None:
            continue
        chain, chains, work = start
        usual = _usual_chains(work)
        if usual is None or usual - chains < 2 or (chains, work.stitch.name) in seen:
            continue
        seen.add((chains, work.stitch.name))
        if not (usual == 3 and chains == 1 and _throughout(case, chains, work)):
            values = {"here": line_name(line), "chains": chains, "stitch": work.stitch.name, "usual": usual}
            yield Hit(Span(chain.span.start, work.span.end), values, round_number=_number(line))


def _start(line: Line) -> tuple[Chain, int, Work] | None:
    """The starting chain of a line, its length, and the first stitch after it."""
    steps = [step for step in line.steps[:4] if not isinstance(step, (Turn, Colour))]
    if len(steps) < 2 or not isinstance(steps[0], Chain) or steps[0].counts is not None:
        return None
    second = steps[1].steps[0] if isinstance(steps[1], (Repeat, Group)) and steps[1].steps else steps[1]
    number = steps[0].number[0]
    return (steps[0], number, second) if isinstance(second, Work) and number else None


def _usual_chains(work: Work) -> int | None:
    try:
        return stitch(work.stitch.name).turning_chain if work.place.how is not How.HOOK else None
    except UnknownTermError:
        return None


def _throughout(case: Case, chains: int, work: Work) -> bool:
    """Whether the house works it so in most lines: then it is a way of its own, not a slip."""
    same = [
        start for line in case.lines if (start := _start(line)) and start[2].stitch.name == work.stitch.name
    ]
    return sum(start[1] == chains for start in same) * 2 > len(same)


# --------------------------------------------------------------------------------------- L3


@check("turning-chain-not-worked", "L3", Level.WARNING)
def turning_chain_not_worked(case: Case) -> Iterator[Hit]:
    """Where the turning chain counts, the last stitch of the next row goes into its top.

    Why: a row that leaves the chain unworked loses one stitch, and the edge leans in.

    Wrong:
        Notes: Ch 3 counts as a stitch.
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 17 sts, turn (18)
    Right:
        Notes: Ch 3 counts as a stitch.
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 17 sts, dc in top of turning ch, turn (19)

    Limits: said of rows that leave exactly one stitch and whose chain counts.

    Trade checks: L3.
    """
    for slip in slips_of(case):
        if slip.slug == "turning-chain-not-worked":
            values = {
                "here": round_name(slip.worked),
                "available": slip.misfit.available,
                "used": slip.misfit.used,
            }
            yield Hit(slip.misfit.span, values, round_number=slip.worked.number)


# --------------------------------------------------------------------------------------- L4


@check("join-target-not-there", "L4", Level.ERROR)
def join_target_not_there(case: Case) -> Iterator[Hit]:
    """A round is joined to something that it has: the top of its own chain, or its first stitch.

    Why: "join to top of ch 3" in a round that began with ch 1 was copied from another round.

    Wrong:
        Rnd 1: Ch 1, 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to top of ch-3 (16)
    Right:
        Rnd 1: Ch 1, 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to first sc (16)

    Limits: compares the length named in the join with the starting chain of the same round; "3rd ch
    of beginning ch-5" fits a chain of 5.

    Trade checks: L4.
    """
    for line in case.lines:
        numbered_round = line.label.kind is Kind.ROUND and bool(line.label.numbers)
        chains = _starting_chains(line) if numbered_round and not _on_chain(line) else []
        for step in line.steps[1:]:
            if not isinstance(step, Join) or step.place is None or step.place.what != "turning ch":
                continue
            named = step.place.chains
            if named and chains and named not in chains:
                values = {"here": line_name(line), "named": named, "chains": chains[0]}
                yield Hit(step.span, values, round_number=_number(line))


def _on_chain(line: Line) -> bool:
    """Whether the line begins a piece on its own chain."""
    return any(isinstance(step, Work) and step.place.how is How.HOOK for step in line.steps)


def _starting_chains(line: Line) -> list[int]:
    """The chain that a line begins with; also its parts where several stand in a row."""
    found: list[int] = []
    for step in line.steps:
        if isinstance(step, Chain):
            found += [3] if step.counts_as else []
            found += [n for n in step.number if n]
        elif not isinstance(step, (Turn, Colour, Join)):
            break
    return found


# ----------------------------------------------------------------------------------- L5, L6


@check("one-round-not-joined", "L5", Level.WARNING)
def one_round_not_joined(case: Case) -> Iterator[Hit]:
    """In joined rounds every round is joined; in a spiral none is.

    Why: one round without its join between joined ones leaves the maker a stitch ahead.

    Wrong:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to first sc (16)
        Rnd 3: Ch 1, sc in each st around, join with sl st to first sc (16)
        Rnd 4: Ch 1, sc in each st around (16)
        Rnd 5: Ch 1, sc in each st around, join with sl st to first sc (16)
        Rnd 6: Ch 1, sc in each st around, join with sl st to first sc (16)
    Right:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to first sc (16)
        Rnd 3: Ch 1, sc in each st around, join with sl st to first sc (16)

    Limits: a round of the same part that begins with a chain and whose next round begins with one
    too; not said where the text speaks of joining for all rounds at once.

    Trade checks: L5.
    """
    if case.says_any("continuous", "continuously", "spiral"):
        return
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        rounds = [line for line in lines if line.label.kind is Kind.ROUND and line.label.numbers]
        joined = [line for line in rounds if _joins(line)]
        if section.rules.joined or len(joined) < 4:
            continue
        for line, after in pairwise(rounds):
            if not _joins(line) and _chain_first(line) and _chain_first(after) and _plain_end(line):
                values = {"here": line_name(line), "joined": len(joined)}
                yield Hit(line.label.span, values, round_number=_number(line))


def _joins(line: Line) -> bool:
    return any(isinstance(step, (Join, AsRound, FastenOff)) for step in line.steps[1:])


def _chain_first(line: Line) -> bool:
    return bool(line.steps) and isinstance(line.steps[0], Chain)


def _plain_end(line: Line) -> bool:
    """Whether the line ends with stitches: no turn, no slip stitch, nothing unread."""
    last = line.steps[-1]
    if isinstance(last, Work):
        return last.stitch.name != "sl st" and last.place.how not in {How.FIRST, How.NAMED}
    return isinstance(last, Repeat) and not last.ending


@check("turn-not-said", "L6", Level.WARNING)
def turn_not_said(case: Case) -> Iterator[Hit]:
    """Where rows say "turn", each of them does.

    Why: one row without it reads as worked from the other end, and some makers cut the yarn.

    Wrong:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Ch 1, sc in each st across, turn (10)
        Row 4: Ch 1, sc in each st across (10)
        Row 5: Ch 1, sc in each st across, turn (10)
        Row 6: Ch 1, sc in each st across, turn (10)
        Row 7: Ch 1, sc in each st across, turn (10)
    Right:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Ch 1, sc in each st across, turn (10)
        Row 4: Ch 1, sc in each st across, turn (10)
        Row 5: Ch 1, sc in each st across, turn (10)
        Row 6: Ch 1, sc in each st across, turn (10)
        Row 7: Ch 1, sc in each st across, turn (10)

    Limits: one row in six or fewer, neither the last of a part nor one that is cut or refers to
    another row.

    Trade checks: L6.
    """
    for lines in case.lines_by_section:
        rows = [line for line in lines if line.label.kind is Kind.ROW and line.label.numbers]
        if len(rows) < 6:
            continue
        silent = [row for row, after in pairwise(rows) if not _turned(row, after)]
        if 0 < len(silent) * 6 <= len(rows):
            for row in silent:
                yield Hit(row.label.span, {"here": line_name(row)}, round_number=_number(row))


def _turned(row: Line, after: Line) -> bool:
    """Whether the work is turned between two rows, or the text has its reasons not to."""
    says = any(isinstance(step, (Turn, AsRound, FastenOff, Join, Unread)) for step in _flat(row.steps))
    begins = any(isinstance(step, Turn) for step in after.steps[:2])
    joins_anew = any(isinstance(step, (Join, Colour)) for step in after.steps[:2])
    return says or begins or joins_anew or not row.steps or bool(row.label.sizes)


# ----------------------------------------------------------------------------------- L7, L8


def _flat(steps: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from _flat(step.steps)


@check("first-stitch-place-varies", "L7", Level.WARNING)
def first_stitch_place_varies(case: Case) -> Iterator[Hit]:
    """Where the first stitch of a joined round goes is said in the same way each time.

    Why: "same st" in one round and "next st" in another moves the seam by a stitch.

    Wrong:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
        Rnd 3: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
        Rnd 4: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
        Rnd 5: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
        Rnd 6: Ch 1, sc in next 8 sts, join with sl st to first sc (8)
        Rnd 7: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
    Right:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)
        Rnd 3: Ch 1, sc in same st, sc in next 7 sts, join with sl st to first sc (8)

    Limits: needs four rounds of a part that say "same" and one that says "next" after a chain of
    one.

    Trade checks: L7.
    """
    for lines in case.lines_by_section:
        starts = [
            (line, start[2]) for line in lines if (start := _start(line)) and start[1] == 1 and _joins(line)
        ]
        same = [line for line, work in starts if work.place.how is How.SAME]
        other = [(line, work) for line, work in starts if work.place.how is How.NEXT]
        if len(same) >= 4 and len(other) == 1:
            line, work = other[0]
            values = {"here": line_name(line), "words": quoted(case, *work.span)}
            yield Hit(work.span, values, round_number=_number(line))


@check("seam-drift-not-foreseen", "L8", Level.NOTE)
def seam_drift_not_foreseen(case: Case) -> Iterator[Hit]:
    """In a spiral, things that have to line up are placed with the drift of the round's start in mind.

    Why: in spiral single crochet the start walks half a stitch a round: after 20 rounds ten
    stitches. Handles set by counting from it stand askew over the base.

    Wrong:
        Notes: Work in a continuous spiral, do not join.
        Rnd 1: 20 sc in magic ring (20)
        Rnds 2-20: sc in each st around (20)
        Rnd 21: sc in next 3 sts, ch 4, skip 4 sts, sc in next 6 sts, ch 4, skip 4 sts, sc in next 3
        sts
    Right:
        Notes: Work in a continuous spiral, do not join. Before the handles, flatten the bag and
        move the marker to the side.
        Rnd 1: 20 sc in magic ring (20)
        Rnds 2-20: sc in each st around (20)
        Rnd 21: sc in next 3 sts, ch 4, skip 4 sts, sc in next 6 sts, ch 4, skip 4 sts, sc in next 3
        sts

    Limits: said where two openings or handles are made in a spiral after ten rounds or more, and no
    word of flattening, folding, centring or moving a marker stands there. Half a stitch is
    geometry, taken for all stitches.

    Trade checks: L8.
    """
    if case.says_any(
        "flatten", "flattened", "fold", "folded", "center", "centre", "centred", "centered", "align", "lined"
    ):
        return
    if not case.says_any("skip", "sk", "miss"):
        return
    for section in case.fabric.sections:
        plain = [r for r in section.rounds if r.kind == Kind.ROUND]
        for at, worked in enumerate(plain):
            if at >= 10 and _bridges(worked.line.steps) >= 2 and not any(_joins(r.line) for r in plain[:at]):
                values = {"here": round_name(worked), "rounds": at, "drift": at // 2}
                yield Hit(worked.line.label.span, values, round_number=worked.number)
                break


def _bridges(steps: Sequence[Step]) -> int:
    """How many times a chain goes over skipped stitches, not counting lace."""
    found = 0
    for step in steps:
        if isinstance(step, Chain) and step.number[0] and step.number[0] >= 4:
            found += 1
        elif isinstance(step, Repeat) and step.times.number == (2,):
            found += 2 * _bridges(step.steps)
    return found


# ---------------------------------------------------------------------------------- L9, L10


@check("start-away-from-space", "L9", Level.WARNING)
def start_away_from_space(case: Case) -> Iterator[Hit]:
    """A round that begins in a space is brought there by slip stitches first.

    Why: "ch 3, 2 dc in same sp" right after a join to the top of the chain: the corner space is two
    stitches away.

    Wrong:
        Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, (ch 2, 3 dc in ring) 3 times, ch 2, join
        with sl st to top of ch-3 (12 dc, 4 ch-2 sps)
        Rnd 2: Ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same ch-2 sp, *ch 1, (3 dc, ch 2, 3 dc) in
        next ch-2 sp; rep from * 2 more times, ch 1, join with sl st to top of ch-3
    Right:
        Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, (ch 2, 3 dc in ring) 3 times, ch 2, join
        with sl st to top of ch-3 (12 dc, 4 ch-2 sps)
        Rnd 2: Sl st in next 2 dc, sl st in ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same
        ch-2 sp, *ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp; rep from * 2 more times, ch 1, join with
        sl st to top of ch-3

    Limits: said where the round before ends with a join into its first stitch or chain and begins
    with a stitch, so that no space stands there.

    Trade checks: L9.
    """
    for before, worked in case.pairs:
        if before is None or worked.kind != Kind.ROUND:
            continue
        into = _same_space(worked.line)
        if into is not None and _ends_at_start(before) and _begins_with_stitch(before):
            values = {"here": round_name(worked), "words": quoted(case, *into), "below": round_name(before)}
            yield Hit(into, values, round_number=worked.number)


def _same_space(line: Line) -> Span | None:
    """The place of a first stitch that goes into "the same space" right after the starting chain."""
    if len(line.steps) < 2 or not isinstance(line.steps[0], Chain):
        return None
    second = line.steps[1]
    if (
        isinstance(second, (Work, Group))
        and second.place.how is How.SAME
        and second.place.what in {"sp", "ch-sp"}
    ):
        return second.span
    return None


def _ends_at_start(worked: WorkedRound) -> bool:
    joins = [step for step in worked.line.steps if isinstance(step, Join)]
    place = joins[-1].place if joins else None
    return (
        place is not None
        and (place.what in {"turning ch", "st", "sc", "dc", "hdc"})
        and worked.line.steps[-1] is joins[-1]
    )


def _begins_with_stitch(worked: WorkedRound) -> bool:
    sized = next((s for s in worked.per_size if s), None)
    first = sized.edge[0] if sized and sized.edge else None
    while isinstance(first, Block) and first.items:
        first = first.items[0]
    return isinstance(first, Cells) and first.name not in {"ch-sp", "sp", "ch"}


@dataclass(frozen=True, slots=True)
class _Taken:
    label: str
    span: Span


@check("yarn-never-cut", "L10", Level.WARNING)
def yarn_never_cut(case: Case) -> Iterator[Hit]:
    """Every yarn that is joined is cut, dropped, carried or fastened off again.

    Why: with three colours joined and no word of cutting, the maker guesses where ends will be.

    Wrong:
        Rnd 1: With A, 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Join B, ch 1, 2 sc in each st around, join with sl st to first sc (16)
        Rnd 3: Join A, ch 1, sc in each st around, join with sl st to first sc (16)
    Right:
        Rnd 1: With A, 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Join B, ch 1, 2 sc in each st around, join with sl st to first sc (16)
        Rnd 3: Join A, ch 1, sc in each st around, join with sl st to first sc (16)
        Fasten off.

    Limits: silent as soon as the text speaks anywhere of fastening off, cutting, breaking, carrying
    or dropping.

    Trade checks: L10.
    """
    if case.says_any(
        "fasten",
        "fastening",
        "cut",
        "break",
        "carry",
        "carrying",
        "drop",
        "finish",
        "fo",
        "ends",
        "end",
        "bind",
        "tie",
    ):
        return
    taken = [
        _Taken(spot.step.label, spot.step.span)
        for spot in case.spots
        if isinstance(spot.step, Colour) and spot.step.act in {"join", "change", "with"}
    ]
    if len({each.label for each in taken}) > 1:
        last = taken[-1]
        yield Hit(last.span, {"label": last.label, "labels": len({t.label for t in taken})})


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None
