"""Writing one line of the stock book: the kept totals and the movement, once per key.

Used by `yarns.ledger` alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from django.db import connection, transaction
from django.utils import timezone

from yarns.acts import Act
from yarns.amounts import Amount
from yarns.models import Lot, Movement, MovementKind
from yarns.refusals import (
    KeyUsedError,
    LedgerError,
    LotMissingError,
    NotEnoughError,
    WrongUnitError,
)


@dataclass(frozen=True, slots=True)
class Line:
    """A movement about to be written."""

    lot_id: int
    kind: MovementKind
    delta: Amount
    promise_id: int | None = None
    promise_delta: int = 0
    undoes_id: int | None = None
    scale_step_mg: int | None = None
    tare_mg: int | None = None


class _CountsOnceError(Exception):
    """The key stands in the book already; what this transaction did is taken back."""


def book(line: Line, act: Act) -> Movement:
    """Write a line once. A key that is in the book already gives the first movement."""
    try:
        with transaction.atomic():
            return write(line, move_lot(line), act)
    except (NotEnoughError, _CountsOnceError):
        first = first_movement(act, line.lot_id, line.kind)
        if first is None:
            raise
        return first


def move_lot(line: Line) -> int:
    """Move the kept totals and give the new balance, all in one statement; or say why not.

    Plain SQL because it is the one place where speed and the race are decided: the ORM has no
    UPDATE ... RETURNING, and a second read could see another hand's figure.
    """
    delta, promised = line.delta.count, line.promise_delta
    with connection.cursor() as cursor:
        cursor.execute(
            "UPDATE yarns_lot SET balance = balance + %s, promised = promised + %s"
            " WHERE id = %s AND unit = %s AND balance + %s >= promised + %s AND promised + %s >= 0"
            " RETURNING balance",
            [delta, promised, line.lot_id, line.delta.unit.value, delta, promised, promised],
        )
        row = cursor.fetchone()
    if row is None:
        raise _refusal(line)
    return int(row[0])


def _refusal(line: Line) -> LedgerError:
    lot = Lot.objects.filter(pk=line.lot_id).first()
    if lot is None:
        return LotMissingError()
    if lot.unit != line.delta.unit:
        return WrongUnitError(lot, line.delta)
    wanted = line.promise_delta if line.delta.count == 0 else -line.delta.count
    return NotEnoughError(lot, Amount(wanted, line.delta.unit))


_COLUMNS: Final = (
    "lot_id", "kind", "delta", "balance_after", "promise_id", "promise_delta", "undoes_id",
    "purpose_kind", "purpose_key", "purpose_label", "why", "scale_step_mg", "tare_mg",
    "person_id", "at", "key",
)  # fmt: skip
_INSERT: Final = (
    f"INSERT INTO yarns_movement ({', '.join(_COLUMNS)})"  # noqa: S608 - our own column names
    f" VALUES ({', '.join(['%s'] * len(_COLUMNS))}) ON CONFLICT (key) DO NOTHING RETURNING id"
)


def write(line: Line, balance_after: int, act: Act) -> Movement:
    values = _values(line, balance_after, act)
    with connection.cursor() as cursor:
        cursor.execute(_INSERT, _adapted(values))
        row = cursor.fetchone()
    if row is None:
        raise _CountsOnceError
    movement = Movement(pk=row[0], **dict(zip(_COLUMNS, values, strict=True)))
    movement._state.adding = False
    return movement


def _values(line: Line, balance_after: int, act: Act) -> Sequence[Any]:
    return (
        line.lot_id, line.kind.value, line.delta.count, balance_after,
        line.promise_id, line.promise_delta, line.undoes_id,
        act.purpose.kind.value, act.purpose.key, act.purpose.label, act.why,
        line.scale_step_mg, line.tare_mg,
        act.person.pk, act.at or timezone.now(), act.key,
    )  # fmt: skip


def _adapted(values: Sequence[Any]) -> list[Any]:
    adapt = connection.ops.adapt_datetimefield_value
    return [adapt(value) if isinstance(value, datetime) else value for value in values]


def first_movement(act: Act, lot_id: int | None = None, kind: MovementKind | None = None) -> Movement | None:
    """The movement that this key already made. Raises KeyUsedError where it was another act."""
    found = Movement.objects.select_related("lot").filter(key=act.key).first()
    if found is None:
        return None
    if lot_id is None:
        same = found.kind == MovementKind.RECEIVED
    else:
        same = (found.lot_id, found.kind) == (lot_id, kind)
    if not same:
        raise KeyUsedError(act.key)
    return found


def locked(lot_id: int) -> Lot:
    """The lot, held until the transaction ends (on SQLite the transaction itself holds all)."""
    lot = Lot.objects.select_for_update().filter(pk=lot_id).first()
    if lot is None:
        raise LotMissingError
    return lot
