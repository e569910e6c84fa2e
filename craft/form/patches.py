"""Every stitch as a patch of five corners, and every chain as a thin one: what pictures and files draw."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from craft.form.net import Curve, Net
from craft.form.shape import Form

__all__ = ["Patches", "patches_of"]

Floats = NDArray[np.float64]
MOST_REACH = 1.0
"""How far along the edge below a patch goes at most, in stitches: beyond it lies a hole."""
CHAIN_BREADTH = 0.35


@dataclass(frozen=True, slots=True, eq=False)
class Patches:
    """`corners` (P, 5, 3) in mm: foot left, foot right, top right, top middle, top left. `stitch` (P,): its
    stitch; `is_chain` (P,).
    """

    corners: Floats
    stitch: NDArray[np.int32]
    is_chain: NDArray[np.bool_]


def patches_of(form: Form) -> Patches:
    """The patches of a settled shape, in the order made."""
    net = form.net
    foot = _feet(net)
    corners, stitches, chains = [], [], []
    for curve in net.curves:
        quads, knots, thin = _of_curve(net, form.position, curve, foot)
        corners.append(quads)
        stitches.append(net.stitch[knots])
        chains.append(thin)
    if not corners:
        return Patches(np.zeros((0, 5, 3)), np.zeros(0, np.int32), np.zeros(0, bool))
    return Patches(np.concatenate(corners), np.concatenate(stitches).astype(np.int32), np.concatenate(chains))


def _feet(net: Net) -> NDArray[np.int32]:
    """For each knot its row in `up_child`, -1 for none."""
    row = np.full(net.size, -1, np.int32)
    row[net.up_child] = np.arange(len(net.up_child))
    return row


def _of_curve(
    net: Net, position: Floats, curve: Curve, foot: NDArray[np.int32]
) -> tuple[Floats, NDArray[np.int32], NDArray[np.bool_]]:
    knots = curve.knots
    here = position[knots]
    left, right = _beside(here, curve, net.gauge.stitch_mm)
    rows = foot[knots]
    hung = rows >= 0
    quads = np.zeros((len(knots), 5, 3))
    quads[:, 2], quads[:, 3], quads[:, 4] = right, here, left
    low, high = _foot_places(net, curve, hung)
    quads[hung, 0] = _points(net, position, knots[hung], low[hung], rows[hung])
    quads[hung, 1] = _points(net, position, knots[hung], high[hung], rows[hung])
    thin = ~hung
    across = _across(here, curve) * net.gauge.stitch_mm * CHAIN_BREADTH
    quads[thin, 0], quads[thin, 1] = left[thin] - across[thin], right[thin] - across[thin]
    raised = across[thin] * 0.2
    quads[thin, 2], quads[thin, 3], quads[thin, 4] = (
        right[thin] + raised,
        here[thin] + raised,
        left[thin] + raised,
    )
    return quads, knots, thin


def _beside(here: Floats, curve: Curve, width: float) -> tuple[Floats, Floats]:
    """Half way to the neighbours, at most half a stitch and a little."""
    before, after = np.roll(here, 1, axis=0), np.roll(here, -1, axis=0)
    if not curve.closed:
        before[0] = 2 * here[0] - (here[1] if len(here) > 1 else here[0] + (width, 0, 0))
        after[-1] = 2 * here[-1] - (here[-2] if len(here) > 1 else here[-1] - (width, 0, 0))
    most = 0.65 * width
    return here + _short((before - here) / 2, most), here + _short((after - here) / 2, most)


def _short(way: Floats, most: float) -> Floats:
    length = np.linalg.norm(way, axis=1, keepdims=True)
    found: Floats = way * np.minimum(1.0, most / np.maximum(length, 1e-9))
    return found


def _foot_places(net: Net, curve: Curve, hung: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Where on the edge below each stitch begins and ends."""
    at = net.at[curve.knots]
    below = net.below[curve.knots]
    around = np.array([len(net.curves[b].knots) if b >= 0 and net.curves[b].closed else 0 for b in below])
    back = _steps(at - np.roll(at, 1), below, np.roll(below, 1), around)
    ahead = _steps(np.roll(at, -1) - at, below, np.roll(below, -1), around)
    both = np.where(np.isnan(back), np.where(np.isnan(ahead), 1.0, ahead), back)
    other = np.where(np.isnan(ahead), both, ahead)
    return at - np.clip(both / 2, -MOST_REACH, MOST_REACH), at + np.clip(other / 2, -MOST_REACH, MOST_REACH)


def _steps(step: Floats, one: NDArray[np.int32], two: NDArray[np.int32], around: NDArray[np.int64]) -> Floats:
    step = np.where((around > 0) & (step > around / 2), step - around, step)
    step = np.where((around > 0) & (step < -around / 2), step + around, step)
    return np.where((one == two) & (one >= 0) & (np.abs(step) < 4), step, np.nan)


def _points(
    net: Net, position: Floats, knots: NDArray[np.int32], at: Floats, rows: NDArray[np.int32]
) -> Floats:
    """Points on the edges below, for stitches in a ring its middle."""
    out: Floats = position[net.up_edge[rows, 0]].copy()
    below = net.below[knots]
    for number in np.unique(below[below >= 0]).tolist():
        under = net.curves[number]
        some = below == number
        points = position[under.knots]
        for axis in range(3):
            out[some, axis] = _on(points[:, axis], at[some], closed=under.closed)
    return out


def _on(values: Floats, at: Floats, *, closed: bool) -> Floats:
    """Values between those of a curve; an open one goes on straight at its ends."""
    number = len(values)
    if closed:
        around: Floats = np.interp(np.mod(at, number), np.arange(number + 1), np.append(values, values[0]))
        return around
    found: Floats = np.interp(at, np.arange(number), values)
    if number >= 2:
        found += np.minimum(at, 0) * (values[1] - values[0])
        found += np.maximum(at - (number - 1), 0) * (values[-1] - values[-2])
    return found


def _across(here: Floats, curve: Curve) -> Floats:
    """A direction across a chain, for its breadth: square to its way and as far from the middle as may be."""
    ahead, back = np.roll(here, -1, axis=0), np.roll(here, 1, axis=0)
    way = ahead - back
    if not curve.closed and len(here) > 1:
        way[0], way[-1] = here[1] - here[0], here[-1] - here[-2]
    way = way / np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
    out = here - here.mean(axis=0)
    out = out - (out * way).sum(axis=1, keepdims=True) * way
    found: Floats = out / np.maximum(np.linalg.norm(out, axis=1, keepdims=True), 1e-9)
    return found
