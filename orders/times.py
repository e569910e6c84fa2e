"""How long a piece takes, learned from what was timed.

Single timings give a unit curve (the n-th piece), a timer over batches a cumulative average (Wright);
the two differ a lot, so each answer names its curve. Before five pieces no learning is assumed.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import log2
from statistics import mean

from craft.costing.learning import Curve, HoursKnown, LearningCurve, learn_hours
from orders.models import BatchState, Piece, TimeEntry

__all__ = ["How", "LearnedTime", "learned_times"]

FROM_PIECES = 5
MOST_UNITS = 500


class How(StrEnum):
    """Where a time comes from."""

    AVERAGE = "average"  # fewer than five pieces: their average, no learning assumed
    UNIT = "unit"  # single timings on a unit curve
    CUMULATIVE = "cumulative"  # batches on a cumulative average curve


@dataclass(frozen=True, slots=True)
class LearnedTime:
    """Minutes that the next piece takes. `low`, `high`: eight in ten by the unit curve, else least and most
    of what was timed. `pieces`: how many that rests on; `single`: timed one by one, not as a batch.
    """

    how: How
    single: bool
    pieces: int
    minutes: int
    low: int
    high: int


def learned_times(piece: Piece) -> tuple[LearnedTime, ...]:
    """What single timings say, then what batches say; either may be missing."""
    found = (_from_single(piece), _from_batches(piece))
    return tuple(each for each in found if each is not None)


def _from_single(piece: Piece) -> LearnedTime | None:
    timed = TimeEntry.objects.filter(piece=piece, pieces__gt=0).values_list("minutes", "pieces")
    each = [minutes / pieces for minutes, pieces in timed if pieces for _unit in range(pieces)]
    each = each[-MOST_UNITS:]
    if not each:
        return None
    if len(each) < FROM_PIECES:
        return _average(each, single=True, pieces=len(each))
    known = learn_hours(HoursKnown.prior(piece.minutes / 60), [minutes / 60 for minutes in each])
    low, high = known.unit_range(len(each) + 1)
    expected = known.unit(len(each) + 1)
    return LearnedTime(How.UNIT, True, len(each), _minutes(expected), _minutes(low), _minutes(high))


def _from_batches(piece: Piece) -> LearnedTime | None:
    """From finished batches, oldest first, by the time that was written down for each as a whole."""
    totals = _batch_totals(piece)
    if not totals:
        return None
    each = [minutes / pieces for pieces, minutes in totals]
    all_pieces = sum(pieces for pieces, _minutes_of in totals)
    if len(totals) < 2 or all_pieces < FROM_PIECES:
        return _average(each, single=False, pieces=all_pieces)
    expected = _next_by_average(totals)
    return LearnedTime(How.CUMULATIVE, False, all_pieces, round(expected), round(min(each)), round(max(each)))


def _batch_totals(piece: Piece) -> list[tuple[int, int]]:
    """(pieces, minutes) of each finished batch that was timed as a whole."""
    entries = TimeEntry.objects.filter(
        piece=piece, pieces=None, batch__state=BatchState.FINISHED
    ).select_related("batch")
    minutes: dict[int, int] = {}
    pieces: dict[int, int] = {}
    for entry in entries.order_by("batch__closed_at", "pk"):
        if entry.batch is not None:
            done = entry.batch.made + entry.batch.seconds + entry.batch.scrapped
            pieces[entry.batch.pk] = done
            minutes[entry.batch.pk] = minutes.get(entry.batch.pk, 0) + entry.minutes
    return [(pieces[pk], minutes[pk]) for pk in pieces if pieces[pk]]


def _next_by_average(totals: list[tuple[int, int]]) -> float:
    """Minutes for one of the next batch, as large as the last, by the curve through first and all batches."""
    first_pieces, first_minutes = totals[0]
    all_pieces = sum(pieces for pieces, _minutes_of in totals)
    all_minutes = sum(minutes for _pieces, minutes in totals)
    growth = all_pieces / first_pieces
    change = (all_minutes / all_pieces) / (first_minutes / first_pieces)
    exponent = min(0.0, log2(change) / log2(growth))
    first_unit = first_minutes / first_pieces / first_pieces**exponent
    curve = LearningCurve(Curve.CUMULATIVE_AVERAGE, first_unit, exponent)
    size = totals[-1][0]
    return curve.block(all_pieces + 1, all_pieces + size) / size


def _average(each: list[float], *, single: bool, pieces: int) -> LearnedTime:
    return LearnedTime(
        How.AVERAGE, single, pieces, max(1, round(mean(each))), round(min(each)), round(max(each))
    )


def _minutes(hours: float) -> int:
    return max(1, round(hours * 60))
