"""Symbols as path data. Every sign is one word of it, without spaces, so that what is drawn can be counted.

`draw(...)` gives the data of one sign, `filled` telling whether it is a dot to be filled in or lines. Points
are multiplied by `scale` (units of the drawing for one stitch).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot, inf
from typing import Final

from craft.charting.model import Into, Mark, Point, Sign
from craft.charting.shapes import Body, Shape, SymbolSet, shape_of

__all__ = ["Pen", "is_filled"]

HALF_BAR: Final = 0.3
SLASH: Final = 0.2
CROSS: Final = 0.29
FOOT_GAP: Final = 0.16
"""A stem ends short of the stitch that it stands on, so that the two are told apart."""


def is_filled(sign: Sign) -> bool:
    """Whether the symbol is a filled one: the slip stitch."""
    return shape_of(sign.name).body is Body.SLIP


@dataclass(frozen=True, slots=True)
class Axis:
    """From foot to head: `up` along the stem, `side` across it, both unit vectors."""

    foot: Point
    head: Point
    up: Point
    side: Point
    length: float

    def at(self, share: float, across: float = 0.0) -> Point:
        """A point at a share of the stem, `across` stitches beside it."""
        return (
            self.foot[0] + self.up[0] * self.length * share + self.side[0] * across,
            self.foot[1] + self.up[1] * self.length * share + self.side[1] * across,
        )


def axis(foot: Point, head: Point, gap: float = 0.0, otherwise: Point = (0.0, -1.0)) -> Axis:
    """The stem from `gap` above the foot to the head; `otherwise`: its way where the two fall together."""
    x, y = head[0] - foot[0], head[1] - foot[1]
    whole = hypot(x, y)
    up = (x / whole, y / whole) if whole > 1e-6 else otherwise
    gap = min(gap, whole / 3)
    start = (foot[0] + up[0] * gap, foot[1] + up[1] * gap)
    return Axis(start, head, up, (-up[1], up[0]), max(whole - gap, 1e-6))


def _near(foot: Point, head: Point, most: float) -> Point:
    """The foot, or a point on the way to it: legs that would be long only point to their places."""
    x, y = foot[0] - head[0], foot[1] - head[1]
    whole = hypot(x, y)
    return foot if whole <= most else (head[0] + x * most / whole, head[1] + y * most / whole)


class Pen:
    """Draws signs of one set at one scale."""

    def __init__(self, symbols: SymbolSet, scale: float) -> None:
        self.symbols = symbols
        self.scale = scale

    # ------------------------------------------------------------------ path data

    def xy(self, point: Point) -> str:
        return f"{point[0] * self.scale:.1f},{point[1] * self.scale:.1f}"

    def line(self, *points: Point) -> str:
        return "M" + "L".join(self.xy(point) for point in points)

    def curve(self, start: Point, control: Point, end: Point) -> str:
        return f"M{self.xy(start)}Q{self.xy(control)},{self.xy(end)}"

    def oval(self, middle: Point, along: Point, half_long: float, half_wide: float) -> str:
        """An ellipse with its long axis along a unit vector, as four curves."""
        x, y = along
        corner = 0.5523
        points = []
        for first, second in (
            (1, 0),
            (1, corner),
            (corner, 1),
            (0, 1),
            (-corner, 1),
            (-1, corner),
            (-1, 0),
            (-1, -corner),
            (-corner, -1),
            (0, -1),
            (corner, -1),
            (1, -corner),
            (1, 0),
        ):
            a, b = first * half_long, second * half_wide
            points.append(self.xy((middle[0] + x * a - y * b, middle[1] + y * a + x * b)))
        return f"M{points[0]}" + "".join(f"C{','.join(points[i : i + 3])}" for i in (1, 4, 7, 10)) + "Z"

    # ------------------------------------------------------------------ signs

    def draw(self, sign: Sign, mark: Mark) -> str:
        """Path data of one sign, lines or (see `is_filled`) a dot."""
        shape = shape_of(sign.name)
        if shape.body in {Body.CHAIN, Body.SLIP} and not sign.feet:
            return self.lying(shape, mark)
        return "".join(self._parts(sign, shape, mark))

    def lying(self, shape: Shape, mark: Mark) -> str:
        """A chain or a slip stitch: an oval, or a dot, that lies along its way."""
        if shape.body is Body.SLIP:
            return self.oval(mark.top, mark.axis, 0.2 * max(mark.room, 0.6), 0.13)
        return self.oval(mark.top, mark.axis, 0.32 * mark.room, 0.17 * max(mark.room, 0.6))

    def _parts(self, sign: Sign, shape: Shape, mark: Mark) -> Iterator[str]:
        post = sign.post or shape.post
        gap = FOOT_GAP + (0.12 if post or sign.loops else 0.0)
        most = 1.5 * shape.height if shape.legs > 1 or sign.shared > 1 else inf
        stems = [axis(_near(foot, mark.top, most), mark.top, gap) for foot in mark.feet]
        stems = stems or [axis(mark.top, mark.top)]
        yield self._body(sign, shape, stems, mark)
        for stem in stems:
            if post:
                yield self.hook(stem, post)
            if sign.loops in {"front", "back"} and sign.into is not Into.RING:
                yield self.loop(stem, sign.loops)

    def _body(self, sign: Sign, shape: Shape, stems: Sequence[Axis], mark: Mark) -> str:
        room = max(mark.room, 0.45)
        if shape.body in {Body.CHAIN, Body.SLIP}:
            return self.lying(shape, mark)
        if shape.body is Body.CROSS:
            return self.cross(sign, shape, stems, room)
        if shape.body is Body.STEM:
            return self.stems(shape, stems, room)
        return self._bundle(shape, stems[0], room)

    def _bundle(self, shape: Shape, stem: Axis, room: float) -> str:
        if shape.body in {Body.LEAF, Body.PUFF, Body.POPCORN}:
            return self.leaf(shape, stem, room)
        if shape.body is Body.PICOT:
            return self.picot(stem, room)
        if shape.body is Body.LONG:
            return self.oval(stem.at(0.5), stem.up, stem.length / 2, 0.16)
        return self.diamond(stem, room)

    def cross(self, sign: Sign, shape: Shape, stems: Sequence[Axis], room: float) -> str:
        """Single crochet: + (CYC) or × (JIS); legs where several share a stitch or go together."""
        stem = stems[0]
        size = CROSS * room
        if len(stems) > 1:
            return self._together(stems, size)
        whole = self._plus(stem, size)
        if sign.shared > 1 or stem.length > 2.0:
            whole += self.line(stem.at(0.0), stem.at(max(0.0, 0.68 - 1.1 * size / stem.length)))
        if shape.made == "reverse":
            whole += self._wave(stem, size)
        return whole + self._made(shape, stem)

    def _plus(self, stem: Axis, size: float, share: float = 0.68) -> str:
        middle = stem.at(share)
        if self.symbols is SymbolSet.CYC:
            pairs = (stem.up, stem.side)
        else:
            slant = 0.7071
            pairs = tuple(
                ((stem.up[0] + turn * stem.side[0]) * slant, (stem.up[1] + turn * stem.side[1]) * slant)
                for turn in (1, -1)
            )  # type: ignore[assignment]  # two pairs either way
        return "".join(
            self.line(
                (middle[0] - way[0] * size, middle[1] - way[1] * size),
                (middle[0] + way[0] * size, middle[1] + way[1] * size),
            )
            for way in pairs
        )

    def _together(self, stems: Sequence[Axis], size: float) -> str:
        """Legs that meet at the head, with the short stroke of a single crochet across the meeting point."""
        head, side = stems[0].head, self._across(stems)
        bar = self.line(
            (head[0] - side[0] * size, head[1] - side[1] * size),
            (head[0] + side[0] * size, head[1] + side[1] * size),
        )
        return "".join(self.line(stem.foot, stem.head) for stem in stems) + bar

    @staticmethod
    def _across(stems: Sequence[Axis]) -> Point:
        x, y = sum(stem.up[0] for stem in stems), sum(stem.up[1] for stem in stems)
        whole = hypot(x, y) or 1.0
        return (-y / whole, x / whole)

    def _wave(self, stem: Axis, size: float) -> str:
        left, middle, right = stem.at(1.05, -size), stem.at(1.05), stem.at(1.05, size)
        return self.curve(left, stem.at(1.25, -size / 2), middle) + self.curve(
            middle, stem.at(0.85, size / 2), right
        )

    def _made(self, shape: Shape, stem: Axis) -> str:
        if shape.made == "foundation":
            return self.oval(stem.foot, stem.side, 0.3, 0.13)
        if shape.made == "extended":
            return self.line(stem.at(0.16, -0.16), stem.at(0.16, 0.16))
        return ""

    def stems(self, shape: Shape, stems: Sequence[Axis], room: float) -> str:
        """Hdc and taller; several stems meet under one bar."""
        side, head = self._across(stems), stems[0].head
        half = HALF_BAR * room
        parts = [
            self.line(
                (head[0] - side[0] * half, head[1] - side[1] * half),
                (head[0] + side[0] * half, head[1] + side[1] * half),
            )
        ]
        for stem in stems:
            parts += [self.line(stem.foot, stem.head), self.slashes(shape.slashes, stem, room)]
        return "".join(parts) + self._made(shape, stems[0])

    def slashes(self, number: int, stem: Axis, room: float) -> str:
        """Oblique strokes, one for each yarn over after the first."""
        step = min(0.24, 0.5 * stem.length / max(number, 1)) / stem.length
        rise, half = 0.09 / stem.length, SLASH * max(room, 0.7)
        first = 0.58 + step * (number - 1) / 2
        shares = [first - step * place for place in range(number)]
        return "".join(
            self.line(stem.at(share - rise, -half), stem.at(share + rise, half)) for share in shares
        )

    def leaf(self, shape: Shape, stem: Axis, room: float) -> str:
        """Stems bent outwards that share foot and head; a popcorn has its ring across the head."""
        parts = []
        top = 0.86 if shape.body is Body.POPCORN else 1.0
        widest = (0.2 + 0.07 * shape.stems) * room
        spreads = [widest * (2 * place / (shape.stems - 1) - 1) for place in range(shape.stems)]
        for spread in spreads:
            end = stem.at(top, spread * 0.6 if shape.body is Body.POPCORN else 0.0)
            parts.append(self.curve(stem.foot, stem.at(top * 0.5, 1.5 * spread), end))
            if shape.slashes:
                lean = stem.at(0.5 * top, 0.77 * spread)
                parts.append(self._tick(lean, stem, 0.09 * room))
        if shape.body is Body.POPCORN:
            parts.append(self.oval(stem.at(0.93), stem.side, widest * 0.95, 0.12))
        return "".join(parts)

    def _tick(self, middle: Point, stem: Axis, half: float) -> str:
        x, y = stem.side[0] * half - stem.up[0] * half / 2, stem.side[1] * half - stem.up[1] * half / 2
        return self.line((middle[0] - x, middle[1] - y), (middle[0] + x, middle[1] + y))

    def picot(self, stem: Axis, room: float) -> str:
        """Three small chains in a loop over a dot."""
        size = 0.17 * room
        places = ((0.35, -0.24, 0.6), (0.85, 0.0, 0.0), (0.35, 0.24, -0.6))
        ovals = []
        for share, across, lean in places:
            along = (stem.side[0] + stem.up[0] * lean * 1.6, stem.side[1] + stem.up[1] * lean * 1.6)
            whole = hypot(*along)
            ovals.append(
                self.oval(stem.at(share, across * room), (along[0] / whole, along[1] / whole), size, size / 2)
            )
        return "".join(ovals) + self.oval(stem.foot, stem.side, 0.07, 0.05)

    def diamond(self, stem: Axis, room: float) -> str:
        """A stitch that no list names."""
        return (
            self.line(stem.at(0.25), stem.at(0.6, -0.26 * room), stem.at(0.95), stem.at(0.6, 0.26 * room))
            + "Z"
            + self.line(stem.foot, stem.at(0.25))
        )

    def hook(self, stem: Axis, post: str) -> str:
        """The foot of a post stitch: a hook, open to the right for the front, to the left for the back."""
        way = 1 if post == "front" else -1
        low = stem.at(-0.02)
        far = stem.at(-0.02, 0.3 * way)
        control = (
            (low[0] + far[0]) / 2 - stem.up[0] * 0.36,
            (low[1] + far[1]) / 2 - stem.up[1] * 0.36,
        )
        return self.curve(low, control, far)

    def loop(self, stem: Axis, loops: str) -> str:
        """The mark of one loop under the foot: an arc (CYC), open down for the back; a bar for JIS back."""
        base = stem.at(0.0)
        bend = 0.12 if loops == "back" else -0.12
        ends = -0.06 if loops == "front" else -0.2

        def at(across: float, up: float) -> Point:
            return (
                base[0] + stem.side[0] * across + stem.up[0] * up,
                base[1] + stem.side[1] * across + stem.up[1] * up,
            )

        if self.symbols is SymbolSet.JIS and loops == "back":
            return self.line(at(-0.26, -0.1), at(0.26, -0.1))
        return self.curve(at(-0.26, ends), at(0.0, ends + 2 * bend), at(0.26, ends))

    def upright(self, mark: Mark) -> str:
        """A standing chain."""
        return self.oval(mark.top, mark.axis, 0.3 * mark.room, 0.16)
