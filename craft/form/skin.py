"""The fabric as a skin of triangles between neighbouring edges, for area, volume and the file for other
programs.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from craft.form.net import Curve, Net

__all__ = ["area_of", "faces_of", "volume_of"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]


def faces_of(net: Net, *, capped: bool = False) -> tuple[Ints, int]:
    """Triangles (F, 3) between each edge and the one below it, all turned the same way; -> (they, how many of
    them at the end only cap holes). With `capped`, the closed edges that nothing is worked into are shut by a
    fan over their first knot.
    """
    found: list[Ints] = []
    worked: set[int] = set()
    for curve in net.curves:
        below = net.below[curve.knots]
        unders = np.unique(below[below >= 0]).tolist()
        worked.update(unders)
        found += [_strip(net, net.curves[under], curve) for under in unders]
        found.append(_ring(net, curve))
    caps = [_cap(net, number, worked) for number in range(len(net.curves))] if capped else []
    whole = [*found, *caps]
    faces = np.concatenate(whole).astype(np.int32) if whole else np.zeros((0, 3), np.int32)
    return faces, sum(len(cap) for cap in caps)


def _strip(net: Net, under: Curve, curve: Curve) -> Ints:
    """Triangles between two edges, merged by where the upper stands on the lower."""
    at = _filled(net, curve, under)
    if at is None:
        return np.zeros((0, 3), np.int32)
    upper = curve.knots
    rises = bool(np.sum(np.sign(np.diff(at))) >= 0)
    if not rises:
        upper, at = upper[::-1], at[::-1]
    low_knots = under.knots
    lower = np.arange(len(low_knots)).astype(float)
    if curve.closed and under.closed:
        shift = int(np.floor(at[0]))
        low_knots = np.roll(low_knots, -(shift % len(low_knots)))
        upper = np.concatenate((upper, upper[:1]))
        at = np.concatenate((at - shift, [at[0] - shift + len(lower)]))
        low_knots = np.concatenate((low_knots, low_knots[:1]))
        lower = np.arange(len(low_knots)).astype(float)
    else:
        inside = (lower >= at.min() - 0.75) & (lower <= at.max() + 0.75)
        lower, low_knots = lower[inside], low_knots[inside]
    faces = _merge(upper, at, low_knots, lower)
    return faces if rises else faces[:, ::-1]


def _filled(net: Net, curve: Curve, under: Curve) -> Floats | None:
    """Where each knot of an edge stands on the lower one; chains between stitches stand between them."""
    knots = curve.knots
    number = next(i for i, one in enumerate(net.curves) if one is under)
    known = net.below[knots] == number
    if known.sum() < 2:
        return None
    at = net.at[knots].copy()
    where = np.flatnonzero(known)
    values = at[known]
    if curve.closed and under.closed:
        steps = np.diff(values)
        turn = len(under.knots)
        steps = np.where(steps > turn / 2, steps - turn, np.where(steps < -turn / 2, steps + turn, steps))
        values = np.concatenate((values[:1], values[0] + np.cumsum(steps)))
    found: Floats = np.interp(np.arange(len(knots)), where, values)
    return found


def _merge(upper: Ints, at: Floats, lower_knots: Ints, lower: Floats) -> Ints:
    """The triangles of a strip between two rows of knots with their places along it."""
    up, down = len(upper) - 1, len(lower_knots) - 1
    if up < 0 or down < 0 or up + down < 1:
        return np.zeros((0, 3), np.int32)
    at = np.maximum.accumulate(at)
    steps_up = (at[1:] + at[:-1]) / 2
    steps_down = (lower[1:] + lower[:-1]) / 2
    order = np.argsort(np.concatenate((steps_up, steps_down)), kind="stable")
    is_up = order < up
    i = np.concatenate(([0], np.cumsum(is_up)))[:-1]
    j = np.concatenate(([0], np.cumsum(~is_up)))[:-1]
    faces = np.empty((len(order), 3), np.int32)
    faces[is_up] = np.column_stack((lower_knots[j[is_up]], upper[i[is_up] + 1], upper[i[is_up]]))
    faces[~is_up] = np.column_stack((lower_knots[j[~is_up]], lower_knots[j[~is_up] + 1], upper[i[~is_up]]))
    return faces


def _ring(net: Net, curve: Curve) -> Ints:
    """The fan from the middle of a ring to its first round."""
    middle = np.full(net.size, -1, np.int32)
    same = net.up_edge[:, 0] == net.up_edge[:, 1]
    middle[net.up_child[same]] = net.up_edge[same, 0]
    middles = middle[curve.knots]
    if not (middles >= 0).any() or not curve.closed:
        return np.zeros((0, 3), np.int32)
    centre = int(middles[middles >= 0][0])
    knots = curve.knots
    return np.column_stack((np.full(len(knots), centre, np.int32), np.roll(knots, -1), knots))


def _cap(net: Net, number: int, worked: set[int]) -> Ints:
    """Fans that shut a closed edge which is open: above where nothing is worked into it, below where it
    stands on nothing.
    """
    curve = net.curves[number]
    knots = curve.knots
    found = [np.zeros((0, 3), np.int32)]
    fan = np.column_stack((np.full(max(len(knots) - 2, 0), knots[0]), knots[1:-1], knots[2:]))
    if curve.closed and number not in worked:
        found.append(fan)
    stands = (net.below[knots] >= 0).any() or np.isin(knots, net.up_child).any()
    if curve.closed and not stands and number in worked:
        found.append(fan[:, ::-1])
    return np.concatenate(found).astype(np.int32)


def area_of(position: Floats, faces: Ints) -> float:
    corners = position[faces]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return float(np.linalg.norm(cross, axis=1).sum() / 2)


def volume_of(position: Floats, faces: Ints) -> float:
    """Enclosed volume in mm³; of use only for a closed skin."""
    corners = position[faces] - position.mean(axis=0)
    return abs(float((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum() / 6))
