"""Finished measurements as stated, held against what the stitches come to.

A stated length agrees when it lies within half a stitch, one row or 2 % of a length worked out, whichever
is the largest, and the rounding that it is printed with (checks E3 and E4 of the trade).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from craft.fabric.gauge import Gauge
from craft.fabric.measure import Measured, PartSize, What
from craft.techedit.facts import Measure

__all__ = ["Comparison", "compared", "is_finished", "main_parts"]

_UP: Final = frozenset({What.HEIGHT, What.DEPTH, What.LENGTH})
_MEANT: Final[Mapping[str, tuple[What, ...]]] = {
    "around": (What.CIRCUMFERENCE, What.OPENING),
    "circumference": (What.CIRCUMFERENCE, What.OPENING),
    "diameter": (What.DIAMETER, What.ACROSS),
    "across": (What.DIAMETER, What.ACROSS, What.WIDTH, What.LENGTH),
    "square": (What.ACROSS, What.WIDTH, What.LENGTH),
    "wide": (What.WIDTH, What.DIAMETER, What.ACROSS),
    "width": (What.WIDTH, What.DIAMETER, What.ACROSS),
    "long": (What.LENGTH, What.HEIGHT, What.DEPTH),
    "length": (What.LENGTH, What.HEIGHT, What.DEPTH),
    "deep": (What.DEPTH, What.HEIGHT),
    "depth": (What.DEPTH, What.HEIGHT),
    "tall": (What.HEIGHT, What.DEPTH, What.LENGTH),
    "high": (What.HEIGHT, What.DEPTH, What.LENGTH),
    "height": (What.HEIGHT, What.DEPTH, What.LENGTH),
}
_ROUNDED_CM: Final = 0.3
"""Half the step that centimetres are printed with, and a little."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """One stated length of one size, in cm, beside the nearest length of that kind that was worked out.
    `part` is where that was found. `parts_off`: stated / worked - 1.
    """

    measure: Measure
    size: int
    word: str
    stated_cm: float
    part: PartSize
    length: Measured
    agrees: bool

    @property
    def worked_cm(self) -> float:
        return self.length.mm / 10

    @property
    def upright(self) -> bool:
        """Whether it goes by rows rather than by stitches."""
        return self.length.what in _UP

    @property
    def part_off(self) -> float:
        return self.stated_cm / self.worked_cm - 1 if self.worked_cm else 0.0


def is_finished(measure: Measure) -> bool:
    """Whether a measurement is of the piece, not of whom it fits."""
    return not ({"fit", "body", "ease", "head", "chest", "bust"} & set(measure.name.split()))


def main_parts(parts: Sequence[PartSize]) -> tuple[PartSize, ...]:
    """The parts whose size is the size of the piece: each size's largest, by its widest round or row."""
    by_size: dict[int, PartSize] = {}
    for part in parts:
        kept = by_size.get(part.size)
        if kept is None or _bulk(part) > _bulk(kept):
            by_size[part.size] = part
    return tuple(by_size.values())


def _bulk(part: PartSize) -> float:
    along = max((each.mm for each in part.lengths if each.what in _UP), default=0.0)
    return (part.width or 0.0) * max(along, part.diameter or 0.0)


def compared(measures: Iterable[Measure], parts: Sequence[PartSize], gauge: Gauge) -> Iterator[Comparison]:
    """Hold every finished measurement against the parts given, size by size. What no length answers to is
    left out, and so are lengths that a gap or "until it measures" leaves open.
    """
    for measure in measures:
        word = next((word for word in reversed(measure.name.split()) if word in _MEANT), None)
        if word is None or not is_finished(measure):
            continue
        for part in parts:
            stated = _of_size(measure.cm, part.size)
            lengths = [x for what in _MEANT[word] if (x := part.of(what)) and not x.at_least]
            if stated and lengths:
                nearest = min(lengths, key=lambda each: abs(each.mm / 10 - stated))
                agrees = _agree(stated, nearest, gauge)
                yield Comparison(measure, part.size, word, stated, part, nearest, agrees)


def _of_size(values: Sequence[float], size: int) -> float | None:
    if len(values) == 1:
        return values[0]
    return values[size] if size < len(values) else None


def _agree(stated_cm: float, length: Measured, gauge: Gauge) -> bool:
    step = gauge.row_mm if length.what in _UP else gauge.stitch_mm / 2
    slack = max(step, 0.02 * length.mm) / 10 + _ROUNDED_CM
    return length.low / 10 - slack <= stated_cm <= length.high / 10 + slack
