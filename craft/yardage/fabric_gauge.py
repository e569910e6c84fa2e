"""The gauge of a fabric for measuring it: stated, or likely from hook and yarn with its spread.

This joins what the fabric may not know (yarn, hook) to what measures it (`craft.fabric.gauge.Gauge`).
"""

from __future__ import annotations

import math
from decimal import Decimal
from typing import Final

from craft.fabric.gauge import Gauge as FabricGauge
from craft.standards.yarn_weights import YARN_WEIGHTS, YarnWeight
from craft.yardage.gauge import SC_HEIGHT_BY_WIDTH, cell_of, model_gauge
from craft.yardage.values import Gauge

__all__ = ["fabric_gauge", "likely_gauge", "likely_gauge_of_hook", "likely_gauge_of_weight"]

MODEL_SD: Final = 0.105
"""Log standard deviation of the gauge model, the middle of its 0.07 to 0.14 (`craft.yardage.gauge`)."""
MAKER_SD: Final = 0.09
"""What another maker's tension adds, 8 to 10 % (the same)."""
TEN_TO_NINETY: Final = 1.2816
"""Standard deviations from the middle to the ends of an 80 % range."""
ROWS_SPREAD: Final = 0.09
"""80 % range of height by width where the rows are not given: medians of five yarn classes run from 0.87 to
0.93, single gauges about 7 % (`SC_HEIGHT_BY_WIDTH`).
"""


def fabric_gauge(gauge: Gauge) -> FabricGauge:
    """Return the stitch sizes of a stated gauge; rows that are not given are estimated. Raises
    InvalidYardageError.
    """
    cell = cell_of(gauge)
    name = "sc" if gauge.stitch.lower() == "tss" else gauge.stitch
    return FabricGauge(
        cell.width_mm,
        cell.height_mm(name),
        name,
        in_round=gauge.in_rounds,
        height_spread=ROWS_SPREAD if gauge.rows_per_100mm is None else 0.0,
    )


def likely_gauge(us_name: str, hook_mm: float, tex: float) -> FabricGauge:
    """Return the usual gauge of a stitch for a hook (mm) and a yarn (g per km, all strands together) with its
    80 % range. Raises InvalidYardageError.
    """
    modelled = fabric_gauge(model_gauge(us_name, hook_mm, tex))
    spread = math.expm1(TEN_TO_NINETY * math.hypot(MODEL_SD, MAKER_SD))
    return FabricGauge(
        modelled.stitch_mm, modelled.row_mm, modelled.stitch, width_spread=spread, height_spread=spread
    )


def likely_gauge_of_hook(hook_mm: float) -> FabricGauge | None:
    """Return a gauge for a hook alone, by the yarn weight that it is advised for; None for a steel or giant
    hook.
    """
    hook = Decimal(str(hook_mm))
    fitting = [weight for weight in YARN_WEIGHTS[1:] if weight.hook_mm.holds(hook)]
    if not fitting:
        return None
    return _of_range(min(_low(w) for w in fitting), max(_high(w) for w in fitting))


def likely_gauge_of_weight(category: int) -> FabricGauge:
    """Return a gauge for a yarn weight category 0 to 7: the council's range (Standard Yarn Weight System)."""
    weight = YARN_WEIGHTS[category]
    return _of_range(_low(weight), _high(weight), weight.gauge_stitch)


def _low(weight: YarnWeight) -> float:
    return float(weight.gauge.low) if weight.gauge.low is not None else 0.7 * _high(weight)


def _high(weight: YarnWeight) -> float:
    return float(weight.gauge.high) if weight.gauge.high is not None else 1.4 * float(weight.gauge.low or 1)


def _of_range(low: float, high: float, stitch: str = "sc") -> FabricGauge:
    """A gauge from stitches to 4 in."""
    narrow, wide = 101.6 / high, 101.6 / low
    width = (narrow + wide) / 2
    spread = max((wide - narrow) / (wide + narrow), 0.1)
    height = width * SC_HEIGHT_BY_WIDTH * (1.0 if stitch == "sc" else 2.0)
    return FabricGauge(width, height, stitch, width_spread=spread, height_spread=spread + 0.05)
