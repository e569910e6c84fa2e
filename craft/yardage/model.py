"""Yarn that a piece needs, from its stitch tallies.

Bounds are log-normal. One piece with a known gauge has log standard deviation 0.17; one with a
gauge worked out from hook and yarn 0.18; the error is shared by all stitches of a piece and by all
pieces in one yarn, so it never shrinks with their number. Thin evidence for a kind of stitch, dense
jumbo yarn and very loose work widen it. The safe length stretches the upper tail by TAIL, because
published pieces that took more than predicted did so by a little more than a log-normal allows: one
in twenty by over 35 %.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from craft.yardage.calibration import Calibration
from craft.yardage.gauge import Cell, cell_of, model_gauge, thickness_mm
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

__all__ = ["TAIL", "estimate", "tally_for_area"]

SIGMA: Final = {GaugeSource.MEASURED: 0.17, GaugeSource.STATED: 0.17, GaugeSource.MODELLED: 0.18}
Z_80: Final = NormalDist().inv_cdf(0.9)
TAIL: Final = math.log(1.35) / (NormalDist().inv_cdf(0.95) * 0.17)
"""Stretch of the upper tail: at log sd 0.17 one in twenty needs 35 % more than the median
(log-normal: 32 %).
"""
OPEN_FACTOR: Final = 0.85
"""Yarn of stitches worked into chain spaces of an open fabric, against the same stitches in a solid one."""
CARRIED_WIDTHS: Final = 1.03
END_M: Final = 0.15
WHIP_SEAM: Final = 2.75
"""Yarn by length of seam: 2.5 to 3. Ends and seams are rules of the trade, not measured."""
LOOSE: Final = 0.135
"""Thickness by stitch width below which work is loose for its yarn; usual is 0.15 to 0.2."""
JUMBO_TEX: Final = 2500.0
ODD_SIGMA: Final = 0.15
OTHER_WORKING_SIGMA: Final = 0.05
UNKNOWN_SIGMA: Final = 0.5


@dataclass(frozen=True, slots=True)
class _Path:
    """The way of the hook through one tally: length of one piece in m, its spread, what is odd about it."""

    length_m: float
    sigma: float
    unknown: tuple[str, ...]
    notes: frozenset[Note]
    sc_mm: float


@dataclass(frozen=True, slots=True)
class _Share:
    """What one yarn gives to one path: so many strands of it."""

    path: _Path
    strands: int


def estimate(
    tallies: Mapping[str, Tally],
    *,
    yarns: Mapping[str, Yarn],
    gauge: Gauge | None = None,
    hook_mm: float | None = None,
    extras: Mapping[str, Extras] | None = None,
    working: Working | None = None,
    calibration: Calibration | None = None,
) -> YarnEstimate:
    """Estimate the yarn of a piece, colour by colour.

    `tallies`: colour -> stitches of one piece by US name. `yarns`: colour -> yarn. `gauge` None: worked out
    from `hook_mm` and the yarn of the first colour, with a wider spread. `extras`: yarn -> seams, fringe,
    ends. Raises InvalidYardageError.
    """
    working = working or Working()
    counted = {colour: _counts(tally) for colour, tally in tallies.items()}
    _check(counted, yarns, working)
    strands = {colour: _strands(colour, yarns, working) for colour in counted}
    gauge = gauge or _model(counted, strands, yarns, hook_mm)
    cell = cell_of(gauge)
    shares: dict[str, list[_Share]] = {}
    for colour, counts in counted.items():
        held = strands[colour]
        path = _path(counts, cell, [yarns[name] for name in held], working.cloth)
        for name in dict.fromkeys(held):
            shares.setdefault(name, []).append(_Share(path, held.count(name)))
    answer = _Answer(cell, gauge, working, calibration)
    colours = tuple(
        answer.colour(name, yarns[name], given, (extras or {}).get(name, Extras()))
        for name, given in shares.items()
    )
    return YarnEstimate(colours, gauge, working.pieces, working.risk)


def tally_for_area(us_name: str, width_mm: float, height_mm: float, gauge: Gauge) -> dict[str, int]:
    """Return the stitches of a plain rectangle: how many cells of the stitch cover it."""
    cell = cell_of(gauge)
    wide = math.floor(width_mm / cell.width_mm + 0.5)
    return {us_name: wide * math.floor(height_mm / cell.height_mm(us_name) + 0.5)}


def _counts(tally: Tally) -> dict[str, int]:
    """Add up a tally's pairs."""
    pairs: Iterable[tuple[str, int]] = tally.items() if isinstance(tally, Mapping) else tally
    counts: dict[str, int] = {}
    for name, count in pairs:
        counts[name] = counts.get(name, 0) + count
    return counts


