"""From signs to places: every round or row lies on its track, each stitch over what it is worked into.

A course is laid out in three steps. Its *runs* (a stitch, the chains of a space, a standing chain) want the
places of what they are worked into; `spread` puts them in order with room for each; then stems are as tall
as their stitch, so that a shell rises from the low stitch between two high ones. Chains between two stitches
become an arc that is as long as they are, and the next round stands on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby
from math import cos, hypot, pi, sin
from typing import Final

from craft.charting.corners import Corners, corners_of
from craft.charting.model import Box, Course, Into, Mark, Piece, Placed, Point, Role, Sign, Start
from craft.charting.shapes import shape_of, width_of
from craft.charting.spread import around, evened, in_order
from craft.charting.tracks import Circle, Frame, Line, Polygon, Track

__all__ = ["lay_out"]

CHAIN_LONG: Final = 0.68
"""Room of one chain along its arc."""
SLACK: Final = 0.7
"""Chains bend outwards, so a run of them takes this share of its length from the round."""
SEAM: Final = 0.7
"""Room at the start of a closed round for its number."""
EVEN_PLAIN: Final = 0.8
EVEN_LACE: Final = 0.15
"""How far stitches are drawn from over their feet to even spacing: in lace hardly, so that groups stay groups."""
CLOSE: Final = 0.72
KEEP: Final = 0.6
"""How much of its height above or below the others a stitch keeps from round to round."""
TALLEST_STEP: Final = 3.2
SPACE_STEP: Final = 0.42
GAP_STEP: Final = 1.6
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
class _State:
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
    last: tuple[int, int] = (0, 0)
    bracket: tuple[Point, ...] = ()
    repeats: int = 1
    base: float = 0.0
    seam: float = 0.0
    numbers: dict[str, Point] = field(default_factory=dict)
    bands: dict[str, tuple[float, float]] = field(default_factory=dict)
    way: int = 1


def lay_out(piece: Piece) -> Placed:
    """Give every sign of a piece its place. Time grows with the number of signs alone."""
    number = len(piece.signs)
    corners = corners_of(piece)
    state = _State(
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
    return Placed(
        piece, marks, state.numbers, _box(state, marks), state.ring, state.bands,
        _bracket(state), state.repeats,
    )  # fmt: skip


def _track(piece: Piece, corners: Corners) -> Track:
    if piece.start is Start.LINE:
        return Line()
    if piece.start is Start.OVAL:
        return Frame(_straight(piece))
    return Polygon(corners.number) if corners.number else Circle()


def _straight(piece: Piece) -> float:
    """Length between the first and the last chain that is worked into."""
    used = {foot for sign in piece.signs for foot in sign.feet if piece.signs[foot].role is Role.FOUNDATION}
    return float(max(used) - min(used)) if used else 0.0


def _box(state: _State, marks: Sequence[Mark]) -> Box:
    points = [mark.top for mark in marks] + [*state.numbers.values(), *_bracket(state)] or [(0.0, 0.0)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    box = Box(min(xs), min(ys), max(xs), max(ys)).grown(1.3)
    if state.bands and state.track.closed:
        outer = max(level for band in state.bands.values() for level in band)
        return Box(min(box.left, -outer), min(box.top, -outer), max(box.right, outer), max(box.bottom, outer))
    return box


def _leave_gap(state: _State, course: Course) -> None:
    """Room for courses that are not known, or are told; what was worked last ends beyond it."""
    if course.repeated:
        for index in range(*state.last):
            level = state.level[index]
            spot = state.track.at(max(level, 0.1), state.track.along(max(level, 0.1), state.hold[index]))
            x, y = state.hold[index]
            state.hold[index] = (x + spot.out[0] * GAP_STEP, y + spot.out[1] * GAP_STEP)
            state.level[index] = level + GAP_STEP
    state.bands[course.key] = (state.base, state.base + GAP_STEP)
    state.base += GAP_STEP
    state.way = -state.way if course.turned else state.way


def _frame(state: _State) -> None:
    """An edging: from here on, rounds lie about the rows."""
    tops = [mark.top for mark in state.marks if mark is not None]
    left, right = min(x for x, _ in tops), max(x for x, _ in tops)
    low, high = max(y for _, y in tops), min(y for _, y in tops)
    frame = Frame(right - left, low - high, ((left + right) / 2, (low + high) / 2))
    state.track, state.base, state.way = frame, 0.0, 1
    state.level = [max(0.0, frame.outside(point)) for point in state.hold]


# ------------------------------------------------------------------------------------ one course


def _lay_course(state: _State, course: Course) -> None:
    runs = _runs(state, course)
    if course.turned and not state.fresh:
        state.way = -state.way
    state.fresh = False
    if runs[0].role is Role.FOUNDATION and all(
        run.role in {Role.FOUNDATION, Role.STANDING, Role.JOIN} for run in runs
    ):
        _lay_foundation(state, course)
        return
    if state.piece.start in {Start.RING, Start.CHAIN_RING} and not state.opened:
        _open_ring(state, runs)
    _travel(state, runs)
    placed = [run for run in runs if run.role not in {Role.JOIN, Role.TRAVEL}]
    if not placed:
        return
    level = _level(state, placed)
    _spread(state, placed, level)
    _raise(state, placed, level)
    _bend(state, placed, level)
    _join(state, runs, placed)
    _number(state, course, placed, level)
    _note_repeat(state, placed, level)
    state.base, state.last = level, (course.start, course.stop)


def _runs(state: _State, course: Course) -> list[Run]:
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
    if role is Role.CHAIN:
        return max(0.7, len(inside) * CHAIN_LONG * SLACK)
    return {Role.STANDING: 0.9, Role.JOIN: 0.0}.get(role, float(len(inside)))


def _lay_foundation(state: _State, course: Course) -> None:
    """Chains along a line, or around, the last of them upright where they are skipped."""
    indices = range(course.start, course.stop)
    signs = state.piece.signs
    flat = [i for i in indices if signs[i].role is Role.FOUNDATION]
    if state.piece.start in {Start.RING, Start.CHAIN_RING}:
        _lay_chain_ring(state, flat, [i for i in indices if signs[i].role is not Role.FOUNDATION])
        return
    straight = _straight(state.piece) if state.piece.start is Start.OVAL else float(len(flat) - 1)
    for place, index in enumerate(flat):
        _put(state, index, (place - straight / 2, 0.0), (1.0, 0.0), 0.1, 1.2)
    up = [i for i in indices if signs[i].role is Role.STANDING]
    end = len(flat) - straight / 2 - 0.1
    for place, index in enumerate(up):
        _put(state, index, (end, -0.25 - 0.66 * place), (0.0, -1.0), 0.6 + 0.66 * place, 1.0)
    for index in (i for i in indices if signs[i].role is Role.JOIN):
        _put(state, index, (end, 0.0), (1.0, 0.0), 0.1, 1.0)
    if state.piece.start is Start.LINE:
        state.way, state.fresh = -1, True


def _lay_chain_ring(state: _State, flat: Sequence[int], others: Sequence[int]) -> None:
    """A ring of chains: wide enough for a stitch over each where they are worked into one by one."""
    used = {foot for sign in state.piece.signs for foot in sign.feet}
    pitch = 1.0 if sum(i in used for i in flat) > 1 else CHAIN_LONG
    radius = max(LEAST_RING, len(flat) * pitch / (2 * pi))
    for place, index in enumerate(flat):
        spot = Circle().at(radius, (place + 0.75) * radius * 2 * pi / max(len(flat), 1))
        _put(state, index, spot.point, (-spot.out[1], spot.out[0]), radius + 0.1, pitch * 1.2)
    for place, index in enumerate(others):
        spot = Circle().at(radius + 0.55 * place, 0.0)
        _put(state, index, spot.point, (1.0, 0.0), radius, 0.7)
    state.opened, state.base, state.hub = True, radius + 0.1, radius + 0.1


def _put(state: _State, index: int, point: Point, axis: Point, level: float, room: float) -> None:
    state.marks[index] = Mark(index, (), point, axis, room)
    state.hold[index], state.level[index] = point, level


def _travel(state: _State, runs: Sequence[Run]) -> None:
    """Slip stitches that bring the yarn along: dots upon what they are worked into."""
    signs = state.piece.signs
    for run in runs:
        if run.role is not Role.TRAVEL:
            continue
        feet = signs[run.start].feet
        level = max((state.level[foot] for foot in feet), default=state.base)
        point = state.hold[feet[0]] if feet else state.track.at(max(level, 0.1), 0.0).point
        spot = state.track.at(max(level, 0.1), state.track.along(max(level, 0.1), point))
        raised = (point[0] + spot.out[0] * 0.22, point[1] + spot.out[1] * 0.22)
        _put(state, run.start, raised, (-spot.out[1], spot.out[0]), level + 0.1, 0.7)


def _open_ring(state: _State, runs: Sequence[Run]) -> None:
    signs = state.piece.signs
    room = sum(run.width for run in runs) + SEAM
    heights = [shape_of(signs[run.start].name).height for run in runs if run.role is Role.STITCH]
    tall = max(heights, default=1.0)
    state.ring = max(LEAST_RING, state.track.level_for(room) - tall)
    state.opened, state.base, state.hub = True, state.ring, state.ring


def _level(state: _State, runs: Sequence[Run]) -> float:
    """Where the tops of the course lie: as high as its stitches are, and with room for all of them."""
    for run in runs:
        if run.role is Role.STITCH:
            run.raw = _foot_level(state, run) + shape_of(state.piece.signs[run.start].name).height
    raws = [run.raw for run in runs if run.raw is not None]
    mean = sum(raws) / len(raws) if raws else state.base + 0.8
    room = sum(run.width for run in runs) + (SEAM if state.track.closed else 0.0)
    needed = state.track.level_for(room * 0.95)
    step = max((raw - state.base for raw in raws), default=1.0)
    return max(mean, state.base + 0.45, min(needed, state.base + max(step, 1.0) * TALLEST_STEP))


def _foot_level(state: _State, run: Run) -> float:
    sign = state.piece.signs[run.start]
    if not sign.feet:
        return state.base
    return sum(state.level[foot] for foot in sign.feet) / len(sign.feet)


def _spread(state: _State, runs: list[Run], level: float) -> None:
    """Where along the way each run lies."""
    track = state.track
    order = runs if state.way > 0 else runs[::-1]
    widths = [run.width for run in order]
    length = track.length(level)
    seam = SEAM if track.closed else 0.0
    stretch = length / (sum(widths) + seam) if track.closed and widths else 1.0
    room = [width * stretch for width in widths]
    _want(state, order, level, room)
    wanted = [run.wanted or 0.0 for run in order]
    lace = _is_lace(state, runs)
    even = evened(wanted, room, EVEN_LACE if lace else EVEN_PLAIN)
    even = [even[i] if run.corner is None else wanted[i] for i, run in enumerate(order)]
    if lace:
        room = [width * min(stretch, 1.1) for width in widths]
    gaps = [CLOSE * (a + b) / 2 for a, b in zip(room, [*room[1:], room[0]], strict=True)]
    if track.closed:
        gaps[-1] += seam * min(stretch, 1.1) * 0.9
        places = around(even, gaps, length)
    else:
        places = in_order(even, [gap / CLOSE * 0.85 for gap in gaps])
    for run, place in zip(order, places, strict=True):
        run.along = place


def _is_lace(state: _State, runs: Sequence[Run]) -> bool:
    """Whether stitches stand in groups: round spaces, three in one place, chains between."""
    signs = state.piece.signs
    return any(
        run.role is Role.CHAIN or signs[run.start].into is Into.SPACE or signs[run.start].shared > 2
        for run in runs
    )


def _want(state: _State, order: Sequence[Run], level: float, room: Sequence[float]) -> None:
    """The place that each run would have by what it is worked into; between neighbours where it has none."""
    track, length = state.track, state.track.length(level)
    last: float | None = None
    for run in order:
        place = _wanted(state, run, level)
        if place is not None and track.closed:
            near = state.seam * length if last is None else last
            place += length * round((near - place) / length)
        run.wanted = place
        last = place if place is not None else last
    _fill(order, room, start=0.0 if track.closed else -sum(room) / 2)


def _fill(order: Sequence[Run], room: Sequence[float], start: float) -> None:
    """Runs that nothing speaks for lie between their neighbours."""
    known = [i for i, run in enumerate(order) if run.wanted is not None]
    middles = [sum(room[:1]) / 2]
    for a, b in zip(room, room[1:], strict=False):
        middles.append(middles[-1] + (a + b) / 2)
    if not known:
        for run, middle in zip(order, middles, strict=True):
            run.wanted = start + middle
        return
    for i, run in enumerate(order):
        if run.wanted is not None:
            continue
        before = max((k for k in known if k < i), default=None)
        after = min((k for k in known if k > i), default=None)
        run.wanted = _between(order, middles, i, before, after)


def _between(
    order: Sequence[Run], middles: Sequence[float], place: int, before: int | None, after: int | None
) -> float:
    if before is not None and after is not None:
        first, second = order[before].wanted or 0.0, order[after].wanted or 0.0
        whole = middles[after] - middles[before]
        share = (middles[place] - middles[before]) / whole if whole else 0.5
        return first + (second - first) * share
    anchor = before if before is not None else after
    assert anchor is not None  # noqa: S101 - one is known, or this is not asked
    return (order[anchor].wanted or 0.0) + middles[place] - middles[anchor]


def _wanted(state: _State, run: Run, level: float) -> float | None:
    if run.corner is not None and isinstance(state.track, Polygon):
        return state.track.corner(level, run.corner)
    if run.role is not Role.STITCH:
        return None
    feet = state.piece.signs[run.start].feet
    if not feet:
        return None
    corner = state.corners.of.get(feet[0]) if len(feet) == 1 else None
    if corner is not None and isinstance(state.track, Polygon):
        return state.track.corner(level, corner)
    points = [state.hold[foot] for foot in feet]
    middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    if isinstance(state.track, Frame) and state.base == 0.0 and state.piece.start is Start.OVAL:
        return _beside_chain(state, run, level, middle[0])
    return state.track.along(level, middle)


def _beside_chain(state: _State, run: Run, level: float, x: float) -> float:
    """First round about a chain: which side of it, by the loops that are taken."""
    frame = state.track
    assert isinstance(frame, Frame)  # noqa: S101 - asked for ovals alone
    sign, half = state.piece.signs[run.start], frame.width / 2
    quarter = pi * level / 2
    under = sign.loops == "other side"
    if abs(x + half) < 0.25:
        return quarter + frame.width + quarter + (0.3 if under else 0.0)
    if abs(x - half) < 0.25:
        return frame.length(level) - quarter * 0.6 if under else quarter * 0.8
    return 3 * quarter + frame.width + x + half if under else quarter + half - x


# ------------------------------------------------------------------------------------ tops and arcs


def _raise(state: _State, runs: Sequence[Run], level: float) -> None:
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
        least = _foot_level(state, run) + 0.5 * height - level
        lift = max(lift, least) if sign.feet else lift
        spot = state.track.at(level, run.along)
        top = spot.moved(lift)
        feet = _feet(state, run, top, spans.get(run.start, 0.0))
        tangent = (-spot.out[1], spot.out[0])
        state.marks[run.start] = Mark(run.start, feet, top, tangent, min(1.0, pitch))
        state.hold[run.start], state.level[run.start] = top, level + lift


def _pitch(state: _State, runs: Sequence[Run], level: float) -> float:
    """The room that one stitch's width really has."""
    if not state.track.closed:
        return 1.0
    return max(0.2, state.track.length(level) / (sum(run.width for run in runs) + SEAM))


