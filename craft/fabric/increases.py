"""Where a round increases, and increases that stand above one another.

Increases stacked in the same place make a shape with as many corners; its corners stick out by
1 / cos(180 / n) - 1: 15.5 % for six, 8.2 % for eight (derived; trade notes section 3.4).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from craft.fabric.model import Passes, SizedRound, WorkedRound, Wrought

__all__ = ["Increase", "Stack", "increases_of", "stacks_of", "stick_out"]

MOST_STITCHES = 20_000
"""Longer rounds are not looked at stitch by stitch."""
FIRST_ROUND = 4
"""The first three rounds are left alone: there is nothing to stagger (trade notes section 3.4)."""
FEWEST_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class Increase:
    """Several stitches in one place: the place below, counted from 0, the first stitch made, and how many."""

    below: int
    made: int
    makes: int


@dataclass(frozen=True, slots=True)
class Stack:
    """Rounds that increase above the increases of the round below. `corners`: in each round; `rounds` in
    order, the lowest being the one that the next is stacked on.
    """

    corners: int
    rounds: tuple[WorkedRound, ...]

    @property
    def sticks_out(self) -> float:
        """By what part the corners lie farther out than a circle."""
        return stick_out(self.corners)


def stick_out(corners: int) -> float:
    """By what part the corners of a regular shape lie farther out than its circle touches."""
    return 1 / math.cos(math.pi / corners) - 1 if corners >= 3 else 0.0


def increases_of(sized: SizedRound) -> tuple[Increase, ...]:
    """Every place of the round below in which two or more stitches stand, in the order worked."""
    if sized.total > MOST_STITCHES:
        return ()
    found: list[Increase] = []
    below, made = 0, 0
    for uses, makes, count in _runs(sized.wrought):
        if uses == 0 and makes and below:
            _one_more(found, below - 1, made, makes * count)
        elif uses == 1 and makes > 1:
            found += [Increase(below + at, made + at * makes, makes) for at in range(count)]
        below += uses * count
        made += makes * count
    return tuple(found)


def _one_more(found: list[Increase], below: int, made: int, makes: int) -> None:
    """Stitches added to a place that has one already, as in "ch 3, dc in same st"."""
    if found and found[-1].below == below:
        last = found.pop()
        found.append(Increase(below, last.made, last.makes + makes))
    else:
        found.append(Increase(below, made - 1, makes + 1))


def _runs(wrought: Wrought) -> Iterator[tuple[int, int, int]]:
    """(uses, makes, count) of every run, the passes of repeats one after another."""
    for stroke in wrought:
        if isinstance(stroke, Passes):
            for _ in range(stroke.times):
                yield from _runs(stroke.strokes)
        elif stroke.uses or stroke.makes:
            yield stroke.uses, stroke.makes, stroke.count


def stacks_of(rounds: Sequence[WorkedRound], size: int = 0) -> tuple[Stack, ...]:
    """Runs of four rounds or more, from the fourth of the part on, that increase in the same places."""
    stacks: list[Stack] = []
    run: list[WorkedRound] = []
    before: tuple[Increase, ...] = ()
    for worked in rounds:
        sized = worked.per_size[size]
        now = increases_of(sized) if sized is not None and worked.kind == "round" else ()
        if len(now) >= 3 and len(now) == len(before) and _above(now, before):
            run.append(worked)
        else:
            _keep(stacks, run, len(before))
            run = [worked] if len(now) >= 3 else []
        before = now
    _keep(stacks, run, len(before))
    return tuple(stacks)


def _above(now: Sequence[Increase], below: Sequence[Increase]) -> bool:
    """Whether four in five increases stand in a stitch that an increase below made."""
    doubled = {each.made + at for each in below for at in range(each.makes)}
    return sum(each.below in doubled for each in now) >= 0.8 * len(now)


def _keep(stacks: list[Stack], run: Sequence[WorkedRound], corners: int) -> None:
    high = [worked for worked in run if worked.number is None or worked.number >= FIRST_ROUND]
    if len(high) >= FEWEST_ROUNDS:
        stacks.append(Stack(corners, tuple(high)))
