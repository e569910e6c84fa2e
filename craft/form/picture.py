"""A settled shape as flat coloured shapes, the far ones first: what any canvas can paint."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from craft.form.patches import Patches, patches_of
from craft.form.shape import Form

__all__ = ["VIEWS", "Painting", "View", "paint"]

Floats = NDArray[np.float64]
Colour = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class View:
    """From where: `turn` about the upright axis and `tilt` towards the eye, in degrees."""

    turn: float
    tilt: float


VIEWS: Mapping[str, View] = {
    "front": View(0, 12),
    "side": View(90, 12),
    "above": View(0, 85),
    "corner": View(35, 30),
}


@dataclass(frozen=True, slots=True, eq=False)
class Painting:
    """`points` (P, 5, 2) in a picture of `width` x `height`, `colours` (P, 3) of 0 to 255, far ones first.
    `creases` (P, 3, 2): the V of each stitch, from its top corners to its foot. `mm_per_unit`: for a scale.
    """

    points: Floats
    creases: Floats
    colours: NDArray[np.uint8]
    width: float
    height: float
    mm_per_unit: float


def paint(
    form: Form, yarns: Mapping[str, Colour], view: View, *, width: float = 1200, height: float = 900
) -> Painting:
    """Project, shade and sort. `yarns`: colour by the pattern's label, "" for where none is named."""
    patches = patches_of(form)
    turned = patches.corners.reshape(-1, 3) @ _turn(form, view).T
    corners = turned.reshape(-1, 5, 3)
    order = np.argsort(corners[:, :, 1].mean(axis=1))[::-1]
    colours = _shaded(corners, _yarn_of(form, patches, yarns))
    flat = np.stack((corners[:, :, 0], -corners[:, :, 2]), axis=2)
    points, scale = _fitted(flat, width, height)
    points = points[order]
    foot = points[:, :2].mean(axis=1)
    creases = np.stack((points[:, 4], foot, points[:, 2]), axis=1)
    return Painting(points, creases, colours[order], width, height, 1 / scale)


def _turn(form: Form, view: View) -> Floats:
    """Rotation so that x goes right, y away from the eye, z up. Flat pieces are looked at from above."""
    turn, tilt = np.radians(view.turn), np.radians(view.tilt)
    about = np.array([[np.cos(turn), np.sin(turn), 0], [-np.sin(turn), np.cos(turn), 0], [0, 0, 1]])
    towards = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
    found: Floats = towards @ about
    return found


def _yarn_of(form: Form, patches: Patches, yarns: Mapping[str, Colour]) -> Floats:
    graph = form.graph
    plain = yarns.get("", next(iter(yarns.values()), (196, 170, 140)))
    known = np.array([yarns.get(label, plain) for label in graph.colours] or [plain], float)
    found: Floats = known[graph.colour[patches.stitch]] if len(patches.stitch) else np.zeros((0, 3))
    return found


def _shaded(corners: Floats, colours: Floats) -> NDArray[np.uint8]:
    """Light from above on the left, the same on both sides of the fabric."""
    normal = np.cross(corners[:, 2] - corners[:, 0], corners[:, 4] - corners[:, 1])
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-9)
    normal *= np.where(normal[:, 1:2] > 0, -1.0, 1.0)  # towards the eye, which looks along y
    light = np.array([-0.35, -0.75, 0.56])
    bright = 0.55 + 0.5 * np.clip(normal @ light, 0, 1)
    shaded: NDArray[np.uint8] = np.clip(colours * bright[:, None], 0, 255).astype(np.uint8)
    return shaded


def _fitted(flat: Floats, width: float, height: float) -> tuple[Floats, float]:
    if not len(flat):
        return flat, 1.0
    low, high = flat.reshape(-1, 2).min(axis=0), flat.reshape(-1, 2).max(axis=0)
    reach = np.maximum(high - low, 1e-6)
    scale = float(min(width / reach[0], height / reach[1]) * 0.9)
    middle = (low + high) / 2
    return (flat - middle) * scale + (width / 2, height / 2), scale
