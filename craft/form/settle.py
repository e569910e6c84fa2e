"""Settling a net: rest lengths, a little bending, and filling that presses outwards.

Projective dynamics (Bouaziz, Martin, Liu, Kavan and Pauly, "Projective Dynamics: Fusing Constraint
Projections for Fast Simulation", ACM Transactions on Graphics 33(4), 2014): every rest length is projected
for itself, then one linear system, factorised once, brings the knots to the best compromise. Its matrix is
the same for x, y and z, a third of the size of the coupled system.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.sparse.linalg import splu

from craft.form.net import Net

__all__ = ["CancelledError", "Settings", "Strains", "settle", "strains_of"]

Floats = NDArray[np.float64]


SPRING_OF_A_CHAIN = 0.0
"""How far a slack chain straightens by itself in a pass: ours."""


MOST_SAG = 0.3
MOST_LEAN = 3.0
BRACE = 0.6
"""How hard the two braces of a stitch hold, against 1 along the round: ours."""


class CancelledError(Exception):
    """The caller asked to stop."""


class Progress(Protocol):
    def __call__(self, part: float, /) -> bool:
        """Told how much is done, 0 to 1; False stops the work."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`bend`: how hard the fabric resists folding; `give`: `squeeze`: the parts by which stitches stretch and
    draw in without a pull; `press`: the stretch that filling gives a round, 0 for none; `passes`: at most so
    many; `still_mm`: the work ends when no knot moves more in a pass. All ours; nothing measured.
    """

    bend: float = 0.03
    give: float = 0.0
    squeeze: float = 0.02
    press: float = 0.0
    passes: int = 150
    still_mm: float = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Strains:
    """Length over rest length, less one, of the two kinds of holds; a slack chain has none."""

    along: Floats
    up: Floats


def settle(
    net: Net, start: Floats, settings: Settings, progress: Callable[[float], bool] | None = None
) -> Floats:
    """Positions (K, 3) of the knots at rest. Raises CancelledError when `progress` says so."""
    return _Solver(net, start, settings).run(progress)


def strains_of(net: Net, position: Floats) -> Strains:
    way = position[net.along[:, 1]] - position[net.along[:, 0]]
    along = np.linalg.norm(way, axis=1) / net.along_rest - 1
    along = np.where(net.rope, np.maximum(along, 0), along)
    leg, tangent = _legs(net, position)
    square = leg - (leg * tangent).sum(axis=1, keepdims=True) * tangent
    return Strains(along, np.linalg.norm(square, axis=1) / np.maximum(net.up_rest, 1e-9) - 1)


def _legs(net: Net, position: Floats) -> tuple[Floats, Floats]:
    """(from its place to the top of each stitch, the direction of the edge there)."""
    one, two = position[net.up_edge[:, 0]], position[net.up_edge[:, 1]]
    at = net.up_at[:, None]
    leg = position[net.up_child] - (1 - at) * one - at * two
    tangent = two - one
    length = np.linalg.norm(tangent, axis=1, keepdims=True)
    return leg, tangent / np.maximum(length, 1e-9)


class _Solver:
    def __init__(self, net: Net, start: Floats, settings: Settings) -> None:
        self.net, self.settings = net, settings
        self.position = start.copy()
        number = net.size
        self.along = _differences(net.along, number)
        self.brace = _hangers(np.tile(net.up_child, 2), net.brace_edge, net.brace_at, number)
        self.bend = sparse.vstack((_bends(net, number), _folds(net, number))).tocsr()
        self.brace_rest = _brace_rest(net, start)
        self.bend_rest = np.linalg.norm(self.bend @ start, axis=1)
        along_weights = sparse.diags(np.where(net.rope, 0.5, 1.0))
        self.inertia = 0.01
        matrix = (
            self.along.T @ along_weights @ self.along
            + BRACE * (self.brace.T @ self.brace)
            + settings.bend * (self.bend.T @ self.bend)
            + self.inertia * sparse.identity(number)
        )
        self.factor = splu(
            matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
        )
        self.along_back = (self.along.T @ along_weights).tocsr()
        self.brace_back = (BRACE * self.brace.T).tocsr()
        self.bend_back = (settings.bend * self.bend.T).tocsr()
        self.faces, self.caps = _faces(net) if settings.press else (np.zeros((0, 3), np.int32), 0)

    def run(self, progress: Callable[[float], bool] | None) -> Floats:
        settings = self.settings
        last = self.position.copy()
        for number in range(settings.passes):
            ahead = self.position + min(number / (number + 3), 0.9) * (self.position - last)
            new = self._pass(ahead)
            moved = float(np.abs(new - self.position).max()) if len(new) else 0.0
            too_far = ((new - ahead) * (self.position - new)).sum() > 0
            last = new if too_far else self.position  # too far: without swing again
            self.position = new
            if progress is not None and number % 5 == 0 and not progress(number / settings.passes):
                raise CancelledError
            if moved < settings.still_mm:
                break
        return self.position

    def _pass(self, position: Floats) -> Floats:
        right = self.along_back @ self._along_targets(position)
        right += self.brace_back @ self._brace_targets(position)
        right += self.bend_back @ self._bend_targets(position)
        right += self.inertia * position
        if self.settings.press:
            right += self._pressure(position)
        found: Floats = self.factor.solve(right)
        return found

    def _along_targets(self, position: Floats) -> Floats:
        way = self.along @ position
        length = np.linalg.norm(way, axis=1)
        rest = self.net.along_rest
        slack = np.minimum(length + SPRING_OF_A_CHAIN * (rest - length), rest)
        wanted = np.where(self.net.rope, slack, self._given(length, rest))
        found: Floats = way * (wanted / np.maximum(length, 1e-9))[:, None]
        return found

    def _brace_targets(self, position: Floats) -> Floats:
        way = self.brace @ position
        length = np.linalg.norm(way, axis=1)
        found: Floats = way * (self._given(length, self.brace_rest) / np.maximum(length, 1e-9))[:, None]
        return found

    def _given(self, length: Floats, rest: Floats) -> Floats:
        """The nearest length that asks no force."""
        found: Floats = np.clip(length, rest * (1 - self.settings.squeeze), rest * (1 + self.settings.give))
        return found

    def _bend_targets(self, position: Floats) -> Floats:
        """Bent as much as it was at the start, whichever way."""
        bent = self.bend @ position
        length = np.linalg.norm(bent, axis=1)
        found: Floats = bent * (self.bend_rest / np.maximum(length, 1e-9))[:, None]
        return found

    def _pressure(self, position: Floats) -> Floats:
        """Filling: every face is pressed outwards, the harder the smaller the body."""
        corners = position[self.faces]
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
        skin = len(self.faces) - self.caps  # what shuts a hole takes no press
        force = np.zeros_like(position)
        for corner in range(3):
            np.add.at(force, self.faces[:skin, corner], normal[:skin] / 3)
        volume = abs((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum() / 6)
        sign = np.sign((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum()) or 1.0
        radius = max((3 * volume / (4 * np.pi)) ** (1 / 3), self.net.gauge.stitch_mm)
        width, height = self.net.gauge.stitch_mm, self.net.gauge.row_mm
        each = self.settings.press * width / (height * radius)
        found: Floats = sign * each * force
        return found


def _differences(pairs: NDArray[np.int32], number: int) -> sparse.csr_matrix:
    rows = np.repeat(np.arange(len(pairs)), 2)
    values = np.tile([-1.0, 1.0], len(pairs))
    return sparse.csr_matrix((values, (rows, pairs.ravel())), shape=(len(pairs), number))


def _hangers(child: NDArray[np.int32], edge: NDArray[np.int32], at: Floats, number: int) -> sparse.csr_matrix:
    """From a point on an edge to the knot that hangs there."""
    count = len(child)
    rows = np.repeat(np.arange(count), 3)
    columns = np.column_stack((child, edge)).ravel()
    values = np.column_stack((np.ones(count), at - 1, -at)).ravel()
    return sparse.csr_matrix((values, (rows, columns)), shape=(count, number))


def _brace_rest(net: Net, start: Floats) -> Floats:
    """Rest lengths of the braces: the stitch's height, and as far aside as it stands at the start, at most so
    many stitches. An edge is round where the net has straight lines between its knots: within `MOST_SAG` the
    start knows better how long a brace is.
    """
    one, two = start[net.brace_edge[:, 0]], start[net.brace_edge[:, 1]]
    at = net.brace_at[:, None]
    way = start[np.tile(net.up_child, 2)] - (1 - at) * one - at * two
    _, tangent = _legs(net, start)
    most = MOST_LEAN * net.gauge.stitch_mm
    aside = np.clip((way * np.tile(tangent, (2, 1))).sum(axis=1), -most, most)
    plain = np.hypot(np.tile(net.up_rest, 2), aside)
    length = np.linalg.norm(way, axis=1)
    found: Floats = np.clip(length, plain * (1 - MOST_SAG), plain * (1 + MOST_SAG))
    return found


def _folds(net: Net, number: int) -> sparse.csr_matrix:
    """How each stitch bends away from the stitches that it stands on: its own way up less theirs."""
    up = _hangers(net.up_child, net.up_edge, net.up_at, number)
    count = len(net.up_child)
    place = sparse.csr_matrix((np.ones(count), (net.up_child, np.arange(count))), shape=(number, count))
    ways = place @ up
    hung = np.zeros(number, bool)
    hung[net.up_child] = True
    rows = np.flatnonzero(hung[net.up_edge].all(axis=1))
    feet = sparse.csr_matrix(
        (
            np.concatenate((1 - net.up_at[rows], net.up_at[rows])),
            (np.tile(np.arange(len(rows)), 2), np.concatenate((net.up_edge[rows, 0], net.up_edge[rows, 1]))),
        ),
        shape=(len(rows), number),
    )
    return (up[rows] - feet @ ways).tocsr()


def _bends(net: Net, number: int) -> sparse.csr_matrix:
    """Second differences along the rounds."""
    middles = []
    for curve in net.curves:
        knots = curve.knots
        if curve.closed:
            middles.append(np.column_stack((np.roll(knots, 1), knots, np.roll(knots, -1))))
        elif len(knots) > 2:
            middles.append(np.column_stack((knots[:-2], knots[1:-1], knots[2:])))
    three = np.concatenate(middles) if middles else np.zeros((0, 3), np.int32)
    rows = np.repeat(np.arange(len(three)), 3)
    values = np.tile([1.0, -2.0, 1.0], len(three))
    return sparse.csr_matrix((values, (rows, three.ravel())), shape=(len(three), number))


def _faces(net: Net) -> tuple[NDArray[np.int32], int]:
    from craft.form.skin import faces_of  # noqa: PLC0415 - only filled pieces need it

    return faces_of(net, capped=True)
