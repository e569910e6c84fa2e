"""Writes on batches. Each is one transaction; sent twice, it counts once.

A state changes by one conditional UPDATE, so that of two hands only one starts, finishes or cancels. Stock
moves through `yarns.ledger` alone; what it refuses takes the whole act back.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.models import Batch, BatchAllocation, BatchState, Fair, Piece, TimeEntry
from orders.planning import BatchPlan, plan_batch
from orders.refusals import (
    BatchClosedError,
    BatchNotPlannedError,
    BatchNotStartedError,
    EditedMeanwhileError,
    FutureTimeError,
    NothingMadeError,
    NothingToReserveError,
    PlanMovedError,
)
from workroom.models import Person
from yarns import ledger
from yarns.acts import Act, Purpose
from yarns.amounts import Amount, Unit
from yarns.codes import new_code
from yarns.models import Lot, Promise, PromiseState, PurposeKind
from yarns.selectors import issued_to

__all__ = [
    "BatchFacts",
    "Counts",
    "batch_cancel",
    "batch_create",
    "batch_edit",
    "batch_finish",
    "batch_reserve_more",
    "batch_start",
    "batch_take",
    "purpose_of",
    "time_add",
    "time_strike",
]


@dataclass(frozen=True, slots=True)
class BatchFacts:
    """What somebody says about a batch before it is started."""

    piece: Piece
    quantity: int
    due_on: date | None = None
    fair: Fair | None = None
    may_mix: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Counts:
    """What came off the hook: good ones, seconds and scrapped ones."""

    made: int
    seconds: int = 0
    scrapped: int = 0

    @property
    def all(self) -> int:
        return self.made + self.seconds + self.scrapped


def purpose_of(batch: Batch) -> Purpose:
    return Purpose(PurposeKind.BATCH, batch.code, f"{batch.quantity} × {batch.piece.title}"[:120])


def batch_create(facts: BatchFacts, person: Person, key: UUID) -> Batch:
    """Plan a batch; nothing is reserved yet. The same key twice gives the first one."""
    first = Batch.objects.filter(key=key).first()
    if first is not None:
        return first
    batch = Batch(code=new_code("batch"), created_by=person, key=key, **_columns(facts))
    try:
        with transaction.atomic():
            batch.save(force_insert=True)
    except IntegrityError:
        return Batch.objects.get(key=key)
    return batch


def batch_edit(batch: Batch, facts: BatchFacts, version: int) -> None:
    """Change a batch that is planned and stands at `version`.

    Raises BatchNotPlannedError where it was started meanwhile, EditedMeanwhileError where it was changed.
    """
    done = Batch.objects.filter(pk=batch.pk, state=BatchState.PLANNED, version=version).update(
        version=version + 1, **_columns(facts)
    )
    if not done:
        now = _fresh(batch)
        raise EditedMeanwhileError if now.state == BatchState.PLANNED else BatchNotPlannedError(now)


def _columns(facts: BatchFacts) -> dict[str, object]:
    return {
        "piece": facts.piece,
        "quantity": facts.quantity,
        "due_on": facts.due_on,
        "fair": facts.fair,
        "may_mix": facts.may_mix,
        "note": facts.note,
    }


# ---------------------------------------------------------------------------------- starting


def batch_start(batch: Batch, person: Person, seen: str) -> BatchPlan:
    """Start a batch and reserve its yarn. `seen`: digest of the plan that the person looked at.

    Raises BatchNotPlannedError, PlanMovedError and the ledger's refusals.
    """
    with transaction.atomic():
        started = Batch.objects.filter(pk=batch.pk, state=BatchState.PLANNED).update(
            state=BatchState.STARTED,
            started_at=timezone.now(),
            started_by=person,
            minutes_each=batch.piece.minutes,
        )
        if not started:
            raise BatchNotPlannedError(_fresh(batch))
        return _reserve(_fresh(batch), person, seen, "start")


def batch_reserve_more(batch: Batch, person: Person, seen: str) -> BatchPlan:
    """Reserve yarn for pieces of a started batch that had none. Raises as `batch_start`."""
    with transaction.atomic():
        held = _locked(batch)
        if held.state != BatchState.STARTED:
            raise _closed_or_planned(held)
        plan = _reserve(held, person, seen, f"more:{held.covered}")
        if not plan.covered:
            raise NothingToReserveError
        return plan


def _reserve(batch: Batch, person: Person, seen: str, word: str) -> BatchPlan:
    """Promise what the plan says, lots in the order of their keys: two starts then can't lock each other."""
    plan = plan_batch(batch)
    if plan.digest != seen:
        raise PlanMovedError
    takes = sorted(
        ((take, part.need.parts) for part in plan.parts for take in part.takes),
        key=lambda each: each[0].lot.lot_id,
    )
    for take, parts in takes:
        act = Act(person, f"batch:{batch.pk}:{word}:{take.lot.lot_id}", purpose=purpose_of(batch))
        promise = ledger.promise(take.lot.lot_id, take.amount, act)
        BatchAllocation.objects.create(batch=batch, promise=promise, part=parts[:200])
    Batch.objects.filter(pk=batch.pk).update(covered=batch.covered + plan.covered)
    return plan


# --------------------------------------------------------------------------- yarn off the shelf


