"""The walk over the steps of a line, and the look at what lies ahead of the present one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from craft.fabric.edge import sizes_of
from craft.fabric.hand import Hand
from craft.notation.tree import (
    Chain,
    Group,
    How,
    OnlySizes,
    Place,
    Repeat,
    Ring,
    Skip,
    Step,
    Stitch,
    Work,
)

__all__ = [
    "WAYS",
    "ahead",
    "first_stitch_ahead",
    "goes_between",
    "hooks_back",
    "is_outermost",
    "next_making",
    "nothing_follows",
    "run",
    "run_inline",
]

WAYS: dict[type, Callable[[Hand, Any], None]] = {}
"""How each kind of step is worked; filled by `craft.fabric.line`."""

_MAKING = (Work, Group, Repeat, Skip, OnlySizes)


def run(hand: Hand, steps: Sequence[Step]) -> None:
    """Work the steps in order."""
    outer = hand.rest
    for index, step in enumerate(steps):
        hand.spend()
        hand.rest = (steps, index, outer)
        way = WAYS.get(type(step))
        if way is not None:  # the others are words that change no count
            way(hand, step)
    hand.rest = outer


def run_inline(hand: Hand, steps: Sequence[Step]) -> None:
    """Work the ending of a repeat as if its steps stood behind the repeat, in the sequence that holds it."""
    if hand.rest is None or not steps:
        run(hand, steps)
        return
    around, at, outer = here = hand.rest
    joined = (*steps, *around[at + 1 :])
    for index, step in enumerate(steps):
        hand.spend()
        hand.rest = (joined, index, outer)
        way = WAYS.get(type(step))
        if way is not None:
            way(hand, step)
    hand.rest = here


def ahead(hand: Hand) -> Iterator[Step]:
    """The steps still to come in this sequence."""
    if hand.rest is not None:
        steps, index, _ = hand.rest
        yield from steps[index + 1 :]


def is_outermost(hand: Hand) -> bool:
    """Whether the present step stands in the line itself and not inside a repeat."""
    return hand.rest is None or hand.rest[2] is None


def nothing_follows(hand: Hand) -> bool:
    """Whether no further stitch comes in this line."""
    return is_outermost(hand) and not any(isinstance(step, _MAKING) for step in ahead(hand))


def next_making(hand: Hand) -> Step | None:
    """The next step that makes or moves something: stitches, chains, rings, skips."""
    for step in ahead(hand):
        if isinstance(step, (*_MAKING, Chain, Ring)):
            return step
    return None


def first_stitch_ahead(steps: Iterator[Step] | Sequence[Step]) -> tuple[Stitch, Place] | None:
    """The first stitch that the steps make, slip stitches apart, and where it goes."""
    for step in steps:
        if isinstance(step, Work):
            if step.stitch.name != "sl st":
                return step.stitch, step.place
        elif isinstance(step, Group):
            inner = first_stitch_ahead(step.steps)
            if inner is not None:
                return inner[0], step.place
        elif isinstance(step, Repeat):
            found = first_stitch_ahead(step.steps)
            if found is not None:
                return found
    return None


def goes_between(hand: Hand) -> bool:
    """Whether the line works between stitches, so that its spaces are the gaps there: there are no others."""
    no_others = not hand.used_spaces and not any(sizes_of(item)[1] for item in hand.below.edge)
    return no_others and _gaps(hand.steps)


def _gaps(steps: Sequence[Step]) -> bool:
    return any(
        step.place.what == "gap"
        if isinstance(step, (Work, Group, Skip))
        else isinstance(step, Repeat) and _gaps(step.steps)
        for step in steps
    )


def hooks_back(step: Step | None) -> bool:
    """Whether a step begins in a chain counted from the hook."""
    if isinstance(step, (Work, Skip, Group)):
        return step.place.how is How.HOOK
    if isinstance(step, Repeat) and step.steps:
        return hooks_back(step.steps[0])
    return False
