"""Turns, joins, stitches passed over or left, and the loop that closes a round."""

from __future__ import annotations

from craft.fabric.edge import CHAIN, OPEN, SPACE, count_matching, node_of, reverse
from craft.fabric.hand import Hand, pick
from craft.fabric.kinds import height_in_chains, is_any_stitch, is_turning_chain, match_kind
from craft.fabric.model import Block, Cells, Fault
from craft.fabric.places import claim
from craft.fabric.starts import seek_start
from craft.fabric.using import go_to_other_side
from craft.fabric.walk import ahead, is_outermost, nothing_follows
from craft.notation.tree import (
    Chain,
    Group,
    How,
    Join,
    Kind,
    Place,
    Repeat,
    Rotate,
    Skip,
    Stitch,
    Turn,
    Unworked,
    Work,
)

__all__ = ["close_with", "closes", "join", "rotate", "skip", "turn", "unworked"]


def closes(hand: Hand, place: Place) -> bool:
    """A stitch into the first stitch of the round, in place of the last chains of a loop."""
    return (
        place.how is How.FIRST
        and hand.kind is Kind.ROUND
        and len(hand.out) > 2
        and hand.node.stitches <= hand.tolerated
        and hand.in_place == 0
        and len(hand.out) > 1
        and hand.out[-2].name == SPACE
    )


def close_with(hand: Hand, stitch: Stitch) -> None:
    """Make the last chain and the closing stitch one loop, which the next round meets first."""
    hand.out.pop()
    space = hand.out.pop()
    if isinstance(space, Cells):
        if space.count > 1:
            hand.out.append(space._replace(count=space.count - 1))
        others = [item.chains for item in hand.out if isinstance(item, Cells) and item.name == SPACE]
        others += [
            inner.chains
            for item in hand.out
            if isinstance(item, Block)
            for inner in item.items
            if isinstance(inner, Cells) and inner.name == SPACE
        ]
        # the closing stitch stands for so many chains that the loop is like the others
        chains = max([space.chains + height_in_chains(stitch.name) if not others else 0, *others])
        hand.closing = Cells(SPACE, 1, chains, "closing")


def join(hand: Hand, step: Join) -> None:
    again = step.place is not None and step.place.how is How.SAME
    if again and hand.standing and hand.standing_at is not None:
        hand.node, hand.standing = hand.standing_at, False  # "beginning in same st as join": worked as well
        return
    if not hand.out and is_outermost(hand):
        hand.start = True  # "skip next 3 sts, join yarn in next st": the line starts here
        if step.place is not None and hand.node is not OPEN:
            seek_start(hand, step.place)
        elif step.place is not None:
            hand.standing = True
        return
    hand.joined = True
    hand.stroke("sl st", 0, 0, 1)


def turn(hand: Hand, step: Turn) -> None:
    if not hand.out or hand.fresh_chain:
        return
    if nothing_follows(hand) or hand.in_place or not is_outermost(hand):
        hand.turn_at_end = step.turn
        return
    if not step.turn:
        return
    hand.unworked = True
    hand.available += hand.made()
    edge = tuple(hand.out)
    hand.onto("this row")
    hand.out = []
    hand.node = node_of(reverse(edge))
    hand.start = True
    hand.standing = hand.at_place = False
    hand.tolerated = hand.node.stitches  # a short row may leave what it likes
    hand.note("the line turns in the middle: its last part is counted")


def skip(hand: Hand, step: Skip) -> None:  # noqa: PLR0911 - one return a case
    if hand.in_place:
        return
    place = step.place
    if place.number is None and place.until is None:
        if is_any_stitch(place.what) and place.what != "in pattern":
            hand.unworked = True  # "skip rem sts"
        return  # "skipping all ch-1 sps": they are passed over anyway
    if place.below:
        return  # passed over further down, not here
    number = 1 if place.number is None else pick(place.number, hand.size) or 0
    if hand.spike:
        used = min(hand.spike, number)
        hand.spike = 0
        if used >= number:
            return  # the stitch behind the spike is the place that it has used
        place = Place(place.how, (number - used,), place.keep, place.what, place.chains, span=place.span)
    if place.how is How.SAME or is_turning_chain(place.what):
        return
    if place.how is How.FIRST and number == 1 and (hand.at_place or hand.out):
        return  # the place that the starting chain has taken
    if place.what == CHAIN and not hand.node.spaces and not count_matching(hand.node, match_kind(CHAIN)):
        return  # a starting chain that is no place of the round below
    claim(hand, place, 1)
    hand.skipped += number
    hand.just_skipped = True
    hand.stroke("skip", number, 0, 1)
    hand.start = hand.start and not hand.out and _joins_next(hand)


def _joins_next(hand: Hand) -> bool:
    """Whether yarn is joined behind the stitches passed over: the line begins there."""
    for step in ahead(hand):
        if isinstance(step, Join):
            return True
        if isinstance(step, (Work, Group, Repeat, Chain, Skip)):
            return isinstance(step, Work) and step.stitch.name == "sl st"
    return False


def unworked(hand: Hand, step: Unworked) -> None:
    hand.unworked = True
    if step.number is None or hand.node is OPEN:
        return
    number = pick(step.number, hand.size) or 0
    left = hand.node.stitches - number
    if left:
        hand.misfit(Fault.LEFT_OVER if left > 0 else Fault.TOO_FEW, left, step.span)


def rotate(hand: Hand, step: Rotate) -> None:
    if hand.underside:
        go_to_other_side(hand)
        return
    hand.unworked = True
    hand.node = OPEN
    hand.ends = True
