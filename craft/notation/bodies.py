"""What a run of steps comes to as one stitch: places used, stitches made, what is counted."""

from __future__ import annotations

from collections import Counter

from craft.notation.tree import Chain, Group, How, Join, Place, Repeat, Skip, Step, Work

__all__ = ["bare", "is_picot", "makes_of", "tally_of", "uses_of"]

_NO_PLACE = frozenset((How.SAME, How.RING, How.HOOK, How.BARE))


def bare(step: Work) -> Work:
    """Stitches into one place as bare stitches: "5 dc in same st" -> 5 dc."""
    place = Place(How.BARE, step.each, span=step.place.span)
    return Work(step.stitch, (1,), place, step.span, step.written)


def uses_of(steps: tuple[Step, ...]) -> int | None:
    """Places of the edge below that the steps use up; None where that is open ("each st")."""
    uses = 0
    for step in steps:
        one = _uses(step)
        if one is None:
            return None
        uses += one
    return max(uses, 1)


def _uses(step: Step) -> int | None:
    if isinstance(step, Skip):
        return _width(step.place)
    if isinstance(step, Group | Work):
        place = step.place
        return None if place.how is How.EACH else 0 if place.of == "skipped" else _width(place)
    if isinstance(step, Repeat):
        inner = uses_of(step.steps)
        if inner is None or step.times.number is None:
            return None
        return inner * (step.times.number[0] or 1)
    return 0


def _width(place: Place) -> int:
    if place.how in _NO_PLACE or place.number is None:
        return 0
    return place.number[0] or 0


def _number(step: Work) -> int:
    """How many such stitches the step makes."""
    number = step.place.number[0] if step.place.number else 1
    return (step.each[0] or 0) * (number or 0)


def makes_of(steps: tuple[Step, ...]) -> int | None:
    """Tops that the steps leave; slip stitches and chains not counted. None where that is open."""
    makes = 0
    for step in steps:
        if isinstance(step, Work):
            makes += _number(step) * step.stitch.makes if step.stitch.name != "sl st" else 0
        elif isinstance(step, Group):
            makes += makes_of(step.steps) or 0
        elif isinstance(step, Repeat):
            inner = makes_of(step.steps)
            if inner is None or step.times.number is None:
                return None
            makes += inner * (step.times.number[0] or 1)
    return makes


def tally_of(steps: tuple[Step, ...]) -> tuple[tuple[str, int], ...]:
    """What is counted for the steps, by US name."""
    tally: Counter[str] = Counter()
    for step in steps:
        if isinstance(step, Work):
            for name, count in step.stitch.tally:
                tally[name] += count * _number(step)
        elif isinstance(step, Chain):
            tally["ch"] += step.number[0] or 0
        elif isinstance(step, Group):
            tally.update(dict(tally_of(step.steps)))
        elif isinstance(step, Repeat) and step.times.number is not None:
            for name, count in tally_of(step.steps):
                tally[name] += count * (step.times.number[0] or 1)
        elif isinstance(step, Join):
            tally["sl st"] += 1
    return tuple(tally.items())


def is_picot(steps: tuple[Step, ...]) -> bool:
    """A chain closed on itself: it uses no place and leaves none."""
    if not steps:
        return False  # "(yo, in 6 ()": nothing that could be read
    first, last = steps[0], steps[-1]
    if not isinstance(first, Chain) or len(steps) > 3:
        return False
    if isinstance(last, Join):
        return True
    if not isinstance(last, Work) or last.stitch.name not in {"sl st", "sc"}:
        return False
    closed = last.place.how in {How.HOOK, How.SAME} or last.place.what in {"ch", "turning ch"}
    return closed or last.stitch.name == "sl st"
