"""A line without repeats: each pass written out, each round of a range on a line of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from craft.notation.tree import AsRound, Group, Line, Repeat, Step, Work

__all__ = ["expanded"]

_MOST_STEPS = 240
"""A line longer than this is no help to anybody: its repeats stay."""
_MOST_ROUNDS = 200


def expanded(line: Line) -> tuple[Line, ...]:
    """The line with each pass written out; a line for several rounds becomes as many lines.

    A repeat stays whose passes are not numbered ("around") or differ by size, that has an ending of its own,
    or that holds a step as open as itself; so does a line that refers to other rounds. A printed count stays
    with the last round of a range.
    """
    steps = _steps(line.steps, _MOST_STEPS)
    line = line if steps is None else replace(line, steps=steps)
    numbers, label = line.label.numbers, line.label
    special = label.every is not None or label.open_ended or label.per_size_last is not None
    special |= any(isinstance(step, AsRound) for step in line.steps)
    if len(numbers) < 2 or special or len(numbers) > _MOST_ROUNDS:
        return (line,)
    lines = [
        replace(line, label=replace(label, numbers=(number,), stated_number_of_rounds=None), stated=None)
        for number in numbers
    ]
    return (*lines[:-1], replace(lines[-1], stated=line.stated))


def _steps(steps: Sequence[Step], most: int) -> tuple[Step, ...] | None:
    """The steps with all passes written out; None where they come to more than `most`."""
    out: list[Step] = []
    for step in steps:
        passes = _passes(step, most) if isinstance(step, Repeat) else None
        if passes is not None:
            out += passes
        elif isinstance(step, Group):
            inner = _steps(step.steps, most)
            out.append(step if inner is None else replace(step, steps=inner))
        else:
            out.append(step)
        if len(out) > most:
            return None
    return tuple(out)


def _passes(step: Repeat, most: int) -> tuple[Step, ...] | None:
    """All passes of a repeat; None where it stays."""
    number = step.times.number
    if number is None or len(number) > 1 or not number[0] or step.times.more is None or step.ending:
        return None
    body = None if any(map(_is_open, step.steps)) else _steps(step.steps, most)
    if body is None or (step.stop is not None and len(body) != len(step.steps)):
        return None
    full = number[0] + (1 if step.times.more else 0)
    cut = () if step.stop is None else body[: step.stop]
    if step.stop is not None and not step.partial:
        full -= 1
    if len(body) * full > most:
        return None
    return body * full + cut * max(step.partial, 1)


def _is_open(step: Step) -> bool:
    """Whether a step goes as far as the steps behind it let it: "sc in each st to last 2 sts"."""
    if isinstance(step, Repeat):
        return step.times.number is None or any(map(_is_open, step.steps))
    return isinstance(step, Work | Group) and step.place.number is None and step.place.until is None
