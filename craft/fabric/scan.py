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
    Loops,
    Numbers,
    OnlySizes,
    Repeat,
    Ring,
    Skip,
    Step,
    Unworked,
    Work,
)

__all__ = ["Scan", "scan"]


@dataclass(frozen=True, slots=True)
class Scan:
    """`varies`: some number differs by size. `hint`: what the join shows of the starting chain.
    `first_chain`: length of the first chain, 0 if none. `turning`: lengths of the turning chains worked into
    (0 where no length is given). `one_loop`: the line leaves the other loops of
    the round below free. `older`: it works into loops left free before.
    `stands_for`: what its starting chain counts as, if it says so.
    """

    varies: bool
    hint: tuple[bool | None, int]
    first_chain: int
    turning: frozenset[int]
    one_loop: bool
    makes: bool
    older: bool
    stands_for: tuple[int, tuple[tuple[str, int], ...]] | None


def scan(steps: Sequence[Step]) -> Scan:
    varies = one_loop = makes = older = False
    turning: set[int] = set()
    first_chain = 0
    stands_for = None
    for step in _all_steps(steps):
        varies = varies or any(map(_differs, _numbers(step)))
        makes = makes or isinstance(step, (Work, Group, Evenly, AsRound))
        if isinstance(step, (Work, Group, Skip)):
            older = older or step.place.loops is Loops.UNWORKED
        if isinstance(step, Work):
            if is_turning_chain(step.place.what):
                turning.add(step.place.chains or 0)
            one_loop = one_loop or step.place.loops in {Loops.BACK, Loops.FRONT}
        elif isinstance(step, Chain):
            first_chain = first_chain or step.number[0] or 0
            if stands_for is None and step.counts_as and step.number[0]:
                stands_for = step.number[0], step.counts_as
        elif isinstance(step, OnlySizes):
            varies = True
    return Scan(varies, join_hint(steps), first_chain, frozenset(turning), one_loop, makes, older, stands_for)


def _numbers(step: Step) -> tuple[Numbers | None, ...]:
    """The numbers of a step that may differ by size."""
    if isinstance(step, Work):
        return step.each, step.place.number, step.place.keep
    if isinstance(step, (Group, Skip)):
        return step.place.number, step.place.keep
    if isinstance(step, (Chain, Unworked)):
        return (step.number,)
    if isinstance(step, Repeat):
        return step.times.number, step.times.until_left
    if isinstance(step, Evenly):
        return step.change, step.total
    return (step.chains,) if isinstance(step, Ring) else ()


def _all_steps(steps: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from _all_steps(step.steps)
            yield from _all_steps(step.ending)
        elif isinstance(step, (Group, OnlySizes)):
            yield from _all_steps(step.steps)


def _differs(numbers: Numbers | None) -> bool:
    return numbers is not None and len(numbers) > 1
