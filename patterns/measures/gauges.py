"""The gauge that a pattern is measured by: its own, or a likely one from hook and yarn, said to be an
estimate.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum

from craft.fabric.gauge import UNKNOWN_GAUGE
from craft.fabric.gauge import Gauge as FabricGauge
from craft.fabric.model import Fabric
from craft.standards.terms import UnknownTermError, stitch
from craft.yardage import Gauge, InvalidYardageError
from craft.yardage.fabric_gauge import (
    fabric_gauge,
    likely_gauge,
    likely_gauge_of_hook,
    likely_gauge_of_weight,
)
from patterns.models import Pattern, PatternYarn

__all__ = ["Basis", "GaugeInUse", "gauge_in_use"]


class Basis(StrEnum):
    """What the gauge in use rests on, from the surest to a guess."""

    STATED = "stated"
    NO_ROWS = "no rows"
    HOOK_AND_YARN = "hook and yarn"
    HOOK = "hook"
    WEIGHT = "weight"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class GaugeInUse:
    """`stitch_taken`: the gauge names no stitch of the trade, so it is taken for this one ("" else)."""

    gauge: FabricGauge
    basis: Basis
    stitch_taken: str = ""


def gauge_in_use(pattern: Pattern, fabric: Fabric) -> GaugeInUse:
    """The stated gauge, or the best estimate that the fields allow."""
    if pattern.gauge_stitches_tenths:
        return _stated(pattern, fabric)
    yarn = pattern.yarns.select_related("yarn").first()
    return _likely(None if pattern.hook_um is None else pattern.hook_um / 1000, yarn)


def _stated(pattern: Pattern, fabric: Fabric) -> GaugeInUse:
    per_100mm = 10 / pattern.gauge_over_mm
    rows = pattern.gauge_rows_tenths
    name, taken = _stitch(pattern.gauge_stitch, fabric)
    gauge = Gauge(
        name,
        (pattern.gauge_stitches_tenths or 1) * per_100mm,
        rows * per_100mm if rows else None,
        in_rounds=pattern.gauge_in_round,
    )
    return GaugeInUse(fabric_gauge(gauge), Basis.STATED if rows else Basis.NO_ROWS, taken)


def _stitch(said: str, fabric: Fabric) -> tuple[str, str]:
    """The stitch of the gauge; where the trade has none of that name, the one most worked."""
    try:
        if said.strip() and stitch(said.strip()).height > 0:
            return stitch(said.strip()).us, ""
    except UnknownTermError:
        pass
    tally: Counter[str] = Counter(dict(fabric.tally[0]) if fabric.tally else {})
    plain = [name for name, _ in tally.most_common() if name in {"sc", "hdc", "dc", "tr"}]
    usual = plain[0] if plain else "sc"
    return usual, usual


def _likely(hook_mm: float | None, row: PatternYarn | None) -> GaugeInUse:
    yarn = row.yarn if row else None
    if hook_mm and row and yarn and yarn.metres_per_100g:
        tex = 100_000 / float(yarn.metres_per_100g) * row.strands
        try:
            return GaugeInUse(likely_gauge("sc", hook_mm, tex), Basis.HOOK_AND_YARN)
        except InvalidYardageError:  # a hook that no table has
            pass
    if hook_mm and (by_hook := likely_gauge_of_hook(hook_mm)) is not None:
        return GaugeInUse(by_hook, Basis.HOOK)
    if yarn is not None and yarn.weight_category is not None:
        return GaugeInUse(likely_gauge_of_weight(yarn.weight_category), Basis.WEIGHT)
    return GaugeInUse(UNKNOWN_GAUGE, Basis.NOTHING)
