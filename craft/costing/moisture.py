"""Yarn by mass: part balls, and what a damp or dry room does to their weight.

Regain R = water by dry mass; moisture content = R/(1 + R). Textiles are conditioned at 20 °C and 65
% relative humidity (ISO 139). There is hysteresis, so the sound rule is to weigh a full ball of the
same yarn beside the part ball and use the ratio.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from craft.costing.values import InvalidCostError
from craft.yardage.part_ball import conditioned_mass

__all__ = [
    "PartBall",
    "invoice_mass",
    "length_of_part_ball",
    "mass_in_room",
    "moisture_content",
    "moisture_content_percent",
]


@dataclass(frozen=True, slots=True)
class PartBall:
    """Length of a part ball, m, give or take half a step of the scale."""

    length_m: Decimal
    uncertainty_m: Decimal


def length_of_part_ball(
    mass_g: Decimal,
    band_g: Decimal,
    band_m: Decimal,
    scale_step_g: Decimal = Decimal(1),
    tare_g: Decimal = Decimal(0),
) -> PartBall:
    """Return the exact length of a part ball from its mass and its band. `tare_g`: core or bag.

    `craft.yardage.part_ball` rounds it to what the scale allows, for the shelf.
    """
    if band_g <= 0 or band_m <= 0:
        raise InvalidCostError("The band needs a mass and a length above nought.")
    if mass_g < tare_g:
        raise InvalidCostError("The ball weighs less than its core.")
    return PartBall((mass_g - tare_g) * band_m / band_g, scale_step_g / 2 * band_m / band_g)


def moisture_content(regain: Decimal) -> Decimal:
    """Return water as a fraction of the whole mass from regain as a fraction."""
    return regain / (1 + regain)


def moisture_content_percent(regain_percent: Decimal) -> Decimal:
    """Return moisture content in per cent from regain in per cent."""
    return 100 * moisture_content(regain_percent / 100)


def mass_in_room(mass_g: Decimal, band_regain: Decimal, room_regain: Decimal) -> Decimal:
    """Return what yarn of an agreed mass weighs where it holds another share of water (fractions)."""
    return conditioned_mass(mass_g, band_regain, room_regain)


def invoice_mass(delivered_g: Decimal, measured_regain: Decimal, agreed_regain: Decimal) -> Decimal:
    """Return the mass to be paid for: dry mass with the agreed regain (fractions)."""
    return mass_in_room(delivered_g, measured_regain, agreed_regain)
