"""All places that remain: "in each st", to the last n, to a landmark, every other."""

from __future__ import annotations

from craft.fabric.demand import demand_after
from craft.fabric.edge import (
    CHAIN,
    END,
    OPEN,
    SPACE,
    Match,
    count_matching,
    take,
    take_last,
    take_matching,
)
from craft.fabric.hand import NO_ROUND_BELOW, CannotCount, Hand, OutOfPlaces, pick
from craft.fabric.kinds import (
    is_any_stitch,
    is_group,
    is_plain,
    is_space,
    is_turning_chain,
    match_kind,
)
from craft.fabric.landmarks import count_groups, is_landmark_space, of_kind, places, places_before
from craft.fabric.model import Cells, Fault
from craft.fabric.named import (
    next_places,
    whole_groups,
)
from craft.fabric.using import (
    chain_match,
    go_to_other_side,
    inner,
    may_go_round,
    space_match,
    use,
)
from craft.fabric.walk import next_making
from craft.notation.tree import How, Kind, Place, Work

__all__ = ["each_place"]


def each_place(hand: Hand, place: Place, uses: int) -> int:
    """All that remain, but for those to be kept; so many, where the words give a number."""
    if place.number is not None:
        return next_places(hand, place, uses)
    hand.fixed = False
    if hand.standing and hand.standing_at is not None:
        hand.node, hand.standing = hand.standing_at, False  # the place of the join is one of them
    if place.until is not None:
        number = _until(hand, place) or 0
        if not number:
            return 0
        times = number // max(uses, 1)
        return -(-use(hand, place, times, max(uses, 1)) // max(place.every, 1))
    if hand.node is OPEN:
        raise CannotCount("a ring has no number of stitches" if hand.ring else NO_ROUND_BELOW, place.span)
    groups = 0 if is_plain(place.what) or place.keep[0] else count_groups(hand.node, place.what)
    if groups:
        return whole_groups(hand, place, groups)
    match = _each_match(hand, place)
    return _each_stitch(hand, place, uses) if match is None else _each_matching(hand, place, match, uses)


def _each_stitch(hand: Hand, place: Place, uses: int) -> int:
    spaces = inner(hand, place)
    left = hand.node.places(spaces) - hand.limit
    if left <= 0 and hand.on_foundation and may_go_round(hand) and go_to_other_side(hand):
        left = hand.node.places(spaces)
    left -= _kept(hand, place)
    if hand.cut and left <= 0:
        raise OutOfPlaces
    if left < 0:
        hand.lack(-left, place.span)
        left = 0
    if place.every > 1:
        return _every_other(hand, left, place.every)
    return _all(hand, place, left, max(uses, 1), spaces)


def _kept(hand: Hand, place: Place) -> int:
    """Stitches to leave: those that the words name, else those that the steps behind need."""
    keep = pick(place.keep, hand.size) or 0
    if keep:
        return keep
    behind = demand_after(hand).stitches
    following = next_making(hand) if behind and not hand.depth else None
    # "sc in each st across, sc in next 4 sts of the hat": the last ones may lie on another piece
    elsewhere = isinstance(following, Work) and following.place.how in {How.NEXT, How.BARE}
    if elsewhere and not hand.ask(("kept", 0), 1):
        hand.beyond = True
        return 0
    return behind


def _all(hand: Hand, place: Place, left: int, uses: int, spaces: int) -> int:
    times = left // uses
    before = hand.node
    hand.standing = False
    hand.node, _ = take(before, times * uses, spaces)
    if spaces == 2:
        hand.chains_entered += before.chains - hand.node.chains
    hand.used_stitches = hand.at_place = True
    rest = left - times * uses
    if rest:
        hand.misfit(Fault.REPEAT_MISFIT, rest, place.span, repeat_uses=uses, repeat_makes=1, passes=times)
    return times


def _every_other(hand: Hand, left: int, every: int) -> int:
    hand.node, _ = take(hand.node, left)
    hand.used_stitches = hand.at_place = True
    return -(-left // every)


def _each_match(hand: Hand, place: Place) -> Match | None:
    """As in "In each sc": only those where the round below has others as well, else all stitches."""
    what = place.what
    node = hand.node
    if is_any_stitch(what) or is_turning_chain(what) or is_group(what):
        return None
    if is_space(what):
        return space_match(hand, place)
    if what == CHAIN:
        return chain_match(hand)
    item = node.item
    if type(item) is Cells and node.next is END and item.name != SPACE:
        return None
    match = match_kind(what)
    number = count_matching(node, match)
    if number in {0, node.stitches}:
        return None
    literal = hand.ask(("kind", 0), 1 if number * 4 <= node.stitches * 3 else 0)
    return match if literal else None


def _each_matching(hand: Hand, place: Place, match: Match, uses: int) -> int:
    after = demand_after(hand)
    kept = after.spaces if is_space(place.what) else 0 if place.what == CHAIN else after.stitches
    keep = pick(place.keep, hand.size) or 0
    if is_space(place.what) and after.spaces < keep <= after.stitches:
        behind, _, _ = take_last(hand.node, after.stitches)  # "in each ch-1 sp to last sc": those in front
        keep, kept = count_matching(take(behind, 1)[0], match), 0
    number = count_matching(hand.node, match) - (keep or kept)
    if number <= 0:
        if hand.cut:
            raise OutOfPlaces
        return 0
    if is_space(place.what):
        hand.used_spaces = True
    else:
        hand.used_stitches = True
        hand.wants = place.what
    hand.at_place = True
    hand.standing = False
    hand.node, _, _ = take_matching(hand.node, number, match)
    if place.every > 1:
        return -(-number // place.every)
    return number // max(uses, 1)


def _until(hand: Hand, place: Place) -> int | None:
    """Places up to a landmark, of the kind named; None where it is not known where that lies and the rest is
    shared out later.
    """
    until = place.until or ""
    if hand.node is OPEN:
        raise CannotCount(NO_ROUND_BELOW, place.span)
    spaces = is_space(place.what)
    match = _each_match(hand, place) if spaces else None
    if spaces and match is None:
        return 0
    measure = places(inner(hand, place)) if match is None else of_kind(match)
    before = places_before(hand.node, until, measure, hand.below.edge)
    if before is not None:
        return before
    if hand.kind is Kind.ROUND and hand.at_place and (until == "corner" or is_landmark_space(until)):
        return _round_to_its_start(hand, place, match)
    if until in {"same", "edge"} or is_turning_chain(until):
        return max(hand.node.places(inner(hand, place)) - _kept(hand, place), 0)
    hand.floating = ("", 0)
    return None


def _round_to_its_start(hand: Hand, place: Place, match: Match | None) -> int:
    """On the last side of a round the landmark is the one that the round began in: all that remain."""
    after = demand_after(hand)
    if match is None:
        return max(hand.node.places(inner(hand, place)) - after.stitches, 0)
    return max(count_matching(hand.node, match) - after.spaces, 0)
