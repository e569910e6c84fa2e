"""What a symbol chart is made from and what comes out: signs in the order worked, marks with their places.

A `Sign` is one stitch, chain or join with what it is worked into; nothing is said of where it lies. A layout
gives each sign a `Mark` with points. Lengths are in stitches: 1.0 is the room of one single crochet, x to the
right, y down.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple, TypeAlias

__all__ = ["Band", "Box", "Course", "Into", "Mark", "Piece", "Placed", "Point", "Role", "Sign", "Start"]

Point: TypeAlias = tuple[float, float]


class Role(StrEnum):
    """How a sign stands in the chart."""

    STITCH = "stitch"
    CHAIN = "chain"  # one chain of a space, a bridge, a tie
    FOUNDATION = "foundation"
    STANDING = "standing"  # a starting or turning chain, drawn upright
    JOIN = "join"
    TRAVEL = "travel"  # a slip stitch that only brings the yarn along


class Into(StrEnum):
    """What a stitch is worked into."""

    NOTHING = "nothing"
    STITCH = "stitch"
    SPACE = "space"
    RING = "ring"


class Start(StrEnum):
    """What the first round is worked on."""

    RING = "ring"  # a magic ring
    CHAIN_RING = "chain ring"
    OVAL = "oval"  # both sides of a chain
    LINE = "line"  # rows


class Sign(NamedTuple):
    """One thing to draw. `feet`: indices into `Piece.signs`, () for chains and for stitches into the ring.

    `loops`: "front", "back", "other side" or ""; `post`: "front", "back" or "". `shared`: how many stitches
    of its round go into the very same stitch. `repeat`, `passing`: the repeat of its line that it belongs to
    and which pass of it, from 0; -1 for none.
    """

    name: str
    role: Role
    into: Into = Into.NOTHING
    feet: tuple[int, ...] = ()
    loops: str = ""
    post: str = ""
    colour: str = ""
    shared: int = 1
    repeat: int = -1
    passing: int = -1


@dataclass(frozen=True, slots=True)
class Course:
    """One round or row: the signs from `start` to `stop` of its piece.

    `turned`: worked against the direction of the course before. `total`: stitches as the text comes to, None
    where they are not known. `gap`: why nothing is drawn, "" where the course is drawn. `label`: its number
    as printed; `colour`: the colour that it begins with where that is another than before. `repeated`: keys
    of courses that are worked exactly as those drawn just
    before, whose numbers are `like`; they are told, not drawn.
    """

    key: str
    kind: str
    number: int | None
    start: int
    stop: int
    turned: bool = False
    total: int | None = None
    gap: str = ""
    label: str = ""
    colour: str = ""
    repeated: tuple[str, ...] = ()
    like: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """One part in one size. `parts`: the sections of the text that it is worked from. `refused`: how many
    stitches it has where that is too many to draw; it has no signs then.
    """

    title: str
    start: Start
    signs: tuple[Sign, ...]
    courses: tuple[Course, ...]
    parts: tuple[int, ...] = ()
    refused: int = 0

    @property
    def is_round(self) -> bool:
        return self.start is not Start.LINE


class Mark(NamedTuple):
    """One sign with its place. `axis`: for chains and joins the way they lie, a unit vector. `room`: how much
    of a stitch's width there is for it, at most 1.
    """

    sign: int
    feet: tuple[Point, ...]
    top: Point
    axis: Point
    room: float = 1.0


class Box(NamedTuple):
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    def grown(self, by: float) -> Box:
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def has(self, point: Point) -> bool:
        return self.left <= point[0] <= self.right and self.top <= point[1] <= self.bottom


class Band(NamedTuple):
    """The place of courses that are not drawn: two lines along the work, and where their words stand."""

    inner: tuple[Point, ...]
    outer: tuple[Point, ...]
    middle: Point


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece laid out. `marks` in the order of the signs; `numbers`: course key -> where its number stands.

    `ring`: radius of the ring in the middle, None without. `bands`: course key -> the place
    of a gap or of courses that are told and not drawn. `bracket`: a line beside one repeat, with how many
    there are.
    """

    piece: Piece
    marks: tuple[Mark, ...]
    numbers: Mapping[str, Point]
    box: Box
    ring: float | None = None
    bands: Mapping[str, Band] = field(default_factory=dict)
    bracket: tuple[Point, ...] = ()
    repeats: int = 1
