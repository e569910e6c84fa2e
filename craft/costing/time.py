"""How long the stitches of a piece take at the hook.

Paces per minute, turning and counting included, for a practised maker: reasoned from timed makers
and contests (a cowl of known counts 13 main stitches a minute, makers "going fast" 20, a counted
model in thread 5); no controlled comparison of stitches is known. Log standard deviation 0.4: scale
by the maker's own timed minute. Finishing (ends, seams, stuffing, faces) is added apart.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from craft.costing.values import InvalidCostError
from craft.yardage import Spread, length_rule

__all__ = ["PACE_PER_MINUTE", "TIME_SIGMA", "working_minutes"]

PACE_PER_MINUTE: Final = {"sc": 14.0, "hdc": 12.0, "dc": 10.0, "tr": 8.0, "ch": 30.0, "sl st": 18.0}
TIME_SIGMA: Final = 0.4
TIMED_SIGMA: Final = 0.15
Z_80: Final = 1.2816
_SC_K: Final = 14.0


def working_minutes(
    tally: Mapping[str, int], *, own_sc_per_minute: float | None = None, pieces: int = 1
) -> Spread:
    """Return the minutes that the stitches of `pieces` pieces take, with their 80 % range.

    `tally`: stitches by US name. `own_sc_per_minute`: the maker's own timed single crochets in a minute;
    the other paces follow it and the range narrows. Stitches without a pace take time by their yarn.
    """
    if own_sc_per_minute is not None and own_sc_per_minute <= 0:
        raise InvalidCostError("A pace has to be above nought.")
    pace = 1.0 if own_sc_per_minute is None else own_sc_per_minute / PACE_PER_MINUTE["sc"]
    sigma = TIME_SIGMA if own_sc_per_minute is None else TIMED_SIGMA
    minutes = pieces * sum(count * _minutes_each(name) for name, count in tally.items()) / pace
    return Spread(minutes * math.exp(-Z_80 * sigma), minutes, minutes * math.exp(Z_80 * sigma))


def _minutes_each(name: str) -> float:
    """Time of one stitch at the usual pace; others by their yarn in single crochets."""
    pace = PACE_PER_MINUTE.get(name)
    if pace is not None:
        return 1 / pace
    rule = length_rule(name)
    if rule is None:
        return 1 / PACE_PER_MINUTE["dc"]
    chains = rule.widths / 4.9 / PACE_PER_MINUTE["ch"]
    return chains + rule.k / _SC_K / PACE_PER_MINUTE["sc"]