def _feet_of_spaces(state: _State, runs: Sequence[Run]) -> dict[int, float]:
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


def _feet(state: _State, run: Run, top: Point, apart: float) -> tuple[Point, ...]:
    sign = state.piece.signs[run.start]
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


def _ahead(state: _State, out: Point) -> Point:
    """The way of growing lengths at a spot."""
    if not state.track.closed:
        return (1.0, 0.0)
    return (out[1], -out[0])


def _bend(state: _State, runs: Sequence[Run], level: float) -> None:
    """Chains: an arc between the tops of their neighbours; standing chains upright."""
    for run in runs:
        if run.role is Role.STANDING:
            _stand(state, run, level)
    for place, run in enumerate(runs):
        if run.role in {Role.CHAIN, Role.FOUNDATION}:
            _arc(state, run, *_ends(state, runs, place, level), level)


def _stand(state: _State, run: Run, level: float) -> None:
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


def _below(state: _State, along: float, level: float, low: float) -> float:
    """The same place on a lower level."""
    return state.track.along(max(low, 0.0), state.track.at(level, along).point)


def _ends(state: _State, runs: Sequence[Run], place: int, level: float) -> tuple[Point, Point]:
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


def _arc(state: _State, run: Run, start: Point, end: Point, level: float) -> None:
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


