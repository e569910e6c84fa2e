"""What a piece begins on: a ring, a ring of chains, a chain along a line; and slip stitches on the way."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from craft.charting.laying import CHAIN_LONG, LEAST_RING, Laid, Run, put
from craft.charting.model import Course, Piece, Role, Start
from craft.charting.shapes import shape_of
from craft.charting.tracks import Circle

__all__ = ["lay_foundation", "open_ring", "straight_of", "travel"]


def straight_of(piece: Piece) -> float:
    """Length between the first and the last chain that is worked into."""
    used = {foot for sign in piece.signs for foot in sign.feet if piece.signs[foot].role is Role.FOUNDATION}
    return float(max(used) - min(used)) if used else 0.0


def lay_foundation(state: Laid, course: Course) -> None:
    """Chains along a line, or around, the last of them upright where they are skipped."""
    indices = range(course.start, course.stop)
    signs = state.piece.signs
    flat = [i for i in indices if signs[i].role is Role.FOUNDATION]
    if state.piece.start in {Start.RING, Start.CHAIN_RING}:
        _lay_chain_ring(state, flat, [i for i in indices if signs[i].role is not Role.FOUNDATION])
        return
    straight = straight_of(state.piece) if state.piece.start is Start.OVAL else float(len(flat) - 1)
    for place, index in enumerate(flat):
        put(state, index, (place - straight / 2, 0.0), (1.0, 0.0), 0.1, 1.2)
    up = [i for i in indices if signs[i].role is Role.STANDING]
    end = len(flat) - straight / 2 - 0.1
    for place, index in enumerate(up):
        put(state, index, (end, -0.25 - 0.66 * place), (0.0, -1.0), 0.6 + 0.66 * place, 1.0)
    for index in (i for i in indices if signs[i].role is Role.JOIN):
        put(state, index, (end, 0.0), (1.0, 0.0), 0.1, 1.0)
    state.fresh = True
    if state.piece.start is Start.LINE:
        state.way, state.stood = -1, bool(up)


def _lay_chain_ring(state: Laid, flat: Sequence[int], others: Sequence[int]) -> None:
    """A ring of chains: wide enough for a stitch over each where they are worked into one by one."""
    used = {foot for sign in state.piece.signs for foot in sign.feet}
    pitch = 1.0 if sum(i in used for i in flat) > 1 else CHAIN_LONG
    radius = max(LEAST_RING, len(flat) * pitch / (2 * pi))
    for place, index in enumerate(flat):
        spot = Circle().at(radius, (place + 0.75) * radius * 2 * pi / max(len(flat), 1))
        put(state, index, spot.point, (-spot.out[1], spot.out[0]), radius + 0.1, pitch * 1.2)
    for place, index in enumerate(others):
        spot = Circle().at(radius + 0.55 * place, 0.0)
        put(state, index, spot.point, (1.0, 0.0), radius, 0.7)
    state.opened, state.base, state.hub, state.fresh = True, radius + 0.1, radius + 0.1, True


def travel(state: Laid, runs: Sequence[Run]) -> None:
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
        put(state, run.start, raised, (-spot.out[1], spot.out[0]), level + 0.1, 0.7)


def open_ring(state: Laid, runs: Sequence[Run]) -> None:
    signs = state.piece.signs
    room = sum(run.width for run in runs) + state.room
    heights = [shape_of(signs[run.start].name).height for run in runs if run.role is Role.STITCH]
    tall = max(heights, default=1.0)
    state.ring = max(LEAST_RING, state.track.level_for(room) - tall)
    state.opened, state.base, state.hub = True, state.ring, state.ring
