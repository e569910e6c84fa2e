"""Increases and decreases "evenly": the total is certain, the places are not."""

from __future__ import annotations

from craft.fabric.edge import CHAIN, END, OPEN, SPACE
from craft.fabric.hand import NO_ROUND_BELOW, CannotCount, Hand, pick
from craft.fabric.model import Block, Cells
from craft.notation.tree import (
    Evenly,
    Stitch,
)

__all__ = ["cell_name", "evenly"]


def evenly(hand: Hand, step: Evenly) -> None:
    """The total is certain, the places are not: plain stitches are laid, with the change in one run."""
    name = cell_name(step.stitch) if step.stitch else _usual_name(hand)
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


def cell_name(stitch: Stitch) -> str:
    return stitch.tally[0][0] if len(stitch.tally) == 1 else stitch.name
