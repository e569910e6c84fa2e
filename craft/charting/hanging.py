"""Stems and arcs: how high a stitch reaches, where its feet are, how chains hang between stitches."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from math import cos, hypot, pi, sin
from typing import Final

from craft.charting.laying import CHAIN_LONG, Laid, Run, foot_level
from craft.charting.model import Into, Mark, Point, Role
from craft.charting.shapes import shape_of

__all__ = ["LONGEST_ARC", "bend", "join", "raise_stitches"]

KEEP: Final = 0.6
"""How much of its height above or below the others a stitch keeps from round to round."""
SPACE_STEP: Final = 0.42
LONGEST_ARC: Final = 12
FAR: Final = 3.0


def raise_stitches(state: Laid, runs: Sequence[Run], level: float) -> None:
    """Stitches: top, feet, and what the next round takes hold of."""
    raws = [run.raw for run in runs if run.raw is not None]
    mean = sum(raws) / len(raws) if raws else level
    pitch = _pitch(state, runs, level)
    spans = _feet_of_spaces(state, runs)
    for run in runs:
        if run.role is not Role.STITCH:
            continue
        sign = state.piece.signs[run.start]
        height = shape_of(sign.name).height
        lift = ((run.raw or mean) - mean) * KEEP
        least = foot_level(state, run) + 0.5 * height - level
        lift = max(lift, least) if sign.feet else lift
        spot = state.track.at(level, run.along)
        top = spot.moved(lift)
        feet = _feet(state, run, top, spans.get(run.start, 0.0))
        tangent = (-spot.out[1], spot.out[0])
        state.marks[run.start] = Mark(run.start, feet, top, tangent, min(1.0, pitch))
        state.hold[run.start], state.level[run.start] = top, level + lift


def _pitch(state: Laid, runs: Sequence[Run], level: float) -> float:
    """The room that one stitch's width really has."""
    if not state.track.closed:
        return 1.0
    return max(0.2, state.track.length(level) / (sum(run.width for run in runs) + state.room))


def _feet_of_spaces(state: Laid, runs: Sequence[Run]) -> dict[int, float]:
    """Stitches round one chain space stand with feet apart: how far each is from the middle."""
    signs = state.piece.signs
    apart: dict[int, float] = {}
    in_spaces = [run.start for run in runs if run.role is Role.STITCH and signs[run.start].into is Into.SPACE]
    for _feet, group in groupby(in_spaces, key=lambda index: signs[index].feet):
        inside = list(group)
        step = min(SPACE_STEP, 2.0 / len(inside))
        for place, index in enumerate(inside):
            apart[index] = (place - (len(inside) - 1) / 2) * step * state.way
    return apart


def _feet(state: Laid, run: Run, top: Point, apart: float) -> tuple[Point, ...]:
    sign = state.piece.signs[run.start]
    if state.edging and _is_far(state, sign.feet, top):
        return (state.track.at(0.0, state.track.along(0.0, top)).point,)
    if sign.feet and sign.into is not Into.RING:
        points = tuple(state.hold[foot] for foot in sign.feet)
        if not apart:
            return points
        below = max(state.level[sign.feet[0]], 0.1)
        ahead = _ahead(state, state.track.at(below, state.track.along(below, points[0])).out)
        return tuple((x + ahead[0] * apart, y + ahead[1] * apart) for x, y in points)
    if sign.into is Into.RING and state.track.closed:
        ring = state.hub
        whole = hypot(*top) or 1.0
        return ((top[0] / whole * ring, top[1] / whole * ring),)
    spot = state.track.at(state.base, state.track.along(state.base, top)) if state.base else None
    return (
        spot.point if spot and state.track.closed else (top[0], top[1] + shape_of(sign.name).height * 0.9),
    )


def _is_far(state: Laid, feet: Sequence[int], top: Point) -> bool:
    """Whether no known place lies under a stitch of an edging."""
    away = (hypot(state.hold[foot][0] - top[0], state.hold[foot][1] - top[1]) for foot in feet)
    return max(away, default=FAR) >= FAR


def _ahead(state: Laid, out: Point) -> Point:
    """The way of growing lengths at a spot."""
    if not state.track.closed:
        return (1.0, 0.0)
    return (out[1], -out[0])


def bend(state: Laid, runs: Sequence[Run], level: float) -> None:
    """Chains: an arc between the tops of their neighbours; standing chains upright."""
    for run in runs:
        if run.role is Role.STANDING:
            _stand(state, run, level)
    for place, run in enumerate(runs):
        if run.role in {Role.CHAIN, Role.FOUNDATION}:
            if run.stop - run.start > LONGEST_ARC and state.track.closed:
                _follow(state, runs, place, level)
            else:
                _arc(state, run, *_ends(state, runs, place, level), level)


def _stand(state: Laid, run: Run, level: float) -> None:
    """A stack of chains from the course below to the level of this one."""
    number = run.stop - run.start
    low = state.base + 0.1
    step = min((level - low) / number, 0.75)
    spot_low = state.track.at(max(low, 0.0), _below(state, run.along, level, low))
    spot_top = state.track.at(level, run.along)
    x0, y0 = spot_low.point
    x1, y1 = spot_top.point
    whole = hypot(x1 - x0, y1 - y0) or 1.0
    up = ((x1 - x0) / whole, (y1 - y0) / whole)
    step = min(step * whole / max(level - low, 1e-6), whole / number)
    for place, index in enumerate(range(run.start, run.stop)):
        rise = (place + 0.5) * step
        point = (x0 + up[0] * rise, y0 + up[1] * rise)
        state.marks[index] = Mark(index, (), point, up, min(1.0, step / 0.66))
        state.hold[index], state.level[index] = point, low + rise
    state.hold[run.stop - 1], state.level[run.stop - 1] = (x1, y1), level


