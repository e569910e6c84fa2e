"""Slip stitches: those that bring the hook somewhere, those that close, those that are stitches."""

from __future__ import annotations

from collections.abc import Sequence

from craft.fabric.edge import OPEN
from craft.fabric.hand import Hand, pick
from craft.fabric.kinds import is_space, is_turning_chain
from craft.fabric.starts import seek_start
from craft.fabric.walk import is_outermost, nothing_follows
from craft.notation.tree import (
    Chain,
    Group,
    How,
    Kind,
    Repeat,
    Skip,
    Step,
    Unworked,
    Work,
)

__all__ = ["join_here", "slip"]


def slip(hand: Hand, step: Work) -> bool:
    """Slip stitches that move or close; False where they are stitches of the round."""
    place = step.place
    if (
        hand.start
        and (place.number is not None or place.until)
        and place.how is not How.HOOK
        and _moves(hand)
    ):
        count = pick(place.number, hand.size) or 0 if place.number is not None else 1
        hand.stroke("sl st", 0, 0, count)
        seek_start(hand, place, slipped=True)
        return True
    if hand.joined and not hand.start and is_outermost(hand):
        hand.moved = place  # behind the join: it brings the hook to where the next round starts
        return join_here(hand)
    if not hand.start and nothing_follows(hand):
        if hand.kind is Kind.ROW:
            single = place.number is not None and (pick(place.number, hand.size) or 0) == 1
            return single and not hand.node.stitches and hand.node is not OPEN and join_here(hand)
        if place.how in {How.FIRST, How.SAME, How.NAMED} or is_turning_chain(place.what):
            return join_here(hand)
        if (
            hand.node.stitches <= hand.tolerated
            and place.how in {How.NEXT, How.BARE}
            and not is_space(place.what)
        ):
            return join_here(hand)
    return False


def join_here(hand: Hand) -> bool:
    hand.stroke("sl st", 0, 0, 1)
    hand.joined = True
    return True


def _moves(hand: Hand) -> bool:
    """Whether other stitches follow, so that slip stitches at the start only bring the hook there."""
    steps, index, outer = hand.rest  # type: ignore[misc]  # only asked while a step is worked
    if outer is not None:
        return False
    for step in steps[index + 1 :]:
        if isinstance(step, Work):
            if step.stitch.name != "sl st":
                return hand.kind is Kind.ROUND or _shapes(hand, steps, index)
        elif isinstance(step, (Group, Repeat)):
            return hand.kind is Kind.ROUND or _shapes(hand, steps, index)
    return False


def _shapes(hand: Hand, steps: Sequence[Step], index: int) -> bool:
    """In a row: two slip stitches or more at its start take those stitches off, one does if the row then
    begins where it stands.
    """
    step = steps[index]
    number = step.place.number if isinstance(step, Work) else None
    if number is not None and max((n for n in number if n is not None), default=0) >= 2:
        return True
    if any(isinstance(later, Unworked) for later in steps[index + 1 :]):
        return True
    return _follows_chain_or_same(steps[index + 1 :])


def _follows_chain_or_same(steps: Sequence[Step]) -> bool:
    """In a row: a chain or "in same st" right behind says that the row starts there."""
    for step in steps:
        if isinstance(step, Chain):
            return True
        if isinstance(step, Work):
            if step.stitch.name == "sl st":
                continue
            return step.place.how is How.SAME
        if isinstance(step, (Group, Repeat, Skip)):
            return False
    return False
