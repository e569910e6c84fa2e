"""Cloth, gauge and yarn -> metres, grams and balls, with honest bounds."""

from craft.yardage.calibration import PIECE_NOISE, SWATCH_NOISE, Calibration, learn
from craft.yardage.gauge import model_gauge
from craft.yardage.model import estimate, tally_for_area
from craft.yardage.stitches import LengthRule, length_rule
from craft.yardage.values import (
    Cloth,
    ColourEstimate,
    Extras,
    Gauge,
    GaugeSource,
    InvalidYardageError,
    Note,
    Spread,
    Tally,
    Working,
    Yarn,
    YarnEstimate,
)

__all__ = [
    "PIECE_NOISE",
    "SWATCH_NOISE",
    "Calibration",
    "Cloth",
    "ColourEstimate",
    "Extras",
    "Gauge",
    "GaugeSource",
    "InvalidYardageError",
    "LengthRule",
    "Note",
    "Spread",
    "Tally",
    "Working",
    "Yarn",
    "YarnEstimate",
    "estimate",
    "learn",
    "length_rule",
    "model_gauge",
    "tally_for_area",
]