def _outward(state: _State, middle: Point, ahead: Point, level: float) -> Point:
    """Across the chord, away from the work."""
    side = (-ahead[1], ahead[0])
    out = state.track.at(level, state.track.along(level, middle)).out
    return side if side[0] * out[0] + side[1] * out[1] >= 0 else (-side[0], -side[1])


def _join(state: _State, runs: Sequence[Run], placed: Sequence[Run]) -> None:
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


def _note_repeat(state: _State, placed: Sequence[Run], level: float) -> None:
    """One pass of the repeat of a course, for the bracket: the last course of rounds, the first of rows."""
    if state.bracket and not state.track.closed:
        return
    signs = state.piece.signs
    first = next((signs[run.start] for run in placed if signs[run.start].passing > 0), None)
    if first is None:
        return
    inside = [run for run in placed if signs[run.start].repeat == first.repeat]
    passes = {signs[run.start].passing for run in inside}
    one = [run for run in inside if signs[run.start].passing == 1]
    along = sorted(run.along for run in one)
    half = one[0].width / 2
    ends = (along[0] - half, along[-1] + half)
    state.repeats = len(passes)
    state.bracket = tuple((ends[0] + (ends[1] - ends[0]) * i / 12, level) for i in range(13))


def _bracket(state: _State) -> tuple[Point, ...]:
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


def _number(state: _State, course: Course, placed: Sequence[Run], level: float) -> None:
    """Where the course's number stands: before its first stitch."""
    first = placed[0]
    height = level - state.base
    along = first.along - state.way * (first.width / 2 + 0.55)
    low = max(level - min(height, 2.0) * 0.45, 0.05)
    point = state.track.at(level, along).moved(low - level)
    state.numbers[course.key] = point
    if state.track.closed:
        state.seam = (first.along / state.track.length(level)) % 1.0
