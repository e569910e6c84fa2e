"""Where along its round or row each run lies: over what it is worked into, in order, with room for each."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import pi
from typing import Final

from craft.charting.laying import Laid, Run
from craft.charting.model import Into, Role, Start
from craft.charting.spread import around, evened, in_order
from craft.charting.tracks import Frame, Polygon

__all__ = ["spread"]

EVEN_PLAIN: Final = 0.8
EVEN_LACE: Final = 0.15
"""How far stitches are drawn from over their feet to even spacing: hardly in lace, to keep its groups."""
FARTHEST: Final = 1.2
CLOSE: Final = 0.72
LOOSE: Final = 1.35
"""Groups of lace are drawn apart at most so much, however wide the round."""


def spread(state: Laid, runs: list[Run], level: float) -> None:
    """Where along the way each run lies."""
    track = state.track
    order = runs if state.way > 0 else runs[::-1]
    widths = [run.width for run in order]
    length = track.length(level)
    seam = state.room if track.closed else 0.0
    stretch = length / (sum(widths) + seam) if track.closed and widths else 1.0
    room = [width * stretch for width in widths]
    _want(state, order, level, room)
    wanted = [run.wanted or 0.0 for run in order]
    lace = _is_lace(state, runs)
    even = evened(wanted, room, EVEN_LACE if lace else EVEN_PLAIN)
    even = [_near(wanted[i], even[i], run) for i, run in enumerate(order)]
    if lace:
        room = [width * min(stretch, LOOSE) for width in widths]
    gaps = [CLOSE * (a + b) / 2 for a, b in zip(room, [*room[1:], room[0]], strict=True)]
    if track.closed:
        gaps[-1] += seam * min(stretch, LOOSE) * 0.9
        places = around(even, gaps, length)
    else:
        places = in_order(even, [gap / CLOSE * 0.85 for gap in gaps])
    for run, place in zip(order, places, strict=True):
        run.along = place


def _near(wanted: float, even: float, run: Run) -> float:
    """Even spacing moves a stitch only so far in one round, and no corner."""
    if run.corner is not None:
        return wanted
    return wanted + max(-FARTHEST, min(FARTHEST, even - wanted))


def _is_lace(state: Laid, runs: Sequence[Run]) -> bool:
    """Whether stitches stand in groups: round spaces, three in one place, chains between."""
    signs = state.piece.signs
    return any(
        run.role is Role.CHAIN or signs[run.start].into is Into.SPACE or signs[run.start].shared > 2
        for run in runs
    )


def _want(state: Laid, order: Sequence[Run], level: float, room: Sequence[float]) -> None:
    """The place that each run would have by what it is worked into; between neighbours where it has none."""
    track, length = state.track, state.track.length(level)
    last: float | None = None
    for run in order:
        place = None if state.edging and last is not None else _wanted(state, run, level)
        if place is not None and track.closed:
            near = state.seam * length if last is None else last
            place += length * round((near - place) / length)
        run.wanted = place
        last = place if place is not None else last
    _fill(order, room, start=0.0 if track.closed else -sum(room) / 2)


def _wanted(state: Laid, run: Run, level: float) -> float | None:
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


def _beside_chain(state: Laid, run: Run, level: float, x: float) -> float:
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


def _fill(order: Sequence[Run], room: Sequence[float], start: float) -> None:
    """Runs that nothing speaks for lie between their neighbours, or as far from one as their room is."""
    middles = [sum(room[:1]) / 2]
    for a, b in pairwise(room):
        middles.append(middles[-1] + (a + b) / 2)
    known = [place for place, run in enumerate(order) if run.wanted is not None]
    if not known:
        for run, middle in zip(order, middles, strict=True):
            run.wanted = start + middle
        return
    for before, after in pairwise([known[0], *known, known[-1]]):
        _between(order, middles, before, after)
    for place in range(known[0]):
        order[place].wanted = (order[known[0]].wanted or 0.0) + middles[place] - middles[known[0]]
    for place in range(known[-1] + 1, len(order)):
        order[place].wanted = (order[known[-1]].wanted or 0.0) + middles[place] - middles[known[-1]]


def _between(order: Sequence[Run], middles: Sequence[float], before: int, after: int) -> None:
    """Share out the way between two runs whose places are known."""
    first, second = order[before].wanted or 0.0, order[after].wanted or 0.0
    whole = middles[after] - middles[before]
    for place in range(before + 1, after):
        order[place].wanted = first + (second - first) * (middles[place] - middles[before]) / whole
