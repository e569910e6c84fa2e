"""Group J, first half: the stitches of a round against the round below and against the print."""

from __future__ import annotations

from collections.abc import Iterator

from craft.fabric.model import Verdict, WorkedRound
from craft.notation.tree import Chain, Join, Repeat, Span, Step, Work
from craft.techedit.case import Case
from craft.techedit.checks.words import quoted, round_name, size_words, steps_words
from craft.techedit.finding import Level, Suggestion
from craft.techedit.marks import broken_lines
from craft.techedit.misfits import (
    Slip,
    differs,
    goes_round_a_chain,
    slips_of,
    worked_totals,
)
from craft.techedit.recount import count_mends, wrong_items
from craft.techedit.refit import refitted
from craft.techedit.registry import Hit, check
from craft.techedit.rules import lines_against_rule
from craft.techedit.widths import plain, width

# ---------------------------------------------------------------- J1, J3, J4, J5, J7: fitting


def _of(case: Case, *slugs: str) -> Iterator[Slip]:
    return (slip for slip in slips_of(case) if slip.slug in slugs)


def _hit(case: Case, slip: Slip, variant: str = "") -> Hit:
    """The sentence of a slip: what was there, what was used, and the change that mends it."""
    mend = refitted(case, slip)
    values = {**_values(case, slip), **_mended(case, slip, mend)}
    kind = "-".join(filter(None, (variant, "mend" if mend else "")))
    sizes = slip.sizes if case.size_count > 1 else None
    span = _span(slip)
    line = slip.worked.source or slip.worked.line
    # A row that leaves stitches and prints what it makes was most likely meant to leave them.
    meant = slip.worked.kind == "row" and slip.slug == "stitches-left-over"
    meant = meant and slip.worked.verdict is Verdict.AGREES
    sure = case.trusted(slip.worked) and plain(line.steps) and slip.small and not meant
    level = None if sure else Level.WARNING
    number = slip.worked.number
    return Hit(span, values, kind, level, round_number=number, sizes=sizes, suggestion=mend)


def _span(slip: Slip) -> Span:
    """The step at fault, or the label where the worker named no step of this line."""
    line = slip.worked.line
    span = slip.step.span if slip.step else slip.misfit.span
    inside = line.span.start <= span.start < span.end <= line.span.end
    return span if inside else line.label.span


def _values(case: Case, slip: Slip) -> dict[str, object]:
    misfit = slip.misfit
    below = round_name(slip.below) if slip.below and slip.below.number else "the round below"
    span = _span(slip)
    return {
        "here": round_name(slip.worked),
        "below": below,
        "available": misfit.available,
        "used": misfit.used,
        "left": abs(misfit.left),
        "makes": f" and gives {misfit.made}" if misfit.made is not None else "",
        "words": quoted(case, *span),
        "uses": misfit.repeat_uses or "?",
        "passes": misfit.passes if misfit.passes is not None else "?",
        "sizes": size_words(case, slip.sizes) if case.size_count > 1 else "",
    }


def _mended(case: Case, slip: Slip, mend: Suggestion | None) -> dict[str, object]:
    """The words of the mended step and what it gives."""
    if mend is None or slip.step is None:
        return {}
    start, end = slip.step.span
    words = case.text[start : mend.span.start] + mend.text + case.text[mend.span.end : end]
    printed = slip.printed
    gives = f"give {printed}, the count you print" if printed is not None else "leave none over"
    same = printed is not None and printed == slip.misfit.made
    return {"mended": " ".join(words.split()), "gives": f"also {gives}" if same else gives}


@check("stitches-left-over", "J1", Level.ERROR)
def stitches_left_over(case: Case) -> Iterator[Hit]:
    """A round uses every stitch of the round below.

    Why: a stitch left over leaves a hole at the end of the round, and the next round may or may not
    count it.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc 5, inc, sc 5 (12)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc 5, inc, sc 6 (13)

    Limits: stitches that the text leaves unworked on purpose are no fault; a row that leaves some and
    prints the count of the others is only asked about.

    Trade checks: J1.
    """
    return (_hit(case, slip) for slip in _of(case, "stitches-left-over"))


