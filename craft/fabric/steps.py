"""Each kind of step, worked."""

from __future__ import annotations

from collections.abc import Sequence

from craft.fabric.chains import hook_work, starting_chain_in_group
from craft.fabric.edge import CHAIN, END, OPEN, SPACE, block, count_matching, lay_all, node_of, reverse
from craft.fabric.hand import NO_ROUND_BELOW, CannotCount, Hand, pick
from craft.fabric.kinds import height_in_chains, is_any_stitch, is_space, is_turning_chain, match_kind
from craft.fabric.model import Block, Cells, EdgeItem, Fault, Passes, Stroke
from craft.fabric.places import claim, go_to_other_side, seek_start
from craft.fabric.walk import first_stitch_ahead, is_outermost, nothing_follows, run
from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    Evenly,
    Group,
    How,
    Join,
    Kind,
    OnlySizes,
    Place,
    Repeat,
    Rotate,
    Skip,
    Step,
    Stitch,
    Turn,
    Unread,
    Unworked,
    Work,
)

# ------------------------------------------------------------------------------ stitches


def work(hand: Hand, step: Work) -> None:
    stitch, place = step.stitch, step.place
    if not stitch.known:
        raise CannotCount(f"how many stitches a {stitch.name} makes is not known", step.span)
    each = pick(step.each, hand.size)
    if each is None:
        return
    if hand.in_place:
        times = 1 if place.number is None else pick(place.number, hand.size) or 0
        make(hand, stitch, 1, each * times, 0)
        return
    if stitch.name == "sl st" and _slip(hand, step):
        return
    if place.how is How.HOOK:
        times = hook_work(hand, place, stitch, each)
    else:
        if place.how is How.ENDS and place.number is None and each > 1:
            place = Place(How.ENDS, (1,), span=place.span)
        if step.ambiguous and place.number is not None:
            each, place = _swapped(hand, step, each)
        if place.below:
            hand.spike = max(1, pick(place.number, hand.size) or 1) if place.number else 0
        else:
            hand.spike = 0
        times = claim(hand, place, stitch.uses)
        if place.number is None and hand.floating == ("", 0):
            hand.floating = (_cell_name(stitch), each * stitch.makes)
        if each > 1 and stitch.uses > 1 and times > 1:
            each = 1  # "2 sc2tog over next 4 sts"
    uses = 0 if place.how in {How.SAME, How.RING, How.ENDS} else stitch.uses
    if hand.fresh_chain and times == 1 and each * stitch.makes >= 2 and place.how in {How.SAME, How.FIRST}:
        _with_chain(hand, [Cells(_cell_name(stitch), each * stitch.makes)], "")
        hand.stroke(_cell_name(stitch), 0, each * stitch.makes, 1)
    else:
        make(hand, stitch, each, times, uses)
    if _closes(hand, place):
        close_with(hand, stitch)
    _begun(hand)


def _begun(hand: Hand) -> None:
    hand.start = hand.fresh_chain = False
    if hand.cut:
        hand.cut_state = hand.node, tuple(hand.out), tuple(hand.strokes)


def _swapped(hand: Hand, step: Work, each: int) -> tuple[int, Place]:
    """As in "Dc 3 in next": three in one place, or one in each of three."""
    number = pick(step.place.number or (1,), hand.size) or 1
    if not hand.ask(("swap", 0), 0):
        return each, step.place
    place = step.place
    return number, Place(place.how, (each,), place.keep, place.what, place.chains, span=place.span)


def _cell_name(stitch: Stitch) -> str:
    return stitch.tally[0][0] if len(stitch.tally) == 1 else stitch.name


def _with_chain(hand: Hand, items: list[EdgeItem], name: str) -> None:
    """Lay stitches worked into the place of the starting chain: the chain is one of their group."""
    chain = [hand.out.pop() for _ in range(min(len(hand.out), 2))][::-1]
    hand.lay(block((*chain, *items), 1, name, group=True))


def make(hand: Hand, stitch: Stitch, each: int, times: int, uses: int) -> None:
    """Lay `each` stitches in each of `times` places."""
    if times <= 0 or each <= 0:
        return
    if stitch.body:
        _make_group(hand, stitch, each * times, uses)
        return
    name = _cell_name(stitch)
    tops = each * stitch.makes
    hand.stroke(name, uses, tops, times)
    if not tops:
        return
    if tops >= 3 and uses:
        hand.lay(Block((Cells(name, tops),), times, tops, 0, 0, group=True))
    else:
        hand.lay(Cells(name, tops * times))


def _make_group(hand: Hand, stitch: Stitch, times: int, uses: int) -> None:
    """A named group (shell, V-stitch): its steps in one place, as often as it is worked."""
    items, strokes = _in_one_place(hand, stitch.body)
    _lay_group(hand, items, strokes, times, uses, stitch.name)


def _in_one_place(hand: Hand, steps: Sequence[Step]) -> tuple[list[EdgeItem], list[Stroke | Passes]]:
    """What steps worked into one place leave."""
    out, strokes, rest = hand.out, hand.strokes, hand.rest
    hand.out, hand.strokes = [], []
    hand.in_place += 1
    try:
        run(hand, steps)
        return hand.out, hand.strokes
    finally:
        hand.out, hand.strokes, hand.rest = out, strokes, rest
        hand.in_place -= 1


def _lay_group(
    hand: Hand, items: list[EdgeItem], strokes: list[Stroke | Passes], times: int, uses: int, name: str
) -> None:
    if times <= 0:
        return
    group = block(tuple(items), times, name, group=True)
    if not name and isinstance(group, Block) and not group.spaces and group.stitches < 3:
        lay_all(hand.out, [block(tuple(items), times)] if items else [])
    else:
        hand.lay(group)
    if uses and strokes and isinstance(strokes[0], Stroke):
        first = strokes[0]
        head = [first._replace(uses=uses, count=1)]
        if first.count > 1:
            head.append(first._replace(count=first.count - 1))
        strokes = [*head, *strokes[1:]]
    if times == 1:
        hand.strokes.extend(strokes)
    else:
        hand.strokes.append(Passes(tuple(strokes), times))