def _check(counted: Mapping[str, Mapping[str, int]], yarns: Mapping[str, Yarn], working: Working) -> None:
    if not counted:
        raise InvalidYardageError("There are no stitches to count yarn for.")
    if any(count < 0 for counts in counted.values() for count in counts.values()):
        raise InvalidYardageError("A stitch cannot be made fewer than no times.")
    if working.pieces < 1:
        raise InvalidYardageError("Ask for at least one piece.")
    if not 0 < working.risk < 0.5:
        raise InvalidYardageError("The chance of running out has to lie between 0 and one half.")
    for colour, yarn in yarns.items():
        _check_yarn(colour, yarn)


def _check_yarn(colour: str, yarn: Yarn) -> None:
    if not (math.isfinite(yarn.metres_per_100g) and yarn.metres_per_100g > 0):
        raise InvalidYardageError(f"The yarn “{colour}” needs a length per 100 g above nought.")
    if yarn.ball_g is not None and not (math.isfinite(yarn.ball_g) and yarn.ball_g > 0):
        raise InvalidYardageError(f"A ball of “{colour}” has to weigh more than nothing.")
    if yarn.strands < 1:
        raise InvalidYardageError(f"At least one strand of “{colour}” is held.")


def _strands(colour: str, yarns: Mapping[str, Yarn], working: Working) -> tuple[str, ...]:
    """Names of the yarns held together for a tally, one per strand."""
    names = working.held.get(colour)
    if names is None:
        names = (colour,) * yarns[colour].strands if colour in yarns else (colour,)
    missing = next((name for name in names if name not in yarns), None)
    if not names or missing is not None:
        raise InvalidYardageError(f"No yarn is given for the colour “{missing or colour}”.")
    return names


def _model(
    counted: Mapping[str, Mapping[str, int]],
    strands: Mapping[str, tuple[str, ...]],
    yarns: Mapping[str, Yarn],
    hook_mm: float | None,
) -> Gauge:
    """Gauge from the hook and the first colour's yarn, in the stitch that the piece has most of."""
    if hook_mm is None:
        raise InvalidYardageError("Give a gauge, or the hook from which to work one out.")
    colour = next(iter(counted))
    tex = sum(yarns[name].tex for name in strands[colour])
    plain = ("sc", "hdc", "dc")
    most = max(plain, key=lambda us: sum(counts.get(us, 0) for counts in counted.values()))
    return model_gauge(most, hook_mm, tex)


