"""Colours as #rrggbb and their contrast.

Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines 2.2
(definitions "relative luminance" and "contrast ratio"; level AA asks 4.5 for text, 3 for
large text and for the edges of controls).
"""

import re
from typing import Final

TEXT_AA: Final = 4.5
EDGE_AA: Final = 3.0
WHITE: Final = "#fffdf7"
INK: Final = "#171411"
NIGHT: Final = "#1b1815"
NIGHT_CARD: Final = "#24201c"
PAPER: Final = "#faf6ec"

_HEX: Final = re.compile(r"#[0-9a-f]{6}")


def is_colour(text: str) -> bool:
    return bool(_HEX.fullmatch(text))


def channels(colour: str) -> tuple[int, int, int]:
    """'#24577a' gives (36, 87, 122)."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def luminance(colour: str) -> float:
    """From 0 (black) to 1 (white)."""
    red, green, blue = (_linear(channel / 255) for channel in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def contrast(one: str, other: str) -> float:
    """From 1 (the same) to 21 (black on white)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def text_on(colour: str) -> str:
    """Light or dark letters, whichever reads better on this colour."""
    return max((WHITE, INK), key=lambda letters: contrast(letters, colour))


def reads_on_paper(colour: str) -> bool:
    return min(contrast(colour, PAPER), contrast(colour, WHITE)) >= TEXT_AA


def darkened_for_paper(colour: str) -> str:
    """The same hue, mixed with black in small steps until it reads on the light pages."""
    shades = (_mixed(colour, share, 0) for share in range(0, 101, 4))
    return next((shade for shade in shades if reads_on_paper(shade)), "#000000")


def lightened_for_night(colour: str) -> str:
    """The same hue, mixed with white in small steps until it reads on the dark pages."""
    tints = (_mixed(colour, share, 255) for share in range(0, 101, 4))
    return next((tint for tint in tints if reads_at_night(tint)), "#ffffff")


def reads_at_night(colour: str) -> bool:
    return min(contrast(colour, NIGHT), contrast(colour, NIGHT_CARD)) >= TEXT_AA


def _mixed(colour: str, percent: int, end: int) -> str:
    """The colour with this much of black (end 0) or white (end 255) in it."""
    return "#" + "".join(f"{c + (end - c) * percent // 100:02x}" for c in channels(colour))
