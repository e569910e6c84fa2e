"""What a finished batch teaches: yarn and time of one, really used against planned.

Taking it over writes the piece anew, so that the next batch and the next price rest on what happened. The
mass that is kept is what was used less the share for ends and slips, which is added again wherever
the piece is costed. A twentieth on top is kept at hand: wool gains and loses about that with the weather.
"""

from collections import defaultdict
from dataclasses import dataclass

from django.db import transaction
from django.db.models import F

from orders.models import Batch, BatchState, Piece, PieceYarn
from orders.refusals import BatchNotFinishedError
from orders.uses import with_waste
from yarns.amounts import Amount, milligrams
from yarns.models import Colour, PurposeKind
from yarns.selectors import issued_to

__all__ = ["Lessons", "YarnLesson", "lessons_of", "take_over_time", "take_over_yarn"]

AT_HAND_BP = 500


@dataclass(frozen=True, slots=True)
class YarnLesson:
    """One colour of the piece: for one, with ends and slips."""

    colour: Colour
    planned: Amount
    used: Amount


@dataclass(frozen=True, slots=True)
class Lessons:
    """`minutes`: for one as written down, None where nothing was; `planned_minutes`: at the start."""

    yarns: tuple[YarnLesson, ...]
    minutes: int | None
    planned_minutes: int

    @property
    def are_any(self) -> bool:
        return bool(self.yarns) or self.minutes is not None


def lessons_of(batch: Batch, waste_bp: int, logged: int) -> Lessons | None:
    """What a finished batch says of one piece; None for one that is not finished."""
    done = batch.made + batch.seconds + batch.scrapped
    if batch.state != BatchState.FINISHED or not done:
        return None
    used: dict[int, int] = defaultdict(int)
    for line in issued_to(PurposeKind.BATCH, batch.code):
        if line.lot.colour_id is not None:
            used[line.lot.colour_id] += line.amount.count
    planned = _planned(batch.piece)
    yarns = tuple(
        YarnLesson(
            parts[0].colour,
            milligrams(sum(with_waste(part.mass_mg, waste_bp) for part in parts)),
            milligrams(round(used[pk] / done)),
        )
        for pk, parts in planned.items()
        if parts[0].colour is not None and used.get(pk)
    )
    minutes = max(1, round(logged / done)) if logged else None
    return Lessons(yarns, minutes, batch.minutes_each or batch.piece.minutes)


def _planned(piece: Piece) -> dict[int, list[PieceYarn]]:
    parts: dict[int, list[PieceYarn]] = defaultdict(list)
    for part in piece.yarns.select_related("colour__yarn"):
        if part.colour_id is not None:
            parts[part.colour_id].append(part)
    return parts


def take_over_time(batch: Batch, lessons: Lessons | None) -> int:
    """Write the time of one into the piece; gives the minutes. Raises BatchNotFinishedError."""
    if lessons is None or lessons.minutes is None:
        raise BatchNotFinishedError
    Piece.objects.filter(pk=batch.piece_id).update(minutes=lessons.minutes, version=F("version") + 1)
    return lessons.minutes


def take_over_yarn(batch: Batch, lessons: Lessons | None, waste_bp: int) -> None:
    """Write the yarn of one into the piece, each part in its share. Raises BatchNotFinishedError."""
    if lessons is None or not lessons.yarns:
        raise BatchNotFinishedError
    used = {lesson.colour.pk: lesson.used.count for lesson in lessons.yarns}
    with transaction.atomic():
        Piece.objects.filter(pk=batch.piece_id).update(version=F("version") + 1)
        for pk, parts in _planned(batch.piece).items():
            if pk in used:
                _rewrite(parts, used[pk] * 10_000 // (10_000 + waste_bp))


def _rewrite(parts: list[PieceYarn], total_mg: int) -> None:
    """Share the mass of a colour over its parts as before."""
    before = sum(part.mass_mg for part in parts)
    for part in parts:
        part.mass_mg = max(1, total_mg * part.mass_mg // before)
        part.reserve_mg = with_waste(part.mass_mg, AT_HAND_BP)
        part.from_pattern = False
        part.save(update_fields=["mass_mg", "reserve_mg", "from_pattern"])
