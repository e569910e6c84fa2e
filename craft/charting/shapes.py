"""Which symbol a stitch has, from its US name: stems, slashes, what stands at foot and head.

The descriptions follow the chart symbols of the Craft Yarn Council (*Standards & Guidelines for Crochet and
Knitting*) and of JIS L 0201-1995, class 3 (the kinds of crochet stitches); the drawings are our own. Heights
are those of `craft.standards.proportions`, a single crochet being 1.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Final

from craft.standards.proportions import relative_height
from craft.standards.terms import UnknownTermError

__all__ = ["Body", "Shape", "SymbolSet", "height_of", "shape_of", "width_of"]


class SymbolSet(StrEnum):
    """One set per chart. They differ in the single crochet and in how a free loop is shown."""

    CYC = "cyc"
    JIS = "jis"


class Body(StrEnum):
    """The kind of drawing."""

    CHAIN = "chain"
    SLIP = "slip"
    CROSS = "cross"  # single crochet
    STEM = "stem"  # hdc and taller: a stem with a bar, one slash for each yarn over beyond the first
    LEAF = "leaf"  # cluster, bobble: stems joined at foot and head
    PUFF = "puff"  # the same without slashes
    POPCORN = "popcorn"  # stems joined at the foot under an open ring
    PICOT = "picot"
    LONG = "long"  # a loop of yarn pulled up, a knot
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Shape:
    """A symbol without its place. `slashes` across each stem, `stems` in a leaf, `legs` worked together.

    `made` tells one variety more: "extended", "foundation", "reverse", or "".
    """

    body: Body
    height: float = 1.0
    slashes: int = 0
    stems: int = 1
    legs: int = 1
    post: str = ""
    made: str = ""


_TALL: Final = {"hdc": 0, "dc": 1, "tr": 2, "dtr": 3, "trtr": 4, "quadtr": 5}
_POST: Final = re.compile(r"^(fp|bp)(?=sc|hdc|dc|tr|dtr|trtr|quadtr)")
_POST_TOGETHER: Final = re.compile(r"^(sc|hdc|dc|tr|dtr)(fp|bp)(\d+tog)$")
_MADE: Final = {"esc": "sc", "ehdc": "hdc", "edc": "dc", "etr": "tr"}
_FOUNDATION: Final = {"fsc": "sc", "fhdc": "hdc", "fdc": "dc", "ftr": "tr"}
_REVERSE: Final = frozenset(("rsc", "rev sc", "crab st", "crab stitch", "reverse sc"))
_TOGETHER: Final = re.compile(r"^(.+?)(\d{1,3})tog$")
_CLUSTER: Final = re.compile(
    r"^(?:(\d)[- ]?)?(hdc|dc|tr|dtr)?[- ]?(\d)?[- ]?(?:tr|dc|hdc)?[- ]?(?:cl|cluster)s?$"
)
_SHORT_CLUSTER: Final = re.compile(r"^(\d)(hdc|dc|tr|dtr)(c?l)$")  # 4dcl, 3trcl
_PUFFS: Final = frozenset(
    ("puff", "puff st", "puff stitch", "puff-st", "ps", "bean", "bean st", "bean stitch")
)
_BOBBLES: Final = frozenset(("bobble", "bo", "bob", "bobble st", "mb", "bobble stitch"))
_POPCORNS: Final = frozenset(("popcorn", "pc", "pop", "popcorn st", "pop st", "popcorn stitch"))
_INCREASE: Final = re.compile(r"^(?:(sc|hdc|dc|tr|dtr) )?inc(\d*)$")


@cache
def shape_of(name: str) -> Shape:
    """The symbol of a stitch by its US name. A name that the trade does not know has a diamond."""
    name = name.removeprefix("beg ")
    if found := _POST_TOGETHER.match(name):
        return _with(shape_of(f"{found[1]}{found[3]}"), post="front" if found[2] == "fp" else "back")
    if found := _POST.match(name):
        inner = shape_of(name[2:])
        return _with(inner, post="front" if found[1] == "fp" else "back")
    if name in {"ch", "chain"}:
        return Shape(Body.CHAIN, 0.35)
    if name in {"sl st", "ss"}:
        return Shape(Body.SLIP, 0.45)
    return _plain(name) or _fancy(name) or Shape(Body.UNKNOWN, 1.2)


def _with(shape: Shape, *, post: str = "", made: str = "", legs: int = 0) -> Shape:
    return Shape(
        shape.body, shape.height, shape.slashes, shape.stems, legs or shape.legs, post or shape.post, made
    )


def _plain(name: str) -> Shape | None:
    if name in {"sc", "spike st", "spike sc"}:  # a spike is drawn down to where it goes
        return Shape(Body.CROSS, 1.0)
    if name in _TALL:
        return Shape(Body.STEM, height_of(name), _TALL[name])
    if name in _REVERSE:
        return Shape(Body.CROSS, 1.0, made="reverse")
    return _longer(name)


def _longer(name: str) -> Shape | None:
    """Extended and foundation stitches, and increases called by one name."""
    if base := _MADE.get(name):
        return _as(base, name, "extended")
    if base := _FOUNDATION.get(name):
        return _as(base, base, "foundation")
    if found := _INCREASE.match(name):
        return shape_of(found[1] or "sc")
    return None


def _as(base: str, tall: str, made: str) -> Shape:
    inner = shape_of(base)
    return Shape(inner.body, height_of(tall), inner.slashes, made=made)


def _fancy(name: str) -> Shape | None:
    if found := _TOGETHER.match(name):
        inner = shape_of(found[1])
        if inner.body in {Body.CROSS, Body.STEM}:
            return _with(inner, legs=int(found[2]))
    if name in {"dec", "invdec", "inv dec", "sc dec"}:
        return Shape(Body.CROSS, 1.0, legs=2)
    if found := _CLUSTER.match(name) or _SHORT_CLUSTER.match(name):
        return _cluster(found)
    return _bundle(name)


def _cluster(found: re.Match[str]) -> Shape:
    base = found[2] or "dc"
    body = Body.PUFF if base == "hdc" else Body.LEAF
    said = found[1] or found[3]
    number = int(said) if said and said.isdecimal() else 3
    return Shape(body, height_of(base), _TALL[base], stems=max(2, min(number, 7)))


def _bundle(name: str) -> Shape | None:
    number = int(name[0]) if name[:1].isdecimal() else 0
    plain = name[1:].lstrip("- ").removeprefix("dc ").removeprefix("hdc ") if number else name
    if plain in _PUFFS:
        return Shape(Body.PUFF, 1.8, stems=max(2, min(number or 3, 7)))
    if plain in _BOBBLES:
        return Shape(Body.LEAF, 2.0, 1, stems=max(2, min(number or 5, 7)))
    if plain in _POPCORNS:
        return Shape(Body.POPCORN, 2.0, 1, stems=max(2, min(number or 5, 7)))
    if plain.endswith("picot") or plain in {"p", "pic"}:
        return Shape(Body.PICOT, 0.6)
    if plain in {"solomon's knot", "love knot", "lk", "loop st", "loop stitch"}:
        return Shape(Body.LONG, 2.0)
    return None


@cache
def height_of(name: str) -> float:
    """Height of the symbol, about in proportion; 1 for what has none."""
    try:
        return relative_height(name) or 1.0
    except UnknownTermError:
        return 1.0


def width_of(shape: Shape) -> float:
    """Room along the round."""
    if shape.body in {Body.CHAIN, Body.SLIP}:
        return 0.75
    return 1.25 if shape.body in {Body.LEAF, Body.PUFF, Body.POPCORN} else 1.0
