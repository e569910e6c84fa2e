"""The stock book: the only door through which stock changes.

Every act is one transaction (a savepoint inside the caller's). One conditional UPDATE moves the
lot's balance, and refuses to go below what is promised, so no two hands can issue the
same gram; the movement that explains it is written with it. An act carries a key: sent twice, it
counts once and gives back the first movement. Refusals: `yarns.refusals`.
"""

from dataclasses import replace
from typing import Final

from django.db import IntegrityError, transaction
from django.utils import timezone

from yarns.acts import NO_PURPOSE, Act, Arrival, Purpose, Weighing
from yarns.amounts import Amount, Unit
from yarns.book import Line, book, first_movement, locked, move_lot, write
from yarns.codes import keep_code, new_code
from yarns.models import (
    Colour,
    Lot,
    Movement,
    MovementKind,
    Promise,
    PromiseState,
    PurposeKind,
    Supply,
)
from yarns.refusals import (
    AlreadyUndoneError,
    BookMovedError,
    CantUndoError,
    KeyUsedError,
    LedgerError,
    LotMissingError,
    MovementMissingError,
    NotEnoughError,
    NothingToMoveError,
    PromiseClosedError,
    PromisedMoreError,
    PromiseMissingError,
    WrongUnitError,
)
from yarns.shelving import write_shelf_facts

__all__ = [
    "Act",
    "AlreadyUndoneError",
    "Arrival",
    "BookMovedError",
    "CantUndoError",
    "KeyUsedError",
    "LedgerError",
    "LotMissingError",
    "MovementMissingError",
    "NotEnoughError",
    "NothingToMoveError",
    "PromiseClosedError",
    "PromiseMissingError",
    "PromisedMoreError",
    "Purpose",
    "Weighing",
    "WrongUnitError",
    "correct",
    "count",
    "count_difference",
    "give_back",
    "issue",
    "issue_promised",
    "promise",
    "receive",
    "release",
    "undo",
    "weigh",
    "write_off",
]


# ------------------------------------------------------------------------------- in and out


def receive(arrival: Arrival, act: Act) -> Movement:
    """Put a new lot on the shelf. The lot is `movement.lot`."""
    if arrival.amount.count <= 0:
        raise NothingToMoveError
    try:
        with transaction.atomic():
            return first_movement(act) or _new_lot(arrival, act)
    except IntegrityError:
        first = first_movement(act)
        if first is None:
            raise
        return first


def issue(lot_id: int, amount: Amount, act: Act) -> Movement:
    """Take from what is free. Raises NotEnoughError, or another of `yarns.refusals`."""
    return book(Line(lot_id, MovementKind.ISSUED, _minus(_some(amount))), act)


def give_back(lot_id: int, amount: Amount, act: Act) -> Movement:
    """Put back on the shelf what was issued and not used."""
    return book(Line(lot_id, MovementKind.RETURNED, _some(amount)), act)


def write_off(lot_id: int, amount: Amount, act: Act) -> Movement:
    """Take out what is lost to the studio: moth, damage, a gift, back to the supplier."""
    return book(Line(lot_id, MovementKind.WRITTEN_OFF, _minus(_some(amount))), act)


# --------------------------------------------------------------------- what is really there


def weigh(lot_id: int, weighing: Weighing, act: Act) -> Movement:
    """Set the balance to what the scale says. Raises BookMovedError, PromisedMoreError and as `issue`."""
    line = Line(
        lot_id,
        MovementKind.WEIGHED,
        weighing.net,
        scale_step_mg=weighing.scale_step_mg,
        tare_mg=weighing.tare_mg,
    )
    return _set_balance(line, weighing.seen, act)


def correct(lot_id: int, to: Amount, act: Act, seen: int | None = None) -> Movement:
    """Set the balance right after a slip in the book."""
    return _set_balance(Line(lot_id, MovementKind.CORRECTED, to), seen, act)


def count(lot_id: int, found: Amount, act: Act, seen: int | None = None) -> Movement:
    """Set the balance to what a stocktake found; a difference of nought is recorded too."""
    return _set_balance(Line(lot_id, MovementKind.STOCKTAKE, found), seen, act)


