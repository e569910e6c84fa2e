"""Which check speaks of a round that does not fit, so that one slip is reported once.

A round that does not use the round below exactly carries misfits, one for each size and place. They
are sorted here into `Slip`s, one for a round, and each slip has exactly one `slug`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from craft.fabric.model import Cells, Fault, Misfit, Verdict, WorkedRound
from craft.notation.tree import (
    AsRound,
    Group,
    How,
    Line,
    OnlySizes,
    Repeat,
    Rotate,
    Skip,
    Span,
    Step,
    Work,
)
from craft.techedit.case import Case
from craft.techedit.marks import broken_lines
from craft.techedit.rules import lines_against_rule
from craft.techedit.widths import makes, plain, width

__all__ = ["Slip", "printed_totals", "slips_of", "step_at", "worked_totals"]


@dataclass(frozen=True, slots=True)
class Slip:
    """One fault of one round: its kind, the round below, the first misfit, and the sizes it touches."""

    slug: str
    worked: WorkedRound
    below: WorkedRound | None
    misfit: Misfit
    sizes: tuple[int, ...]
    step: Step | None

    @property
    def small(self) -> bool:
        """Whether it lies between two numbered rounds and is about as large as slips are: a few
        stitches, or one pass of the repeat. What is larger is as often ours as the maker's.
        """
        below = self.below
        numbered = self.worked.number is not None and below is not None and below.kind == self.worked.kind
        few = max(6, self.misfit.repeat_uses or 0, self.misfit.passes or 0)
        named = numbered and below is not None and below.number is not None
        return named and abs(self.misfit.left) <= few

    @property
    def printed(self) -> int | None:
        """The total printed for the misfit's size."""
        totals = printed_totals(self.worked)
        return totals[min(self.misfit.size, len(totals) - 1)] if totals else None


def slips_of(case: Case) -> tuple[Slip, ...]:
    """The slips of all rounds; a line that stands for several rounds is named once.

    A misfit of which the worker is not sure is left alone, and so is one in a part that does not come
    out elsewhere either: it may be ours.
    """
    return case.once("slips", _slips)


def _slips(case: Case) -> tuple[Slip, ...]:
    found: dict[int, Slip] = {}
    ruled = lines_against_rule(case) | broken_lines(case)
    for below, worked in case.pairs:
        sure = any(misfit.sure for misfit in worked.misfits) and case.trusted(worked)
        if sure and id(worked.line) not in found and id(worked.line) not in ruled:
            slip = _slip(case, below, worked)
            fits_trade = _count_without_a_mark(case, slip) or _begun_in_one_chain(slip)
            if not fits_trade and (slip.small or plain((worked.source or worked.line).steps)):
                found[id(worked.line)] = slip
    return tuple(found.values())


def _count_without_a_mark(case: Case, slip: Slip) -> bool:
    """Whether the step that lacks stitches is a count at the end of its line ("... ch-3 45 dc.").

    A last step of the work would follow a comma or "and".
    """
    step, line = slip.step, slip.worked.line
    bare = isinstance(step, Work) and step.place.how is How.BARE and slip.misfit.left < 0
    if step is None or not bare or case.text[step.span.end : line.span.end].strip(" \n.)]"):
        return False
    before = case.text[line.span.start : step.span.start].rstrip()
    return not before.endswith((",", "and", "then", "(", "["))


def _begun_in_one_chain(slip: Slip) -> bool:
    """Whether a first round goes into one chain ("8 hdc in 2nd ch from hook"): the others are no stitches."""
    first = slip.below is None or slip.below.number is None
    works = [step for step in slip.worked.line.steps if isinstance(step, Work)]
    into = len(works) == 1 and works[0].place.ordinal is not None
    return first and into and slip.worked.kind == "round" and slip.misfit.fault is Fault.LEFT_OVER


def _slip(case: Case, below: WorkedRound | None, worked: WorkedRound) -> Slip:
    sure = [misfit for misfit in worked.misfits if misfit.sure]
    misfit, sizes = sure[0], tuple(dict.fromkeys(m.size for m in sure))
    steps = (worked.source or worked.line).steps
    inner = misfit.fault is Fault.MISSING_PLACE
    step = innermost(steps, misfit.span) if inner else step_at(steps, misfit.span)
    if isinstance(step, Repeat):
        misfit = _completed(misfit, step, (worked.source or worked.line).steps)
    slug = _slug(case, (below, worked), misfit, step, sizes)
    return Slip(slug, worked, below, misfit, sizes, step)


