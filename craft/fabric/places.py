"""From a place as written to places of the round below: how many, and where the hook is then."""

from __future__ import annotations

from craft.fabric.demand import demand_after
from craft.fabric.edge import (
    CHAIN,
    CLOSING,
    END,
    OPEN,
    SPACE,
    TURNING,
    Match,
    Node,
    count_matching,
    edge_of,
    node_of,
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
    match_space,
    union,
)
from craft.fabric.landmarks import count_groups, has_group, stitches_before, take_groups, take_in_group
from craft.fabric.model import Block, Cells, Fault
from craft.notation.tree import How, Kind, Loops, Place, Span

FREE = -1  # key of the loops left free last, in `Hand.older`

__all__ = ["claim", "go_to_other_side", "seek_start"]


def claim(hand: Hand, place: Place, uses: int = 1) -> int:
    """Move the hook along the round below; -> how many times the stitch is worked there.

    `uses`: places that one such stitch takes up. 0: the size leaves the step out.
    """
    if place.loops is not Loops.BOTH:
        _turn_to_loops(hand, place)
    skipped, hand.just_skipped = hand.just_skipped, False
    if place.what == "gap" and skipped:
        hand.at_place = True
        return _number(hand, place)  # between what was passed over and the next: no place of its own
    if hand.kind is Kind.ROUND and not hand.at_place and _closing_comes_last(hand, place):
        return _number(hand, place)
    if place.of == "skipped" and hand.skipped:
        return _skipped(hand, place)
    if place.what == CHAIN and place.ordinal is not None and place.how is not How.HOOK:
        return _turning(hand, place, uses)  # "3rd ch of turning ch"
    return _CLAIMS[place.how](hand, place, uses)


def _skipped(hand: Hand, place: Place) -> int:
    """Places passed over before in this line, taken up now."""
    number = hand.skipped if place.number is None else _number(hand, place)
    hand.skipped = max(hand.skipped - number, 0)
    hand.at_place = True
    return number


# ------------------------------------------------------------------------- places by number


def _number(hand: Hand, place: Place) -> int:
    if place.number is None:
        return 1
    return pick(place.number, hand.size) or 0


def _is_group_name(hand: Hand, name: str) -> bool:
    return is_group(name) or (not is_plain(name) and has_group(hand.node, name))


def _bare(hand: Hand, place: Place, uses: int) -> int:
    times = _number(hand, place)
    if not times or not uses:
        return times
    return _use(hand, place, times, uses)


def _next(hand: Hand, place: Place, uses: int) -> int:
    number = _number(hand, place)
    if not number:
        return 0
    times = number if uses < 2 or number % uses else number // uses
    if is_turning_chain(place.what):
        return _turning(hand, place, uses)
    if place.of is not None and place.ordinal is not None and _is_group_name(hand, place.of):
        return _in_group(hand, place)
    if is_group(place.what) or (not is_plain(place.what) and has_group(hand.node, place.what)):
        return _group(hand, place, number)
    if place.ordinal is not None and place.ordinal > 1 and place.what != CHAIN and uses:
        _use(hand, place, place.ordinal - 1, 1)  # "in 3rd st": two are passed over
    return _use(hand, place, times, max(uses, 1))


def _use(hand: Hand, place: Place, times: int, uses: int) -> int:
    """Take `times` stitches of `uses` places each from here on; -> stitches that found their place."""
    wanted = times * uses
    match = _match(hand, place, wanted)
    if hand.cut:
        wanted, times = _cut(hand, match, wanted, times, uses)
    if hand.standing:
        hand.standing = False
    lacking = _step(hand, place, wanted, match)
    if lacking and hand.on_foundation and not hand.depth and _may_go_round(hand) and go_to_other_side(hand):
        lacking = _step(hand, place, lacking, None)
    if lacking:
        lacking = _forgive(hand, lacking)
    if lacking:
        hand.lack(lacking, place.span)
    hand.at_place = True
    return times


def _may_go_round(hand: Hand) -> bool:
    """Rounds go on along the other side of the chain without a word; rows do not."""
    return bool(hand.underside) and hand.kind is Kind.ROUND


