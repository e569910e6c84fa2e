"""What is ordered: checked against parcels, short deliveries stay open, the shopping list knows of it."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from workroom.models import Person
from yarns import ledger
from yarns.amounts import Amount, Unit, grams, pieces
from yarns.audit import audit
from yarns.models import Colour, Lot, Ownership, Parcel, Purchase, RestockRule, Supplier, Supply
from yarns.parcels import add_lot, close_parcel, open_parcel, take_back
from yarns.purchases import (
    HasComeError,
    PurchaseError,
    Wish,
    close_line,
    lines_of,
    on_their_way,
    order_things,
    take_off,
)
from yarns.restocking import ShoppingLine, shopping_lists
from yarns.wanted import _TELLERS, Wanted, tell_wants

MakeAct = Callable[..., ledger.Act]
TODAY = date(2026, 5, 4)


@pytest.fixture
def purchase(assistant: Person, harbour_shop: Supplier, navy: Colour, eyes: Supply) -> Purchase:
    wishes = [Wish(navy, grams(500), 3250), Wish(eyes, pieces(40))]
    return order_things(harbour_shop, wishes, assistant, "order", ordered_on=TODAY)


@pytest.fixture
def parcel(assistant: Person, purchase: Purchase) -> Parcel:
    return open_parcel(assistant, "parcel", supplier=purchase.supplier, received_on=TODAY, purchase=purchase)


def arrival(thing: Colour | Supply, amount: Amount, **facts: object) -> ledger.Arrival:
    return ledger.Arrival(thing, amount, TODAY, **facts)  # type: ignore[arg-type]  # mixed facts


def state_of(purchase: Purchase) -> tuple[str, list[tuple[int, int]]]:
    purchase.refresh_from_db()
    return purchase.state, [(each.came.count, each.outstanding.count) for each in lines_of(purchase)]


def test_an_order_is_made_once(purchase: Purchase, assistant: Person, harbour_shop: Supplier) -> None:
    again = order_things(harbour_shop, [Wish(Colour(), grams(1))], assistant, "order", ordered_on=TODAY)
    assert (again, Purchase.objects.count()) == (purchase, 1)
    with pytest.raises(PurchaseError, match="Tick at least one thing"):
        order_things(harbour_shop, [], assistant, "other", ordered_on=TODAY)


def test_a_short_delivery_stays_open_until_the_rest_comes(
    purchase: Purchase, parcel: Parcel, navy: Colour, eyes: Supply, act: MakeAct, assistant: Person
) -> None:
    add_lot(parcel, arrival(navy, grams(300)), act())
    add_lot(parcel, arrival(eyes, pieces(40)), act())
    close_parcel(parcel, 500, "")
    assert state_of(purchase) == ("open", [(300_000, 200_000), (40, 0)])
    assert on_their_way() == {("colour", navy.pk): 200_000, ("supply", eyes.pk): 0}
    second = open_parcel(assistant, "two", supplier=None, received_on=TODAY, purchase=purchase)
    add_lot(second, arrival(navy, grams(200)), act())
    assert state_of(purchase) == ("done", [(500_000, 0), (40, 0)])


def test_a_lot_taken_back_is_still_to_come(
    purchase: Purchase, parcel: Parcel, navy: Colour, eyes: Supply, act: MakeAct
) -> None:
    movement = add_lot(parcel, arrival(navy, grams(500)), act())
    add_lot(parcel, arrival(eyes, pieces(50)), act())
    assert state_of(purchase) == ("done", [(500_000, 0), (50, 0)])
    assert lines_of(purchase)[1].over == pieces(10)
    take_back(parcel, movement, act())
    assert state_of(purchase) == ("open", [(0, 500_000), (50, 0)])
    assert audit().faults == ()


def test_what_will_not_come_is_said_and_can_be_unsaid(
    purchase: Purchase, parcel: Parcel, navy: Colour, eyes: Supply, act: MakeAct
) -> None:
    add_lot(parcel, arrival(navy, grams(300)), act())
    first, second = purchase.lines.all()
    close_line(first, closed=True)
    take_off(second)
    assert state_of(purchase) == ("done", [(300_000, 0)])
    assert lines_of(purchase)[0].short
    with pytest.raises(HasComeError, match="has come already"):
        take_off(first)
    close_line(first, closed=False)
    assert state_of(purchase) == ("open", [(300_000, 200_000)])


def test_what_was_not_ordered_is_received_all_the_same(parcel: Parcel, foam: Colour, act: MakeAct) -> None:
    assert add_lot(parcel, arrival(foam, grams(100)), act()).lot.purchase_line is None


# --------------------------------------------------------------------------- the shopping list


def lines(*, only_due: bool = False) -> dict[str, ShoppingLine]:
    return {line.key: line for each in shopping_lists(only_due=only_due) for line in each.lines}


def test_use_leads_to_a_reorder_point_and_whole_balls(
    navy: Colour, harbour_shop: Supplier, put_on_shelf: Callable[..., Lot], act: MakeAct
) -> None:
    """100 g in each of four weeks, 14 days: 200 g without spread; eight weeks of use without postage."""
    now = timezone.now()
    lot = put_on_shelf(
        navy,
        grams(600),
        price_paid_minor=3900,
        supplier_id=harbour_shop.pk,
        received_on=(now - timedelta(days=27)).date(),
    )
    for ago in (25, 18, 11, 4):
        ledger.issue(lot.pk, grams(100), act(at=now - timedelta(days=ago)))
    line = lines()[f"colour-{navy.pk}"]
    assert (line.free, line.use_a_week, line.reorder_at) == (grams(200), grams(100), grams(200))
    assert (line.advised, line.price_minor) == (grams(800), 5200)
    (block,) = shopping_lists(only_due=True)
    assert (block.supplier, block.due) == (harbour_shop, 1)


def test_what_is_on_its_way_counts_and_returns_are_no_use(
    purchase: Purchase, navy_lot: Lot, navy: Colour, act: MakeAct
) -> None:
    ledger.issue(navy_lot.pk, grams(300), act())
    ledger.give_back(navy_lot.pk, grams(100), act())
    undone = ledger.issue(navy_lot.pk, grams(50), act())
    ledger.undo(undone.pk, act())
    line = lines()[f"colour-{navy.pk}"]
    assert (line.coming, line.free) == (grams(500), grams(300))
    assert line.use_a_week.count * 26 in range(100_000, 26 * 51_000)
    assert not line.due


def test_a_customers_own_and_what_is_set_aside_are_not_ours_to_plan_with(
    navy: Colour, foam: Colour, put_on_shelf: Callable[..., Lot]
) -> None:
    put_on_shelf(navy, grams(400), ownership=Ownership.CUSTOMER)
    put_on_shelf(foam, grams(400), set_aside="moth")
    found = lines()
    assert f"colour-{navy.pk}" not in found
    assert found[f"colour-{foam.pk}"].free == grams(0)


def test_other_rooms_tell_what_they_need(navy: Colour, eyes: Supply, navy_lot: Lot) -> None:
    tell_wants(
        "test",
        lambda: [
            Wanted(("colour", navy.pk), 620_000, "batch 12 hats"),
            Wanted(("supply", eyes.pk), 7, "batch gulls"),
        ],
    )
    try:
        found = lines(only_due=True)
    finally:
        del _TELLERS["test"]
    assert found[f"colour-{navy.pk}"].advised == grams(200)
    assert found[f"colour-{navy.pk}"].asked_for == ("batch 12 hats",)
    assert found[f"supply-{eyes.pk}"].advised == Amount(7, Unit.PIECE)


def test_a_minimum_and_never_are_heard(navy: Colour, navy_lot: Lot) -> None:
    rule = RestockRule.objects.create(colour=navy, minimum=500_000)
    assert lines()[f"colour-{navy.pk}"].advised == grams(100)
    rule.never = True
    rule.save()
    assert lines() == {}


@pytest.mark.parametrize("count", [1, 12])
def test_the_list_asks_the_same_number_of_questions(
    put_on_shelf: Callable[..., Lot], navy: Colour, count: int
) -> None:
    for number in range(count):
        put_on_shelf(Colour.objects.create(yarn=navy.yarn, name=f"C{number}"), grams(100))
    with CaptureQueriesContext(connection) as asked:
        shopping_lists(only_due=False)
    assert len(asked) <= 9