@check("stitches-lacking", "J1", Level.ERROR)
def stitches_lacking(case: Case) -> Iterator[Hit]:
    """A round asks for no more stitches than the round below has.

    Why: a maker who runs out of stitches before the line ends undoes three rounds to look for her
    mistake.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc 5, inc, sc 7 (14)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: sc 5, inc, sc 6 (13)

    Trade checks: J1.
    """
    return (_hit(case, slip) for slip in _of(case, "stitches-lacking"))


@check("repeat-number-does-not-fit", "J1 J3", Level.ERROR)
def repeat_number_does_not_fit(case: Case) -> Iterator[Hit]:
    """A repeat worked a number of times fills the round below.

    Why: (sc 4, inc) x 7 on 36 stitches uses 35. The one left over shifts every round that follows.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc 3, inc) x 4 (18)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)

    Limits: where another number of stitches and times fills the round and gives the printed count,
    it is offered; it was worked first.

    Trade checks: J1, J3.
    """
    for slip in _of(case, "repeat-number-does-not-fit"):
        yield _hit(case, slip, "over" if slip.misfit.left > 0 else "lacking")


@check("times-one-out", "J5", Level.ERROR)
def times_one_out(case: Case) -> Iterator[Hit]:
    """A number of times is the right one of "n times" and "n more times".

    Why: "repeat from * 5 more times" is six passes; where five fill the round, the sixth has no
    stitches.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: *Sc in next st, inc; rep from * 6 more times (18)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: *Sc in next st, inc; rep from * 5 more times (18)

    Limits: "n times" alone is read both ways first, and only a number that fits neither is
    reported.

    Trade checks: J5.
    """
    for slip in _of(case, "times-one-out"):
        yield _hit(case, slip, "over" if slip.misfit.left > 0 else "lacking")


@check("repeat-does-not-fit", "J3 J4", Level.ERROR)
def repeat_does_not_fit(case: Case) -> Iterator[Hit]:
    """A repeat "around" or "across" divides the stitches that it is worked over.

    Why: a repeat of 5 on 32 stitches leaves 2 that nobody told the maker what to do with.

    Wrong:
        Rnd 1: 8 sc in magic ring (8)
        Rnd 2: 2 sc in each st around (16)
        Rnd 3: (sc 4, inc) around
    Right:
        Rnd 1: 8 sc in magic ring (8)
        Rnd 2: 2 sc in each st around (16)
        Rnd 3: (sc 3, inc) around

    Limits: stitches before and after the repeat are taken off first.

    Trade checks: J3, J4.
    """
    return (_hit(case, slip) for slip in _of(case, "repeat-does-not-fit"))


@check("to-last-leaves-another", "J7", Level.ERROR)
def to_last_leaves_another(case: Case) -> Iterator[Hit]:
    """A repeat "to last n" leaves just n.

    Why: with "rep to last 2 sts" and three left, the maker has one stitch without an instruction.

    Wrong:
        Row 1: Ch 18, sc in 2nd ch from hook and in each ch across, turn (17)
        Row 2: Ch 1, *sc in next 2 sts, dc in next st; rep from * to last 3 sts, sc in last 3 sts,
        turn
    Right:
        Row 1: Ch 18, sc in 2nd ch from hook and in each ch across, turn (17)
        Row 2: Ch 1, *sc in next 2 sts, dc in next st; rep from * to last 2 sts, sc in last 2 sts,
        turn

    Trade checks: J7.
    """
    spoken = {id(slip.worked.line) for slip in slips_of(case)}
    yield from (_hit(case, slip) for slip in _of(case, "to-last-leaves-another"))
    for below, worked in case.pairs:
        plain = below is not None and _plain(below) and id(worked.line) not in spoken
        found = _passes_short(worked) if plain else None
        if found is None or below is None or not case.trusted(worked):
            continue
        spoken.add(id(worked.line))
        step, available, one, over = found
        values = {
            "here": round_name(worked),
            "below": round_name(below) if below.number else "the round below",
            "available": available,
            "uses": one,
            "left": over,
            "words": quoted(case, *step.span),
        }
        yield Hit(step.span, values, round_number=worked.number)


