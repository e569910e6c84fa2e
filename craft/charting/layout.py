"""From signs to places: every round or row lies on its track, each stitch over what it is worked into.

A course is laid out in three steps. Its *runs* (a stitch, the chains of a space, a standing chain) want the
places of what they are worked into; `along` puts them in order with room for each; then stems are as tall as
their stitch, so that a shell rises from the low stitch between two high ones. Chains between two stitches
become an arc that is as long as they are, and the next round stands on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby
from typing import Final

from craft.charting.along import spread
from craft.charting.beside import bracket_of, note_repeat, number_course, room_of_number
from craft.charting.corners import Corners, corners_of
from craft.charting.foundation import lay_foundation, open_ring, straight_of, travel
from craft.charting.hanging import LONGEST_ARC, bend, join, raise_stitches
from craft.charting.laying import CHAIN_LONG, Laid, Run, foot_level
from craft.charting.model import Band, Box, Course, Into, Mark, Piece, Placed, Point, Role, Sign, Start
from craft.charting.shapes import shape_of, width_of
from craft.charting.tracks import Circle, Frame, Line, Polygon, Track

__all__ = ["lay_out", "only"]

SLACK: Final = 0.7
"""Chains bend outwards, so a run of them takes this share of its length from the round."""
TALLEST_STEP: Final = 3.2
GAP_STEP: Final = 1.6
MARGIN: Final = 1.3
BAND_STEPS: Final = 96
WORDS_WIDE: Final = 13.0
"""Room that the words of a band need."""


def lay_out(piece: Piece) -> Placed:
    """Give every sign of a piece its place. Time grows with the number of signs alone."""
    number = len(piece.signs)
    corners = corners_of(piece)
    state = Laid(
        piece, _track(piece, corners), corners, [None] * number, [(0.0, 0.0)] * number, [0.0] * number
    )
    for course in piece.courses:
        if course.start == course.stop:
            _leave_gap(state, course)
            continue
        if course.kind == "round" and not state.track.closed and state.base:
            _frame(state)
        _lay_course(state, course)
    marks = tuple(mark for mark in state.marks if mark is not None)
    box = _box(state, marks)
    return Placed(
        piece, marks, state.numbers, box, state.ring, _bands(state, box),
        bracket_of(state), state.repeats,
    )  # fmt: skip


def only(placed: Placed, keys: frozenset[str]) -> Placed:
    """Some of the courses of a chart, where they lie in the whole."""
    courses = tuple(course for course in placed.piece.courses if course.key in keys)
    numbers = {key: point for key, point in placed.numbers.items() if key in keys}
    marks = [placed.marks[i] for course in courses for i in range(course.start, course.stop)]
    points = [mark.top for mark in marks] + list(numbers.values()) or [(0.0, 0.0)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return replace(
        placed,
        piece=replace(placed.piece, courses=courses),
        numbers=numbers,
        bands={key: band for key, band in placed.bands.items() if key in keys},
        box=Box(min(xs), min(ys), max(xs), max(ys)).grown(MARGIN),
        bracket=(),
    )


def _track(piece: Piece, corners: Corners) -> Track:
    if piece.start is Start.LINE:
        return Line()
    if piece.start is Start.OVAL:
        return Frame(straight_of(piece))
    return Polygon(corners.number) if corners.number else Circle()


def _box(state: Laid, marks: Sequence[Mark]) -> Box:
    points = [mark.top for mark in marks] + [*state.numbers.values(), *bracket_of(state)] or [(0.0, 0.0)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    box = Box(min(xs), min(ys), max(xs), max(ys)).grown(MARGIN)
    if state.bands and box.width < WORDS_WIDE:
        more = (WORDS_WIDE - box.width) / 2
        box = Box(box.left - more, box.top, box.right + more, box.bottom)
    bands = [point for band in _bands(state, box).values() for point in band.outer]
    return Box(
        min([box.left, *(x for x, _ in bands)]), min([box.top, *(y for _, y in bands)]),
        max([box.right, *(x for x, _ in bands)]), max([box.bottom, *(y for _, y in bands)]),
    )  # fmt: skip


def _bands(state: Laid, box: Box) -> dict[str, Band]:
    """Where the courses are that are not drawn, as lines along the work."""
    bands: dict[str, Band] = {}
    for key, (track, low, high) in state.bands.items():
        inner, outer = (_way(track, level, box) for level in (low + 0.25, high - 0.25))
        middle = track.at((low + high) / 2, _top(track, (low + high) / 2, box)).point
        bands[key] = Band(inner, outer, middle)
    return bands


def _way(track: Track, level: float, box: Box) -> tuple[Point, ...]:
    if not track.closed:
        return ((box.left + 0.6, -level), (box.right - 0.6, -level))
    length = track.length(level)
    return tuple(track.at(level, length * step / BAND_STEPS).point for step in range(BAND_STEPS + 1))


def _top(track: Track, level: float, box: Box) -> float:
    """Where on the way words stand best: at its top."""
    return track.along(level, (0.0, -level * 2)) if track.closed else (box.left + box.right) / 2


def _leave_gap(state: Laid, course: Course) -> None:
    """Room for courses that are not known, or are told; what was worked last ends beyond it."""
    if course.repeated:
        for index in range(*state.last):
            level = state.level[index]
            spot = state.track.at(max(level, 0.1), state.track.along(max(level, 0.1), state.hold[index]))
            x, y = state.hold[index]
            state.hold[index] = (x + spot.out[0] * GAP_STEP, y + spot.out[1] * GAP_STEP)
            state.level[index] = level + GAP_STEP
    state.bands[course.key] = (state.track, state.base, state.base + GAP_STEP)
    state.base += GAP_STEP
    state.way = -state.way if course.turned else state.way


def _frame(state: Laid) -> None:
    """An edging: from here on, rounds lie about the rows."""
    tops = [mark.top for mark in state.marks if mark is not None] + list(state.numbers.values())
    left, right = min(x for x, _ in tops), max(x for x, _ in tops)
    low, high = max(y for _, y in tops), min(y for _, y in tops)
    frame = Frame(right - left, low - high, ((left + right) / 2, (low + high) / 2))
    state.track, state.base, state.way, state.edging = frame, 0.0, 1, True
    state.level = [max(0.0, frame.outside(point)) for point in state.hold]


def _lay_course(state: Laid, course: Course) -> None:
    runs = _runs(state, course)
    if course.turned and not state.fresh and not state.edging:
        state.way = -state.way
    state.fresh = False
    state.room = room_of_number(course, joined=any(run.role is Role.JOIN for run in runs))
    if runs[0].role is Role.FOUNDATION and all(
        run.role in {Role.FOUNDATION, Role.STANDING, Role.JOIN} for run in runs
    ):
        lay_foundation(state, course)
        return
    if state.piece.start in {Start.RING, Start.CHAIN_RING} and not state.opened:
        open_ring(state, runs)
    travel(state, runs)
    placed = [run for run in runs if run.role not in {Role.JOIN, Role.TRAVEL}]
    if not placed:
        return
    level = _level(state, placed)
    spread(state, placed, level)
    raise_stitches(state, placed, level)
    bend(state, placed, level)
    join(state, runs, placed)
    number_course(state, course, placed, level)
    note_repeat(state, placed, level)
    state.base, state.last, state.edging = level, (course.start, course.stop), False


def _runs(state: Laid, course: Course) -> list[Run]:
    signs = state.piece.signs
    runs: list[Run] = []
    for (role, _own), group in groupby(range(course.start, course.stop), key=lambda i: _kind(signs[i], i)):
        inside = list(group)
        runs.append(Run(role, inside[0], inside[-1] + 1, _width(role, signs, inside)))
    for run in runs:
        if run.role in {Role.STITCH, Role.CHAIN}:
            run.corner = state.corners.of.get(run.start)
    return runs


def _kind(sign: Sign, place: int) -> tuple[Role, int]:
    """Chains in a row are one run; every other sign stands by itself."""
    alone = sign.role in {Role.STITCH, Role.JOIN, Role.TRAVEL}
    return sign.role, place if alone else -1


def _width(role: Role, signs: Sequence[Sign], inside: Sequence[int]) -> float:
    if role is Role.STITCH:
        sign = signs[inside[0]]
        return width_of(shape_of(sign.name)) * (0.85 if sign.into is Into.SPACE else 1.0)
    if role is Role.CHAIN and len(inside) > LONGEST_ARC:
        return float(len(inside))
    if role is Role.CHAIN:
        return max(0.7, len(inside) * CHAIN_LONG * SLACK)
    return {Role.STANDING: 0.9, Role.JOIN: 0.0}.get(role, float(len(inside)))


def _level(state: Laid, runs: Sequence[Run]) -> float:
    """Where the tops of the course lie: as high as its stitches are, and with room for all of them."""
    for run in runs:
        if run.role is Role.STITCH:
            run.raw = foot_level(state, run) + shape_of(state.piece.signs[run.start].name).height
    raws = [run.raw for run in runs if run.raw is not None]
    mean = sum(raws) / len(raws) if raws else state.base + 0.8
    room = sum(run.width for run in runs) + (state.room if state.track.closed else 0.0)
    needed = state.track.level_for(room * 0.95)
    step = max((raw - state.base for raw in raws), default=1.0)
    return max(mean, state.base + 0.45, min(needed, state.base + max(step, 1.0) * TALLEST_STEP))
