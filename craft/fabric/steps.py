"""Stitches and groups, worked; and the small steps that change no count."""

from __future__ import annotations

from collections.abc import Sequence

from craft.fabric.chains import hook_work, starting_chain_in_group
from craft.fabric.edge import CHAIN, OPEN, SPACE, Node, block, head, lay_all
from craft.fabric.ends import close_with, closes
from craft.fabric.hand import CannotCount, Hand, pick
from craft.fabric.model import Block, Cells, EachPlace, EdgeItem, Passes, Stroke
from craft.fabric.places import claim
from craft.fabric.shaping import cell_name
from craft.fabric.slips import slip
from craft.fabric.walk import first_stitch_ahead, run
from craft.notation.tree import (
    AsRound,
    Colour,
    Group,
    How,
    OnlySizes,
    Place,
    Step,
    Stitch,
    Unread,
    Work,
)

_NO_NEW_PLACE = frozenset((How.SAME, How.RING, How.ENDS))
__all__ = ["as_round", "colour", "group", "make", "nothing", "only_sizes", "unread", "work"]


def work(hand: Hand, step: Work) -> None:
    """Stitches into places: `each` in every place claimed."""
    stitch = step.stitch
    if not stitch.known:
        raise CannotCount(f"how many stitches a {stitch.name} makes is not known", step.span)
    each = pick(step.each, hand.size)
    if each is None:
        return
    if hand.in_place:
        times = 1 if step.place.number is None else pick(step.place.number, hand.size) or 0
        make(hand, stitch, 1, each * times, 0)
    elif stitch.name != "sl st" or not slip(hand, step):
        _work_places(hand, step, each)


def _work_places(hand: Hand, step: Work, each: int) -> None:
    stitch, place = step.stitch, step.place
    if place.how is How.HOOK or _counts_from_hook(hand, place):
        times = hook_work(hand, place, stitch, each)
    else:
        before = hand.node
        each, place, times = _claimed(hand, step, each)
        if stitch.name == "in pattern" and not stitch.tally and _as_below(hand, before, each, times):
            return
    uses = 0 if place.how in _NO_NEW_PLACE else stitch.uses
    uses += sum(further.how not in _NO_NEW_PLACE for further in step.also)
    if hand.fresh_chain and times == 1 and each * stitch.makes >= 2 and place.how in {How.SAME, How.FIRST}:
        _with_chain(hand, [Cells(cell_name(stitch), each * stitch.makes)], "")
        hand.stroke(cell_name(stitch), 0, each * stitch.makes, 1)
    else:
        make(hand, stitch, each, times, uses)
    if closes(hand, place):
        close_with(hand, stitch)
    _begun(hand)


def _counts_from_hook(hand: Hand, place: Place) -> bool:
    """As in "Sc in 2nd ch and each ch across", straight behind the foundation chain."""
    fresh = bool(hand.below.chain) and not hand.at_place and not hand.hook_chain and not hand.ring
    return fresh and place.what == CHAIN and place.ordinal is not None and place.ordinal <= 8


def _as_below(hand: Hand, before: Node, each: int, times: int) -> bool:
    """Rows on in pattern leave the spaces of lace where they were."""
    if before is OPEN or each != 1 or not before.spaces or before.stitches - hand.node.stitches != times:
        return False
    lay_all(hand.out, head(before, hand.node))
    hand.stroke("st", 1, 1, times)
    _begun(hand)
    return True


def _claimed(hand: Hand, step: Work, each: int) -> tuple[int, Place, int]:
    """(stitches in each place, the place as read, how many places)."""
    stitch, place = step.stitch, step.place
    if place.how is How.ENDS and place.number is None and each > 1:
        place = Place(How.ENDS, (1,), span=place.span)
    if step.ambiguous and place.number is not None:
        each, place = _swapped(hand, step, each)
    hand.spike = max(1, pick(place.number, hand.size) or 1) if place.below and place.number else 0
    times = claim(hand, place, stitch.uses)
    for further in step.also:
        claim(hand, further)
    if place.number is None and hand.floating == ("", 0):
        hand.floating = (cell_name(stitch), each * stitch.makes)
    if each > 1 and stitch.uses > 1 and times > 1:
        each = 1  # "2 sc2tog over next 4 sts"
    return each, place, times


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
    name = cell_name(stitch)
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
        hand.strokes.append(EachPlace(tuple(strokes), times))


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
