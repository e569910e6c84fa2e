"""Where rounds have corners: a square, a hexagon. They are found in what is worked, not in what it is called.

A corner is a place that takes a group with a chain space in its middle, or three stitches and more; it stands
over the middle of the corner of the round below. A piece has n corners where nearly all its rounds from the
second on have n of them, 3 to 6 or 8, with sides about alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from craft.charting.model import Course, Into, Piece, Role, Start

__all__ = ["Corners", "corners_of"]

_NUMBERS = frozenset((3, 4, 5, 6, 8))


@dataclass(frozen=True, slots=True)
class Corners:
    """`number`: 0 for none. `of`: the sign in the middle of a corner -> which corner it is, from 0."""

    number: int = 0
    of: Mapping[int, int] = field(default_factory=dict)


def corners_of(piece: Piece) -> Corners:
    """The corners of a piece that is begun in a ring."""
    if piece.start not in {Start.RING, Start.CHAIN_RING}:
        return Corners()
    rounds = [course for course in piece.courses if course.start < course.stop]
    found = {course.key: _middles(piece, course) for course in rounds}
    later = [found[course.key] for course in rounds[1:]]
    votes = Counter(len(middles) for middles in later if len(middles) in _NUMBERS)
    if not votes:
        return Corners()
    number, times = votes.most_common(1)[0]
    if (times < 2 and len(later) > 1) or times < 0.6 * len(later):
        return Corners()
    if not _even_sides(piece, rounds, found, number):
        return Corners()
    return Corners(number, _named(piece, rounds, found, number))


def _middles(piece: Piece, course: Course) -> dict[int, int]:
    """The middle sign of each corner group of a round -> the sign that the group is worked into."""
    groups: dict[int, list[int]] = {}
    for index in range(course.start, course.stop):
        sign = piece.signs[index]
        if sign.role is Role.STITCH and len(sign.feet) == 1 and sign.into in {Into.SPACE, Into.STITCH}:
            groups.setdefault(sign.feet[0], []).append(index)
    found = {foot: _middle(piece, inside, course) for foot, inside in groups.items()}
    middles = {middle: foot for foot, middle in found.items() if middle is not None}
    hung = {middle: foot for middle, foot in middles.items() if piece.signs[middle].role is Role.CHAIN}
    return hung or middles


def _middle(piece: Piece, inside: list[int], course: Course) -> int | None:
    """The chains in the middle of a group, or its middle stitch where it has three or more."""
    breaks = [(a, b) for a, b in pairwise(inside) if b - a > 1]
    hung = [(a, b) for a, b in breaks if all(s.role is Role.CHAIN for s in piece.signs[a + 1 : b])]
    if len(hung) == 1 and len(breaks) == 1:
        a, b = hung[0]
        return (a + b) // 2
    if len(breaks) == 1 and not hung:
        return _closing(piece, inside[-1] + 1, course)
    in_stitch = piece.signs[inside[0]].into is Into.STITCH
    if in_stitch and not breaks and len(inside) >= 3 and len(inside) % 2:
        return inside[len(inside) // 2]
    return None


def _closing(piece: Piece, start: int, course: Course) -> int | None:
    """The middle of the chains that end a round which begins and ends in one corner."""
    chains = [i for i in range(start, course.stop) if piece.signs[i].role is Role.CHAIN]
    others = [i for i in range(start, course.stop) if piece.signs[i].role is Role.STITCH]
    return chains[(len(chains) - 1) // 2] if chains and not others else None


def _even_sides(
    piece: Piece, rounds: list[Course], found: Mapping[str, Mapping[int, int]], number: int
) -> bool:
    """Whether the sides of the last such round have about as many stitches: a raglan is no square."""
    last = next(course for course in reversed(rounds) if len(found[course.key]) == number)
    middles = sorted(found[last.key])
    stitches = [i for i in range(last.start, last.stop) if piece.signs[i].role is Role.STITCH]
    sides = [sum(a < i < b for i in stitches) for a, b in pairwise(middles)]
    sides.append(sum(i < middles[0] or i > middles[-1] for i in stitches))
    return max(sides) - min(sides) <= max(3.0, 0.3 * len(stitches) / number)


def _named(
    piece: Piece, rounds: list[Course], found: Mapping[str, Mapping[int, int]], number: int
) -> dict[int, int]:
    """Which corner each middle is: the one over which it stands, else the next in turn."""
    names: dict[int, int] = {}
    first = next(course for course in rounds[1:] if len(found[course.key]) == number)
    feet = sorted(set(found[first.key].values()))
    if len(feet) == number:
        for place, foot in enumerate(feet):
            names |= dict.fromkeys(_all_of(piece, foot), place)
    for course in rounds:
        middles = found[course.key]
        if len(middles) != number or course.start < first.start:
            continue
        order = sorted(middles)
        named = [names.get(middles[middle]) for middle in order]
        start = next((name - place for place, name in enumerate(named) if name is not None), 0)
        for place, middle in enumerate(order):
            names |= dict.fromkeys(_all_of(piece, middle), (start + place) % number)
    return names


def _all_of(piece: Piece, middle: int) -> range:
    """All the chains of a space by one of them; a stitch is alone."""
    first = last = middle
    if piece.signs[middle].role is Role.CHAIN:
        while first and piece.signs[first - 1].role is Role.CHAIN:
            first -= 1
        while last + 1 < len(piece.signs) and piece.signs[last + 1].role is Role.CHAIN:
            last += 1
    return range(first, last + 1)
