"""All the parts of a worked fabric in one size, ready to be laid out."""

from __future__ import annotations

from typing import Final

from craft.charting.from_graph import piece_of
from craft.charting.model import Piece, Start
from craft.fabric.graph import pieces, stitch_graph
from craft.fabric.model import Fabric, SizedRound

__all__ = ["MOST_STITCHES", "pieces_of"]

MOST_STITCHES: Final = 30_000
"""A part with more is not charted: it would be larger than a table, and nobody would find a stitch in it."""


def pieces_of(fabric: Fabric, size: int = 0, most: int = MOST_STITCHES) -> tuple[Piece, ...]:
    """A piece for each part, or for parts that are worked onto each other.

    A part that has more than `most` stitches comes back without signs, `refused` saying how many it has; so
    nothing is expanded that would not be drawn.
    """
    found: list[Piece] = []
    for parts in pieces(fabric, size=size):
        title = fabric.sections[parts[0]].section.title
        number = sum(_number(fabric, part, size) for part in parts)
        if number > most:
            found.append(Piece(title, Start.LINE, (), (), refused=number, parts=parts))
        elif number:
            graph = stitch_graph(fabric, part=parts, size=size)
            found.append(piece_of(graph, title, parts))
    return tuple(found)


def _number(fabric: Fabric, part: int, size: int) -> int:
    """Stitches and chains of a part, from the sums alone."""
    return sum(_made(worked.per_size[size]) for worked in fabric.sections[part].rounds)


def _made(sized: SizedRound | None) -> int:
    return sum(number for _name, number in sized.tally) if sized else 0
