"""What stands beside the stitches: the number of each course, the bracket round one repeat."""

from __future__ import annotations

from collections.abc import Sequence

from craft.charting.laying import Laid, Run
from craft.charting.model import Course, Point

__all__ = ["bracket_of", "note_repeat", "number_course", "room_of_number"]


def number_course(state: Laid, course: Course, placed: Sequence[Run], level: float) -> None:
    """Where the course's number stands: before its first stitch."""
    first = placed[0]
    height = level - state.base
    away = first.width / 2 + (0.8 if state.stood else 0.0)
    away += state.room - _wide(course) / 2 - (0.0 if state.track.closed else 0.25)
    along = first.along - state.way * away
    state.stood = False
    low = max(level - min(height, 2.0) * 0.45, 0.05)
    point = state.track.at(level, along).moved(low - level)
    state.numbers[course.key] = point
    if state.track.closed:
        state.seam = (first.along / state.track.length(level)) % 1.0


def _wide(course: Course) -> float:
    """Room of the words that stand before a course, in stitches."""
    words = " ".join(part for part in (course.label, course.colour) if part)
    return 0.48 * len(words)


def room_of_number(course: Course, *, joined: bool) -> float:
    """Room before the first stitch: for the number, and for the dot that joins the round."""
    return max(0.7, _wide(course) + 0.3) + (0.45 if joined else 0.0)


def note_repeat(state: Laid, placed: Sequence[Run], level: float) -> None:
    """One pass of the repeat of a course, for the bracket: the last course of rounds, the first of rows."""
    if state.bracket and not state.track.closed:
        return
    signs = state.piece.signs
    first = next((signs[run.start] for run in placed if signs[run.start].passing > 0), None)
    if first is None:
        return
    inside = [run for run in placed if signs[run.start].repeat == first.repeat]
    passes = {signs[run.start].passing for run in inside}
    one = [run for run in inside if signs[run.start].passing == first.passing]
    along = sorted(run.along for run in one)
    half = one[0].width / 2
    ends = (along[0] - half, along[-1] + half)
    state.repeats = len(passes)
    state.bracket = tuple((ends[0] + (ends[1] - ends[0]) * i / 48, level) for i in range(49))


def bracket_of(state: Laid) -> tuple[Point, ...]:
    """The line beside one repeat, with a tick at either end that points to the work."""
    if not state.bracket:
        return ()
    track = state.track
    if not track.closed:
        low = max((mark.top[1] for mark in state.marks if mark is not None), default=0.0) + 0.8
        left, right = state.bracket[0][0], state.bracket[-1][0]
        return ((left, low - 0.3), (left, low), ((left + right) / 2, low), (right, low), (right, low - 0.3))
    level = state.bracket[0][1]
    outer = max(state.level, default=level) + 0.9
    spots = [track.at(level, along) for along, _ in state.bracket]
    way = [spot.moved(outer - level) for spot in spots]
    return (spots[0].moved(outer - level - 0.4), *way, spots[-1].moved(outer - level - 0.4))
