"""How often each repeat "around" or "to the end" is worked, put into the draft as a number.

The number is taken from what the line makes and what one pass of the repeat makes; then the draft is worked
again with it, and where a line comes to something else its repeat stays as it was written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from craft.fabric.model import Fabric, SizedRound
from craft.fabric.work import work
from craft.notation.bodies import tally_of
from craft.notation.tree import Draft, How, Line, Numbers, Repeat, Span, Step, Times, Work

__all__ = ["with_passes"]


def with_passes(draft: Draft) -> Draft:
    """The draft with a number in place of "around" and "to last 3 sts", wherever it is certain."""
    fabric = work(draft)
    found = _found(fabric)
    if not found:
        return draft
    counted = _replaced(draft, found)
    wrong = _differing(fabric, work(counted))
    counted = _replaced(draft, {span: number for span, number in found.items() if span not in wrong})
    return counted if not wrong or not _differing(fabric, work(counted)) else draft


def _found(fabric: Fabric) -> dict[Span, tuple[Repeat, Numbers]]:
    """A line's span -> its repeat with no number, and how often it is worked per size."""
    found: dict[Span, tuple[Repeat, Numbers]] = {}
    rounds = [one for section in fabric.sections for one in section.rounds]
    # a line that is worked again later may be worked over other widths
    unsure = {worked.source.span for worked in rounds if worked.source is not None}
    for worked in rounds:
        line = worked.line
        repeat = _only_open_repeat(line.steps)
        if repeat is None or worked.source is not None or line.label.sizes:
            continue
        number = tuple(_passes(line.steps, repeat, sized) for sized in worked.per_size)
        if None in number or (line.span in found and found[line.span][1] != number):
            unsure.add(line.span)
        found[line.span] = (repeat, number if len(set(number)) > 1 else number[:1])
    return {span: one for span, one in found.items() if span not in unsure}


def _only_open_repeat(steps: Sequence[Step]) -> Repeat | None:
    """The one repeat of a line that goes on to the end, if every other step says its own number."""
    repeats = [step for step in steps if isinstance(step, Repeat) and step.times.number is None]
    if len(repeats) != 1 or repeats[0].ending or not all(_is_numbered(step) for step in steps):
        return None
    return repeats[0]


def _is_numbered(step: Step) -> bool:
    if isinstance(step, Repeat):
        return all(_is_numbered(inner) and not _is_open(inner) for inner in step.steps)
    if isinstance(step, Work):
        return step.place.number is not None and step.place.how is not How.EACH
    return True


def _is_open(step: Step) -> bool:
    return isinstance(step, Repeat) and step.times.number is None


def _passes(steps: Sequence[Step], repeat: Repeat, sized: SizedRound | None) -> int | None:
    """How often the repeat is worked, by what the line makes; None where it does not come out."""
    if sized is None:
        return None
    each = _made(repeat.steps)
    rest = _made([step for step in steps if step is not repeat])
    if repeat.stop is not None:
        rest += _made(repeat.steps[: repeat.stop])
    left = sum(number for _, number in sized.tally) - rest
    if each <= 0 or left < 0 or left % each:
        return None
    return left // each + (1 if repeat.stop is not None else 0) or None


def _made(steps: Sequence[Step]) -> int:
    return sum(number for _, number in tally_of(tuple(steps)))


def _replaced(draft: Draft, found: dict[Span, tuple[Repeat, Numbers]]) -> Draft:
    """The draft with the repeats that were found numbered."""
    sections = tuple(
        replace(
            section,
            lines=tuple(
                _numbered(line, *found[line.span]) if isinstance(line, Line) and line.span in found else line
                for line in section.lines
            ),
        )
        for section in draft.sections
    )
    return replace(draft, sections=sections)


def _numbered(line: Line, repeat: Repeat, number: Numbers) -> Line:
    counted = replace(repeat, times=Times(number, more=False))
    return replace(line, steps=tuple(counted if step is repeat else step for step in line.steps))


def _differing(before: Fabric, after: Fabric) -> set[Span]:
    """The lines that come to something else."""
    return {
        one.line.span
        for old, new in zip(before.sections, after.sections, strict=True)
        for one, other in zip(old.rounds, new.rounds, strict=False)
        if _sums(one.per_size) != _sums(other.per_size)
    }


def _sums(per_size: Sequence[SizedRound | None]) -> list[tuple[int, object] | None]:
    return [None if sized is None else (sized.total, sized.tally) for sized in per_size]
