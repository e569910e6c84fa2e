"""From a place as written to places of the round below: how many, and where the hook is then."""

from __future__ import annotations

from craft.fabric.each import each_place
from craft.fabric.edge import (
    CHAIN,
    node_of,
)
from craft.fabric.hand import CannotCount, Hand
from craft.fabric.named import (
    first_places,
    last_places,
    named_places,
    next_places,
    same_place,
    turning_chain,
)
from craft.fabric.using import (
    closing_comes_last,
    go_to_other_side,
    number_of,
    use,
)
from craft.fabric.walk import goes_between
from craft.notation.tree import How, Kind, Loops, Place

__all__ = ["FREE", "claim", "turn_to_loops"]

FREE = -1  # key of the loops left free last, in `Hand.older`


def claim(hand: Hand, place: Place, uses: int = 1) -> int:
    """Move the hook along the round below; -> how many times the stitch is worked there.

    `uses`: places that one such stitch takes up. 0: the size leaves the step out.
    """
    if place.loops is not Loops.BOTH:
        turn_to_loops(hand, place)
    skipped, hand.just_skipped = hand.just_skipped, False
    if place.what == "gap" or (place.what == "sp" and not hand.node.spaces and goes_between(hand)):
        return _gap(hand, place, uses, after_skip=skipped)
    if place.below and place.number is not None and place.how not in {How.SAME, How.RING, How.ENDS}:
        below = Place(
            How.NEXT, place.number, span=place.span
        )  # further down: the place here is just the next
        return next_places(hand, below, uses)
    if hand.kind is Kind.ROUND and not hand.at_place and closing_comes_last(hand, place):
        return number_of(hand, place)
    if place.of == "skipped" and hand.skipped:
        return _skipped(hand, place)
    if place.what == CHAIN and place.ordinal is not None and place.how is not How.HOOK:
        return turning_chain(hand, place, uses)  # "3rd ch of turning ch"
    return _CLAIMS[place.how](hand, place, uses)


def _gap(hand: Hand, place: Place, uses: int, *, after_skip: bool) -> int:
    """Between two stitches: no place of its own behind those passed over, else those up to the next gap."""
    if place.number is None:
        hand.fixed = False
    if after_skip or place.how is How.SAME:
        hand.at_place, hand.standing = True, False
        return number_of(hand, place)
    if place.how is How.FIRST and hand.fresh_chain and hand.at_place:
        return number_of(hand, place)  # behind the stitch that the starting chain stands on
    each = place.chains or hand.ask(("gap", 0), 1)
    if place.number is None:
        return use(hand, Place(How.NEXT, span=place.span), hand.node.stitches // each, each)
    if place.of is not None:
        hand.at_place = True
        return 1  # "between 2 groups": behind the group just worked into
    number = number_of(hand, place)
    together = uses if uses > 1 and number >= uses else 1  # "hdc2tog over next 2 sps between sts" is one
    return use(hand, Place(How.NEXT, span=place.span), number // together, each * together)


def _skipped(hand: Hand, place: Place) -> int:
    """Places passed over before in this line, taken up now."""
    number = hand.skipped if place.number is None else number_of(hand, place)
    hand.skipped = max(hand.skipped - number, 0)
    hand.at_place = True
    return number


def bare_places(hand: Hand, place: Place, uses: int) -> int:
    times = number_of(hand, place)
    if not times or not uses:
        return times
    return use(hand, place, times, uses)


def ring_place(hand: Hand, place: Place, uses: int) -> int:
    hand.at_place = hand.ring = True
    hand.tolerated = max(hand.tolerated, hand.node.stitches)
    return number_of(hand, place)


def row_ends(hand: Hand, place: Place, uses: int) -> int:
    """Row ends and edges: the number is given or the line cannot be counted."""
    hand.at_place = hand.ends = True
    if place.number is None:
        raise CannotCount("the number of stitches along an edge is not given", place.span)
    return number_of(hand, place)


def turn_to_loops(hand: Hand, place: Place) -> None:
    """Go to the loops that the place names: the underside of the chain, or those left free before."""
    if place.loops is Loops.OTHER_SIDE:
        if hand.underside:
            go_to_other_side(hand)
    elif place.loops is Loops.UNWORKED and not hand.free_loops:
        hand.free_loops = "unworked"
        if hand.out:
            return
        free = hand.older.get(place.round_number or FREE)
        if free is None:
            free = hand.older.get(FREE)
        if free is not None:
            hand.node = node_of(free)
            hand.onto("free loops", place.round_number or 0)
            hand.available = hand.node.stitches
        elif hand.underside:
            go_to_other_side(hand)


def _hook(hand: Hand, place: Place, uses: int) -> int:
    raise CannotCount("there is no chain to count from the hook", place.span)


_CLAIMS = {
    How.BARE: bare_places,
    How.NEXT: next_places,
    How.EACH: each_place,
    How.FIRST: first_places,
    How.LAST: last_places,
    How.SAME: same_place,
    How.RING: ring_place,
    How.HOOK: _hook,
    How.NAMED: named_places,
    How.ENDS: row_ends,
}
