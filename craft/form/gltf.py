"""A settled shape as one binary glTF 2.0 file (.glb), with colours at the corners.

Written after the Khronos glTF 2.0 specification (registry.khronos.org/glTF/specs/2.0): a header of twelve
bytes, one JSON chunk padded with spaces, one binary chunk padded with noughts. Lengths are metres and y is
up, as there.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from craft.form.patches import patches_of
from craft.form.picture import Colour
from craft.form.shape import Form

__all__ = ["glb_of"]

_FLOAT, _BYTE, _UINT = 5126, 5121, 5125
_ARRAY, _ELEMENTS = 34962, 34963
_FANS = np.array([[0, 1, 2], [0, 2, 3], [0, 3, 4]])
"""The triangles of a patch of five corners."""


def glb_of(form: Form, yarns: Mapping[str, Colour], name: str = "") -> bytes:
    """The file. `yarns`: colour by the pattern's label, "" for where none is named; `name` of the mesh."""
    points, normals, colours, corners = _arrays(form, yarns)
    blobs = [points.tobytes(), normals.tobytes(), colours.tobytes(), corners.tobytes()]
    binary = b"".join(blob + b"\0" * (-len(blob) % 4) for blob in blobs)
    text = json.dumps(
        _document(points, normals, colours, corners, blobs, len(binary), name), separators=(",", ":")
    )
    head = text.encode()
    head += b" " * (-len(head) % 4)
    total = 12 + 8 + len(head) + 8 + len(binary)
    return b"".join(
        (
            struct.pack("<4sII", b"glTF", 2, total),
            struct.pack("<I4s", len(head), b"JSON"), head,
            struct.pack("<I4s", len(binary), b"BIN\0"), binary,
        )
    )  # fmt: skip


def _arrays(
    form: Form, yarns: Mapping[str, Colour]
) -> tuple[NDArray[np.float32], NDArray[np.float32], NDArray[np.uint8], NDArray[np.uint32]]:
    patches = patches_of(form)
    corners = patches.corners
    number = len(corners)
    across = np.cross(corners[:, 2] - corners[:, 0], corners[:, 4] - corners[:, 1])
    length = np.linalg.norm(across, axis=1, keepdims=True)
    across = np.where(length > 1e-9, across / np.maximum(length, 1e-9), (0.0, 0.0, 1.0))
    plain = yarns.get("", next(iter(yarns.values()), (196, 170, 140)))
    known = np.array([yarns.get(label, plain) for label in form.graph.colours] or [plain], np.uint8)
    own = known[form.graph.colour[patches.stitch]] if number else np.zeros((0, 3), np.uint8)
    colours = np.repeat(np.column_stack((own, np.full(number, 255, np.uint8))), 5, axis=0)
    triangles = (np.arange(number)[:, None, None] * 5 + _FANS).reshape(-1)
    return (
        _upright(corners.reshape(-1, 3) / 1000).astype("<f4"),
        _upright(np.repeat(across, 5, axis=0)).astype("<f4"),
        colours.astype(np.uint8),
        triangles.astype("<u4"),
    )


def _upright(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """From z up to y up."""
    return np.column_stack((points[:, 0], points[:, 2], -points[:, 1]))


def _document(
    points: NDArray[np.float32],
    normals: NDArray[np.float32],
    colours: NDArray[np.uint8],
    corners: NDArray[np.uint32],
    blobs: list[bytes],
    length: int,
    name: str,
) -> dict[str, Any]:
    starts, at = [], 0
    for blob in blobs:
        starts.append(at)
        at += len(blob) + -len(blob) % 4
    targets = (_ARRAY, _ARRAY, _ARRAY, _ELEMENTS)
    views = [
        {"buffer": 0, "byteOffset": start, "byteLength": len(blob), "target": target}
        for start, blob, target in zip(starts, blobs, targets, strict=True)
    ]
    low, high = (points.min(axis=0), points.max(axis=0)) if len(points) else (np.zeros(3), np.zeros(3))
    return {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [{"mesh": 0, "name": name}],
        "meshes": [
            {
                "name": name,
                "primitives": [
                    {"attributes": {"POSITION": 0, "NORMAL": 1, "COLOR_0": 2}, "indices": 3, "material": 0}
                ],
            }
        ],
        "materials": [
            {
                "doubleSided": True,
                "pbrMetallicRoughness": {"metallicFactor": 0.0, "roughnessFactor": 1.0},
            }
        ],
        "accessors": [
            {
                "bufferView": 0, "componentType": _FLOAT, "count": len(points), "type": "VEC3",
                "min": low.tolist(), "max": high.tolist(),
            },
            {"bufferView": 1, "componentType": _FLOAT, "count": len(normals), "type": "VEC3"},
            {
                "bufferView": 2, "componentType": _BYTE, "normalized": True,
                "count": len(colours), "type": "VEC4",
            },
            {"bufferView": 3, "componentType": _UINT, "count": len(corners), "type": "SCALAR"},
        ],
        "bufferViews": views,
        "buffers": [{"byteLength": length}],
    }  # fmt: skip
