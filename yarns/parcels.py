"""A parcel on the table: opened once, filled lot by lot, closed when its postage is shared out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from django.db import IntegrityError, transaction
from django.utils import timezone

from workroom.models import Person
from yarns import ledger
from yarns.models import Colour, Lot, Movement, Ownership, Parcel, Purchase, Supplier, Yarn
from yarns.purchases import line_for, settle


@dataclass(frozen=True, slots=True)
class NewThing:
    """A colour, and a yarn with it, that the house does not know yet; saved together with the lot."""

    colour: Colour
    yarn: Yarn | None = None


def open_parcel(
    person: Person,
    key: str,
    *,
    supplier: Supplier | None,
    received_on: date,
    slip_number: str = "",
    purchase: Purchase | None = None,
) -> Parcel:
    """A new parcel, perhaps answering an order; the same key twice opens one."""
    try:
        with transaction.atomic():
            parcel, _fresh = Parcel.objects.get_or_create(
                key=key,
                defaults={
                    "supplier": supplier,
                    "received_on": received_on,
                    "slip_number": slip_number,
                    "purchase": purchase,
                    "opened_by": person,
                    "opened_at": timezone.now(),
                },
            )
            return parcel
    except IntegrityError:
        return Parcel.objects.get(key=key)


def add_lot(parcel: Parcel, arrival: ledger.Arrival, act: ledger.Act) -> Movement:
    """Put one lot of a parcel on the shelf, against its order if there is one, and share the postage anew."""
    line = line_for(parcel, arrival.thing)
    arrival = replace(
        arrival,
        parcel_id=parcel.pk,
        purchase_line_id=line.pk if line else None,
        supplier_id=parcel.supplier_id,
        received_on=parcel.received_on,
    )
    with transaction.atomic():
        movement = ledger.receive(arrival, act)
        share_postage(parcel)
        if parcel.purchase is not None:
            settle(parcel.purchase)
        return movement


def add_new_thing(parcel: Parcel, new: NewThing, arrival: ledger.Arrival, act: ledger.Act) -> Movement:
    """The same for a colour (and yarn) that is saved with it; a form sent twice adds nothing."""
    done = Movement.objects.filter(key=act.key).first()
    if done is not None:
        return done
    with transaction.atomic():
        if new.yarn is not None:
            new.yarn.save()
            new.colour.yarn = new.yarn
        new.colour.save()
        return add_lot(parcel, replace(arrival, thing=new.colour), act)


def close_parcel(parcel: Parcel, postage_minor: int, slip_number: str) -> None:
    """Note the postage, share it out, and put the parcel away. It can be opened again."""
    with transaction.atomic():
        parcel.postage_minor, parcel.slip_number = postage_minor, slip_number
        parcel.closed_at = timezone.now()
        parcel.save(update_fields=["postage_minor", "slip_number", "closed_at"])
        share_postage(parcel)


def reopen_parcel(parcel: Parcel) -> None:
    """Put it on the table again."""
    parcel.closed_at = None
    parcel.save(update_fields=["closed_at"])


def take_back(parcel: Parcel, movement: Movement, act: ledger.Act) -> None:
    """A lot logged by mistake: undo its receiving, share the postage anew. Raises ledger.LedgerError."""
    with transaction.atomic():
        ledger.undo(movement.pk, act)
        share_postage(parcel)
        if parcel.purchase is not None:
            settle(parcel.purchase)


def share_postage(parcel: Parcel) -> None:
    """Share the postage over the parcel's lots by price, or by amount where no price is known.

    A customer's own yarn bears none: it is not the studio's to value. Nor does a lot whose receiving
    was undone.
    """
    lots = [lot for lot in parcel.lots.order_by("pk") if lot.ownership == Ownership.OURS]
    gone = set(Movement.objects.filter(undoes__kind="received", lot__in=lots).values_list("lot", flat=True))
    bearing = [lot for lot in lots if lot.pk not in gone]
    shares = dict(zip(bearing, shared(parcel.postage_minor, _weights(bearing)), strict=True))
    for lot in lots:
        Lot.objects.filter(pk=lot.pk).update(postage_share_minor=shares.get(lot, 0))


def _weights(lots: Sequence[Lot]) -> list[int]:
    prices = [lot.price_paid_minor or 0 for lot in lots]
    return prices if any(prices) else [lot.received for lot in lots]


def shared(total: int, weights: Sequence[int]) -> list[int]:
    """Split whole units by weight so that the parts add to the whole (largest remainder).

    No weights, no parts; all weights nought: equal parts.
    """
    if not weights:
        return []
    weights = weights if any(weights) else [1] * len(weights)
    exact = [Fraction(total * weight, sum(weights)) for weight in weights]
    parts = [int(part) for part in exact]
    by_remainder = sorted(range(len(parts)), key=lambda at: (parts[at] - exact[at], at))
    for at in by_remainder[: total - sum(parts)]:
        parts[at] += 1
    return parts
