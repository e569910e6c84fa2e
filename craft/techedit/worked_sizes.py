"""Which finished measurements of a pattern its own rounds do not give: for checks D6, E3 and E4."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from statistics import median

from craft.fabric.gauge import Gauge
from craft.fabric.kinds import family
from craft.fabric.measure import PartSize, measure
from craft.fabric.model import Fabric, WorkedSection
from craft.techedit.case import Case
from craft.techedit.facts import Measure
from craft.techedit.finished import Comparison, compared, main_parts

__all__ = ["Held", "held_of", "is_alike"]

MAIN_SHARE = 0.6
"""The share of the stitches that the part measured must have, so that its size is the size of the piece."""
SLACK = 0.1
"""What is let pass beside half a stitch and a row: published sizes are rounded, blocked and worn. Ours."""


@dataclass(frozen=True, slots=True)
class Held:
    """One finished measurement with its comparison for each size, and the sizes that are off."""

    measure: Measure
    by_size: tuple[Comparison, ...]

    @property
    def off(self) -> tuple[Comparison, ...]:
        return tuple(each for each in self.by_size if not each.agrees and abs(each.part_off) > SLACK)

    @property
    def upright(self) -> bool:
        """Whether it goes by rows."""
        return self.by_size[0].upright

    @property
    def ratio(self) -> float:
        """Stated by worked, the middle of all sizes."""
        return median(1 + each.part_off for each in self.by_size)


def is_alike(held: Held) -> bool:
    """Whether three sizes or more are off by the same part, so that the gauge has the slip."""
    ratios = [1 + each.part_off for each in held.by_size]
    return len(ratios) >= 3 and all(abs(ratio - held.ratio) <= 0.04 * held.ratio for ratio in ratios)


def held_of(case: Case) -> tuple[Held, ...]:
    """Every finished measurement that a part in rounds answers to; () where the gauge is of other fabric."""
    return case.once("held measurements", lambda made: tuple(_held(made)))


def _held(case: Case) -> Iterator[Held]:
    gauge = _gauge(case)
    if gauge is None or not case.facts.measures or case.facts.kind == "garment" or _shaped(case):
        return
    parts = [part for part in main_parts(measure(case.fabric, gauge)) if _is_piece(case.fabric, part)]
    found = compared(case.facts.measures, parts, gauge)
    for _, together in groupby(found, key=lambda each: (id(each.measure), each.upright)):
        by_size = tuple(together)
        if not (by_size[0].upright and by_size[0].part.closed):  # how high a closed part is, its filling says
            yield Held(by_size[0].measure, by_size)


def _shaped(case: Case) -> bool:
    """Words that change the size after the last round."""
    return case.says_any(
        "fold", "folded", "cuff", "gather", "gathered", "felt", "felted", "ruffle", "stretch"
    )


def _gauge(case: Case) -> Gauge | None:
    """The first gauge, if it is of the stitch that most of the fabric is worked in."""
    gauge = case.facts.gauge
    main = [name for name in case.main_stitches if case.stitch_shares[name] >= 0.5]
    if gauge is None or gauge.repeats or gauge.fabric or not main or not gauge.stitches_per_10_cm:
        return None
    stitch = gauge.stitch or main[0]
    if family(stitch) != family(main[0]):
        return None
    rows = gauge.rows_per_10_cm
    width = 100 / gauge.stitches_per_10_cm
    return Gauge(
        width, 100 / rows if rows else width, stitch, gauge.in_the_round, height_spread=0 if rows else 0.3
    )


def _is_piece(fabric: Fabric, part: PartSize) -> bool:
    """Whether a part in rounds is nearly all of the fabric, so that its size is that of the piece."""
    if part.shape == "flat" or part.open_height or part.gaps:
        return False
    whole = sum(_stitches(section, part.size) for section in fabric.sections)
    return _stitches(fabric.sections[part.section_index], part.size) >= MAIN_SHARE * whole


def _stitches(section: WorkedSection, size: int) -> int:
    sized = (worked.per_size[size] for worked in section.rounds)
    return sum(each.total for each in sized if each is not None)
