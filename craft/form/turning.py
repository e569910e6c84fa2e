"""A settled shape as plain numbers for a page that turns it."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any

import numpy as np

from craft.form.patches import patches_of
from craft.form.picture import Colour
from craft.form.shape import Form

__all__ = ["turning_data"]

STEPS = 30_000  # the greatest coordinate, in steps of a 16-bit whole number


def turning_data(form: Form, yarns: Mapping[str, Colour]) -> dict[str, Any]:
    """`corners`: 16-bit little-endian whole numbers in base64, five corners of x, y, z to a patch, about the
    middle; `mm`: millimetres a step; `yarn`: the colour of each patch as a byte in base64, into `colours`.
    """
    patches = patches_of(form)
    points = patches.corners.reshape(-1, 3)
    middle = (points.min(axis=0) + points.max(axis=0)) / 2 if len(points) else np.zeros(3)
    reach = float(np.abs(points - middle).max()) if len(points) else 1.0
    steps = np.round((points - middle) / max(reach, 1e-9) * STEPS).astype("<i2")
    plain = yarns.get("", next(iter(yarns.values()), (196, 170, 140)))
    return {
        "patches": len(patches.stitch),
        "corners": base64.b64encode(steps.tobytes()).decode(),
        "mm": reach / STEPS,
        "yarn": base64.b64encode(form.graph.colour[patches.stitch].astype(np.uint8).tobytes()).decode(),
        "round": base64.b64encode(form.graph.round_index[patches.stitch].astype("<u2").tobytes()).decode(),
        "colours": [list(yarns.get(label, plain)) for label in form.graph.colours] or [list(plain)],
    }
