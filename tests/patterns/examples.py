"""A small pattern that is right, the same in three sizes, and pictures made on the spot."""

from io import BytesIO

from PIL import Image

DISC = """\
Disc
Rnd 1: 6 sc in a magic ring. (6 sts)
Rnd 2: 2 sc in each st around. (12 sts)
Rnd 3: [Sc in next st, 2 sc in next st] 6 times. (18 sts)
"""

DISC_WRONG = DISC.replace("(18 sts)", "(19 sts)")

THREE_SIZES = """\
Band
Rnd 1: 6 (8, 10) sc in a magic ring. (6 (8, 10) sts)
Rnd 2: 2 sc in each st around. (12 (16, 20) sts)
"""


def picture(width: int = 640, height: int = 480, kind: str = "JPEG", **options: object) -> bytes:
    """A picture with a little in it, as a file."""
    image = Image.new("RGB", (width, height), (180, 190, 200))
    image.paste((40, 80, 120), (width // 4, height // 4, width // 2, height // 2))
    out = BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()