def _path(counts: Mapping[str, int], cell: Cell, strands: list[Yarn], cloth: Cloth) -> _Path:
    """Length, spread and oddities of one tally."""
    thickness = thickness_mm(strands)
    lengths: dict[str, tuple[float, LengthRule]] = {}
    for name in counts:
        if (rule := length_rule(name)) is not None:
            height = cell.height_mm(rule.height_of)
            per_stitch = rule.length_mm(cell.width_mm, height, cell.sc_height_mm, thickness)
            lengths[name] = (counts[name] * per_stitch * _openness(rule, cloth), rule)
    unknown = tuple(name for name in counts if name not in lengths and counts[name])
    known_mm = sum(length for length, _ in lengths.values())
    unknown_mm = _unknown_mm(counts, unknown, known_mm)
    total_mm = known_mm + unknown_mm
    sigma = math.hypot(_thin_sigma(lengths.values(), total_mm), UNKNOWN_SIGMA * _part(unknown_mm, total_mm))
    notes, odd = _oddities(strands, thickness, cell)
    if unknown:
        notes |= {Note.UNKNOWN_STITCHES}
    if sigma > 0.05:
        notes |= {Note.THIN_EVIDENCE}
    sc_mm = _sc_mm(cell, thickness)
    return _Path(total_mm / 1000, math.hypot(sigma, odd), unknown, notes, sc_mm)


def _openness(rule: LengthRule, cloth: Cloth) -> float:
    """Factor for open work; chains and slip stitches stay as they are."""
    return OPEN_FACTOR if cloth is Cloth.OPEN and rule.k > 0 else 1.0


def _unknown_mm(counts: Mapping[str, int], unknown: tuple[str, ...], known_mm: float) -> float:
    """Unknown stitches count as the average of the known ones."""
    missing = sum(counts[name] for name in unknown)
    known = sum(counts.values()) - missing
    if missing and not known:
        raise InvalidYardageError(f"None of the stitches is known, such as “{unknown[0]}”: use US names.")
    return known_mm / known * missing if missing else 0.0


def _part(part: float, whole: float) -> float:
    return part / whole if whole > 0 else 0.0


def _thin_sigma(lengths: Iterable[tuple[float, LengthRule]], total_mm: float) -> float:
    """Spread from rules of thin evidence: errors add up within a group, and in squares between groups."""
    groups: dict[str, float] = {}
    for length, rule in lengths:
        groups[rule.group] = groups.get(rule.group, 0.0) + _part(length, total_mm) * rule.sigma
    return math.hypot(*groups.values()) if groups else 0.0


def _oddities(strands: list[Yarn], thickness: float, cell: Cell) -> tuple[frozenset[Note], float]:
    """Notes and added spread for yarns and gauges that the model knows little of."""
    notes: set[Note] = set()
    if sum(yarn.tex for yarn in strands) > JUMBO_TEX:
        notes.add(Note.DENSE_JUMBO)
    if thickness / cell.width_mm < LOOSE:
        notes.add(Note.LOOSE_FOR_THE_YARN)
    sigma = ODD_SIGMA if notes else 0.0
    if any(not yarn.fibres for yarn in strands):
        notes.add(Note.FIBRE_ASSUMED)
    return frozenset(notes), sigma


def _sc_mm(cell: Cell, thickness: float) -> float:
    rule = length_rule("sc")
    if rule is None:
        raise AssertionError("single crochet is in the tables")
    return rule.length_mm(cell.width_mm, cell.sc_height_mm, cell.sc_height_mm, thickness)


