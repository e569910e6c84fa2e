"""What shape is asked for: one piece of a pattern, in one size, at its gauge, in its yarns."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Final

from craft.fabric.gauge import Gauge
from craft.fabric.graph import pieces, stitches_in
from craft.fabric.model import Fabric
from craft.form import Colour, is_filled
from patterns.checking import READER_VERSION, Checked
from patterns.measures.gauges import Basis, gauge_in_use
from patterns.models import Pattern
from workroom.colour import channels, is_colour

__all__ = ["SHAPE_VERSION", "Asked", "Piece", "asked_for"]

SHAPE_VERSION: Final = "2"
"""Raised when the settling or its drawings change what they make."""

YARNS: Final[tuple[Colour, ...]] = (
    (214, 190, 160),
    (78, 112, 132),
    (196, 128, 62),
    (122, 138, 96),
    (158, 86, 84),
)
"""For yarns whose colour is not known, in their order: undyed, woad, weld, lichen, madder."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Sections worked onto each other; `index` among the pieces, `title` the first that a section has."""

    index: int
    sections: tuple[int, ...]
    title: str
    make: int


@dataclass(frozen=True, slots=True)
class Asked:
    """All that a shape hangs on, and the `key` under which it is kept."""

    fabric: Fabric
    gauge: Gauge
    guessed: bool
    size: int
    pieces: tuple[Piece, ...]
    piece: Piece
    colours: tuple[tuple[str, Colour], ...]
    stitches: int
    filled: bool
    key: str


def asked_for(pattern: Pattern, checked: Checked, size: int, piece: int) -> Asked | None:
    """The piece with this number in this size, the first where there is no such; None where no part of the
    pattern could be worked out.
    """
    fabric = checked.fabric
    if fabric is None:
        return None
    size = size if size < max(len(checked.sizes), 1) else 0
    found = _pieces(fabric, size)
    if not found:
        return None
    chosen = found[piece] if piece < len(found) else found[0]
    used = gauge_in_use(pattern, fabric)
    colours = _colours(pattern)
    filled = is_filled(fabric, chosen.sections)
    said = (
        SHAPE_VERSION,
        READER_VERSION,
        fabric.draft.text,
        fabric.draft.terms,
        size,
        chosen.sections,
        used.gauge,
        colours,
    )
    key = hashlib.sha256(repr(said).encode()).hexdigest()
    return Asked(
        fabric, used.gauge, used.basis is not Basis.STATED, size, found, chosen, colours,
        stitches_in(fabric, chosen.sections, size), filled, key,
    )  # fmt: skip


def _pieces(fabric: Fabric, size: int) -> tuple[Piece, ...]:
    found = []
    for index, sections in enumerate(pieces(fabric, size)):
        titles = [fabric.sections[number].section.title for number in sections]
        first = fabric.sections[sections[0]]
        make = (first.make[size] if size < len(first.make) else first.make[0] if first.make else 1) or 1
        found.append(Piece(index, sections, next((title for title in titles if title), ""), make))
    return tuple(found)


def _colours(pattern: Pattern) -> tuple[tuple[str, Colour], ...]:
    """The colour of each of the pattern's letters, that of the first for what names none."""
    found: list[tuple[str, Colour]] = []
    for number, yarn in enumerate(pattern.yarns.select_related("shade")):
        shade = yarn.shade.hex_swatch.lower() if yarn.shade else ""
        colour = channels(shade) if is_colour(shade) else YARNS[number % len(YARNS)]
        found.append((yarn.key, colour))
    return (("", found[0][1] if found else YARNS[0]), *found)
