"""Using places of the round below: so many from here on, of the kind that the words name."""

from __future__ import annotations

from craft.fabric.edge import (
    CHAIN,
    CLOSING,
    END,
    OPEN,
    SPACE,
    Match,
    Node,
    count_matching,
    edge_of,
    node_of,
    take,
    take_matching,
)
from craft.fabric.hand import Hand, OutOfPlaces, pick
from craft.fabric.kinds import (
    is_any_stitch,
    is_group,
    is_plain,
    is_space,
    match_kind,
    match_space,
    union,
)
from craft.fabric.landmarks import has_group
from craft.fabric.model import Block, Cells, EdgeItem, Fault
from craft.notation.tree import How, Kind, Loops, Place, Span

__all__ = [
    "chain_match",
    "closing_comes_last",
    "go_to_other_side",
    "inner",
    "match_of",
    "may_go_round",
    "names_group",
    "number_of",
    "space_match",
    "stitches_between",
    "use",
]


def number_of(hand: Hand, place: Place) -> int:
    if place.number is None:
        return 1
    return pick(place.number, hand.size) or 0


def names_group(hand: Hand, name: str) -> bool:
    return is_group(name) or (not is_plain(name) and has_group(hand.node, name))


def use(hand: Hand, place: Place, times: int, uses: int) -> int:
    """Take `times` stitches of `uses` places each from here on; -> stitches that found their place."""
    wanted = times * uses
    match = match_of(hand, place, wanted)
    if hand.cut:
        wanted, times = _cut(hand, match, wanted, times, uses)
    if hand.standing:
        hand.standing = False
    lacking = _step(hand, place, wanted, match)
    if lacking and hand.on_foundation and not hand.depth and may_go_round(hand) and go_to_other_side(hand):
        lacking = _step(hand, place, lacking, None)
    if lacking:
        lacking = 0 if hand.beyond else _forgive(hand, lacking)
    if lacking:
        hand.lack(lacking, place.span)
    hand.at_place = True
    return times


def may_go_round(hand: Hand) -> bool:
    """Rounds go on along the other side of the chain without a word; rows do not."""
    return bool(hand.underside) and hand.kind is Kind.ROUND


def _step(hand: Hand, place: Place, wanted: int, match: Match | None) -> int:
    if match is None:
        hand.used_stitches = True
        spaces = inner(hand, place)
        before = hand.node
        hand.node, lacking = take(before, wanted, spaces)
        if spaces == 2:
            hand.chains_entered += before.chains - hand.node.chains
        return lacking
    before, fresh = hand.node, not hand.at_place and hand.kind is Kind.ROUND
    hand.node, lacking, passed = take_matching(hand.node, wanted, match)
    if fresh and passed and not lacking:
        _passed_comes_last(hand, before, take_matching(before, 1, match)[2])
    if is_space(place.what):
        hand.used_spaces = True
    else:
        hand.used_stitches = True
    return lacking


def _passed_comes_last(hand: Hand, before: Node, passed: int) -> None:
    """A round that begins in its first space meets the stitches in front of that again at its end."""
    if not passed:
        return
    at, _ = take(before, passed)
    hand.tolerated += passed
    hand.wrapped(before.stitches - at.stitches)
    hand.node = node_of(edge_of(hand.node), node_of(stitches_between(before, at)))


def closing_comes_last(hand: Hand, place: Place) -> bool:
    """The loop that closed the round below lies before its first stitch: entered there by "first st", else
    met at the end.
    """
    item = hand.node.item
    if hand.at_place or type(item) is not Cells or item.tag != CLOSING or is_space(place.what):
        return False
    rest = hand.node.next
    if place.how in {How.FIRST, How.SAME}:
        hand.node, hand.at_place, hand.used_spaces = rest, True, True
        return True
    hand.node = node_of(edge_of(rest), Node(item._replace(tag=""), END))
    hand.wrapped(item.count * item.chains)
    return False


def _cut(hand: Hand, match: Match | None, wanted: int, times: int, uses: int) -> tuple[int, int]:
    """In a partial pass: no more than the round below still has."""
    left = hand.node.stitches - hand.limit if match is None else count_matching(hand.node, match)
    if left < uses:
        raise OutOfPlaces
    if wanted > left:
        times = left // uses
        wanted = times * uses
    return wanted, times


def _forgive(hand: Hand, lacking: int) -> int:
    """An end chain may be used once more; a place that the line has left behind may be taken up."""
    used = min(hand.spare, lacking)
    hand.spare -= used
    return lacking - used


