"""How many places of the round below a stretch of steps takes up, where the words alone say it."""

from __future__ import annotations

from collections.abc import Sequence

from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    Counting,
    Evenly,
    Group,
    How,
    Join,
    Marker,
    Numbers,
    OnlySizes,
    Remark,
    Repeat,
    Rotate,
    Skip,
    Step,
    Turn,
    Unread,
    Work,
)

__all__ = ["makes", "plain", "width"]

_UNSURE = (AsRound, Evenly, OnlySizes, Rotate, Unread)
_NOTHING = (Chain, Colour, Counting, Join, Marker, Remark, Turn)


def width(steps: Sequence[Step]) -> int | None:
    """Places taken by one pass over the steps; None where it depends on the round below."""
    total = 0
    for step in steps:
        taken = _of(step)
        if taken is None:
            return None
        total += taken
    return total


def _of(step: Step) -> int | None:
    if isinstance(step, _NOTHING):
        return 0
    if isinstance(step, Work):
        return _of_work(step)
    if isinstance(step, (Group, Skip)):
        place = step.place
        if place.how is How.SAME or place.of == "skipped":
            return 0
        return _one(place.number) if place.how in {How.NEXT, How.BARE} else None
    if isinstance(step, Repeat):
        inner, times = width(step.steps), _one(step.times.number)
        more = step.times.more
        return None if inner is None or times is None or more is not False else inner * times
    return None


def _of_work(work: Work) -> int | None:
    place = work.place
    if work.also:
        return None
    if place.how is How.SAME or place.of == "skipped":
        return 0
    number = _one(place.number)
    if number is None or place.every != 1:
        return None
    if place.how is How.BARE:
        return number * work.stitch.uses
    return number if place.how is How.NEXT else None


def _one(numbers: Numbers | None) -> int | None:
    return numbers[0] if numbers and len(numbers) == 1 else None


def makes(steps: Sequence[Step]) -> int | None:
    """Tops left by one pass over plain steps; None where chains, spaces or the fabric have a say."""
    total = 0
    for step in steps:
        if isinstance(step, Work):
            number, each = _one(step.place.number), _one(step.each)
            if number is None or each is None or step.place.how is How.EACH:
                return None
            stitches = number if step.place.how is How.BARE else number // max(1, step.stitch.uses)
            total += stitches * each * step.stitch.makes
        elif isinstance(step, Repeat):
            inner, times = makes(step.steps), _one(step.times.number)
            if inner is None or times is None or step.times.more is not False:
                return None
            total += inner * times
        elif not isinstance(step, (*_NOTHING, Skip)) or isinstance(step, Chain):
            return None
    return total


_STITCHES = frozenset({"st", "sc", "hdc", "dc", "tr", "ch", "ring", "turning ch"})


def plain(steps: Sequence[Step]) -> bool:
    """Whether a line is worked stitch by stitch into the round just below, so that nothing about its
    places is left to a guess: no lace, posts, older rounds, stitches passed over and taken up again.
    """
    return all(_is_plain(step, first=at == 0) for at, step in enumerate(steps))


def _is_plain(step: Step, *, first: bool) -> bool:
    if isinstance(step, Repeat):
        return step.stop is None and not step.ending and plain(step.steps)
    if isinstance(step, Chain):
        return first
    if isinstance(step, Work):
        named = step.stitch.known and step.stitch.name != "in pattern"
        known = named and step.stitch.post is None and not step.ambiguous
        place = step.place
        return known and place.below == 0 and place.of is None and place.what in _STITCHES
    if isinstance(step, Skip):
        return step.place.what in _STITCHES and step.place.how in {How.NEXT, How.BARE}
    return not isinstance(step, (Group, *_UNSURE))
