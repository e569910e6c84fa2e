"""One look over the steps of a line for what the worker has to know before it begins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from craft.fabric.kinds import is_turning_chain
from craft.fabric.line import join_hint
from craft.notation.tree import (
    AsRound,
    Chain,
    Evenly,
    Group,
    Join,
    Loops,
    Numbers,
    OnlySizes,
    Place,
    Repeat,
    Ring,
    Skip,
    Step,
    Unread,
    Unworked,
    Work,
)

__all__ = ["Scan", "scan"]


@dataclass(frozen=True, slots=True)
class Scan:
    """`varies`: some number differs by size. `hint`: what the join shows of the starting chain.
    `first_chain`: length of the first chain, 0 if none. `turning`: lengths of the turning chains worked into
    (0 where no length is given). `one_loop`: the line leaves the other loops of
    the round below free. `older`: it works into loops left free before."""

    varies: bool
    hint: tuple[bool | None, int]
    first_chain: int
    turning: frozenset[int]
    one_loop: bool
    makes: bool
    older: bool


def scan(steps: Sequence[Step]) -> Scan:
    varies = one_loop = makes = older = False
    turning: set[int] = set()
    first_chain = 0
    for step in _all_steps(steps):
        kind = type(step)
        if kind is Work or kind is Group or kind is Skip:
            place: Place = step.place  # type: ignore[union-attr]  # these have one
            makes = makes or kind is not Skip
            older = older or place.loops is Loops.UNWORKED
            varies = varies or _differs(place.number) or _differs(place.keep)
            if kind is Work:
                varies = varies or _differs(step.each)  # type: ignore[union-attr]
                if is_turning_chain(place.what):
                    turning.add(place.chains or 0)
                if place.loops is Loops.BACK or place.loops is Loops.FRONT:
                    one_loop = True
        elif kind is Chain:
            varies = varies or _differs(step.number)  # type: ignore[union-attr]
            first_chain = first_chain or step.number[0] or 0  # type: ignore[union-attr]
        elif kind is Repeat:
            varies = varies or _differs(step.times.number) or _differs(step.times.until_left)  # type: ignore[union-attr]
        elif kind is Evenly:
            varies = varies or _differs(step.change) or _differs(step.total)  # type: ignore[union-attr]
            makes = True
        elif kind is Ring:
            varies = varies or _differs(step.chains)  # type: ignore[union-attr]
        elif kind is Unworked:
            varies = varies or _differs(step.number)  # type: ignore[union-attr]
        elif kind is OnlySizes:
            varies = True
        elif kind is AsRound:
            makes = True
    return Scan(varies, join_hint(steps), first_chain, frozenset(turning), one_loop, makes, older)


def _all_steps(steps: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        kind = type(step)
        if kind is Repeat:
            yield from _all_steps(step.steps)  # type: ignore[union-attr]
            if step.ending:  # type: ignore[union-attr]
                yield from _all_steps(step.ending)  # type: ignore[union-attr]
        elif kind is Group or kind is OnlySizes:
            yield from _all_steps(step.steps)  # type: ignore[union-attr]


def _differs(numbers: Numbers | None) -> bool:
    return numbers is not None and len(numbers) > 1


_ = (Join, Unread)