def count_difference(lot_id: int, difference: Amount, act: Act) -> Movement:
    """Book what a stocktake found beyond the book (or short of it), whatever has moved since it was counted.

    Raises NotEnoughError where less would be left than is promised, and as `issue`.
    """
    return book(Line(lot_id, MovementKind.STOCKTAKE, difference), act)


def undo(movement_id: int, act: Act) -> Movement:
    """Write the counter-movement; a promise that the movement served is open again."""
    lot_id = Movement.objects.filter(pk=movement_id).values_list("lot_id", flat=True).first()
    if lot_id is None:
        raise MovementMissingError
    with transaction.atomic():
        lot = locked(lot_id)
        first = first_movement(act, lot_id, MovementKind.UNDONE)
        if first is not None:
            return first
        movement = Movement.objects.select_related("promise").get(pk=movement_id)
        _may_be_undone(movement)
        reopened = _promise_after_undo(movement)
        line = Line(
            lot_id,
            MovementKind.UNDONE,
            Amount(-movement.delta, Unit(lot.unit)),
            promise_id=movement.promise_id,
            promise_delta=reopened,
            undoes_id=movement.pk,
        )
        return book(line, replace(act, purpose=_purpose_of(movement)))


# --------------------------------------------------------------------------------- promises


def promise(lot_id: int, amount: Amount, act: Act) -> Promise:
    """Speak for part of what is free. Raises as `issue`."""
    line = Line(lot_id, MovementKind.ISSUED, Amount(0, _some(amount).unit), None, amount.count)
    try:
        with transaction.atomic():
            first = Promise.objects.filter(key=act.key).first()
            return first or _new_promise(line, act)
    except IntegrityError:
        first = Promise.objects.filter(key=act.key).first()
        if first is None:
            raise
        return first


def release(promise_id: int, act: Act) -> Promise:
    """Give up what is still outstanding; releasing twice is releasing once."""
    with transaction.atomic():
        held = _locked_promise(promise_id)
        if held.state == PromiseState.RELEASED:
            return held
        if held.state == PromiseState.KEPT:
            raise PromiseClosedError
        move_lot(
            Line(
                held.lot_id,
                MovementKind.ISSUED,
                Amount(0, Unit(held.lot.unit)),
                promise_delta=-held.outstanding,
            )
        )
        held.released, held.outstanding = held.released + held.outstanding, 0
        _close(held, PromiseState.RELEASED, act)
        return held


def issue_promised(promise_id: int, amount: Amount | None, act: Act) -> Movement:
    """Take what was promised (None: all that is outstanding).

    More than is outstanding takes the rest from what is free; less leaves the promise open.
    """
    with transaction.atomic():
        held = _locked_promise(promise_id)
        first = first_movement(act, held.lot_id, MovementKind.ISSUED)
        if first is not None:
            return first
        if held.state != PromiseState.OPEN:
            raise PromiseClosedError
        out = _some(amount or Amount(held.outstanding, Unit(held.lot.unit)))
        kept = min(out.count, held.outstanding)
        line = Line(held.lot_id, MovementKind.ISSUED, _minus(out), held.pk, -kept)
        if act.purpose is NO_PURPOSE:
            act = replace(act, purpose=_purpose_of(held))
        movement = book(line, act)
        held.issued, held.outstanding = held.issued + kept, held.outstanding - kept
        _close(held, PromiseState.OPEN if held.outstanding else PromiseState.KEPT, act)
        return movement


# -------------------------------------------------------------------------------- the parts


def _set_balance(line: Line, seen: int | None, act: Act) -> Movement:
    """Write the difference between `line.delta`, which here is what was found, and the book."""
    found = line.delta
    if found.count < 0:
        raise NothingToMoveError
    with transaction.atomic():
        lot = locked(line.lot_id)
        first = first_movement(act, line.lot_id, line.kind)
        if first is not None:
            return first
        _can_be_set(lot, found, seen)
        return book(replace(line, delta=Amount(found.count - lot.balance, found.unit)), act)


def _can_be_set(lot: Lot, found: Amount, seen: int | None) -> None:
    if found.unit != lot.unit:
        raise WrongUnitError(lot, found)
    if seen is not None and seen != lot.balance:
        raise BookMovedError(lot, Amount(seen, Unit(lot.unit)))
    if found.count < lot.promised:
        raise PromisedMoreError(lot, found)


