"""Exact unit constants and the conversions at the edge of the house.

Inside, lengths are metres or millimetres and masses grams; yards, ounces and inches appear only
where a person reads or types them. Source: the international yard and pound agreement of 1959 (1 yd
= 0.9144 m, 1 lb = 0.45359237 kg), exact by definition.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

__all__ = [
    "GRAMS_PER_OUNCE",
    "GRAMS_PER_POUND",
    "METRES_PER_YARD",
    "MILLIMETRES_PER_INCH",
    "grams_to_ounces",
    "inches_to_millimetres",
    "metres_per_100g",
    "metres_to_yards",
    "millimetres_to_inches",
    "ounces_to_grams",
    "per_100mm_to_per_four_inches",
    "per_four_inches_to_per_100mm",
    "tex_of",
    "yards_to_metres",
]

METRES_PER_YARD: Final = Decimal("0.9144")
GRAMS_PER_OUNCE: Final = Decimal("28.349523125")
GRAMS_PER_POUND: Final = Decimal("453.59237")
MILLIMETRES_PER_INCH: Final = Decimal("25.4")
_FOUR_INCHES_MM: Final = 4 * MILLIMETRES_PER_INCH


def yards_to_metres(length_yd: Decimal) -> Decimal:
    """Turn yards into metres, exactly."""
    return length_yd * METRES_PER_YARD


def metres_to_yards(length_m: Decimal) -> Decimal:
    """Turn metres into yards, to the precision of the decimal context."""
    return length_m / METRES_PER_YARD


def ounces_to_grams(mass_oz: Decimal) -> Decimal:
    """Turn avoirdupois ounces into grams, exactly."""
    return mass_oz * GRAMS_PER_OUNCE


def grams_to_ounces(mass_g: Decimal) -> Decimal:
    """Turn grams into avoirdupois ounces."""
    return mass_g / GRAMS_PER_OUNCE


def inches_to_millimetres(length_in: Decimal) -> Decimal:
    """Turn inches into millimetres, exactly."""
    return length_in * MILLIMETRES_PER_INCH


def millimetres_to_inches(length_mm: Decimal) -> Decimal:
    """Turn millimetres into inches."""
    return length_mm / MILLIMETRES_PER_INCH


def per_four_inches_to_per_100mm(count: Decimal) -> Decimal:
    """Turn a gauge to 4 in into a gauge to 100 mm: 4 in are 101.6 mm, so it is a little smaller."""
    return count * 100 / _FOUR_INCHES_MM


def per_100mm_to_per_four_inches(count: Decimal) -> Decimal:
    """Turn a gauge to 100 mm into a gauge to 4 in."""
    return count * _FOUR_INCHES_MM / 100


def metres_per_100g(ball_m: Decimal, ball_g: Decimal) -> Decimal:
    """Return m per 100 g of a ball from its band."""
    return ball_m * 100 / ball_g


def tex_of(length_m: Decimal, mass_g: Decimal) -> Decimal:
    """Return linear density in tex (g per km) from a length and its mass."""
    return mass_g * 1000 / length_m
