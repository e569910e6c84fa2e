"""How many places the steps still to come will need, so that "each st" leaves them some."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from craft.fabric.edge import CHAIN, TURNING, Match, Node, count_matching, take_matching
from craft.fabric.hand import Hand, pick
from craft.fabric.kinds import is_any_stitch, is_group, is_space, is_turning_chain, match_kind
from craft.fabric.model import Cells
from craft.notation.tree import (
    AsRound,
    Evenly,
    FastenOff,
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
    Turn,
    Unworked,
    Work,
)

__all__ = ["Demand", "behind_last", "demand_after", "demand_of", "goes_by_kind"]


class Demand(NamedTuple):
    """Stitches and chain spaces; `whole` is False where a step takes all that remain."""

    stitches: int = 0
    spaces: int = 0
    whole: bool = True


NOTHING_MORE = Demand()
_ENDS_THE_ROUND = (Rotate, FastenOff, AsRound, Evenly, Turn, Join)


def demand_after(hand: Hand) -> Demand:
    """What the steps behind the present one need, those of the enclosing steps included."""
    rest = hand.rest
    stitches = spaces = 0
    while rest is not None:
        steps, index, rest = rest
        if index + 1 < len(steps):
            more = demand_of(hand, steps[index + 1 :])
            stitches += more.stitches
            spaces += more.spaces
            if not more.whole:
                return Demand(stitches, spaces, whole=False)
    return Demand(stitches, spaces)


def demand_of(hand: Hand, steps: Sequence[Step]) -> Demand:  # noqa: C901 - a list of cases
    """What these steps need as far as the text gives numbers."""
    stitches = spaces = 0
    hooked = False
    for step in steps:
        if isinstance(step, Work):
            if step.place.how is How.HOOK:
                hooked = True
                continue
            if hooked and step.place.what == CHAIN:
                continue
            more = _of_places(hand, step)
        elif isinstance(step, (Skip, Group)):
            more = _of_place(hand, step.place, 1)
        elif isinstance(step, Repeat):
            more = _of_repeat(hand, step)
        elif isinstance(step, OnlySizes):
            more = demand_of(hand, step.steps) if hand.size in step.sizes else NOTHING_MORE
        elif isinstance(step, Unworked):
            number = step.number
            more = Demand(pick(number, hand.size) or 0 if number else 0, 0, number is not None)
        elif isinstance(step, _ENDS_THE_ROUND):
            return Demand(stitches, spaces, whole=False)
        else:
            continue
        stitches += more.stitches
        spaces += more.spaces
        if not more.whole:
            return Demand(stitches, spaces, whole=False)
    return Demand(stitches, spaces)


def _of_places(hand: Hand, step: Work) -> Demand:
    found = _of_place(hand, step.place, step.stitch.uses)
    for place in step.also:
        more = _of_place(hand, place, 1)
        found = Demand(found.stitches + more.stitches, found.spaces + more.spaces, found.whole and more.whole)
    return found


def _of_repeat(hand: Hand, repeat: Repeat) -> Demand:
    number = repeat.times.number
    if number is None:
        return Demand(whole=False)
    inner = demand_of(hand, repeat.steps)
    if not inner.whole:
        return inner
    times = (pick(number, hand.size) or 0) + (1 if repeat.times.more else 0)
    return Demand(inner.stitches * times, inner.spaces * times)


def _of_place(hand: Hand, place: Place, uses: int) -> Demand:  # noqa: PLR0911 - a list of cases
    how = place.how
    if how in {How.SAME, How.RING, How.ENDS, How.HOOK}:
        return NOTHING_MORE
    if place.number is None:
        return Demand(whole=False)
    if is_turning_chain(place.what):
        return Demand(1 if ends_in_turning_chain(hand.node) else 0)
    if how is How.FIRST and hand.kind is Kind.ROUND and hand.at_place:
        return NOTHING_MORE
    number = pick(place.number, hand.size) or 0
    if how is How.LAST and goes_by_kind(hand, place.what):
        return Demand(behind_last(hand.node, number, match_kind(place.what)))
    if is_space(place.what) and not hand.node.spaces and not hand.used_spaces and hand.node.stitches:
        return Demand(number)  # taken for stitches: there are no spaces below
    if is_space(place.what) or (place.what == "corner" and hand.node.spaces):
        return Demand(0, number)
    if is_group(place.what):
        return Demand(whole=False)
    if how is not How.BARE and uses > 1 and number % uses == 0:
        return Demand(number)
    return Demand(number * uses)


def goes_by_kind(hand: Hand, what: str) -> bool:
    """Whether a stitch name passes over the stitches of other names, as the section's reading has it."""
    if is_any_stitch(what) or is_space(what) or is_turning_chain(what) or is_group(what) or what == CHAIN:
        return False
    node = hand.node
    number = count_matching(node, match_kind(what))
    if number in {0, node.stitches}:
        return False
    return bool(hand.answers.get(("kind", 0), int(number * 4 <= node.stitches * 3)))


def behind_last(node: Node, number: int, match: Match) -> int:
    """Stitches from the first of the last `number` of a kind to the end, those of other kinds between."""
    matching = count_matching(node, match)
    if number <= 0 or matching < number:
        return number
    with_it, _, _ = take_matching(node, matching - number + 1, match)
    return with_it.stitches + 1


def ends_in_turning_chain(node: Node) -> bool:
    """Whether the last place of the round below is a chain that stands for a stitch."""
    last = None
    while node.item is not None:
        last = node.item
        node = node.next
    return type(last) is Cells and last.tag == TURNING