def match_of(hand: Hand, place: Place, wanted: int = 1) -> Match | None:  # noqa: PLR0911 - a list of cases
    """Which places the words name; None for any stitch."""
    what = place.what
    node = hand.node
    if node is OPEN or is_any_stitch(what):
        return None
    if is_space(what):
        return space_match(hand, place)
    if what == CHAIN:
        return chain_match(hand)
    item = node.item
    if type(item) is Cells and node.next is END and item.name != SPACE:
        return None
    match = match_kind(what)
    while type(item) is Cells and item.name == SPACE:
        node = node.next
        item = node.item
    number = count_matching(node, match)
    if not number and hand.depth and hand.asked.get(("kind", 0)) and _lay_below(hand, match):
        return match  # passing others over, the repeat has come to the last of them
    if not number or number == node.stitches:
        return None
    at_hand = item.count if type(item) is Cells and match(item) else 0
    if at_hand and (wanted <= at_hand or not hand.ask(("kind", 0), number * 4 <= node.stitches * 3)):
        return None
    return match


def _lay_below(hand: Hand, match: Match) -> bool:
    return count_matching(node_of(hand.below.edge), match) > 0


def space_match(hand: Hand, place: Place) -> Match | None:
    node = hand.node
    match = match_space(place.chains)
    if node.spaces and count_matching(node, match):
        return match
    if node.spaces:
        if place.chains is not None:
            in_a_pass = hand.depth and hand.used_spaces and (node.spaces > 1 or hand.kind is Kind.ROUND)
            if in_a_pass and _lay_below(hand, match):
                return match  # none of that length is left for a further pass; a row may end in another
            hand.misfit(Fault.MISSING_PLACE, 0, place.span)
        return match_space(None)
    if hand.standing or node is END or (hand.depth and hand.used_spaces):
        return match  # in a pass of a repeat it is the end that has come
    if place.what == "loop" and place.loops is Loops.UNWORKED:
        return None  # the loop of a stitch
    if (place.what == "ch-sp" or place.chains) and not any(
        name.fault is Fault.MISSING_PLACE for name in hand.misfits
    ):
        hand.misfit(Fault.MISSING_PLACE, 0, place.span)
    hand.doubt("no chain space is known at this place")
    return None


def chain_match(hand: Hand) -> Match | None:
    """Chains entered one by one: of a foundation, or those of a chain space."""
    match = match_kind(CHAIN)
    if count_matching(hand.node, match):
        return match
    if not hand.node.spaces and not hand.on_foundation:
        if hand.underside and not hand.out:
            go_to_other_side(hand)
            return match
        hand.doubt("the chain that this line goes along is not known")
    return None


def inner(hand: Hand, place: Place) -> int:
    """Whether "each st" and "next st" also enter chain spaces, as the section's lines show it."""
    node = hand.node
    if not node.spaces:
        return 0
    if place.what == CHAIN:
        return 2
    if "|" in place.what:
        return union(place.what)
    longest = node.chains // node.spaces
    bridge = longest >= 3 and node.spaces * 5 <= node.stitches
    if not is_any_stitch(place.what) and (place.number is not None or not bridge):
        return 0  # "next 3 dc" are no chains
    return hand.ask(("inner", min(longest, 3)), 2 if bridge else 0)


def go_to_other_side(hand: Hand) -> bool:
    """Go on along the underside of the foundation chain."""
    chains = hand.underside
    if not chains:
        return False
    hand.underside = 0
    first_pass = bool(hand.out)
    left = hand.node.stitches
    if left > hand.tolerated:
        hand.misfit(Fault.LEFT_OVER, left, Span(0, 0))
    # the last chain was used at the turn, and may be used once more; the first may be shared
    hand.node = (
        node_of((Cells(CHAIN, chains - 1 if first_pass else chains),))
        if chains > 1 or not first_pass
        else END
    )
    hand.onto("other side", chains)
    hand.spare = 1
    hand.tolerated = 1
    hand.available += hand.node.stitches
    hand.used_stitches = True
    hand.note("the second half goes along the other side of the chain")
    return True


def stitches_between(before: Node, after: Node) -> tuple[Cells | Block, ...]:
    """The stitches from one place to another, as plain cells."""
    number = before.stitches - after.stitches
    item: EdgeItem | None = before.item
    while type(item) is Block:
        item = item.items[0]
    name = item.name if type(item) is Cells and item.name != SPACE else "st"
    return (Cells(name, number),) if number > 0 else ()