def _passes_short(worked: WorkedRound) -> tuple[Repeat, int, int, int] | None:
    """A repeat "to last n" that does not leave n: (repeat, stitches below, width of a pass, over)."""
    at = next((i for i, s in enumerate(worked.line.steps) if isinstance(s, Repeat)), None)
    step = worked.line.steps[at] if at is not None else None
    if not isinstance(step, Repeat) or not step.times.until_left or worked.source is not None:
        return None
    chains = [s for s in (*worked.line.steps, *step.steps) if isinstance(s, Chain)]
    simple = all(isinstance(s, Work) and s.place.below == 0 for s in step.steps)
    if not simple or step.stop is not None or any(chain.number != (1,) for chain in chains):
        return None  # a chain that may count, or a pass that breaks off: the fabric knows better
    before, one = width(worked.line.steps[:at]), width(step.steps)
    for size, sized in enumerate(worked.per_size):
        keep = step.times.until_left[size if len(step.times.until_left) > 1 else 0]
        if sized is None or keep is None or before is None or not one:
            continue
        room = sized.available - before - keep
        if room > 0 and room % one:
            return step, sized.available, one, room % one
    return None


def _plain(below: WorkedRound) -> bool:
    """Whether a round offers stitches alone."""
    names = [name for sized in below.per_size if sized for name, _ in sized.by_kind]
    return not any(name == "ch" or name.endswith("sp") for name in names)


@check("repeat-fits-some-sizes", "K3", Level.ERROR)
def repeat_fits_some_sizes(case: Case) -> Iterator[Hit]:
    """A repeat fits every size, not only the one that was made.

    Why: the sample was size M. On 25 (28, 31) stitches, one stitch and a repeat of 4 fits the first
    alone.

    Wrong:
        Sizes: S (M, L)
        Row 1: Ch 17 (19, 21), sc in 2nd ch from hook and in each ch across, turn (16 (18, 20) sc)
        Row 2: Ch 1, *sc in next 3 sts, dc in next st; rep from * across, turn
    Right:
        Sizes: S (M, L)
        Row 1: Ch 17 (21, 25), sc in 2nd ch from hook and in each ch across, turn (16 (20, 24) sc)
        Row 2: Ch 1, *sc in next 3 sts, dc in next st; rep from * across, turn

    Trade checks: K3.
    """
    return (_hit(case, slip) for slip in _of(case, "repeat-fits-some-sizes"))


@check("border-repeat-does-not-fit", "K5", Level.ERROR)
def border_repeat_does_not_fit(case: Case) -> Iterator[Hit]:
    """The repeat of a border divides the edge that it is worked on.

    Why: a border meets its own beginning; what is left over stands there for all to see.

    Wrong:
        MAT
        Rnd 1: 8 sc in magic ring (8)
        Rnd 2: 2 sc in each st around (16)

        BORDER
        Rnd 3: (Sc in next 2 sts, skip 1 st) around
    Right:
        MAT
        Rnd 1: 8 sc in magic ring (8)
        Rnd 2: 2 sc in each st around (16)

        BORDER
        Rnd 3: (Sc in next 3 sts, skip 1 st) around

    Trade checks: K5.
    """
    return (_hit(case, slip) for slip in _of(case, "border-repeat-does-not-fit"))


# ------------------------------------------------------- J2, J9, J14, J16, L1: printed counts


def _count_slug(worked: WorkedRound) -> str:
    """The one check that speaks of a printed count that differs."""
    wrong = wrong_items(worked)
    kinds = {item.what for item, *_ in wrong}
    total_right = "total" not in kinds and (len(worked.stated) > 1 or any("sp" in kind for kind in kinds))
    one_out = bool(wrong) and all(abs(printed - made) == 1 for _, _, printed, made in wrong)
    if goes_round_a_chain(worked.line):
        return "oval-count-differs"
    if one_out and _only_otherwise(worked, wrong[0][2] - wrong[0][3]):
        return "chain-counts-otherwise"
    if total_right and kinds:
        return "count-by-kind-differs"
    joined = any(isinstance(step, Join) for step in worked.line.steps)
    if one_out and joined and isinstance(_first(worked), Chain):
        return "one-out-at-the-join"
    return "count-differs"


