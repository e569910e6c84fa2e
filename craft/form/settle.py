"""Settling a net: rest lengths, a little bending, and filling that presses outwards.

Projective dynamics (Bouaziz, Martin, Liu, Kavan and Pauly, "Projective Dynamics: Fusing Constraint Projections
for Fast Simulation", ACM Transactions on Graphics 33(4), 2014): every rest length is projected for itself, then
one linear system, factorised once, brings the knots to the best compromise. Its matrix is the same for x, y and
z, a third of the size of the coupled system.
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


class CancelledError(Exception):
    """The caller asked to stop."""


class Progress(Protocol):
    def __call__(self, part: float, /) -> bool:
        """Told how much is done, 0 to 1; False stops the work."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`lean`: how hard a stitch resists leaning sideways, as a part of its stretch; `bend`: how hard the fabric
    resists folding; `press`: the stretch that filling gives a round, 0 for none; `passes`: at most so many;
    `still_mm`: the work ends when no knot moves more in a pass. All ours; nothing measured.
    """

    lean: float = 0.1
    bend: float = 0.01
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
        self.up = _hangers(net, number)
        self.bend = _bends(net, number)
        self.weights = np.where(net.rope, 0.5, 1.0)
        self.inertia = 0.01
        matrix = (
            self.along.T @ sparse.diags(self.weights) @ self.along
            + self.up.T @ self.up
            + settings.bend * (self.bend.T @ self.bend)
            + self.inertia * sparse.identity(number)
        )
        self.factor = splu(matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
        self.along_back = (self.along.T @ sparse.diags(self.weights)).tocsr()
        self.up_back = self.up.T.tocsr()
        self.faces = _faces(net) if settings.press else np.zeros((0, 3), np.int32)

    def run(self, progress: Callable[[float], bool] | None) -> Floats:
        settings = self.settings
        last = self.position.copy()
        for number in range(settings.passes):
            ahead = self.position + min(number / (number + 3), 0.9) * (self.position - last)
            new = self._pass(ahead)
            moved = float(np.abs(new - self.position).max()) if len(new) else 0.0
            if ((new - ahead) * (self.position - new)).sum() > 0:
                last = new.copy()  # it went too far: without swing again
            else:
                last = self.position
            self.position = new
            if progress is not None and number % 5 == 0 and not progress(number / settings.passes):
                raise CancelledError
            if moved < settings.still_mm:
                break
        return self.position

    def _pass(self, position: Floats) -> Floats:
        right = self.along_back @ self._along_targets(position) + self.up_back @ self._up_targets(position)
        right += self.inertia * position
        if self.settings.press:
            right += self._pressure(position)
        found: Floats = self.factor.solve(right)
        return found

    def _along_targets(self, position: Floats) -> Floats:
        way = self.along @ position
        length = np.linalg.norm(way, axis=1)
        wanted = np.where(self.net.rope, np.minimum(length, self.net.along_rest), self.net.along_rest)
        found: Floats = way * (wanted / np.maximum(length, 1e-9))[:, None]
        return found

    def _up_targets(self, position: Floats) -> Floats:
        """The height square to the edge; most of the lean is let be."""
        leg, tangent = _legs(self.net, position)
        lean = (leg * tangent).sum(axis=1, keepdims=True) * tangent
        square = leg - lean
        length = np.linalg.norm(square, axis=1, keepdims=True)
        found: Floats = square * (self.net.up_rest[:, None] / np.maximum(length, 1e-9))
        found += (1 - self.settings.lean) * lean
        return found

    def _pressure(self, position: Floats) -> Floats:
        """Filling: every face is pressed outwards, the harder the smaller the body."""
        corners = position[self.faces]
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
        force = np.zeros_like(position)
        for corner in range(3):
            np.add.at(force, self.faces[:, corner], normal / 3)
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


def _hangers(net: Net, number: int) -> sparse.csr_matrix:
    count = len(net.up_child)
    rows = np.repeat(np.arange(count), 3)
    columns = np.column_stack((net.up_child, net.up_edge)).ravel()
    values = np.column_stack((np.ones(count), net.up_at - 1, -net.up_at)).ravel()
    return sparse.csr_matrix((values, (rows, columns)), shape=(count, number))


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


def _faces(net: Net) -> NDArray[np.int32]:
    from craft.form.skin import faces_of  # noqa: PLC0415 - only filled pieces need it

    return faces_of(net, capped=True)[0]
