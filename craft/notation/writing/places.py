"""Places in words: "next 5 sts", "each st around to last 3 sts", "2nd ch from hook", "3rd ch of ch-3"."""

from __future__ import annotations

import re
from collections.abc import Callable

from craft.notation.tree import NONE_KEPT, ONE, How, Loops, Numbers, Place
from craft.notation.writing.pen import Pen, noun, numbers, ordinal, plural

__all__ = ["how_far", "in_place", "place_words"]

_LOOPS = {Loops.BACK: "back loop of ", Loops.FRONT: "front loop of ", Loops.BOTH: "both loops of "}
_MAGIC = re.compile(r"magic|adjustable|sliding", re.IGNORECASE)
_MARKED_OUT = frozenset(("skipped", "marked", "center", "corner", "any"))


def in_place(pen: Pen, place: Place, preposition: str = "in") -> str:
    """The place with its preposition."""
    if place.how is How.ENDS and place.number is None:
        return "along edge" if place.what == "edge" else "in each row"
    return f"{preposition} {place_words(pen, place)}"


def place_words(pen: Pen, place: Place) -> str:
    """The place without a preposition."""
    core = _CORES[place.how](pen, place)
    words = core + _further_down(place)
    if place.loops is pen.loops or place.what == "free loop":
        return words
    if place.loops is Loops.OTHER_SIDE:
        return f"{words} on other side"
    if place.how is How.BARE:
        return _LOOPS.get(place.loops, "").removesuffix(" of ")
    return _LOOPS.get(place.loops, "") + words


def _further_down(place: Place) -> str:
    if place.round_number is not None:
        return f" in Rnd {place.round_number}"
    if place.below == 1:
        return " in row below"
    return f" {place.below} rows below" if place.below else ""


def _mark(place: Place) -> str:
    """How the place is marked out among others; a "center sc" would be a stitch of its own."""
    if place.of not in _MARKED_OUT:
        return ""
    return "middle " if place.of == "center" and place.what == "sc" else f"{place.of} "


def _counted(pen: Pen, place: Place, which: str) -> str:
    """Such as "next 5 sts", "first skipped st", "3rd dc of next shell"."""
    number = place.number or ONE
    marked = _mark(place)
    many = "" if number == ONE else f"{numbers(number)} "
    if place.ordinal is not None:
        of = "" if place.of is None or marked else f" of {which} {many}{noun(pen, place.of, None, number)}"
        return f"{ordinal(place.ordinal)} {marked}{noun(pen, place.what, place.chains)}{of}"
    if place.what == "gap":
        return f"{which} {many}{plural('sp', number)} between sts"
    each = "each of " if many and pen.style.each_of and which != "same" else ""
    of = "" if place.of is None or marked else f" of {noun(pen, place.of, None)}"
    return f"{each}{which} {many}{marked}{noun(pen, place.what, place.chains, number)}{of}"


def _next(pen: Pen, place: Place) -> str:
    return _counted(pen, place, "next")


def _first(pen: Pen, place: Place) -> str:
    return _counted(pen, place, "first")


def _last(pen: Pen, place: Place) -> str:
    return _counted(pen, place, "last")


def _same(pen: Pen, place: Place) -> str:
    return _counted(pen, place, "same")


def _each(pen: Pen, place: Place) -> str:
    which = "every other" if place.every == 2 else "each"
    if place.what == "gap":
        return f"{which} sp between sts {pen.along}"
    marked = _mark(place)
    of = "" if place.of is None or marked else f" of {noun(pen, place.of, None)}"
    words = f"{which} {marked}{noun(pen, place.what, place.chains)}{of}"
    return f"{words} {how_far(pen, place.keep, place.until)}"


def how_far(pen: Pen, keep: Numbers | None, until: str | None) -> str:
    """How far stitches or a repeat go: "around", "to last 3 sts", "to 1 st before next corner"."""
    kept = None if keep is None or keep == NONE_KEPT else keep
    if until is not None:
        mark = until if until in {"marker", "edge"} else "same st" if until == "same" else None
        mark = mark or f"next {noun(pen, until, None)}"
        return f"to {mark}" if kept is None else f"to {numbers(kept)} {plural('st', kept)} before {mark}"
    if kept is None:
        return pen.along
    return "to last st" if kept == ONE else f"to last {numbers(kept)} sts"


def _ring(pen: Pen, place: Place) -> str:
    magic = pen.has_own(place.span) and _MAGIC.search(pen.text, *place.span) is not None
    return "magic ring" if magic else "ring"


def _from_hook(pen: Pen, place: Place) -> str:
    return f"{ordinal(place.ordinal or 1)} {noun(pen, place.what, None)} from hook"


def _named(pen: Pen, place: Place) -> str:
    if place.what == "turning ch":
        if place.ordinal is not None:
            chain = "turning ch" if place.chains is None else f"beg ch-{place.chains}"
            return f"{ordinal(place.ordinal)} ch of {chain}"
        return "turning ch" if place.chains is None else f"top of beg ch-{place.chains}"
    if place.what == "corner" and place.of is None:
        return "corner"
    if place.of in _MARKED_OUT and place.ordinal is None:
        return f"{_mark(place)}{noun(pen, place.what, place.chains)}"
    return _counted(pen, place, "beg" if place.of is None and place.ordinal is None else "next")


def _ends(pen: Pen, place: Place) -> str:
    number = place.number or ONE
    return f"next {numbers(number)} {noun(pen, place.what, None, number)}"


def _bare(pen: Pen, place: Place) -> str:
    return ""


_CORES: dict[How, Callable[[Pen, Place], str]] = {
    How.BARE: _bare,
    How.NEXT: _next,
    How.EACH: _each,
    How.FIRST: _first,
    How.LAST: _last,
    How.SAME: _same,
    How.RING: _ring,
    How.HOOK: _from_hook,
    How.NAMED: _named,
    How.ENDS: _ends,
}