def _below(state: Laid, along: float, level: float, low: float) -> float:
    """The same place on a lower level."""
    return state.track.along(max(low, 0.0), state.track.at(level, along).point)


def _ends(state: Laid, runs: Sequence[Run], place: int, level: float) -> tuple[Point, Point]:
    """The tops between which chains hang; a stitch's breadth away where nothing follows."""
    run, spread = runs[place], runs[place].width / 2 * state.way
    closed = state.track.closed
    before = runs[place - 1] if place or closed else None
    after = runs[(place + 1) % len(runs)] if place + 1 < len(runs) or closed else None

    def end(other: Run | None, away: float) -> Point:
        if other is None or other is run or other.role in {Role.CHAIN, Role.FOUNDATION}:
            return state.track.at(level, run.along + away).point
        return state.hold[other.stop - 1 if other.role is not Role.STITCH else other.start]

    return end(before, -spread), end(after, spread)


def _arc(state: Laid, run: Run, start: Point, end: Point, level: float) -> None:
    """Chains evenly along an arc from start to end that bends outwards as far as its length asks."""
    number = run.stop - run.start
    chord = hypot(end[0] - start[0], end[1] - start[1])
    inner = max(chord - 0.3, 0.2)
    half = _half_angle(inner, max(number * CHAIN_LONG, 1.2 * inner if run.corner is not None else 0.0))
    ahead = ((end[0] - start[0]) / (chord or 1.0), (end[1] - start[1]) / (chord or 1.0))
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    out = _outward(state, middle, ahead, level)
    radius = inner / 2 / sin(half)
    centre = (middle[0] - out[0] * radius * cos(half), middle[1] - out[1] * radius * cos(half))
    room = min(1.0, 2 * half * radius / number / CHAIN_LONG)
    for place, index in enumerate(range(run.start, run.stop)):
        turn = half * (2 * (place + 0.5) / number - 1)
        x = ahead[0] * sin(turn) + out[0] * cos(turn)
        y = ahead[1] * sin(turn) + out[1] * cos(turn)
        point = (centre[0] + x * radius, centre[1] + y * radius)
        way = (ahead[0] * cos(turn) - out[0] * sin(turn), ahead[1] * cos(turn) - out[1] * sin(turn))
        state.marks[index] = Mark(index, (), point, way, room)
        rise = radius * (cos(turn) - cos(half))
        state.hold[index], state.level[index] = point, level + rise + 0.1


def _follow(state: Laid, runs: Sequence[Run], place: int, level: float) -> None:
    """A long tie or bridge lies beside the round from neighbour to neighbour, a little outside it."""
    run, number = runs[place], runs[place].stop - runs[place].start
    length = state.track.length(level)
    before, after = runs[place - 1], runs[(place + 1) % len(runs)]
    first, last = before.along, after.along
    if (last - first) * state.way < 0:
        last += length * state.way
    step = (last - first) / (number + 1)
    for i, index in enumerate(range(run.start, run.stop), 1):
        spot = state.track.at(level, first + step * i)
        rise = 1.2 * sin(pi * i / (number + 1))
        way = (-spot.out[1], spot.out[0])
        state.marks[index] = Mark(index, (), spot.moved(rise), way, min(1.0, abs(step) / CHAIN_LONG))
        state.hold[index], state.level[index] = spot.moved(rise), level + rise + 0.1


def _half_angle(chord: float, length: float) -> float:
    """Half the angle of the arc over a chord that is so long: sin(a) / a = chord / length, by bisection."""
    least, most = 0.12, 1.9
    share = chord / length
    for _ in range(24):
        middle = (least + most) / 2
        if sin(middle) / middle > share:
            least = middle
        else:
            most = middle
    return (least + most) / 2


def _outward(state: Laid, middle: Point, ahead: Point, level: float) -> Point:
    """Across the chord, away from the work."""
    side = (-ahead[1], ahead[0])
    out = state.track.at(level, state.track.along(level, middle)).out
    return side if side[0] * out[0] + side[1] * out[1] >= 0 else (-side[0], -side[1])


def join(state: Laid, runs: Sequence[Run], placed: Sequence[Run]) -> None:
    """The slip stitches that close a round: dots before its first stitch."""
    joins = [run for run in runs if run.role is Role.JOIN]
    first, last = placed[0], placed[-1]
    start = state.hold[first.stop - 1 if first.role is not Role.STITCH else first.start]
    end = state.hold[last.stop - 1 if last.role is not Role.STITCH else last.start]
    whole = hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    back = ((end[0] - start[0]) / whole, (end[1] - start[1]) / whole)
    for place, run in enumerate(joins):
        away = min(0.4 + 0.45 * place, max(0.3, whole - 0.35))
        point = (start[0] + back[0] * away, start[1] + back[1] * away)
        state.marks[run.start] = Mark(run.start, (), point, back, 0.8)
        state.hold[run.start], state.level[run.start] = point, state.level[first.start]