def _new_lot(arrival: Arrival, act: Act) -> Movement:
    lot = Lot(
        code=keep_code(arrival.code, "lot") if arrival.code else new_code("lot"),
        unit=arrival.amount.unit,
        received=arrival.amount.count,
        balance=arrival.amount.count,
        **_thing(arrival),
        **{name: getattr(arrival, name) for name in _KEPT_FACTS},
    )
    write_shelf_facts(lot)
    if lot.unit != _kept_in(arrival.thing):
        raise WrongUnitError(lot, arrival.amount)
    lot.save(force_insert=True)
    line = Line(lot.pk, MovementKind.RECEIVED, arrival.amount, tare_mg=arrival.tare_mg or None)
    movement = write(line, lot.balance, act)
    movement.lot = lot
    return movement


_KEPT_FACTS: Final = (
    "received_on", "dye_lot", "place_id", "supplier_id", "parcel_id", "purchase_line_id", "price_paid_minor",
    "postage_share_minor", "ownership", "owner_note", "hand_dyed", "second_hand", "no_band",
    "set_aside", "tare_mg", "notes",
)  # fmt: skip


def _thing(arrival: Arrival) -> dict[str, Colour | Supply]:
    return {"colour" if isinstance(arrival.thing, Colour) else "supply": arrival.thing}


def _kept_in(thing: Colour | Supply) -> Unit:
    return Unit.MILLIGRAM if isinstance(thing, Colour) else Unit(thing.counts_in)


def _new_promise(line: Line, act: Act) -> Promise:
    move_lot(line)
    return Promise.objects.create(
        lot_id=line.lot_id,
        amount=line.promise_delta,
        outstanding=line.promise_delta,
        purpose_kind=act.purpose.kind,
        purpose_key=act.purpose.key,
        purpose_label=act.purpose.label,
        why=act.why,
        person=act.person,
        made_at=act.at or timezone.now(),
        key=act.key,
    )


def _close(held: Promise, state: PromiseState, act: Act) -> None:
    """Save a promise's figures with its state; an open one has no closing."""
    held.state = state
    if state == PromiseState.OPEN:
        held.closed_at, held.closed_by, held.close_why = None, None, ""
    else:
        held.closed_at, held.closed_by, held.close_why = (
            act.at or timezone.now(),
            act.person,
            act.why,
        )
    held.save(
        update_fields=[
            "outstanding",
            "issued",
            "released",
            "state",
            "closed_at",
            "closed_by",
            "close_why",
        ]
    )


def _promise_after_undo(movement: Movement) -> int:
    """Take an issue back out of its promise; gives what is promised again.

    A promise that was released meanwhile stays closed: what comes back is free.
    """
    held, taken = movement.promise, -movement.promise_delta
    if held is None:
        return 0
    held.issued -= taken
    if held.state == PromiseState.RELEASED:
        held.released += taken
        held.save(update_fields=["issued", "released"])
        return 0
    held.outstanding += taken
    _close(held, PromiseState.OPEN, Act(movement.person, ""))
    return taken


def _may_be_undone(movement: Movement) -> None:
    if movement.kind == MovementKind.UNDONE:
        raise CantUndoError
    if Movement.objects.filter(undoes=movement).exists():
        raise AlreadyUndoneError


def _purpose_of(row: Movement | Promise) -> Purpose:
    return Purpose(PurposeKind(row.purpose_kind), row.purpose_key, row.purpose_label)


def _locked_promise(promise_id: int) -> Promise:
    """The promise with its lot held; the lot first, always, so that two hands can't interlock."""
    lot_id = Promise.objects.filter(pk=promise_id).values_list("lot_id", flat=True).first()
    if lot_id is None:
        raise PromiseMissingError
    lot = locked(lot_id)
    held = Promise.objects.get(pk=promise_id)
    held.lot = lot
    return held


def _some(amount: Amount) -> Amount:
    if amount.count <= 0:
        raise NothingToMoveError
    return amount


def _minus(amount: Amount) -> Amount:
    return Amount(-amount.count, amount.unit)
