"""Orders to suppliers: made from the shopping list, checked against each parcel, open until all came.

What came of a line is the sum of the lots that point at it, less those whose receiving was undone.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import QuerySet, Sum
from django.utils.translation import gettext as _

from workroom.models import Person
from yarns.amounts import Amount, Unit
from yarns.models import (
    Colour,
    Lot,
    Movement,
    Parcel,
    Purchase,
    PurchaseLine,
    PurchaseState,
    Supplier,
    Supply,
)
from yarns.wanted import ThingKey


class PurchaseError(ValueError):
    """An order to a supplier refuses; nothing was written. `str()` is the sentence for people."""


class HasComeError(PurchaseError):
    def __init__(self, line: PurchaseLine) -> None:
        super().__init__(
            _("Some of %(thing)s has come already. Say that no more will come instead.")
            % {"thing": line.thing}
        )


@dataclass(frozen=True, slots=True)
class Wish:
    """One thing to order. `price_minor`: for all of it, None where not known."""

    thing: Colour | Supply
    amount: Amount
    price_minor: int | None = None


@dataclass(frozen=True, slots=True)
class LineState:
    """A line with what came of it."""

    line: PurchaseLine
    came: Amount

    @property
    def outstanding(self) -> Amount:
        """What is still to come; nought once the line is closed."""
        left = 0 if self.line.closed else max(0, self.line.amount - self.came.count)
        return Amount(left, self.came.unit)

    @property
    def over(self) -> Amount:
        """What came beyond the order."""
        return Amount(max(0, self.came.count - self.line.amount), self.came.unit)

    @property
    def short(self) -> bool:
        """Closed with less than was ordered."""
        return self.line.closed and self.came.count < self.line.amount

    @property
    def what(self) -> str:
        """As the receiving page names it: "colour-4"."""
        return f"colour-{self.line.colour_id}" if self.line.colour_id else f"supply-{self.line.supply_id}"

    @property
    def outstanding_typed(self) -> str:
        """As it would be typed on the receiving page."""
        left = self.outstanding
        return str(left.count) if left.unit is Unit.PIECE else f"{left.grams.normalize():f} g"


def order_things(
    supplier: Supplier, wishes: Sequence[Wish], person: Person, key: str, *, ordered_on: date
) -> Purchase:
    """An order to a supplier; the same key orders once. Raises PurchaseError for an empty order."""
    if not wishes:
        raise PurchaseError(_("Tick at least one thing to order."))
    try:
        with transaction.atomic():
            purchase, fresh = Purchase.objects.get_or_create(
                key=key, defaults={"supplier": supplier, "ordered_on": ordered_on, "ordered_by": person}
            )
            if fresh:
                for wish in wishes:
                    add_wish(purchase, wish)
            return purchase
    except IntegrityError:
        return Purchase.objects.get(key=key)


def add_wish(purchase: Purchase, wish: Wish) -> PurchaseLine:
    """Put a thing on an order; one that stands there already gets the new amount."""
    thing: dict[str, Any] = {"colour" if isinstance(wish.thing, Colour) else "supply": wish.thing}
    line, _fresh = PurchaseLine.objects.update_or_create(
        purchase=purchase,
        **thing,
        defaults={
            "unit": wish.amount.unit,
            "amount": wish.amount.count,
            "price_minor": wish.price_minor,
            "closed": False,
        },
    )
    settle(purchase)
    return line


def take_off(line: PurchaseLine) -> None:
    """Take a thing off an order of which nothing has come. Raises HasComeError."""
    with transaction.atomic():
        if Lot.objects.filter(purchase_line=line).exists():
            raise HasComeError(line)
        purchase = line.purchase
        line.delete()
        settle(purchase)


def close_line(line: PurchaseLine, *, closed: bool) -> None:
    """No more of it will come (or it may after all)."""
    with transaction.atomic():
        line.closed = closed
        line.save(update_fields=["closed"])
        settle(line.purchase)


def line_states(lines: Iterable[PurchaseLine]) -> list[LineState]:
    """Lines with what came of each; one query beside the lines."""
    rows = list(lines)
    came = _came([row.pk for row in rows])
    return [LineState(row, Amount(came.get(row.pk, 0), Unit(row.unit))) for row in rows]


def _came(ids: Sequence[int]) -> dict[int | None, int]:
    undone = Movement.objects.filter(undoes__kind="received", lot__purchase_line__in=ids).values("lot")
    rows = Lot.objects.filter(purchase_line__in=ids).exclude(pk__in=undone).order_by()
    return dict(rows.values_list("purchase_line").annotate(Sum("received")))


def lines_of(purchase: Purchase) -> list[LineState]:
    """The lines of an order with what came of each."""
    return line_states(purchase.lines.select_related("colour__yarn", "supply"))


def settle(purchase: Purchase) -> None:
    """An order is done when nothing of it is outstanding, and open again when something is."""
    open_lines = any(state.outstanding.count for state in line_states(purchase.lines.all()))
    state = PurchaseState.OPEN if open_lines else PurchaseState.DONE
    Purchase.objects.filter(pk=purchase.pk).update(state=state)
    purchase.state = state


def line_for(parcel: Parcel, thing: Colour | Supply) -> PurchaseLine | None:
    """The line of the parcel's order that a thing answers, whether or not it is filled already."""
    if parcel.purchase_id is None or thing._state.adding:
        return None
    which = {"colour": thing} if isinstance(thing, Colour) else {"supply": thing}
    return PurchaseLine.objects.filter(purchase=parcel.purchase_id, **which).first()


def on_their_way() -> dict[ThingKey, int]:
    """What is still to come of each thing, over all open orders."""
    lines = PurchaseLine.objects.filter(purchase__state=PurchaseState.OPEN, closed=False)
    found: dict[ThingKey, int] = defaultdict(int)
    for state in line_states(lines):
        line = state.line
        key: ThingKey = ("colour", line.colour_id) if line.colour_id else ("supply", line.supply_id or 0)
        found[key] += state.outstanding.count
    return found


def purchases_with_lines() -> QuerySet[Purchase]:
    """Orders with their lines, newest first."""
    rows = Purchase.objects.select_related("supplier", "ordered_by")
    return rows.prefetch_related("lines__colour__yarn", "lines__supply")
