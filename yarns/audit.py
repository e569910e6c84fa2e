"""Recompute the stock book from its movements and say where the kept totals differ.

Reads only. Written to be right rather than to share code with the ledger: it takes nothing for
granted that the ledger keeps.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from django.db.models import F, Q, Sum

from craft.standards.codes import has_check_character
from yarns.models import LabelCode, Lot, Movement, MovementKind, Promise, PromiseState


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing in the book that does not add up: the lot's code and a sentence."""

    lot_code: str
    says: str


@dataclass(frozen=True, slots=True)
class Audit:
    """What was looked at, and what does not add up."""

    lots: int
    movements: int
    promises: int
    faults: tuple[Fault, ...]


def audit() -> Audit:
    """Go through the whole book once."""
    faults = (
        *_running_balances(),
        *_promised_totals(),
        *_promise_histories(),
        *_undoings(),
        *_label_codes(),
    )
    return Audit(Lot.objects.count(), Movement.objects.count(), Promise.objects.count(), tuple(faults))


def _running_balances() -> Iterator[Fault]:
    """Each lot's movements in order: the first receives it, each balance follows from the last."""
    lots = {
        pk: (code, balance, received)
        for pk, code, balance, received in Lot.objects.values_list("pk", "code", "balance", "received")
    }
    rows = (
        Movement.objects.order_by("lot_id", "pk")
        .values_list("lot_id", "pk", "kind", "delta", "balance_after")
        .iterator(chunk_size=5000)
    )
    for lot_id, lines in groupby(rows, key=itemgetter(0)):
        code, kept, received = lots.pop(lot_id)
        yield from _one_lot(code, kept, received, list(lines))
    for code, kept, _received in lots.values():
        yield Fault(code, f"has no movements, yet its balance is kept as {kept}.")


def _one_lot(
    code: str, kept: int, received: int, lines: list[tuple[int, int, str, int, int]]
) -> Iterator[Fault]:
    balance = 0
    if lines[0][2] != MovementKind.RECEIVED or lines[0][3] != received:
        yield Fault(code, f"does not begin with receiving {received}.")
    for _lot, pk, _kind, delta, after in lines:
        balance += delta
        if balance != after:
            yield Fault(code, f"movement {pk} says {after} after it; the movements give {balance}.")
            balance = after
    total = sum(delta for _lot, _pk, _kind, delta, _after in lines)
    if total != kept:
        yield Fault(code, f"is kept as {kept}; its movements add up to {total}.")


def _promised_totals() -> Iterator[Fault]:
    """What a lot has promised is what its open promises still wait for, and no more than it has."""
    sums = dict(
        Promise.objects.filter(state=PromiseState.OPEN)
        .order_by()
        .values_list("lot_id")
        .annotate(Sum("outstanding"))
    )
    for pk, code, balance, promised in Lot.objects.values_list("pk", "code", "balance", "promised"):
        total = sums.get(pk, 0)
        if total != promised:
            yield Fault(code, f"has {promised} promised; its open promises add up to {total}.")
        if not 0 <= promised <= balance:
            yield Fault(code, f"has {promised} promised of {balance}.")


def _promise_histories() -> Iterator[Fault]:
    """What was issued under a promise is what its movements took, those undone left out."""
    closed = ~Q(state=PromiseState.OPEN) & ~Q(outstanding=0)
    open_on_nothing = Q(state=PromiseState.OPEN, outstanding=0)
    for pk, code in Promise.objects.filter(closed | open_on_nothing).values_list("pk", "lot__code"):
        yield Fault(code, f"promise {pk} has a state that its outstanding part does not fit.")
    undone = set(Movement.objects.filter(undoes__isnull=False).values_list("undoes", flat=True))
    taken: dict[int | None, int] = defaultdict(int)
    for pk, promise_id, delta in Movement.objects.filter(promise__isnull=False, undoes=None).values_list(
        "pk", "promise_id", "promise_delta"
    ):
        taken[promise_id] += 0 if pk in undone else delta
    for pk, code, amount, issued, rest in Promise.objects.annotate(
        rest=F("issued") + F("released") + F("outstanding")
    ).values_list("pk", "lot__code", "amount", "issued", "rest"):
        if amount != rest or issued != -taken[pk]:
            yield Fault(code, f"promise {pk} does not add up with its movements.")


def _undoings() -> Iterator[Fault]:
    """A counter-movement is the exact opposite, on the same lot."""
    odd = Movement.objects.filter(kind=MovementKind.UNDONE).exclude(
        lot_id=F("undoes__lot_id"), delta=-F("undoes__delta")
    )
    for pk, code in odd.values_list("pk", "lot__code"):
        yield Fault(code, f"movement {pk} is not the opposite of the one it undoes.")


def _label_codes() -> Iterator[Fault]:
    given = set(LabelCode.objects.values_list("code", flat=True))
    for code in Lot.objects.values_list("code", flat=True):
        if code not in given:
            yield Fault(code, "carries a label code that was never given out.")
        elif not has_check_character(code):
            yield Fault(code, "carries a label code whose check character is wrong.")