def group(hand: Hand, step: Group) -> None:
    if hand.in_place:
        run(hand, step.steps)
        return
    place = step.place
    if place.how is How.HOOK:
        found = first_stitch_ahead(step.steps)
        times = hook_work(hand, place, found[0], 1) if found is not None else claim(hand, place)
    else:
        times = starting_chain_in_group(hand, step) or claim(hand, place)
    items, strokes = _in_one_place(hand, step.steps)
    if items and items[-1].name == SPACE and len(items) == 1:
        lay_all(hand.out, items)
        hand.strokes.extend(strokes)
    elif hand.fresh_chain and times == 1 and place.how in {How.SAME, How.FIRST} and len(hand.out) <= 2:
        _with_chain(hand, items, step.name or "")
        hand.strokes.extend(strokes)
    else:
        uses = 0 if place.how in {How.SAME, How.RING, How.ENDS} else 1
        _lay_group(hand, items, strokes, times, uses, step.name or "")
    hand.spike = 0
    _begun(hand)


# -------------------------------------------------------------------------- slip stitches


def _slip(hand: Hand, step: Work) -> bool:
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
        return _join_here(hand)
    if not hand.start and nothing_follows(hand):
        if hand.kind is Kind.ROW:
            single = place.number is not None and (pick(place.number, hand.size) or 0) == 1
            return single and not hand.node.stitches and hand.node is not OPEN and _join_here(hand)
        if place.how in {How.FIRST, How.SAME, How.NAMED} or is_turning_chain(place.what):
            return _join_here(hand)
        if (
            hand.node.stitches <= hand.tolerated
            and place.how in {How.NEXT, How.BARE}
            and not is_space(place.what)
        ):
            return _join_here(hand)
    return False


def _join_here(hand: Hand) -> bool:
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


# ------------------------------------------------------------------------- ends of a round


def _closes(hand: Hand, place: Place) -> bool:
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
    if hand.start and not hand.out:
        if step.place is not None and hand.below.known:
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
    hand.out = []
    hand.node = node_of(reverse(edge))
    hand.start = True
    hand.standing = hand.at_place = False
    hand.tolerated = hand.node.stitches  # a short row may leave what it likes
    hand.note("the line turns in the middle: its last part is counted")


def skip(hand: Hand, step: Skip) -> None:
    if hand.in_place:
        return
    place = step.place
    if place.number is None and place.until is None:
        if is_any_stitch(place.what) and place.what != "in pattern":
            hand.unworked = True  # "skip rem sts"
        return  # "skipping all ch-1 sps": they are passed over anyway
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
    hand.start = False


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


def evenly(hand: Hand, step: Evenly) -> None:
    """The total is certain, the places are not: they are taken as plain stitches with the change in one run."""
    name = _cell_name(step.stitch) if step.stitch else _usual_name(hand)
    if step.total is not None:
        total = pick(step.total, hand.size)
        if total is not None:
            hand.stroke(name, 1, 1, total)
            hand.lay(Cells(name, total))
            hand.node, hand.at_place, hand.start, hand.unworked = END, True, False, True
        return
    hand.fixed = False
    change = pick(step.change or (0,), hand.size) or 0
    number = hand.node.stitches
    if hand.node is OPEN:
        raise CannotCount(NO_ROUND_BELOW, step.span)
    hand.at_place, hand.start = True, False
    if number:
        _change(hand, name, number, change)
        hand.node = END
    elif hand.out:
        _change_made(hand, change)


def _change(hand: Hand, name: str, number: int, change: int) -> None:
    if change >= 0:
        hand.stroke(name, 1, 1, number - change)
        hand.stroke(name, 1, 2, change)
    else:
        hand.stroke(name, 1, 1, number + 2 * change)
        hand.stroke(f"{name}2tog", 2, 1, -change)
    hand.lay(Cells(name, max(number + change, 0)))
    hand.used_stitches = True


def _change_made(hand: Hand, change: int) -> None:
    """Stitches gained or lost among those just worked in this line."""
    last = hand.out[-1]
    if isinstance(last, Cells) and last.count + change > 0:
        hand.out[-1] = last._replace(count=last.count + change)
        if change > 0:
            hand.stroke(last.name, 0, 1, change)
        else:
            hand.doubt("the stitches lost are not placed")


def _usual_name(hand: Hand) -> str:
    item = hand.node.item
    while isinstance(item, Block):
        item = item.items[0]
    if isinstance(item, Cells) and item.name not in {SPACE, CHAIN}:
        return item.name
    return "sc"


# ---------------------------------------------------------------------------- small things


def colour(hand: Hand, step: Colour) -> None:
    if step.act in {"with", "join", "change", "use"} and step.label != hand.colour:
        hand.colour = step.label
        hand.recoloured = True
        hand.strokes.append(Stroke(f"colour {step.label}", 0, 0, 0))


def only_sizes(hand: Hand, step: OnlySizes) -> None:
    if hand.size in step.sizes:
        run(hand, step.steps)


def nothing(hand: Hand, step: Step) -> None:
    """Words that change no count."""


def unread(hand: Hand, step: Unread) -> None:
    hand.doubt("some words of this line were not understood")
    hand.asked["unread", 0] = 1
    hand.fixed = False


def as_round(hand: Hand, step: AsRound) -> None:
    raise CannotCount("the round that it repeats is not known", step.span)
