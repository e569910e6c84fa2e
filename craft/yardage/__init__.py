"""Fabric, gauge and yarn -> metres, grams and balls, with honest bounds."""

from craft.yardage.calibration import Calibration
from craft.yardage.model import estimate
from craft.yardage.values import (
    ColourEstimate,
    Extras,
    Fabric,
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
    "Calibration",
    "ColourEstimate",
    "Extras",
    "Fabric",
    "Gauge",
    "GaugeSource",
    "InvalidYardageError",
    "Note",
    "Spread",
    "Tally",
    "Working",
    "Yarn",
    "YarnEstimate",
    "estimate",
]