@dataclass(frozen=True, slots=True)
class _Answer:
    """What all colours of one estimate share."""

    cell: Cell
    gauge: Gauge
    working: Working
    calibration: Calibration | None

    def colour(self, name: str, yarn: Yarn, shares: list[_Share], extras: Extras) -> ColourEstimate:
        """Put one yarn's paths and extras together."""
        factor = 1.0 if self.calibration is None else self.calibration.factor
        strands = max(share.strands for share in shares)
        stitch_m = factor * sum(share.path.length_m * share.strands for share in shares)
        carried_m = factor * extras.carried_stitches * CARRIED_WIDTHS * self.cell.width_mm / 1000 * strands
        worked_m = (stitch_m + carried_m) * self.working.pieces
        extra_m = self._extra_m(yarn, shares, extras, strands) * self.working.pieces
        sigma = self._sigma(shares)
        metres = _spread(worked_m, sigma, extra_m)
        z = NormalDist().inv_cdf(1 - self.working.risk)
        safe_m = worked_m * math.exp(TAIL * z * sigma) + extra_m * math.exp(z * ODD_SIGMA)
        balls = _balls(safe_m, yarn, strands)
        grams = 100.0 / yarn.metres_per_100g
        return ColourEstimate(
            name,
            metres,
            metres.times(grams),
            safe_m,
            safe_m * grams,
            balls,
            sigma,
            worked_m,
            extra_m,
            strands,
            tuple(dict.fromkeys(word for share in shares for word in share.path.unknown)),
            self._notes(yarn, shares, extras, balls, strands),
        )

    def _extra_m(self, yarn: Yarn, shares: list[_Share], extras: Extras, strands: int) -> float:
        """Ends, joins and seams of one piece, once per strand; fringe and the like as counted."""
        path = shares[0].path
        ends = 2 if extras.ends is None else extras.ends
        joins = extras.joins
        if joins is None:
            strand_m = max(share.path.length_m for share in shares)
            joins = 0 if yarn.ball_m is None else max(0, math.ceil(strand_m / yarn.ball_m) - 1)
        seams_mm = WHIP_SEAM * extras.whip_seam_mm + extras.crochet_seam_mm / self.cell.width_mm * path.sc_mm
        fringe_m = extras.fringe_strands * extras.fringe_cut_mm / 1000
        return strands * (END_M * (ends + 2 * joins) + seams_mm / 1000) + fringe_m + extras.other_m

    def _sigma(self, shares: list[_Share]) -> float:
        """Log standard deviation of a colour: its base, what its stitches add, how it is worked."""
        base = SIGMA[self.gauge.source] if self.calibration is None else self.calibration.predictive_sd
        total = sum(share.path.length_m * share.strands for share in shares)
        own = (
            sum(share.path.sigma * share.path.length_m * share.strands for share in shares) / total
            if total > 0
            else 0.0
        )
        return math.hypot(base, own, OTHER_WORKING_SIGMA if self._worked_otherwise() else 0.0)

    def _worked_otherwise(self) -> bool:
        """Rounds are a little taller than rows: a gauge from the other way of working says less."""
        asked, swatch = self.working.in_rounds, self.gauge.in_rounds
        return asked is not None and swatch is not None and asked != swatch

    def _notes(
        self, yarn: Yarn, shares: list[_Share], extras: Extras, balls: int | None, strands: int
    ) -> tuple[Note, ...]:
        found = set().union(*(share.path.notes for share in shares))
        conditions = {
            Note.GAUGE_MODELLED: self.gauge.source is GaugeSource.MODELLED,
            Note.GAUGE_ROWS_MODELLED: self.gauge.rows_per_100mm is None,
            Note.GAUGE_OTHER_WORKING: self._worked_otherwise(),
            Note.ENDS_ASSUMED: extras.ends is None,
            Note.BALL_UNKNOWN: balls is None,
            Note.SPLIT_A_BALL: balls is not None and balls % strands != 0,
            Note.CALIBRATED: self.calibration is not None and self.calibration.observations > 0,
        }
        found |= {note for note, holds in conditions.items() if holds}
        return tuple(note for note in Note if note in found)


def _spread(worked_m: float, sigma: float, extra_m: float) -> Spread:
    """80 % range: the worked part by its own spread, ends and seams by a modest one."""
    low, high = (
        worked_m * math.exp(sign * Z_80 * sigma) + extra_m * math.exp(sign * Z_80 * ODD_SIGMA)
        for sign in (-1, 1)
    )
    return Spread(low, worked_m + extra_m, high)


def _balls(safe_m: float, yarn: Yarn, strands: int) -> int | None:
    """Whole balls for a length; each strand held at once comes from a ball of its own."""
    if yarn.ball_m is None:
        return None
    return max(strands, math.ceil(safe_m / yarn.ball_m - 1e-9))
