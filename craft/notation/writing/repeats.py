"""Repeats in words: `(sc, inc) x 6`, `*sc, inc; rep from * around, ending last rep at **`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from craft.notation.tree import ONE, Repeat, Step, Times
from craft.notation.writing.pen import Pen, numbers
from craft.notation.writing.places import how_far

__all__ = ["repeat_words"]

_CLOSE = {"(": ")", "[": "]", "{": "}"}
Writer = Callable[[Pen, Sequence[Step], "dict[int, str] | None"], str]


def repeat_words(pen: Pen, step: Repeat, in_words: Writer) -> str:
    """A repeat in words; `in_words` writes the steps inside."""
    inside = pen.inside()
    if step.fence in _CLOSE:
        body = in_words(_not_as_a_count(inside, step), step.steps, None)
        words = f"{step.fence}{body}{_CLOSE[step.fence]} {_times(pen, step.times, bracket=True)}"
    elif step.fence == "open":
        return f"*{in_words(inside, step.steps, None)}"
    elif step.fence in {"words", "none"}:
        return f"{in_words(pen, step.steps, None)}; repeat {_times(pen, step.times, bracket=False)}"
    else:
        words = _starred(pen, step, in_words)
    if step.ending:
        words += f", ending with {in_words(inside, step.ending, None)}"
    return words


def _not_as_a_count(pen: Pen, step: Repeat) -> Pen:
    """In "(5 sc) around" the bracket would be a printed count: there the number stands behind."""
    alone = len(step.steps) == 1 and step.times.number is None
    return replace(pen, style=replace(pen.style, numbers="after")) if alone else pen


def _starred(pen: Pen, step: Repeat, in_words: Writer) -> str:
    star = step.fence
    stop = star + "*"
    marks = {} if step.stop is None else {step.stop: stop}
    body = in_words(pen.inside(), step.steps, marks)
    words = f"{star}{body}; rep from {star} {_times(pen, step.times, bracket=False)}"
    if step.stop is None:
        return words
    if not step.partial:
        return f"{words}, ending last rep at {stop}"
    again = "once more" if step.partial == 1 else f"{step.partial} times more"
    return f"{words}, then from {star} to {stop} {again}"


def _times(pen: Pen, times: Times, *, bracket: bool) -> str:
    if times.number is None:
        return how_far(pen, times.until_left, times.until_what)
    number = numbers(times.number)
    if times.more:
        return "once more" if times.number == ONE else f"{number} times more"
    if bracket:
        return f"x {number}" if pen.style.times == "x" else f"{number} times"
    return f"{number} times" if times.more is None else f"{number} times in all"
