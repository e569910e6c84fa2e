"""What the other rooms read: free stock in grams and metres, cost by the gram, promises, issues."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest

from yarns import ledger, selectors
from yarns.amounts import grams
from yarns.models import Colour, Lot, Ownership, PurposeKind, SetAside, Supply, Yarn

MakeAct = Callable[..., ledger.Act]
Put = Callable[..., Lot]
BATCH = ledger.Purpose(PurposeKind.BATCH, "14", "12 beanies")


def test_shelf_gives_grams_metres_and_cost(navy_lot: Lot, navy: Colour, act: MakeAct) -> None:
    """32.50 for 500 g with 2.50 postage is 7 per 100 g; 190 m a ball of 100 g."""
    ledger.promise(navy_lot.pk, grams(120), act())
    (lot,) = selectors.shelf_for(colour_id=navy.pk)
    assert (lot.on_hand, lot.promised, lot.free) == (grams(500), grams(120), grams(380))
    assert (lot.on_hand_m, lot.free_m) == (Decimal(950), Decimal(722))
    assert lot.unit_cost_minor == Fraction(700, 100_000)
    assert lot.balls == 5
    assert lot.name == "Sandpiper Mill Tideline Worsted Navy 7B"


def test_metres_follow_the_label_and_no_movement_changes(navy_lot: Lot, tideline: Yarn) -> None:
    tideline.measured_mm_per_g = 1800
    tideline.save()
    assert selectors.shelf_for(yarn_id=tideline.pk)[0].on_hand_m == Decimal(900)
    assert navy_lot.movements.count() == 1


def test_shelf_leaves_out_what_nobody_should_plan_with(navy: Colour, put_on_shelf: Put, act: MakeAct) -> None:
    put_on_shelf(navy, grams(50), ownership=Ownership.CUSTOMER, owner_note="order 7")
    put_on_shelf(navy, grams(50), set_aside=SetAside.MOTH)
    spoken_for = put_on_shelf(navy, grams(50))
    ledger.promise(spoken_for.pk, grams(50), act())
    free = put_on_shelf(navy, grams(50))
    assert [lot.lot_id for lot in selectors.shelf_for(colour_id=navy.pk)] == [free.pk]
    assert len(selectors.shelf_for(colour_id=navy.pk, include_all=True)) == 4


def test_oldest_first(navy: Colour, put_on_shelf: Put) -> None:
    young = put_on_shelf(navy, grams(50), received_on="2026-03-09")
    old = put_on_shelf(navy, grams(50), received_on="2026-03-01")
    assert [lot.lot_id for lot in selectors.shelf_for(colour_id=navy.pk)] == [old.pk, young.pk]


def test_supplies_have_no_metres(eyes_lot: Lot, eyes: Supply) -> None:
    (lot,) = selectors.shelf_for(supply_id=eyes.pk)
    assert (lot.on_hand_m, lot.balls, lot.unit_cost_minor) == (None, None, None)
    assert lot.name == "Safety eyes black 9 mm L-2291"


def test_promises_and_issues_of_a_batch(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act(purpose=BATCH))
    ledger.issue_promised(promised.pk, grams(150), act())
    ledger.give_back(navy_lot.pk, grams(10), act(purpose=BATCH))
    wrong = ledger.issue(navy_lot.pk, grams(30), act(purpose=BATCH))
    ledger.undo(wrong.pk, act())
    (line,) = selectors.promises_for(PurposeKind.BATCH, "14")
    assert (line.outstanding, line.issued, line.state) == (grams(50), grams(150), "open")
    (issued,) = selectors.issued_to(PurposeKind.BATCH, "14")
    assert issued.amount == grams(140)
    assert issued.cost_minor == 980
    assert selectors.issued_to(PurposeKind.BATCH, "15") == []


@pytest.mark.parametrize("lots", [1, 6])
def test_a_constant_number_of_queries(
    lots: int, navy: Colour, put_on_shelf: Put, act: MakeAct, django_assert_num_queries: object
) -> None:
    for _lot in range(lots):
        lot = put_on_shelf(navy, grams(50))
        ledger.promise(lot.pk, grams(10), act(purpose=BATCH))
    with django_assert_num_queries(3):  # type: ignore[operator]  # pytest-django's fixture
        selectors.shelf_for(colour_id=navy.pk)
        selectors.promises_for(PurposeKind.BATCH, "14")


def test_choices(navy: Colour, foam: Colour, eyes: Supply, tideline: Yarn) -> None:
    assert selectors.yarn_choices() == [(tideline.pk, "Sandpiper Mill Tideline Worsted")]
    assert selectors.colour_choices(tideline.pk) == [(foam.pk, "Foam"), (navy.pk, "Navy")]
    assert selectors.colour_choices()[0][1] == "Sandpiper Mill Tideline Worsted Foam"
    assert selectors.supply_choices() == [(eyes.pk, "Safety eyes black 9 mm")]