def _first(worked: WorkedRound) -> Step | None:
    return worked.line.steps[0] if worked.line.steps else None


def _only_otherwise(worked: WorkedRound, more: int) -> bool:
    """Whether the starting chain, read the other way, makes the printed count."""
    first = _first(worked)
    if not isinstance(first, Chain) or first.counts is not None or not first.number[0]:
        return False
    if first.number[0] < 2 or worked.reading is None or "chain" not in f"{worked.reading} chain":
        return False
    counted = "not count" not in worked.reading
    return more == (-1 if counted else 1)


def _differing(case: Case, slug: str) -> Iterator[WorkedRound]:
    seen: set[int] = set(lines_against_rule(case) | broken_lines(case))
    for worked in case.fabric.rounds:
        if differs(worked) and id(worked.line) not in seen and _whole(case, worked):
            seen.add(id(worked.line))
            if _count_slug(worked) == slug:
                yield worked


def _whole(case: Case, worked: WorkedRound) -> bool:
    """Whether the printed count has a number for each size; else its list is the slip."""
    items = worked.line.stated.items if worked.line.stated else ()
    return all(len(item.number) in {1, case.size_count} for item in items)


def _count_hit(case: Case, worked: WorkedRound, variant: str = "") -> Hit | None:
    """The sentence about a printed count: what is printed, what the line makes, and which the next
    fits.
    """
    wrong = wrong_items(worked)
    stated = worked.line.stated
    if stated is None:
        return None
    if not wrong:
        return _unlike(case, worked)
    item, _size, printed, made = wrong[0]
    by_size = case.size_count > 1
    sizes = tuple(dict.fromkeys(s for _, s, _, _ in wrong)) if by_size else None
    steps_wrong = worked.went_on_from == "printed"
    mend = count_mends(case).get(id(worked.line))
    values = {
        "here": round_name(worked),
        "words": steps_words(case, worked.line),
        "made": made,
        "printed": printed,
        "what": _what(item.what, made),
        "sizes": f" for {size_words(case, sizes)}" if sizes else "",
    }
    kind = variant or ("steps" if steps_wrong else "")
    near = worked.number is not None and (
        abs(made - printed) <= _FEW or max(made, printed) <= 2 * min(made, printed)
    )
    some = not sizes or len(sizes) < case.size_count  # all of several sizes at once is seldom a slip
    if [near, some, case.trusted(worked)].count(False) > 1:
        return None  # ours rather than the maker's; the table of rounds shows it all the same
    level = None if case.trusted(worked) and near and some else Level.WARNING
    number = worked.number
    return Hit(stated.span, values, kind, level, round_number=number, sizes=sizes, suggestion=mend)


def _what(kind: str, number: int) -> str:
    """The name of what is counted, behind its number: "", " sc", " ch-2 sps"."""
    plural = number != 1 and kind.endswith(("sp", "shell", "cluster", "loop", "st"))
    return "" if kind == "total" else f" {kind}{'s' if plural else ''}"


_FEW = 6  # stitches that a slip is out by, as a rule


def _unlike(case: Case, worked: WorkedRound) -> Hit | None:
    """A count that differs in a way that no single number shows."""
    stated = worked.line.stated
    sized = next((each for each in worked.per_size if each), None)
    if stated is None or sized is None:
        return None
    values = {
        "here": round_name(worked),
        "words": steps_words(case, worked.line),
        "made": ", ".join(f"{n} {name}" for name, n in sized.by_kind) or sized.total,
        "printed": quoted(case, *stated.span).strip("()[]"),
    }
    return Hit(stated.span, values, "unlike", Level.WARNING, round_number=worked.number)


def _count_hits(case: Case, slug: str) -> Iterator[Hit]:
    return filter(None, (_count_hit(case, worked) for worked in _differing(case, slug)))


@check("count-differs", "J2", Level.ERROR)
def count_differs(case: Case) -> Iterator[Hit]:
    """The count printed at the end of a line is what the line makes.

    Why: makers trust the print more than their hands, and undo what was right.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (16)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)

    Limits: counts may take in spaces or chains as the pattern does; the reading that fits most
    lines is used and named. After a faulty line the work goes on from whichever count the next line
    fits.

    Trade checks: J2.
    """
    return _count_hits(case, "count-differs")