def batch_take(batch: Batch, person: Person, key: UUID) -> int:
    """Take all that is reserved off the shelf; gives the number of lots taken from. `key`: of the form."""
    with transaction.atomic():
        held = _lock_started(batch)
        open_promises = list(_open_promises(held))
        for promise in open_promises:
            act = Act(person, f"batch:{held.pk}:take:{key.hex}:{promise.pk}", purpose=purpose_of(held))
            ledger.issue_promised(promise.pk, None, act)
        return len(open_promises)


def batch_finish(batch: Batch, person: Person, counts: Counts, used: Mapping[int, int]) -> None:
    """Close a batch with what was really made and used.

    `used`: amount really used of each lot (by lot id, in the lot's unit); a lot that is not named used
    what was taken of it. Raises NothingMadeError, BatchClosedError, BatchNotStartedError and what the
    ledger refuses.
    """
    if counts.all == 0:
        raise NothingMadeError
    with transaction.atomic():
        held = _lock_started(batch)
        _close(held, person, BatchState.FINISHED, counts)
        _settle(held, person, used)


def batch_cancel(batch: Batch, person: Person, used: Mapping[int, int]) -> None:
    """Give a batch up: promises are released, and what was taken and not used goes back to the shelf."""
    with transaction.atomic():
        held = _locked(batch)
        if not held.is_open:
            raise BatchClosedError(held)
        _close(held, person, BatchState.CANCELLED, Counts(0))
        _settle(held, person, used)


def _close(batch: Batch, person: Person, state: BatchState, counts: Counts) -> None:
    done = Batch.objects.filter(pk=batch.pk, state=batch.state).update(
        state=state,
        closed_at=timezone.now(),
        closed_by=person,
        made=counts.made,
        seconds=counts.seconds,
        scrapped=counts.scrapped,
    )
    if not done:
        raise BatchClosedError(_fresh(batch))


def _settle(batch: Batch, person: Person, used: Mapping[int, int]) -> None:
    """Make the book agree with what was used, then let go of what is still promised."""
    taken = {line.lot.lot_id: line.amount.count for line in issued_to(PurposeKind.BATCH, batch.code)}
    for lot_id in sorted(used):
        _settle_lot(batch, person, lot_id, more=used[lot_id] - taken.get(lot_id, 0))
    for promise in _open_promises(batch):
        ledger.release(promise.pk, _act(batch, person, f"release:{promise.pk}"))


def _settle_lot(batch: Batch, person: Person, lot_id: int, more: int) -> None:
    """Take `more` of a lot, from what is promised first; below nought: give that much back."""
    unit = Unit(Lot.objects.values_list("unit", flat=True).get(pk=lot_id))
    if more < 0:
        ledger.give_back(lot_id, Amount(-more, unit), _act(batch, person, f"back:{lot_id}"))
        return
    for promise in _open_promises(batch):
        take = min(more, promise.outstanding)
        if promise.lot_id == lot_id and take:
            act = _act(batch, person, f"used:{promise.pk}")
            ledger.issue_promised(promise.pk, Amount(take, unit), act)
            more -= take
    if more:
        ledger.issue(lot_id, Amount(more, unit), _act(batch, person, f"more:{lot_id}"))


def _act(batch: Batch, person: Person, word: str) -> Act:
    return Act(person, f"batch:{batch.pk}:{word}", purpose=purpose_of(batch))


def _open_promises(batch: Batch) -> list[Promise]:
    promises = Promise.objects.filter(
        purpose_kind=PurposeKind.BATCH, purpose_key=batch.code, state=PromiseState.OPEN
    )
    return list(promises.select_related("lot").order_by("lot_id", "pk"))


def _locked(batch: Batch) -> Batch:
    """The batch, held until the transaction ends (on SQLite the transaction itself holds all)."""
    rows = Batch.objects.select_for_update(of=("self",)).select_related("piece")
    return rows.get(pk=batch.pk)


def _lock_started(batch: Batch) -> Batch:
    held = _locked(batch)
    if held.state != BatchState.STARTED:
        raise _closed_or_planned(held)
    return held


def _closed_or_planned(batch: Batch) -> BatchClosedError | BatchNotStartedError:
    return BatchNotStartedError() if batch.state == BatchState.PLANNED else BatchClosedError(batch)


def _fresh(batch: Batch) -> Batch:
    return Batch.objects.select_related("piece", "started_by").get(pk=batch.pk)


# -------------------------------------------------------------------------------------- time


def time_strike(entry: TimeEntry) -> None:
    """Take a slip of the pen out again; taking it out twice is taking it out once."""
    TimeEntry.objects.filter(pk=entry.pk).delete()


def time_add(entry: TimeEntry, today: date) -> TimeEntry:
    """Write down time at the hook; the same key twice counts once.

    Raises FutureTimeError, BatchClosedError.
    """
    if entry.worked_on > today:
        raise FutureTimeError
    if entry.batch is not None and entry.batch.state == BatchState.CANCELLED:
        raise BatchClosedError(entry.batch)
    first = TimeEntry.objects.filter(key=entry.key).first()
    if first is not None:
        return first
    try:
        with transaction.atomic():
            entry.save(force_insert=True)
    except IntegrityError:
        return TimeEntry.objects.get(key=entry.key)
    return entry
