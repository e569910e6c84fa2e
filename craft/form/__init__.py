"""The settled shape of a piece: stitches as a net of rest lengths, brought to rest.

from craft.fabric.graph import pieces
from craft.form import settle_piece

form = settle_piece(fabric, pieces(fabric)[0], size=0, gauge=gauge)
print(form.size_mm, form.volume_mm3, form.worst())
"""

from craft.form.filling import Filling, SmallParts, filling_for, fits_small_parts
from craft.form.gltf import glb_of
from craft.form.picture import VIEWS, Colour, Painting, View, paint
from craft.form.settle import CancelledError
from craft.form.shape import TORN, Form, Strained, is_filled, settle_piece
from craft.form.turning import turning_data

__all__ = [
    "TORN",
    "VIEWS",
    "CancelledError",
    "Colour",
    "Filling",
    "Form",
    "Painting",
    "SmallParts",
    "Strained",
    "View",
    "filling_for",
    "fits_small_parts",
    "glb_of",
    "is_filled",
    "paint",
    "settle_piece",
    "turning_data",
]
