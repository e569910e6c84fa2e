"""Kinds of places as makers name them: any stitch, a dc, a space, the turning chain, a group."""

from __future__ import annotations

import re
from functools import cache

from craft.fabric.edge import CHAIN, CLOSING, SPACE, Match
from craft.fabric.model import Cells

__all__ = [
    "ANY_STITCH",
    "HEIGHT_IN_CHAINS",
    "family",
    "height_in_chains",
    "is_any_stitch",
    "is_group",
    "is_plain",
    "is_space",
    "is_turning_chain",
    "match_kind",
    "match_space",
    "union",
]

ANY_STITCH = frozenset(
    (
        "st",
        "sts",
        "stitch",
        "place",
        "",
        "in pattern",
        "inc",
        "dec",
        "marker",
        "edge",
        "sl st",
        "top",
        "row",
        "point",
        "bar",
    )
)
_SPACES = frozenset(("sp", "ch-sp", "loop", "picot"))
_TURNING = frozenset(("turning ch", "beginning ch", "starting ch", "tch", "beg ch"))
_KIND_NOT_KNOWN = frozenset(("st", "in pattern"))
_GROUPS = frozenset(("group", "shell", "v-st", "fan", "petal", "corner", "spoke"))

HEIGHT_IN_CHAINS = {"sl st": 0, "sc": 1, "hdc": 2, "dc": 3, "tr": 4, "dtr": 5, "trtr": 6, "quadtr": 7}
"""The chain ladder (CGOA, Crochet Lessons, 1997: 0 1 2 3 4 for sl st, sc, hdc, dc, tr; dtr 5 dummies.com)."""

_STITCH = re.compile(r"^(?:fp|bp|e|f)?(sc|hdc|dc|tr|dtr|trtr|quadtr)(?:\d*tog| inc\d*)?(?:cl)?$")


def is_any_stitch(what: str) -> bool:
    return what in ANY_STITCH or "|" in what


def is_space(what: str) -> bool:
    return what in _SPACES


def is_turning_chain(what: str) -> bool:
    return what in _TURNING


def is_group(what: str) -> bool:
    return what in _GROUPS


@cache
def union(what: str) -> int:
    """How spaces count in "each st and ch-1 sp" (1, once) and "each st and ch" (2, chain by chain); 0 where
    only one kind is named.
    """
    if "|" not in what:
        return 0
    return 2 if CHAIN in what.split("|") else 1


@cache
def is_plain(what: str) -> bool:
    """Whether the name is of a stitch of the ladder, of any stitch, or of a chain or space."""
    return what in ANY_STITCH or what in _SPACES or what == CHAIN or family(what) in HEIGHT_IN_CHAINS


@cache
def family(name: str) -> str:
    """The plain stitch behind a name: "fpdc" and "dc2tog" are dc; other names are their own."""
    found = _STITCH.match(name)
    return found.group(1) if found else name


@cache
def height_in_chains(name: str) -> int:
    """Height of a stitch in chains; 3 for a stitch of no known height (clusters and the like)."""
    return HEIGHT_IN_CHAINS.get(family(name), 3)


@cache
def match_kind(what: str) -> Match:
    """Whether a place is of the kind named ("dc" takes dc, fpdc, dc2tog); a stitch whose kind is not known
    may be any of the ladder.
    """
    wanted = family(what)
    if what == CHAIN:
        return lambda cells: cells.name == CHAIN
    if wanted in HEIGHT_IN_CHAINS:
        return lambda cells: (
            cells.name != SPACE and (cells.name in _KIND_NOT_KNOWN or family(cells.name) == wanted)
        )
    return lambda cells: cells.name != SPACE and family(cells.name) == wanted


def _any_space(cells: Cells) -> bool:
    return cells.name == SPACE


@cache
def match_space(chains: int | None) -> Match:
    """Whether a place is a chain space, of that many chains if given."""
    if chains is None:
        return _any_space
    return lambda cells: cells.name == SPACE and (cells.chains == chains or cells.tag == CLOSING)
