"""Lengths as patterns print them: centimetres to the half, inches to the quarter, in both units.

One rule of rounding for a house is asked for everywhere; this one (cm to 0.5, inches to 1/4) is common
practice, no source. Below 5 cm it would lose too much: there millimetres and eighths stand (ours).
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from craft.standards.units import MILLIMETRES_PER_INCH

__all__ = ["FINE_BELOW_MM", "centimetres", "inches", "printed_inches", "rounded_cm", "rounded_inches"]

FINE_BELOW_MM: Final = 50
_EIGHTHS: Final = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def rounded_cm(length_mm: float) -> Decimal:
    """Return centimetres to the nearest 0.5, below 5 cm to the nearest 0.1; halves go up."""
    step = Decimal(1) if abs(length_mm) < FINE_BELOW_MM else Decimal(5)
    return _to(Decimal(str(length_mm)), step) / 10


def rounded_inches(length_mm: float) -> Decimal:
    """Return inches to the nearest 1/4, below 5 cm to the nearest 1/8; halves go up."""
    step = Decimal("0.125") if abs(length_mm) < FINE_BELOW_MM else Decimal("0.25")
    return _to(Decimal(str(length_mm)) / MILLIMETRES_PER_INCH, step)


def centimetres(length_mm: float) -> str:
    """Such as "20", "4.5"; the decimal point of the English text."""
    return f"{rounded_cm(length_mm).normalize():f}"


def inches(length_mm: float) -> str:
    """Such as "7¾", "½", "0"."""
    return printed_inches(rounded_inches(length_mm))


def printed_inches(value: Decimal) -> str:
    """Inches that are whole eighths, with the fraction as one sign."""
    whole, eighths = divmod(int(value * 8), 8)
    return f"{whole or ''}{_EIGHTHS[eighths]}" or "0"


def _to(value: Decimal, step: Decimal) -> Decimal:
    return (value / step).quantize(Decimal(1), ROUND_HALF_UP) * step