def _step(hand: Hand, place: Place, wanted: int, match: Match | None) -> int:
    if match is None:
        hand.used_stitches = True
        spaces = _inner(hand, place)
        before = hand.node
        hand.node, lacking = take(before, wanted, spaces)
        if spaces == 2:
            hand.chains_entered += before.chains - hand.node.chains
        return lacking
    before, fresh = hand.node, not hand.at_place and hand.kind is Kind.ROUND
    hand.node, lacking, passed = take_matching(hand.node, wanted, match)
    if is_space(place.what):
        hand.used_spaces = True
        if fresh and passed and not lacking:
            _passed_comes_last(hand, before, passed)
    else:
        hand.used_stitches = True
    return lacking


def _passed_comes_last(hand: Hand, before: Node, passed: int) -> None:
    """A round that begins in its first space meets the stitches in front of that again at its end."""
    at, _ = take(before, passed)
    hand.tolerated += passed
    hand.node = node_of(edge_of(hand.node), node_of(_between(before, at)))


def _closing_comes_last(hand: Hand, place: Place) -> bool:
    """The loop that closed the round below lies in front of its first stitch: entered there by "first st", else
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


def _match(hand: Hand, place: Place, wanted: int = 1) -> Match | None:
    """Which places the words name; None for any stitch."""
    what = place.what
    node = hand.node
    if node is OPEN or is_any_stitch(what):
        return None
    if is_space(what):
        return _space_match(hand, place)
    if what == CHAIN:
        return _chain_match(hand)
    item = node.item
    if type(item) is Cells and node.next is END and item.name != SPACE:
        return None
    match = match_kind(what)
    while type(item) is Cells and item.name == SPACE:
        node = node.next
        item = node.item
    number = count_matching(node, match)
    if not number or number == node.stitches:
        return None
    if type(item) is Cells and match(item):
        if wanted <= item.count or not hand.ask(("kind", 0), 1 if number * 4 <= node.stitches * 3 else 0):
            return None
    return match


def _space_match(hand: Hand, place: Place) -> Match | None:
    node = hand.node
    match = match_space(place.chains)
    if node.spaces and count_matching(node, match):
        return match
    if node.spaces:
        if place.chains is not None:
            hand.misfit(Fault.MISSING_PLACE, 0, place.span)
        return match_space(None)
    if hand.standing or node is END:
        return match
    if (place.what == "ch-sp" or place.chains) and not any(
        name.fault is Fault.MISSING_PLACE for name in hand.misfits
    ):
        hand.misfit(Fault.MISSING_PLACE, 0, place.span)
    hand.doubt("no chain space is known at this place")
    return None


def _chain_match(hand: Hand) -> Match | None:
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


def _inner(hand: Hand, place: Place) -> int:
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


# --------------------------------------------------------------------------- named places


def _first(hand: Hand, place: Place, uses: int) -> int:
    number = _number(hand, place)
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
        return _next(hand, place, uses)
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
        return _next(hand, place, uses)
    if hand.kind is Kind.ROUND and not hand.depth and hand.node.stitches <= hand.tolerated:
        return number  # the round closes in its own first stitch
    if hand.fresh_chain and number == 1:
        return number  # the starting chain stands there already
    return _next(hand, place, uses)


def _last(hand: Hand, place: Place, uses: int) -> int:
    number = _number(hand, place)
    if not number:
        return 0
    if is_turning_chain(place.what):
        return _turning(hand, place, uses)
    if is_space(place.what):
        return _next(hand, place, uses)
    times = number if uses < 2 or number % uses else number // uses
    if hand.cut or hand.node is OPEN or (hand.kind is Kind.ROUND and hand.start and not hand.depth):
        return _use(hand, place, times, max(uses, 1))
    after = demand_after(hand)
    spaces = _inner(hand, place)
    hand.used_stitches = True
    reserve = _behind_spaces(hand.node, after.spaces) if after.spaces else after.stitches
    node, over, lacking = take_last(hand.node, times * max(uses, 1) + reserve, spaces)
    if over > hand.tolerated and hand.floating is None:
        hand.misfit(Fault.LEFT_OVER, over, place.span)
        hand.node = node
    elif hand.floating is None:
        hand.node = node
    if lacking:
        return _use(hand, place, times, max(uses, 1))
    hand.node, _ = take(hand.node, times * max(uses, 1), spaces)
    hand.at_place = True
    return times


def _behind_spaces(node: Node, number: int) -> int:
    """Stitches that lie behind the first of the last `number` spaces."""
    if node.spaces < number:
        return 0
    at, _, _ = take_matching(node, node.spaces - number, match_space(None))
    before = stitches_before(at, "ch-sp", None)
    return at.stitches - (before or 0)


def _same(hand: Hand, place: Place, uses: int) -> int:
    """The place just used; at the start of a round, the one under the hook."""
    number = max(_number(hand, place), 1)
    if hand.standing:
        hand.standing = False
        hand.at_place = True
        return number
    if not hand.at_place:
        _take_here(hand, place)
    return number


def _take_here(hand: Hand, place: Place) -> None:
    """Use the place at which the line starts, whatever its kind."""
    hand.at_place = True
    node = hand.node
    if node is OPEN:
        return
    if place.what == "ch-sp" or place.chains:
        _use(hand, place, 1, 1)
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


def _turning(hand: Hand, place: Place, uses: int) -> int:
    """The top of the starting or turning chain of the round below, if it counted."""
    at_start = not hand.at_place or hand.fresh_chain
    hand.at_place = True
    node = hand.node
    if node is OPEN:
        return 1
    if at_start and hand.kind is Kind.ROUND and node.stitches > 1:
        return 1 if hand.fresh_chain else _use(hand, Place(How.NEXT, span=place.span), 1, 1)
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


def _named(hand: Hand, place: Place, uses: int) -> int:
    if is_turning_chain(place.what):
        return _turning(hand, place, uses)
    if place.what == "corner":
        return _corner(hand, place)
    return _next(hand, place, uses)


def _corner(hand: Hand, place: Place) -> int:
    """A corner's chain space, or the middle stitch of its group; else the next stitch."""
    before = stitches_before(hand.node, "corner", None)
    if before is not None and hand.node.spaces:
        node, _ = take(hand.node, before)
        item = node.item
        if type(item) is Cells and item.name == SPACE:
            hand.used_spaces = hand.at_place = True
            hand.node, _, _ = take_matching(node, 1, match_space(None))
            return 1
    return _use(hand, Place(How.NEXT, what="st", span=place.span), 1, 1)


