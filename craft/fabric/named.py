"""Places by their names: next, first, last, same, the turning chain, corners, whole groups."""

from __future__ import annotations

from craft.fabric.demand import behind_last, demand_after, goes_by_kind
from craft.fabric.edge import (
    CHAIN,
    END,
    OPEN,
    SPACE,
    TURNING,
    Node,
    take,
    take_last,
    take_matching,
)
from craft.fabric.hand import Hand, OutOfPlaces
from craft.fabric.kinds import (
    is_group,
    is_plain,
    is_space,
    is_turning_chain,
    match_kind,
    match_space,
)
from craft.fabric.landmarks import count_groups, has_group, places, places_before, take_groups, take_in_group
from craft.fabric.model import Cells, Fault
from craft.fabric.using import (
    inner,
    names_group,
    number_of,
    use,
)
from craft.notation.tree import How, Kind, Place

__all__ = [
    "first_places",
    "last_places",
    "named_places",
    "next_places",
    "same_place",
    "turning_chain",
    "whole_groups",
]


def next_places(hand: Hand, place: Place, uses: int) -> int:
    number = number_of(hand, place)
    if not number:
        return 0
    times = number if uses < 2 or number % uses else number // uses
    if is_turning_chain(place.what):
        return turning_chain(hand, place, uses)
    if place.of is not None and place.ordinal is not None and names_group(hand, place.of):
        return _in_group(hand, place)
    if is_group(place.what) or (not is_plain(place.what) and has_group(hand.node, place.what)):
        return whole_groups(hand, place, number)
    if place.ordinal is not None and place.ordinal > 1 and place.what != CHAIN and uses:
        use(hand, place, place.ordinal - 1, 1)  # "in 3rd st": two are passed over
    return use(hand, place, times, max(uses, 1))


def first_places(hand: Hand, place: Place, uses: int) -> int:  # noqa: PLR0911 - a list of cases
    number = number_of(hand, place)
    if (
        is_space(place.what)
        and hand.kind is Kind.ROUND
        and hand.at_place
        and hand.node.spaces == 0
        and hand.used_spaces
    ):
        return number  # the round closes in its own first space
    if hand.standing and hand.standing_at is not None and not is_space(place.what):
        hand.node, hand.standing = hand.standing_at, False
        return next_places(hand, place, uses)
    if (
        hand.below.chain
        and place.what == CHAIN
        and number == 1
        and not hand.at_place
        and hand.below.chain <= 3
    ):
        hand.node, hand.at_place, hand.on_foundation = END, True, True
        return 1  # "6 sc in first ch" of ch 2: the chain is the centre of a round
    if not hand.at_place or is_space(place.what):
        return next_places(hand, place, uses)
    if hand.kind is Kind.ROUND and not hand.depth and hand.node.stitches <= hand.tolerated:
        return number  # the round closes in its own first stitch
    if hand.fresh_chain and number == 1:
        return number  # the starting chain stands there already
    return next_places(hand, place, uses)


def last_places(hand: Hand, place: Place, uses: int) -> int:  # noqa: PLR0911 - a list of cases
    number = number_of(hand, place)
    if not number:
        return 0
    if is_turning_chain(place.what):
        return turning_chain(hand, place, uses)
    if is_space(place.what):
        return next_places(hand, place, uses)
    times = number if uses < 2 or number % uses else number // uses
    if hand.cut or hand.node is OPEN or (hand.kind is Kind.ROUND and hand.start and not hand.depth):
        return use(hand, place, times, max(uses, 1))
    after = demand_after(hand)
    if goes_by_kind(hand, place.what) and not after.stitches:
        return _last_of_kind(hand, place, times, max(uses, 1))
    spaces = inner(hand, place)
    hand.used_stitches = True
    reserve = _behind_spaces(hand.node, after.spaces) if after.spaces else after.stitches
    node, over, lacking = take_last(hand.node, times * max(uses, 1) + reserve, spaces)
    if over > hand.tolerated and hand.floating is None:
        hand.misfit(Fault.LEFT_OVER, over, place.span)
        hand.node = node
    elif hand.floating is None:
        hand.node = node
    if lacking:
        return use(hand, place, times, max(uses, 1))
    hand.node, _ = take(hand.node, times * max(uses, 1), spaces)
    hand.at_place = True
    return times


def _last_of_kind(hand: Hand, place: Place, times: int, uses: int) -> int:
    """The last stitches of a name, those of other names between them passed over."""
    over = hand.node.stitches - behind_last(hand.node, times * uses, match_kind(place.what))
    if over > hand.tolerated and hand.floating is None:
        hand.misfit(Fault.LEFT_OVER, over, place.span)
    hand.node, _ = take(hand.node, max(over, 0))
    return use(hand, place, times, uses)


