"""What an estimate of yarn is asked with, and what it answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeAlias

__all__ = [
    "Cloth",
    "ColourEstimate",
    "Extras",
    "Gauge",
    "GaugeSource",
    "InvalidYardageError",
    "Note",
    "Spread",
    "Tally",
    "Working",
    "Yarn",
    "YarnEstimate",
]

Tally: TypeAlias = Mapping[str, int] | Iterable[tuple[str, int]]
"""Stitches by US name ("sc", "sl st", "dc2tog", "FPdc"), as a mapping or as pairs."""


class InvalidYardageError(ValueError):
    """An input from which no length of yarn can be worked out; the sentence says which and why."""


class GaugeSource(StrEnum):
    """Where a gauge comes from. The wider spread of a modelled one is part of every answer."""

    MEASURED = "measured"
    STATED = "stated"
    MODELLED = "modelled"


class Cloth(StrEnum):
    """Solid cloth, or an open one (mesh, V-stitches) whose stitches go into chain spaces."""

    SOLID = "solid"
    OPEN = "open"


class Note(StrEnum):
    """What the reader of an estimate should know. Sentences belong to the page that shows it."""

    GAUGE_MODELLED = "gauge-modelled"
    GAUGE_ROWS_MODELLED = "gauge-rows-modelled"
    GAUGE_OTHER_WORKING = "gauge-other-working"
    FIBRE_ASSUMED = "fibre-assumed"
    UNKNOWN_STITCHES = "unknown-stitches"
    THIN_EVIDENCE = "thin-evidence"
    DENSE_JUMBO = "dense-jumbo"
    LOOSE_FOR_THE_YARN = "loose-for-the-yarn"
    ENDS_ASSUMED = "ends-assumed"
    BALL_UNKNOWN = "ball-unknown"
    SPLIT_A_BALL = "split-a-ball"
    CALIBRATED = "calibrated"


@dataclass(frozen=True, slots=True)
class Gauge:
    """Gauge of one stitch: how many stitches and rows to 100 mm of flat fabric.

    `rows_per_100mm` None: taken from the usual proportion of that stitch. `row_heights_mm`
    overrides the row height of single stitches, for a fabric that packs two stitches into one row
    height. `in_rounds`: the swatch was worked in rounds (None: not said).
    """

    stitch: str
    stitches_per_100mm: float
    rows_per_100mm: float | None = None
    source: GaugeSource = GaugeSource.STATED
    in_rounds: bool | None = None
    row_heights_mm: Mapping[str, float] = field(default_factory=dict)

    @property
    def width_mm(self) -> float:
        """Width of one stitch, mm."""
        return 100.0 / self.stitches_per_100mm


@dataclass(frozen=True, slots=True)
class Yarn:
    """A yarn as its ball band has it.

    `fibres`: shares by mass, e.g. {"wool": 0.8, "nylon": 0.2}; empty: an average fibre is assumed.
    `ball_g`: net mass of one ball, g; None: balls are not counted. `strands`: how many strands of
    this yarn are held together throughout.
    """

    metres_per_100g: float
    fibres: Mapping[str, float] = field(default_factory=dict)
    ball_g: float | None = None
    strands: int = 1

    @property
    def tex(self) -> float:
        """Mass of one strand, g per km."""
        return 100_000.0 / self.metres_per_100g

    @property
    def ball_m(self) -> float | None:
        """Length of one ball, m."""
        return None if self.ball_g is None else self.ball_g * self.metres_per_100g / 100.0


@dataclass(frozen=True, slots=True)
class Extras:
    """Yarn of one colour beyond its stitches, for one piece.

    `ends` and `joins` None: two ends a colour, and a join for each ball begun. `carried_stitches`:
    stitches of another colour worked over this one. Seams in mm of seam; fringe in strands of a cut
    length. `other_m`: anything counted apart (pompons, tassels, cords), m.
    """

    ends: int | None = None
    joins: int | None = None
    carried_stitches: int = 0
    whip_seam_mm: float = 0.0
    crochet_seam_mm: float = 0.0
    fringe_strands: int = 0
    fringe_cut_mm: float = 0.0
    other_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Working:
    """How the piece is worked, and how many of it.

    `in_rounds`: the piece is worked in rounds (None: not said). `held`: tallies that several yarns
    are held together for, e.g. {"marl": ("sand", "sea")}; each of them gets its own length.
    `pieces`: equal pieces in the same yarns. `risk`: chance of running out that is acceptable, 0 <
    risk < 0.5.
    """

    cloth: Cloth = Cloth.SOLID
    in_rounds: bool | None = None
    held: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    pieces: int = 1
    risk: float = 0.05


@dataclass(frozen=True, slots=True)
class Spread:
    """A median with its 80 % range: one outcome in ten lies below `low`, one in ten above
    `high`.
    """

    low: float
    median: float
    high: float

    def __add__(self, other: Spread) -> Spread:
        """Add two spreads whose errors are shared, as in two colours of one maker's piece."""
        return Spread(self.low + other.low, self.median + other.median, self.high + other.high)

    def times(self, factor: float) -> Spread:
        """Scale by a positive factor."""
        return Spread(self.low * factor, self.median * factor, self.high * factor)


@dataclass(frozen=True, slots=True)
class ColourEstimate:
    """What one colour needs, for all pieces asked for.

    `metres` and `grams`: used. `safe_m`, `safe_g`: to have at hand so that the chance of running
    out is at most the risk asked for. `balls`: whole balls to buy for `safe_m` (None: ball size not
    known), never fewer than the strands held at once. `sigma`: log standard deviation behind the
    range. `stitch_m`, `extra_m`: the median split into stitches and the rest. `unknown`: stitch
    names that are not in the tables; they were taken as the average stitch of the colour.
    """

    colour: str
    metres: Spread
    grams: Spread
    safe_m: float
    safe_g: float
    balls: int | None
    sigma: float
    stitch_m: float
    extra_m: float
    strands: int
    unknown: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True)
class YarnEstimate:
    """The answer for all colours, in the order asked; `risk` is the chance of running out of a
    colour.
    """

    colours: tuple[ColourEstimate, ...]
    gauge: Gauge
    pieces: int
    risk: float

    def colour(self, name: str) -> ColourEstimate:
        """Return one colour's estimate. Raises KeyError."""
        for estimate in self.colours:
            if estimate.colour == name:
                return estimate
        raise KeyError(name)

    @property
    def metres(self) -> Spread:
        """All colours together, m."""
        return sum((each.metres for each in self.colours), Spread(0.0, 0.0, 0.0))

    @property
    def grams(self) -> Spread:
        """All colours together, g."""
        return sum((each.grams for each in self.colours), Spread(0.0, 0.0, 0.0))
