"""Pieces as plain JSON values, so that a chart is drawn again from what was published, not from the text.

    {"title": "Crown", "start": "ring", "names": ["sc"], "colours": ["", "A"],
     "signs": [[name, role, into, loops, post, colour, shared, repeat, passing, foot, foot...]],
     "courses": [{"key": "0:1", "kind": "round", ...}]}

`name` and `colour` are places in the lists; `role`, `into`, `loops` and `post` places in the tables here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any, Final

from craft.charting.model import Course, Into, Piece, Role, Sign, Start

__all__ = ["from_plain", "to_plain"]

_ROLES: Final = tuple(Role)
_INTOS: Final = tuple(Into)
_LOOPS: Final = ("", "front", "back", "other side")
_POSTS: Final = ("", "front", "back")


def to_plain(piece: Piece) -> dict[str, Any]:
    """The piece as lists, strings and numbers."""
    names = list(dict.fromkeys(sign.name for sign in piece.signs))
    colours = list(dict.fromkeys(sign.colour for sign in piece.signs))
    name_at = {name: place for place, name in enumerate(names)}
    colour_at = {colour: place for place, colour in enumerate(colours)}
    return {
        "title": piece.title,
        "start": piece.start.value,
        "names": names,
        "colours": colours,
        "signs": [_plain_sign(sign, name_at[sign.name], colour_at[sign.colour]) for sign in piece.signs],
        "courses": [asdict(course) for course in piece.courses],
        "parts": list(piece.parts),
        "refused": piece.refused,
    }


def _plain_sign(sign: Sign, name: int, colour: int) -> list[int]:
    return [
        name, _ROLES.index(sign.role), _INTOS.index(sign.into), _LOOPS.index(sign.loops),
        _POSTS.index(sign.post), colour, sign.shared, sign.repeat, sign.passing, *sign.feet,
    ]  # fmt: skip


def from_plain(plain: Mapping[str, Any]) -> Piece:
    """The piece again. Raises KeyError, IndexError or ValueError for what `to_plain` did not make."""
    names, colours = plain["names"], plain["colours"]
    known = {field.name for field in fields(Course)}
    return Piece(
        title=plain["title"],
        start=Start(plain["start"]),
        signs=tuple(_sign(row, names, colours) for row in plain["signs"]),
        courses=tuple(
            Course(**{**{k: v for k, v in row.items() if k in known}, "repeated": tuple(row["repeated"])})
            for row in plain["courses"]
        ),
        parts=tuple(plain["parts"]),
        refused=plain["refused"],
    )


def _sign(row: list[int], names: list[str], colours: list[str]) -> Sign:
    name, role, into, loops, post, colour, shared, repeat, passing, *feet = row
    return Sign(
        names[name], _ROLES[role], _INTOS[into], tuple(feet), _LOOPS[loops], _POSTS[post], colours[colour],
        shared, repeat, passing,
    )  # fmt: skip
