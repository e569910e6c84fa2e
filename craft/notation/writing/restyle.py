"""A line in the house's forms: other steps, the same work. What has no such form stays as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from craft.notation.stitches import PLAIN, increase, of_one
from craft.notation.tree import NONE_KEPT, ONE, Group, How, Line, Loops, Numbers, Place, Repeat, Step, Work
from craft.notation.writing.style import HouseStyle

__all__ = ["restyled"]

_STARS = frozenset(("*", "**"))
_BRACKETS = frozenset(("(", "[", "{"))


def restyled(line: Line, style: HouseStyle) -> Line:
    """The line with its repeats and increases in the forms of `style`."""
    return replace(line, steps=_steps(line.steps, style, depth=0))


def _steps(steps: Sequence[Step], style: HouseStyle, *, depth: int) -> tuple[Step, ...]:
    return tuple(_step(step, style, depth) for step in steps)


def _step(step: Step, style: HouseStyle, depth: int) -> Step:
    if isinstance(step, Work):
        return _work(step, style)
    if isinstance(step, Group):
        return step  # its steps share a place: an increase is none there
    if not isinstance(step, Repeat):
        return step
    inner = _steps(step.steps, style, depth=depth + 1)
    return _repeat(replace(step, steps=inner, ending=_steps(step.ending, style, depth=1)), style, depth)


# ------------------------------------------------------------------------------------ repeats


def _repeat(step: Repeat, style: HouseStyle, depth: int) -> Repeat:
    if style.repeats == "stars" and depth == 0 and step.fence in _BRACKETS:
        return replace(step, fence="*") if not _holds_stars(step.steps) else step
    plain = step.stop is None and not step.partial and not step.times.unsaid
    if style.repeats == "brackets" and plain and step.fence in _STARS | _BRACKETS:
        return _bracketed(step)
    return step


def _bracketed(step: Repeat) -> Repeat:
    """In round brackets, or in square ones where round ones stand inside; passes counted in all."""
    fence = "[" if any(isinstance(one, Repeat | Group) for one in step.steps) else "("
    times = step.times
    if times.more and times.number is not None:
        number = tuple(None if value is None else value + 1 for value in times.number)
        times = replace(times, number=number, more=False)
    return replace(step, fence=fence, times=times)


def _holds_stars(steps: Sequence[Step]) -> bool:
    return any(isinstance(step, Repeat) and step.fence not in _BRACKETS for step in steps)


# ---------------------------------------------------------------------------------- increases


def _work(step: Work, style: HouseStyle) -> Work:
    if style.increases == "inc" and _is_spelled(step):
        return _as_inc(step)
    if style.increases == "spelled" and step.each == ONE and _increased(step) is not None:
        return _as_spelled(step)
    return step


def _is_spelled(step: Work) -> bool:
    """Such as "2 sc in next st", "2 sc in each of next 3 sts", "2 sc in each st around"."""
    place = step.place
    plain = place == Place(place.how, place.number, what=place.what, span=place.span)
    anywhere = place.what == "st" or place.what in PLAIN
    where = place.how is How.NEXT or (place.how is How.EACH and place.what == "st")
    return step.stitch == of_one("sc").stitch and step.each == (2,) and plain and anywhere and where


def _as_inc(step: Work) -> Work:
    place = step.place
    if place.how is How.NEXT:
        place = Place(How.BARE, place.number, span=place.span)
    return replace(step, stitch=increase("sc").stitch, each=ONE, place=place, ambiguous=False, written="")


def _increased(step: Work) -> tuple[str, Numbers] | None:
    """The plain stitch that an increase is made of, and how many; None for any other stitch."""
    tally = step.stitch.tally
    if len(tally) != 1 or tally[0][0] not in PLAIN:
        return None
    name, number = tally[0]
    return (name, (number,)) if step.stitch == increase(name, number).stitch else None


def _as_spelled(step: Work) -> Work:
    found = _increased(step)
    if found is None or step.place.how not in {How.BARE, How.NEXT, How.EACH}:
        return step
    place = step.place
    if place.how is How.BARE:
        if place.loops is Loops.UNWORKED or place.keep != NONE_KEPT:
            return step
        place = Place(How.NEXT, place.number, loops=place.loops, span=place.span)
    return replace(step, stitch=of_one(found[0]).stitch, each=found[1], place=place, written="")