def _behind_spaces(node: Node, number: int) -> int:
    """Stitches that lie behind the first of the last `number` spaces."""
    if node.spaces < number:
        return 0
    at, _, _ = take_matching(node, node.spaces - number, match_space(None))
    before = places_before(at, "ch-sp", places(0))
    return at.stitches - (before or 0)


def same_place(hand: Hand, place: Place, uses: int) -> int:
    """The place just used; at the start of a round, the one under the hook."""
    number = max(number_of(hand, place), 1)
    if hand.standing:
        hand.standing = False
        hand.at_place = True
        return number
    if not hand.at_place or _stands_beside_space(hand, place):
        _take_here(hand, place)
    return number


def _stands_beside_space(hand: Hand, place: Place) -> bool:
    """As in "Ch 2, sc in same sp" where the round below closed in a stitch: the chain stands there."""
    return (
        is_space(place.what)
        and hand.kind is Kind.ROUND
        and hand.fresh_chain
        and not hand.used_spaces
        and hand.below.moved is None
        and type(hand.node.item) is Cells
        and hand.node.item.name == SPACE
    )


def _take_here(hand: Hand, place: Place) -> None:
    """Use the place at which the line starts, whatever its kind."""
    hand.at_place = True
    node = hand.node
    if node is OPEN:
        return
    if place.what == "ch-sp" or place.chains:
        use(hand, place, 1, 1)
        return
    item = node.item
    if type(item) is Cells and item.name == SPACE:
        hand.used_spaces = True
        hand.node, _, _ = take_matching(node, 1, match_space(None))
        return
    hand.used_stitches = True
    hand.node, lacking = take(node, 1)
    if lacking:
        hand.lack(1, place.span)


def turning_chain(hand: Hand, place: Place, uses: int) -> int:
    """The top of the starting or turning chain of the round below, if it counted."""
    at_start = not hand.at_place or hand.fresh_chain
    hand.at_place = True
    node = hand.node
    if node is OPEN:
        return 1
    if at_start and hand.kind is Kind.ROUND and node.stitches > 1:
        return 1 if hand.fresh_chain else use(hand, Place(How.NEXT, span=place.span), 1, 1)
    item = node.item
    while item is not None and item.name == SPACE:
        node = node.next
        item = node.item
    if node.stitches and (item is None or item.name != TURNING):
        last, over, _ = take_last(node, 1)
        if over == 0 or _is_turning(last):
            if over > hand.tolerated:
                hand.misfit(Fault.LEFT_OVER, over, place.span)
            node = last
    if node.stitches == 0:
        if hand.cut:
            raise OutOfPlaces
        hand.doubt("the turning chain of the row below was not counted")
        hand.misfit(Fault.MISSING_PLACE, 0, place.span)
        return 1
    hand.used_stitches = True
    hand.node, _ = take(node, 1)
    return 1


def _is_turning(node: Node) -> bool:
    item = node.item
    return type(item) is Cells and item.tag == TURNING


def named_places(hand: Hand, place: Place, uses: int) -> int:
    if is_turning_chain(place.what):
        return turning_chain(hand, place, uses)
    if place.what == "corner":
        return _corner(hand, place)
    return next_places(hand, place, uses)


def _corner(hand: Hand, place: Place) -> int:
    """A corner's chain space, or the middle stitch of its group; else the next stitch."""
    before = places_before(hand.node, "corner", places(0), hand.below.edge)
    if before is not None and hand.node.spaces:
        node, _ = take(hand.node, before)
        item = node.item
        if type(item) is Cells and item.name == SPACE:
            hand.used_spaces = hand.at_place = True
            hand.node, _, _ = take_matching(node, 1, match_space(None))
            return 1
    return use(hand, Place(How.NEXT, what="st", span=place.span), 1, 1)


def whole_groups(hand: Hand, place: Place, number: int) -> int:
    """Whole groups ("in next shell"): the hook goes into the middle, the rest is passed over."""
    if number > 1 and count_groups(hand.node, place.what) == number:
        hand.node = take_groups(hand.node, place.what)
        hand.used_spaces = hand.at_place = True
        return number
    for _ in range(number):
        hand.spend()
        node = take_in_group(hand.node, place.what, None, None)
        if node is None:
            if hand.node is not OPEN:
                if hand.cut:
                    raise OutOfPlaces
                hand.doubt(f"no {place.what} is known in the round below")
            return use(hand, Place(How.NEXT, what="st", span=place.span), number, 1)
        hand.node = node
    hand.used_spaces = hand.at_place = True
    return number


def _in_group(hand: Hand, place: Place) -> int:
    """As in "In 3rd dc of next shell"."""
    node = take_in_group(hand.node, place.of or "group", place.what, place.ordinal)
    if node is None:
        if hand.cut:
            raise OutOfPlaces
        hand.doubt(f"no {place.of} is known in the round below")
        return use(hand, place, 1, 1)
    hand.node = node
    hand.used_spaces = hand.at_place = True
    return 1
