"""The ways along which rounds and rows lie: a line, a circle, an oval or frame, a polygon with soft corners.

A track at a level (its distance from the middle, or its height above the foundation) turns a length along
itself into a point and an outward direction, and a point into a length. Rounds run anticlockwise as a
right-hander works them.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin, tan
from typing import NamedTuple, Protocol

from craft.charting.model import Point

__all__ = ["Circle", "Frame", "Line", "Polygon", "Spot", "Track"]


class Spot(NamedTuple):
    """A point of a track with the outward direction there, a unit vector."""

    point: Point
    out: Point

    def moved(self, outward: float) -> Point:
        return self.point[0] + self.out[0] * outward, self.point[1] + self.out[1] * outward


class Track(Protocol):
    """A family of parallel ways."""

    @property
    def closed(self) -> bool: ...

    def length(self, level: float) -> float: ...

    def at(self, level: float, along: float) -> Spot: ...

    def along(self, level: float, point: Point) -> float: ...

    def level_for(self, length: float) -> float:
        """The lowest level whose way is at least so long; 0 where any is."""
        ...


@dataclass(frozen=True, slots=True)
class Line:
    """Rows, upwards."""

    closed: bool = False

    def length(self, level: float) -> float:
        return 0.0

    def at(self, level: float, along: float) -> Spot:
        return Spot((along, -level), (0.0, -1.0))

    def along(self, level: float, point: Point) -> float:
        return point[0]

    def level_for(self, length: float) -> float:
        return 0.0


@dataclass(frozen=True, slots=True)
class Circle:
    """Rounds about a ring; they begin at the top."""

    closed: bool = True

    def length(self, level: float) -> float:
        return 2 * pi * level

    def at(self, level: float, along: float) -> Spot:
        turn = pi / 2 + along / max(level, 1e-9)
        out = (cos(turn), -sin(turn))
        return Spot((out[0] * level, out[1] * level), out)

    def along(self, level: float, point: Point) -> float:
        turn = atan2(-point[1], point[0]) - pi / 2
        return (turn % (2 * pi)) * level

    def level_for(self, length: float) -> float:
        return length / (2 * pi)


@dataclass(frozen=True, slots=True)
class Frame:
    """Rounds about a box: a chain worked on both sides (no height), or an edging about rows.

    The level is the distance from the box. They begin at the middle of its right side and run along the
    upper side first.
    """

    width: float
    height: float = 0.0
    middle: Point = (0.0, 0.0)
    closed: bool = True

    def length(self, level: float) -> float:
        return 2 * (self.width + self.height) + 2 * pi * level

    def _legs(self, level: float) -> tuple[tuple[float, float, float], ...]:
        """(length, facing at its start, turn along it) of the legs: half a side, corner, side, ..."""
        bend, quarter = pi * level / 2, pi / 2
        half = self.height / 2
        return (
            (half, 0.0, 0.0), (bend, 0.0, quarter),
            (self.width, quarter, 0.0), (bend, quarter, quarter),
            (self.height, 2 * quarter, 0.0), (bend, 2 * quarter, quarter),
            (self.width, 3 * quarter, 0.0), (bend, 3 * quarter, quarter),
            (half, 0.0, 0.0),
        )  # fmt: skip

    def at(self, level: float, along: float) -> Spot:
        a, b, (x, y) = self.width / 2, self.height / 2, self.middle
        cores = ((a, 0.0, 0, -1), (a, -b, 0, 0), (a, -b, -1, 0), (-a, -b, 0, 0), (-a, -b, 0, 1),
                 (-a, b, 0, 0), (-a, b, 1, 0), (a, b, 0, 0), (a, b, 0, -1))  # fmt: skip
        rest = along % self.length(level)
        for (length, facing, bend), core in zip(self._legs(level), cores, strict=True):
            if rest <= length or core is cores[-1]:
                turn = facing + bend * (rest / length if length else 0.0)
                out = (cos(turn), -sin(turn))
                return Spot(
                    (
                        x + core[0] + core[2] * rest + out[0] * level,
                        y + core[1] + core[3] * rest + out[1] * level,
                    ),
                    out,
                )
            rest -= length
        raise AssertionError("the last leg takes the rest")

    def along(self, level: float, point: Point) -> float:
        a, b = self.width / 2, self.height / 2
        x, y = point[0] - self.middle[0], self.middle[1] - point[1]
        legs = [leg[0] for leg in self._legs(level)]
        ends = [sum(legs[:number]) for number in range(len(legs) + 1)]
        sides = {"right": x - a, "upper": y - b, "left": -x - a, "lower": -y - b}
        if abs(x) > a and abs(y) > b:
            turn = atan2(y - (b if y > 0 else -b), x - (a if x > 0 else -a)) % (2 * pi)
            quarter = min(int(turn / (pi / 2)), 3)
            return ends[1 + 2 * quarter] + (turn - quarter * pi / 2) * level
        match max(sides, key=lambda name: sides[name]):
            case "right":
                return y % self.length(level)
            case "upper":
                return ends[2] + a - x
            case "left":
                return ends[4] + b - y
            case _:
                return ends[6] + x + a

    def outside(self, point: Point) -> float:
        """How far a point lies outside the box; negative inside."""
        dx = abs(point[0] - self.middle[0]) - self.width / 2
        dy = abs(point[1] - self.middle[1]) - self.height / 2
        return hypot(dx, dy) if dx > 0 and dy > 0 else max(dx, dy)

    def level_for(self, length: float) -> float:
        return max(0.0, (length - 2 * (self.width + self.height)) / (2 * pi))


@dataclass(frozen=True, slots=True)
class Polygon:
    """Rounds with `corners` equal sides; the level is the distance of a side from the middle.

    They begin at the middle of the upper side. `soft`: radius of a corner.
    """

    corners: int
    soft: float = 0.7
    closed: bool = True

    def _sizes(self, level: float) -> tuple[float, float, float]:
        """Half a straight side, the radius of a corner, the way round one corner."""
        soft = min(self.soft, level)
        return (level - soft) * tan(pi / self.corners), soft, 2 * pi * soft / self.corners

    def length(self, level: float) -> float:
        half, _soft, bend = self._sizes(level)
        return self.corners * (2 * half + bend)

    def at(self, level: float, along: float) -> Spot:
        half, soft, bend = self._sizes(level)
        side = 2 * half + bend
        number, rest = divmod(along % (self.corners * side) + half, side)
        facing = pi / 2 + number * 2 * pi / self.corners
        if rest <= 2 * half or soft == 0:
            return self._on_side(level, facing, rest - half)
        corner = self._on_side(level - soft, facing, half).point
        turn = facing + (rest - 2 * half) / soft
        out = (cos(turn), -sin(turn))
        return Spot((corner[0] + out[0] * soft, corner[1] + out[1] * soft), out)

    @staticmethod
    def _on_side(level: float, facing: float, past: float) -> Spot:
        """`past`: how far beyond the middle of the side, anticlockwise."""
        out = (cos(facing), -sin(facing))
        ahead = (-sin(facing), -cos(facing))
        return Spot((out[0] * level + ahead[0] * past, out[1] * level + ahead[1] * past), out)

    def along(self, level: float, point: Point) -> float:
        half, soft, bend = self._sizes(level)
        turn = (atan2(-point[1], point[0]) - pi / 2) % (2 * pi)
        number = round(turn / (2 * pi / self.corners)) % self.corners
        facing = pi / 2 + number * 2 * pi / self.corners
        past = -point[0] * sin(facing) - point[1] * cos(facing)
        out = point[0] * cos(facing) - point[1] * sin(facing)
        if abs(past) > half and soft:
            angle = atan2(abs(past) - half, max(out - (level - soft), 1e-9))
            past = (half + min(angle, pi / self.corners) * soft) * (1 if past > 0 else -1)
        return (number * (2 * half + bend) + past) % self.length(level)

    def corner(self, level: float, number: int) -> float:
        """Length along the way at the middle of a corner; corner 0 is the first after the start."""
        half, _soft, bend = self._sizes(level)
        return (number + 0.5) * (2 * half + bend)

    def level_for(self, length: float) -> float:
        straight = length / self.corners - 2 * pi * self.soft / self.corners
        return max(0.0, self.soft + straight / (2 * tan(pi / self.corners)))


def distance(a: Point, b: Point) -> float:
    """Between two points."""
    return hypot(a[0] - b[0], a[1] - b[1])