def _completed(misfit: Misfit, step: Repeat, steps: Sequence[Step]) -> Misfit:
    """A misfit with the width of one pass filled in from the words where the worker gave none."""
    times = step.times.number[0] if step.times.number and len(step.times.number) == 1 else None
    return replace(
        misfit,
        made=misfit.made if misfit.made is not None else makes(steps),
        repeat_uses=misfit.repeat_uses or width(step.steps),
        repeat_makes=misfit.repeat_makes or makes(step.steps),
        passes=misfit.passes if misfit.passes is not None else times,
    )


def _slug(
    case: Case,
    pair: tuple[WorkedRound | None, WorkedRound],
    misfit: Misfit,
    step: Step | None,
    sizes: Sequence[int],
) -> str:
    """The check that speaks of this misfit; the most telling one first."""
    below, worked = pair
    if any(isinstance(s, AsRound) for s in worked.line.steps):
        return "repeated-row-does-not-fit"
    if misfit.fault is Fault.MISSING_PLACE:
        return _missing(step)
    if _lost_chain(below, worked, misfit):
        return "turning-chain-not-worked"
    if 0 < len(sizes) < case.size_count and misfit.fault is Fault.REPEAT_MISFIT:
        return "repeat-fits-some-sizes"
    if isinstance(step, Repeat):
        return _of_repeat(case, worked, misfit, step)
    return "stitches-left-over" if misfit.left > 0 else "stitches-lacking"


def _missing(step: Step | None) -> str:
    if isinstance(step, Skip):
        return "skip-over-nothing"
    if isinstance(step, Work) and step.stitch.post:
        return "post-without-post"
    return "place-not-there"


def _of_repeat(case: Case, worked: WorkedRound, misfit: Misfit, step: Repeat) -> str:
    title = case.sections[worked.section_index].title.lower()
    if step.times.until_left is not None:
        return "to-last-leaves-another"
    if step.times.number is not None:
        said = step.times.more is not False or step.fence not in {"(", "[", "{"}
        one_pass = said and misfit.repeat_uses and abs(misfit.left) == misfit.repeat_uses
        return "times-one-out" if one_pass else "repeat-number-does-not-fit"
    if any(word in title for word in ("border", "edging", "trim")):
        return "border-repeat-does-not-fit"
    return "repeat-does-not-fit"


def _lost_chain(below: WorkedRound | None, worked: WorkedRound, misfit: Misfit) -> bool:
    """One stitch left in a row over a turning chain that counts: its top was not worked into."""
    sized = below.per_size[misfit.size] if below and below.per_size else None
    counts = sized is not None and any(
        isinstance(cells, Cells) and cells.tag == "turning chain" for cells in sized.edge
    )
    return worked.kind == "row" and misfit.fault is Fault.LEFT_OVER and misfit.left == 1 and counts


def step_at(steps: Sequence[Step], span: Span) -> Step | None:
    """The step that a span points at: the outermost repeat around it, else the step itself."""
    around = list(_within(steps, span))
    repeat = next((step for step in around if isinstance(step, Repeat)), None)
    exact = next((step for step in around if step.span == span), None)
    return repeat or exact or (around[0] if around else None)


def innermost(steps: Sequence[Step], span: Span) -> Step | None:
    """The smallest step around a place."""
    around = list(_within(steps, span))
    return around[-1] if around else None


def _within(steps: Sequence[Step], span: Span) -> Iterator[Step]:
    for step in steps:
        if step.span.start <= span.start and span.end <= step.span.end:
            yield step
            if isinstance(step, (Repeat, Group, OnlySizes)):
                yield from _within(step.steps, span)


def printed_totals(worked: WorkedRound) -> tuple[int | None, ...]:
    """The printed totals by size, () where no total is printed."""
    return next((counts for what, counts in worked.stated if what == "total"), _only(worked))


def _only(worked: WorkedRound) -> tuple[int | None, ...]:
    """A single kind of stitch printed alone serves as the total."""
    return worked.stated[0][1] if len(worked.stated) == 1 and "sp" not in worked.stated[0][0] else ()


def worked_totals(worked: WorkedRound) -> tuple[int | None, ...]:
    return tuple(sized.total if sized else None for sized in worked.per_size)


def goes_round_a_chain(line: Line) -> bool:
    """Whether the line works along both sides of a chain."""
    return any(isinstance(step, Rotate) for step in line.steps)


def differs(worked: WorkedRound) -> bool:
    return worked.verdict is Verdict.DIFFERS and not worked.misfits
