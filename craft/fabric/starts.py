"""Where a round starts: joining yarn and slip stitches to a place."""

from __future__ import annotations

from craft.fabric.edge import (
    CHAIN,
    OPEN,
    SPACE,
    Match,
    Node,
    edge_of,
    node_of,
    take,
    take_matching,
)
from craft.fabric.hand import Hand
from craft.fabric.landmarks import is_landmark_space
from craft.fabric.model import Block, Cells, EdgeItem
from craft.fabric.using import (
    match_of,
    number_of,
    stitches_between,
)
from craft.notation.tree import How, Kind, Place

__all__ = ["seek_start"]


def seek_start(hand: Hand, place: Place, *, slipped: bool = False) -> None:
    """Join or slip stitch to the place where the round starts; what is passed comes last.

    `slipped`: by slip stitches, which in a row take their places off.
    """
    before = hand.node
    if place.until is not None and (is_landmark_space(place.until) or place.until == "corner"):
        place = Place(How.NEXT, what="ch-sp", span=place.span)
    if before is OPEN or place.how in {How.ENDS, How.RING}:
        hand.standing = True
        return
    if place.how is How.SAME:
        place = Place(How.NEXT, span=place.span)
    elif place.what == CHAIN and before.spaces:
        place = Place(How.NEXT, what="ch-sp", span=place.span)  # along the chain to the middle of a loop
    match = match_of(hand, place)
    number = max(number_of(hand, place), 1)
    if place.how is How.LAST and number == 1 and hand.kind is Kind.ROUND:
        last = _from_the_last(before, match)
        hand.wrapped(before.stitches - 1)
        before = hand.node = last
    if match is None:
        after, _ = take(before, number)
    else:
        after, _, _ = take_matching(before, number, match)
    if after is before:
        return
    hand.standing = True
    hand.at_place = True
    at = _one_back(before, after, match, number)
    if hand.kind is Kind.ROUND:
        passed = before.stitches - at.stitches
        if passed:
            hand.tolerated += passed
            hand.wrapped(passed)
            wrapped = stitches_between(before, at)
            after = node_of(edge_of(after), node_of(wrapped))
    hand.node = after
    joined = hand.kind is Kind.ROUND or not slipped
    hand.standing_at = Node(_single(at, match), after) if joined else None


def _from_the_last(node: Node, match: Match | None) -> Node:
    """A round taken up at its last place of a kind: that place, what lies behind it, then the rest."""
    items = list(edge_of(node))
    behind: list[EdgeItem] = []
    while items:
        item = items.pop()
        if item.count > 1:
            items.append(item._replace(count=item.count - 1))
        if isinstance(item, Block):
            items.extend(item.items)
        elif match(item) if match is not None else item.name != SPACE:
            return node_of((item._replace(count=1), *reversed(behind), *items))
        else:
            behind.append(item._replace(count=1))
    return node


def _single(node: Node, match: Match | None) -> Cells:
    """The first place of a kind from here on, alone."""
    while node.item is not None:
        item = node.item
        if isinstance(item, Block):
            node = node_of(item.items, node.next)
        elif (match is None and item.name != SPACE) or (match is not None and match(item)):
            return item._replace(count=1, tag="")
        else:
            node = node.next
    return Cells("st", 1)


def _one_back(before: Node, after: Node, match: Match | None, number: int) -> Node:
    """The place in front of the last one taken."""
    if number == 1:
        if match is None:
            return before
        passed = before.stitches - after.stitches - (0 if before.spaces != after.spaces else 1)
        return take(before, max(passed, 0))[0]
    return take(before, number - 1)[0] if match is None else take_matching(before, number - 1, match)[0]
