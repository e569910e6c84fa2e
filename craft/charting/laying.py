"""What a layout is made of while it is made: runs of signs, and the places laid out so far."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from craft.charting.corners import Corners
from craft.charting.model import Mark, Piece, Point, Role
from craft.charting.tracks import Track

__all__ = ["CHAIN_LONG", "LEAST_RING", "Laid", "Run", "foot_level", "put"]

CHAIN_LONG: Final = 0.68
"""Room of one chain along its arc."""
LEAST_RING: Final = 0.45


@dataclass(slots=True)
class Run:
    """Signs of one course that stand or lie together."""

    role: Role
    start: int
    stop: int
    width: float
    wanted: float | None = None
    raw: float | None = None
    """The level to which it would rise by itself."""
    along: float = 0.0
    corner: int | None = None


@dataclass(slots=True)
class Laid:
    """What is laid out so far. `hold`, `level`: where the next course takes hold of each sign."""

    piece: Piece
    track: Track
    corners: Corners
    marks: list[Mark | None]
    hold: list[Point]
    level: list[float]
    ring: float | None = None
    hub: float = LEAST_RING
    opened: bool = False
    fresh: bool = False
    edging: bool = False  # the first round about rows: it is shared out evenly along them
    stood: bool = False  # chains of the foundation stand where the first row begins
    last: tuple[int, int] = (0, 0)
    bracket: tuple[Point, ...] = ()
    repeats: int = 1
    base: float = 0.0
    seam: float = 0.0  # where rounds begin, as a share of the way around
    room: float = 0.7  # what the number of the course takes up where a round begins
    numbers: dict[str, Point] = field(default_factory=dict)
    bands: dict[str, tuple[Track, float, float]] = field(default_factory=dict)
    way: int = 1


def put(state: Laid, index: int, point: Point, axis: Point, level: float, room: float) -> None:
    state.marks[index] = Mark(index, (), point, axis, room)
    state.hold[index], state.level[index] = point, level


def foot_level(state: Laid, run: Run) -> float:
    sign = state.piece.signs[run.start]
    if not sign.feet:
        return state.base
    return sum(state.level[foot] for foot in sign.feet) / len(sign.feet)
