"""A timer with pause. It lives on the server, so that phone and desk show the same one.

Every change is one conditional UPDATE or a row that can be there only once: pressing twice, or on two
devices, counts once.
"""

from datetime import date, datetime
from uuid import UUID, uuid4

from django.db import IntegrityError, transaction
from django.db.models import F

from orders.batches import time_add
from orders.models import Batch, BatchState, Piece, TimeEntry, Timer
from orders.refusals import BatchClosedError, NoTimerError, TimerElsewhereError
from workroom.models import Person

__all__ = ["timer_discard", "timer_of", "timer_pause", "timer_start", "timer_stop"]


def timer_of(person: Person) -> Timer | None:
    return Timer.objects.filter(person=person).select_related("piece", "batch__piece").first()


def timer_start(person: Person, piece: Piece, batch: Batch | None, now: datetime) -> Timer:
    """Start, or go on with, the timer for this work. Raises TimerElsewhereError, BatchClosedError."""
    if batch is not None and batch.state == BatchState.CANCELLED:
        raise BatchClosedError(batch)
    try:
        with transaction.atomic():
            return Timer.objects.create(
                person=person, piece=piece, batch=batch, running_since=now, key=uuid4()
            )
    except IntegrityError:
        return _go_on(person, piece, batch, now)


def _go_on(person: Person, piece: Piece, batch: Batch | None, now: datetime) -> Timer:
    timer = timer_of(person)
    if timer is None:
        raise NoTimerError
    if (timer.piece_id, timer.batch_id) != (piece.pk, batch.pk if batch else None):
        raise TimerElsewhereError(str(timer.batch or timer.piece))
    Timer.objects.filter(pk=timer.pk, running_since=None).update(running_since=now)
    timer.refresh_from_db(fields=["running_since"])
    return timer


def timer_pause(person: Person, now: datetime) -> Timer:
    """Pause; pausing twice is pausing once. Raises NoTimerError."""
    timer = timer_of(person)
    if timer is None:
        raise NoTimerError
    since = timer.running_since
    if since is not None:
        Timer.objects.filter(pk=timer.pk, running_since=since).update(
            banked_seconds=F("banked_seconds") + max(0, int((now - since).total_seconds())),
            running_since=None,
        )
        timer.refresh_from_db(fields=["banked_seconds", "running_since"])
    return timer


def timer_stop(person: Person, entry: TimeEntry, key: UUID, today: date) -> TimeEntry:
    """Write the time down and put the timer away; `key`: the timer's, so that it is written down once.

    Raises NoTimerError where the timer is gone and nothing was written, and as `time_add`.
    """
    entry.key = key
    with transaction.atomic():
        gone, _rows = Timer.objects.filter(person=person, key=key).delete()
        if not gone:
            first = TimeEntry.objects.filter(key=key).first()
            if first is None:
                raise NoTimerError
            return first
        return time_add(entry, today)


def timer_discard(person: Person) -> None:
    """Put the timer away and write nothing down."""
    Timer.objects.filter(person=person).delete()