def _group(hand: Hand, place: Place, number: int) -> int:
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
            return _use(hand, Place(How.NEXT, what="st", span=place.span), number, 1)
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
        return _use(hand, place, 1, 1)
    hand.node = node
    hand.used_spaces = hand.at_place = True
    return 1


def _ring(hand: Hand, place: Place, uses: int) -> int:
    hand.at_place = hand.ring = True
    hand.tolerated = max(hand.tolerated, hand.node.stitches)
    return _number(hand, place)


def _ends(hand: Hand, place: Place, uses: int) -> int:
    """Row ends and edges: the number is given or the line cannot be counted."""
    hand.at_place = hand.ends = True
    if place.number is None:
        raise CannotCount("the number of stitches along an edge is not given", place.span)
    return _number(hand, place)


# ------------------------------------------------------------------------ all that remain


def _each(hand: Hand, place: Place, uses: int) -> int:
    if place.number is not None:
        return _next(hand, place, uses)
    hand.fixed = False
    if hand.standing and hand.standing_at is not None:
        hand.node, hand.standing = hand.standing_at, False  # the place of the join is one of them
    if place.until is not None:
        number = _until(hand, place)
        if number is None:
            return 0
        return _use(hand, place, number // max(uses, 1), max(uses, 1)) if number else 0
    if hand.node is OPEN:
        if hand.ring:
            raise CannotCount("a ring has no number of stitches", place.span)
        raise CannotCount(NO_ROUND_BELOW, place.span)
    if not is_plain(place.what) and not place.keep[0]:
        groups = count_groups(hand.node, place.what)
        if groups:
            return _group(hand, place, groups)
    match = _each_match(hand, place)
    if match is not None:
        return _each_matching(hand, place, match, uses)
    spaces = _inner(hand, place)
    left = hand.node.places(spaces) - hand.limit
    if (
        left <= 0
        and hand.on_foundation
        and hand.underside
        and hand.kind is Kind.ROUND
        and go_to_other_side(hand)
    ):
        left = hand.node.places(spaces)
    keep = _kept(hand, place)
    left -= keep
    if left < 0:
        if hand.cut:
            raise OutOfPlaces
        hand.lack(-left, place.span)
        left = 0
    if hand.cut and left == 0:
        raise OutOfPlaces
    if place.every > 1:
        return _every_other(hand, left, place.every)
    return _all(hand, place, left, max(uses, 1), spaces)


def _kept(hand: Hand, place: Place) -> int:
    """Stitches to leave: those that the words name, else those that the steps behind need."""
    keep = pick(place.keep, hand.size) or 0
    return keep or demand_after(hand).stitches


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
        return _space_match(hand, place)
    if what == CHAIN:
        return _chain_match(hand)
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
    number = count_matching(hand.node, match) - (pick(place.keep, hand.size) or kept)
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
    """Stitches up to a landmark; None where its place is not known and the rest is shared out later."""
    until = place.until or ""
    if hand.node is OPEN:
        raise CannotCount(NO_ROUND_BELOW, place.span)
    before = stitches_before(hand.node, until, place.chains if is_space(until) else None, _inner(hand, place))
    if before is not None:
        return before
    if until in {"same", "edge"} or is_turning_chain(until):
        return max(hand.node.places(_inner(hand, place)) - _kept(hand, place), 0)
    hand.floating = ("", 0)
    return None


# -------------------------------------------------------------- other loops, other sides


def _turn_to_loops(hand: Hand, place: Place) -> None:
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
            hand.available = hand.node.stitches
        elif hand.underside:
            go_to_other_side(hand)


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
    hand.spare = 1
    hand.tolerated = 1
    hand.available += hand.node.stitches
    hand.used_stitches = True
    hand.note("the second half goes along the other side of the chain")
    return True


def seek_start(hand: Hand, place: Place, *, slipped: bool = False) -> None:
    """Join or slip stitch to the place where the round starts; what is passed comes last.

    `slipped`: by slip stitches, which in a row take their places off.
    """
    before = hand.node
    if place.until is not None and (is_space(place.until) or place.until == "corner"):
        place = Place(How.NEXT, what="ch-sp", span=place.span)
    if before is OPEN or place.how in {How.ENDS, How.RING}:
        hand.standing = True
        return
    if place.how is How.SAME:
        place = Place(How.NEXT, span=place.span)
    elif place.what == CHAIN and before.spaces:
        place = Place(How.NEXT, what="ch-sp", span=place.span)  # along the chain to the middle of a loop
    match = _match(hand, place)
    number = max(_number(hand, place), 1)
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
            wrapped = _between(before, at)
            after = node_of(edge_of(after), node_of(wrapped))
    hand.node = after
    joined = hand.kind is Kind.ROUND or not slipped
    hand.standing_at = Node(_single(at, match), after) if joined else None


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


def _between(before: Node, after: Node) -> tuple[Cells | Block, ...]:
    """The stitches from one place to another, as plain cells."""
    number = before.stitches - after.stitches
    item = before.item
    name = item.name if type(item) is Cells and item.name != SPACE else "st"
    return (Cells(name, number),) if number > 0 else ()


def _hook(hand: Hand, place: Place, uses: int) -> int:
    raise CannotCount("there is no chain to count from the hook", place.span)


_CLAIMS = {
    How.BARE: _bare,
    How.NEXT: _next,
    How.EACH: _each,
    How.FIRST: _first,
    How.LAST: _last,
    How.SAME: _same,
    How.RING: _ring,
    How.HOOK: _hook,
    How.NAMED: _named,
    How.ENDS: _ends,
}
