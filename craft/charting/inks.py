"""The colours in which symbols are drawn: the yarn's own where it shows on paper, else darkened.

WCAG 2.2, 1.4.11 asks 3 : 1 of needed graphics; thin strokes get 4.5 : 1 here. Colour is never the only cue:
letters stand where the colour changes, and each colour has a thickness of its own.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

__all__ = ["PLAIN", "Ink", "contrast_with_white", "inks"]

LEAST_CONTRAST: Final = 4.5
_HEX: Final = re.compile(r"^#[0-9a-fA-F]{6}$")
_OWN: Final = ("#1d1a16", "#9b2f26", "#27507f", "#6b4a2b", "#5f6a1e", "#6a3d78")
_WIDTHS: Final = (1.0, 1.55, 0.75, 1.3, 1.9, 0.6)


@dataclass(frozen=True, slots=True)
class Ink:
    """How one colour of yarn is drawn. `letter`: what the text calls it; `weight`: times the usual stroke."""

    letter: str
    hex_colour: str
    weight: float = 1.0


PLAIN: Final = Ink("", _OWN[0])


def inks(yarns: Sequence[tuple[str, str]]) -> Mapping[str, Ink]:
    """(letter, "#rrggbb" or "") in the order of the pattern -> letter -> ink."""
    return {
        letter: Ink(letter, _drawn(colour, place), _WIDTHS[place % len(_WIDTHS)])
        for place, (letter, colour) in enumerate(yarns)
    }


def _drawn(colour: str, place: int) -> str:
    return darkened(colour) if _HEX.match(colour) else _OWN[place % len(_OWN)]


def darkened(colour: str) -> str:
    """The same hue, dark enough for thin strokes on white."""
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    for share in range(100, -1, -2):
        found = f"#{red * share // 100:02x}{green * share // 100:02x}{blue * share // 100:02x}"
        if contrast_with_white(found) >= LEAST_CONTRAST:
            return found
    return "#000000"


def contrast_with_white(colour: str) -> float:
    """WCAG 2.2 contrast ratio of a colour "#rrggbb" with white."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (x / 12.92 if x <= 0.04045 else ((x + 0.055) / 1.055) ** 2.4 for x in parts)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)