@check("count-by-kind-differs", "J9", Level.ERROR)
def count_by_kind_differs(case: Case) -> Iterator[Hit]:
    """A count by kind is right for each kind: stitches, spaces, shells.

    Why: in lace the next round is worked into the spaces; "8 ch-1 sps" where 9 were made loses one
    for good.

    Wrong:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, (sc in next st, ch 2, skip 1 st) 6 times, join (6 sc, 7 ch-2 sps)
    Right:
        Rnd 1: 12 sc in magic ring, join (12)
        Rnd 2: Ch 1, (sc in next st, ch 2, skip 1 st) 6 times, join (6 sc, 6 ch-2 sps)

    Trade checks: J9.
    """
    return _count_hits(case, "count-by-kind-differs")


@check("oval-count-differs", "J14", Level.ERROR)
def oval_count_differs(case: Case) -> Iterator[Hit]:
    """A round worked along both sides of a chain has the stitches of both sides and both ends.

    Why: on S worked chains the first round of an oval is 2 S + 2 with the usual ends, and counts
    typed from memory are often two out.

    Wrong:
        Ch 9.
        Rnd 1: 2 sc in 2nd ch from hook, sc in next 6 ch, 3 sc in last ch, working on other side of
        chain, sc in next 7 ch (20)
    Right:
        Ch 9.
        Rnd 1: 2 sc in 2nd ch from hook, sc in next 6 ch, 3 sc in last ch, working on other side of
        chain, sc in next 7 ch (18)

    Trade checks: J14.
    """
    return _count_hits(case, "oval-count-differs")


@check("one-out-at-the-join", "J16", Level.ERROR)
def one_out_at_the_join(case: Case) -> Iterator[Hit]:
    """The stitch at the join is worked once: neither lost nor worked again.

    Why: a joined round that is one stitch out has nearly always lost its first stitch or worked it
    twice.

    Wrong:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to first sc (17)
    Right:
        Rnd 1: 8 sc in magic ring, join with sl st to first sc (8)
        Rnd 2: Ch 1, 2 sc in each st around, join with sl st to first sc (16)

    Limits: said of joined rounds that begin with a chain and are out by exactly one.

    Trade checks: J16.
    """
    return _count_hits(case, "one-out-at-the-join")


@check("chain-counts-otherwise", "L1", Level.ERROR)
def chain_counts_otherwise(case: Case) -> Iterator[Hit]:
    """The starting chain counts as a stitch throughout a part, or nowhere in it.

    Why: one row that comes out only if its chain counts, among rows where it does not, costs a
    stitch there.

    Wrong:
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 18 sts, turn (19)
        Row 4: Ch 3, dc in next 18 sts, turn (18)
        Row 5: Ch 3, dc in next 18 sts, turn (19)
    Right:
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 18 sts, turn (19)

    Limits: a pattern that says nothing is read both ways first; the reading that fits most lines is
    used.

    Trade checks: L1.
    """
    return _count_hits(case, "chain-counts-otherwise")


# --------------------------------------------------------------------------------------- J8


@check("change-differs", "J8", Level.WARNING)
def change_differs(case: Case) -> Iterator[Hit]:
    """An increase or decrease said beside a count is the difference of the two counts.

    Why: "(+6)" beside a count that went up by 7 makes the maker count both rounds again.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12, +4)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12, +6)

    Trade checks: J8.
    """
    for below, worked in case.pairs:
        change = worked.line.stated.change if worked.line.stated else None
        if change is None or below is None or worked.verdict is Verdict.DIFFERS:
            continue
        before, after = worked_totals(below), worked_totals(worked)
        if before and after and before[0] is not None and after[0] is not None and worked.line.stated:
            real = after[0] - before[0]
            if real not in {change, -change}:
                values = {"here": round_name(worked), "said": change, "before": before[0], "after": after[0]}
                yield Hit(worked.line.stated.span, {**values, "real": real}, round_number=worked.number)
