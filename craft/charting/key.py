"""The key of a chart: each symbol that is used, once, with its name in US and UK terms."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from craft.charting.model import Box, Into, Mark, Piece, Point, Role, Sign, Start
from craft.charting.shapes import Body, Shape, shape_of
from craft.standards.terms import UnknownTermError, stitch, to_uk

__all__ = ["KeyEntry", "Specimen", "key_of", "ring_used", "specimen"]

_LOOPS: Final = {"front": "in the front loop only", "back": "in the back loop only"}
_POSTS: Final = {"front": "round the front post", "back": "round the back post"}
_BUNDLES: Final = {"puff", "bobble", "popcorn", "cluster", "picot"}


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One symbol. `us`, `uk`: short names; `long_us`, `long_uk`: in words; `number`: how many are drawn."""

    sign: Sign
    us: str
    uk: str
    long_us: str
    long_uk: str
    number: int


@dataclass(frozen=True, slots=True)
class Specimen:
    """A symbol by itself, and the box that it fits."""

    sign: Sign
    mark: Mark
    box: Box


def key_of(pieces: Iterable[Piece]) -> tuple[KeyEntry, ...]:
    """Every symbol of some pieces, lowest first; what is told and not drawn is not counted."""
    counted: Counter[Sign] = Counter()
    for piece in pieces:
        for course in piece.courses:
            counted.update(_bare(sign) for sign in piece.signs[course.start : course.stop])
    entries = (_entry(sign, number) for sign, number in counted.items())
    return tuple(sorted(entries, key=_order))


def ring_used(pieces: Iterable[Piece]) -> bool:
    """Whether a magic ring is drawn."""
    return any(piece.start is Start.RING and piece.signs for piece in pieces)


def _bare(sign: Sign) -> Sign:
    """The sign without place and colour, so that equal symbols are one."""
    shape = shape_of(sign.name)
    if shape.body in {Body.CHAIN, Body.SLIP}:
        return Sign("ch" if shape.body is Body.CHAIN else "sl st", Role.CHAIN)
    loops = sign.loops if sign.loops in _LOOPS else ""
    return Sign(sign.name, Role.STITCH, Into.STITCH, (), loops, sign.post or shape.post)


def _order(entry: KeyEntry) -> tuple[float, int, str, str]:
    shape = shape_of(entry.sign.name)
    bundle = shape.body not in {Body.CHAIN, Body.SLIP, Body.CROSS, Body.STEM}
    return (
        float(bundle),
        shape.legs,
        f"{shape.height:06.2f}",
        f"{entry.sign.post}{entry.sign.loops}{entry.us}",
    )


def _entry(sign: Sign, number: int) -> KeyEntry:
    long_us, long_uk = _long(sign)
    return KeyEntry(sign, _us(sign), _uk(sign), long_us, long_uk, number)


def _us(sign: Sign) -> str:
    return sign.name + _loop_letters(sign)


def _uk(sign: Sign) -> str:
    try:
        return to_uk(sign.name) + _loop_letters(sign)
    except UnknownTermError:
        return sign.name + _loop_letters(sign)


def _loop_letters(sign: Sign) -> str:
    return {"front": " flo", "back": " blo"}.get(sign.loops, "")


def _long(sign: Sign) -> tuple[str, str]:
    shape = shape_of(sign.name)
    base = _base(sign.name, shape)
    us, uk = _words(base)
    if shape.legs > 1:
        us, uk = f"{shape.legs} {us} worked together", f"{shape.legs} {uk} worked together"
    if sign.post:
        us, uk = f"{us} {_POSTS[sign.post]}", f"{uk} {_POSTS[sign.post]}"
    if sign.loops in _LOOPS:
        us, uk = f"{us} {_LOOPS[sign.loops]}", f"{uk} {_LOOPS[sign.loops]}"
    return us, uk


def _base(name: str, shape: Shape) -> str:
    if shape.post:
        name = name[2:]
    return name[: -len(f"{shape.legs}tog")] if shape.legs > 1 and name.endswith("tog") else name


def _words(base: str) -> tuple[str, str]:
    try:
        term = stitch(base)
    except UnknownTermError:
        return base, base
    return term.us_name, term.uk_name


def specimen(sign: Sign) -> Specimen:
    """A symbol standing on its own, for the key."""
    shape = shape_of(sign.name)
    height = min(shape.height, 3.2) if shape.body is not Body.CROSS else 1.15
    feet: tuple[Point, ...] = ((0.0, 0.0),)
    if shape.legs > 1:
        wide = 0.42 * (shape.legs - 1)
        feet = tuple((wide * (2 * i / (shape.legs - 1) - 1), 0.0) for i in range(shape.legs))
    if shape.body in {Body.CHAIN, Body.SLIP}:
        mark = Mark(0, (), (0.0, -0.5), (1.0, 0.0))
        return Specimen(sign, mark, Box(-0.9, -1.3, 0.9, 0.3))
    mark = Mark(0, feet, (0.0, -height), (1.0, 0.0))
    return Specimen(sign, mark, Box(-0.9, -max(height, 1.0) - 0.25, 0.9, 0.35))
