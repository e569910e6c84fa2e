"""A line for one size: numbers of that size alone, steps of other sizes left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from craft.notation.tree import (
    AsRound,
    Chain,
    Group,
    Label,
    Line,
    Numbers,
    OnlySizes,
    Repeat,
    Skip,
    StatedCount,
    Step,
    Work,
)

__all__ = ["line_of_size"]

_BY_SIZE = frozenset(
    ("number", "each", "keep", "until_left", "change", "total", "chains", "stated_number_of_rounds")
)
Node = TypeVar("Node")


def line_of_size(line: Line, position: int) -> Line | None:
    """The line as the size at `position` works it; None for a line of other sizes."""
    if line.label.sizes and position not in line.label.sizes:
        return None
    steps, _ = _steps(line.steps, position)
    label = _label(line.label, position)
    if label is None or (line.steps and not steps):
        return None
    stated = None if line.stated is None else _stated(line.stated, position)
    inner = tuple(one for count in line.inner if (one := _stated(count, position)) is not None)
    return replace(line, label=label, steps=steps, stated=stated, inner=inner)


def _pick(values: Numbers, position: int) -> Numbers:
    return (values[position],) if len(values) > max(1, position) else values


def _label(label: Label, position: int) -> Label | None:
    stated = label.stated_number_of_rounds
    label = replace(
        label, sizes=(), stated_number_of_rounds=None if stated is None else _pick(stated, position)
    )
    if label.per_size_last is None:
        return label
    last = _pick(label.per_size_last, position)[0]
    if last is None or not label.numbers or last < label.numbers[0]:
        return None
    return replace(label, numbers=tuple(range(label.numbers[0], last + 1)), per_size_last=None)


def _stated(count: StatedCount, position: int) -> StatedCount | None:
    items = tuple(replace(item, number=_pick(item.number, position)) for item in count.items)
    items = tuple(item for item in items if item.number[0] is not None)
    return replace(count, items=items) if items else None


# -------------------------------------------------------------------------------------- steps


def _steps(steps: Sequence[Step], position: int) -> tuple[tuple[Step, ...], list[int]]:
    """The steps of one size, and the index that each of the old ones has among them."""
    out: list[Step] = []
    moved: list[int] = []
    for step in steps:
        moved.append(len(out))
        out += _step(step, position)
    return tuple(out), [*moved, len(out)]


def _step(step: Step, position: int) -> tuple[Step, ...]:
    if isinstance(step, OnlySizes):
        return _steps(step.steps, position)[0] if position in step.sizes else ()
    if isinstance(step, AsRound) and step.last_by_size is not None:
        last = _pick(step.last_by_size, position)[0] or 0
        step = replace(step, last=last, last_by_size=None)
    cut = _numbers(step, position)
    if _left_out(cut):
        return ()
    if isinstance(cut, Repeat):
        inner, moved = _steps(cut.steps, position)
        stop = None if cut.stop is None else moved[cut.stop]
        return (replace(cut, steps=inner, stop=stop, ending=_steps(cut.ending, position)[0]),)
    return (replace(cut, steps=_steps(cut.steps, position)[0]),) if isinstance(cut, Group) else (cut,)


def _numbers(node: Node, position: int) -> Node:
    """The node with the numbers of one size, its own and those of its place and its end."""
    changed: dict[str, Any] = {}
    for one in fields(cast("Any", node)):
        value = getattr(node, one.name)
        if one.name in _BY_SIZE and isinstance(value, tuple):
            changed[one.name] = _pick(value, position)
        elif one.name in {"place", "times"} and is_dataclass(value):
            changed[one.name] = _numbers(value, position)
    return cast("Node", replace(cast("Any", node), **changed))


_NOTHING = frozenset((0, None))


def _left_out(step: Step) -> bool:
    """Whether the size leaves the step out: a printed dash, or 0."""
    if isinstance(step, Chain):
        return step.number[0] in _NOTHING
    if isinstance(step, Work):
        return step.each[0] in _NOTHING or _no_place(step.place.number)
    if isinstance(step, Skip | Group):
        return _no_place(step.place.number)
    if isinstance(step, Repeat):
        return step.times.number is not None and step.times.number[0] in _NOTHING and not step.times.more
    return False


def _no_place(number: Numbers | None) -> bool:
    return number is not None and number[0] in _NOTHING
