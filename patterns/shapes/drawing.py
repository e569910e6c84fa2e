"""A settled shape as a picture in pixels."""

from __future__ import annotations

from io import BytesIO
from typing import Final

from PIL import Image, ImageDraw

from craft.form import VIEWS, Colour, Form, paint

__all__ = ["STILLS", "still"]

STILLS: Final = ("corner", "front", "side", "above")
"""The views kept as pictures."""

FINER: Final = 2  # drawn twice as large and made smaller, so that edges are smooth
MOST_CREASES: Final = 12_000


def still(form: Form, yarns: dict[str, Colour], view: str, width: int = 900, height: int = 675) -> bytes:
    """One view as PNG on a clear ground."""
    size = width * FINER, height * FINER
    painting = paint(form, yarns, VIEWS[view], width=size[0], height=size[1])
    image = Image.new("RGBA", size, (0, 0, 0, 0))
    draw = ImageDraw.Draw(image)
    stitch = form.net.gauge.stitch_mm / painting.mm_per_unit
    breadth = max(1, round(stitch / 4))
    creased = len(painting.points) <= MOST_CREASES and stitch > 5
    for points, crease, colour in zip(
        painting.points.tolist(), painting.creases.tolist(), painting.colours.tolist(), strict=True
    ):
        red, green, blue = colour
        dark = red * 7 // 10, green * 7 // 10, blue * 7 // 10
        draw.polygon([tuple(point) for point in points], fill=dark if creased else (red, green, blue))
        if creased:
            draw.line(
                [tuple(point) for point in crease], fill=(red, green, blue), width=breadth, joint="curve"
            )
    small = image.resize((width, height), Image.Resampling.LANCZOS)
    out = BytesIO()
    small.quantize(128, method=Image.Quantize.FASTOCTREE).save(out, "PNG", optimize=True)
    return out.getvalue()
