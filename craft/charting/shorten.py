"""Long pieces: courses that repeat exactly are told, not drawn again; what is too large is drawn in parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from craft.charting.model import Course, Piece, Sign

__all__ = ["LONG_COURSES", "MOST_SIGNS", "part_of", "parts_of", "shortened"]

MOST_SIGNS: Final = 6_000
"""More signs than this are not drawn in one chart: a page with them would be slow to open and to scroll."""
LONG_COURSES: Final = 45
"""A piece of more rounds or rows than this has those that repeat exactly told."""
LONGEST_PERIOD: Final = 6
LEAST_TOLD: Final = 4

_Look: TypeAlias = tuple[tuple[str, str, int, str, str, str, tuple[int, ...]], ...]


def shortened(piece: Piece, *, longer_than: int = LONG_COURSES) -> Piece:
    """The piece with the later ones of equal courses folded into a course that tells of them.

    A course is equal to an earlier one where the same stitches are worked into the same places. Nothing is
    folded in a piece of at most `longer_than` courses and MOST_SIGNS signs. The stitches that are told stay
    counted by the courses' `repeated`.
    """
    if len(piece.courses) <= longer_than and len(piece.signs) <= MOST_SIGNS:
        return piece
    looks = _looks(piece)
    courses: list[Course] = []
    same = list(range(len(piece.signs)))
    place = 0
    while place < len(piece.courses):
        period, length = _run_from(piece, looks, place)
        if length < max(LEAST_TOLD, 2 * period):
            courses.append(piece.courses[place])
            place += 1
            continue
        courses += piece.courses[place : place + period]
        told = length - length % period - period
        courses.append(_told(piece, place, period, told))
        _alias(piece, same, place, period, told)
        place += period + told
    return _rebuilt(piece, courses, same)


def _run_from(piece: Piece, looks: Sequence[_Look | None], place: int) -> tuple[int, int]:
    """The shortest period with which the courses from here on repeat, and how many courses do.

    The work is turned an even number of times in a period, so that all of it lies as it did.
    """
    for period in range(1, LONGEST_PERIOD + 1):
        if sum(course.turned for course in piece.courses[place : place + period]) % 2:
            continue
        end = place + period
        while end < len(looks) and looks[end] is not None and looks[end] == looks[end - period]:
            end += 1
        if end - place >= max(LEAST_TOLD, 2 * period) and looks[place] is not None:
            return period, end - place
    return 1, 1


def _looks(piece: Piece) -> list[_Look | None]:
    """What each course looks like: its signs, and their feet counted along the course below."""
    looks: list[_Look | None] = []
    below: Course | None = None
    for course in piece.courses:
        looks.append(_look(piece, course, below))
        below = course if course.start < course.stop else None
    return looks


def _look(piece: Piece, course: Course, below: Course | None) -> _Look | None:
    if course.start == course.stop or below is None:
        return None
    signs = piece.signs[course.start : course.stop]
    if any(foot < below.start for sign in signs for foot in sign.feet):
        return None
    first = below.start
    return tuple(
        (
            s.name,
            s.role.value,
            int(course.turned),
            s.loops,
            s.post,
            s.colour,
            tuple(f - first for f in s.feet),
        )
        for s in signs
    )


def _told(piece: Piece, place: int, period: int, told: int) -> Course:
    """A course that draws nothing and tells of others."""
    others = piece.courses[place + period : place + period + told]
    first, last = others[0], others[-1]
    drawn = piece.courses[place : place + period]
    return replace(
        first, start=first.start, stop=first.start, repeated=tuple(course.key for course in others),
        label=_span(first, last), like=_span(drawn[0], drawn[-1]), turned=False, colour="",
    )  # fmt: skip


def _span(first: Course, last: Course) -> str:
    """As in: 5, or 5–8."""
    return first.label if first.label == last.label else f"{first.label}–{last.label}"


def _alias(piece: Piece, same: list[int], place: int, period: int, told: int) -> None:
    """Let what is worked into the last told courses stand upon the drawn ones like them."""
    for number in range(place + period, place + period + told):
        course, drawn = piece.courses[number], piece.courses[place + (number - place) % period]
        for index in range(course.start, course.stop):
            same[index] = drawn.start + index - course.start


def _rebuilt(piece: Piece, courses: Sequence[Course], same: Sequence[int]) -> Piece:
    """Only the signs that are drawn, numbered anew."""
    kept = [index for course in courses for index in range(course.start, course.stop)]
    places = {index: place for place, index in enumerate(kept)}
    signs = tuple(_moved(piece.signs[index], same, places) for index in kept)
    moved: list[Course] = []
    at = 0
    for course in courses:
        size = course.stop - course.start
        moved.append(replace(course, start=at, stop=at + size))
        at += size
    return replace(piece, signs=signs, courses=tuple(moved))


def _moved(sign: Sign, same: Sequence[int], places: dict[int, int]) -> Sign:
    feet = tuple(places[same[foot]] for foot in sign.feet if same[foot] in places)
    return sign._replace(feet=feet)


def parts_of(piece: Piece, most: int = MOST_SIGNS) -> tuple[tuple[int, int], ...]:
    """Courses (from, to) that are drawn together, so that no part has more than `most` signs.

    A single course with more than that is a part of its own.
    """
    parts: list[tuple[int, int]] = []
    start, held = 0, 0
    for place, course in enumerate(piece.courses):
        size = course.stop - course.start
        if held and held + size > most:
            parts.append((start, place))
            start, held = place, 0
        held += size
    parts.append((start, len(piece.courses)))
    return tuple(parts)


def part_of(piece: Piece, part: tuple[int, int]) -> frozenset[str]:
    """The keys of the courses of a part."""
    return frozenset(course.key for course in piece.courses[slice(*part)])
