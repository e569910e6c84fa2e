"""Strokes as the recorder kept them: which came first, how far a pass goes, what spreads evenly."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from craft.fabric.graph.recorder import Mark
from craft.fabric.model import EachPlace

__all__ = ["first_mark", "in_one_place", "span", "spread_evenly"]


def first_mark(strokes: Sequence[Any]) -> Mark | None:
    for stroke in strokes:
        if type(stroke) is Mark:
            return stroke
        found = first_mark(stroke[0]) if len(stroke) == 2 else None
        if found is not None:
            return found
    return None


def in_one_place(strokes: Sequence[Any]) -> bool:
    """Whether these are the passes of a repeat inside a group, which go into one place."""
    first = first_mark(strokes)
    if first is None or not first.at.in_place or not first.at.inner:
        return False
    levels = 1
    while type(strokes[0]) is not Mark and len(strokes[0]) == 2:
        levels += type(strokes[0]) is not EachPlace
        strokes = strokes[0][0]
    return levels <= first.at.inner


def span(strokes: Sequence[Any]) -> tuple[int, int]:
    """The units between which a pass was worked."""
    start: int | None = None
    stop = 0
    for stroke in strokes:
        if type(stroke) is Mark:
            first, last = stroke.at.before, stroke.at.after
        elif len(stroke) == 2 and first_mark(stroke[0]) is not None:
            first, last = span(stroke[0])
            if type(stroke) is not EachPlace and not in_one_place(stroke[0]):
                last += (stroke[1] - 1) * (last - first)
        else:
            continue
        start = first if start is None else start
        stop = last
    return start or 0, stop


def spread_evenly(marks: Sequence[Mark]) -> list[tuple[str, int, int]]:
    """(name, uses, makes) of single stitches, the rarer kind spread among the commoner one."""
    if len(marks) == 1:
        name, uses, makes, count = marks[0]
        return [(name, uses, makes)] * count
    common, rare = marks[0], marks[1]
    total = common[3] + rare[3]
    out: list[tuple[str, int, int]] = []
    for index in range(total):
        is_rare = (index + 1) * rare[3] // total > index * rare[3] // total
        chosen = rare if is_rare else common
        out.append((chosen[0], chosen[1], chosen[2]))
    return out
