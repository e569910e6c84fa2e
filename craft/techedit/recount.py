"""Printed counts that are not what the line makes, and whether they come right when that is printed."""

from __future__ import annotations

from dataclasses import replace

from craft.fabric.model import SizedRound, WorkedRound
from craft.fabric.verdict import Meaning, holds
from craft.notation.tree import Counted, StatedCount
from craft.techedit.case import Case
from craft.techedit.finding import Suggestion
from craft.techedit.misfits import differs
from craft.techedit.refit import count_corrected

__all__ = ["count_mends", "wrong_items"]


def count_mends(case: Case) -> dict[int, Suggestion]:
    """The printed counts that come right when what was made is printed, by `id(line)`."""
    return case.once("count mends", _count_mends)


def wrong_items(worked: WorkedRound) -> list[tuple[Counted, int, int, int]]:
    """Each printed number that is not what was made: (item, size, printed, made)."""
    stated = worked.line.stated
    if stated is None:
        return []
    found = []
    for item, (what, counts) in zip(stated.items, worked.stated, strict=False):
        for size, (printed, sized) in enumerate(zip(counts, worked.per_size, strict=False)):
            made = _made(what, sized) if sized else None
            if printed is not None and made is not None and made != printed:
                found.append((item, size, printed, made))
    return found


def _made(what: str, sized: SizedRound) -> int | None:
    kinds = dict(sized.by_kind)
    if what == "total":
        return sized.total
    if what in kinds:
        return kinds[what]
    spaces = [n for name, n in sized.by_kind if name.endswith("sp")]
    if what in {"sp", "ch-sp"}:
        return sum(spaces)
    return sized.total if len(kinds) == 1 else None


def _count_mends(case: Case) -> dict[int, Suggestion]:
    """What a line makes does not hang on what it prints, so that the corrected count is held against the
    work that was done; one that still does not agree is not offered.
    """
    found: dict[int, Suggestion] = {}
    for worked in case.fabric.rounds:
        wrong = wrong_items(worked) if differs(worked) and worked.went_on_from != "printed" else []
        if len(wrong) == 1 and id(worked.line) not in found and worked.line.stated:
            item, size, _, made = wrong[0]
            mend = count_corrected(case, item, size, made)
            if mend and _agrees(worked, _with_number(worked.line.stated, item, size, made)):
                found[id(worked.line)] = mend
    return found


def _agrees(worked: WorkedRound, stated: StatedCount) -> bool:
    """Whether a count in stitches would be what was worked, in every size."""
    sizes = worked.line.label.sizes
    answers = (
        holds(stated, sized, size, Meaning.STITCHES, sizes)
        for size, sized in enumerate(worked.per_size)
        if sized
    )
    return all(answers)


def _with_number(stated: StatedCount, item: Counted, size: int, right: int) -> StatedCount:
    """A printed count with one number changed."""
    numbers = list(item.number)
    numbers[size if len(numbers) > 1 else 0] = right
    changed = replace(item, number=tuple(numbers))
    return replace(stated, items=tuple(changed if each is item else each for each in stated.items))
