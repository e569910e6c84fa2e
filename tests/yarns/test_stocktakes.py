"""Counting: each figure kept at once, differences against the book of that instant, posted once."""

from collections.abc import Callable

import pytest

from workroom.models import Person
from yarns import ledger
from yarns.amounts import Amount, Unit, grams
from yarns.audit import audit
from yarns.models import CountedLot, Lot, Movement, Place, Stocktake
from yarns.stocktakes import (
    CountedMeanwhileError,
    Found,
    ShownBeforeError,
    StocktakeClosedError,
    counted_of,
    differences,
    digest_of,
    drop_stocktake,
    places_to_count,
    post_stocktake,
    save_count,
    start_stocktake,
)

MakeAct = Callable[..., ledger.Act]


@pytest.fixture
def everywhere(assistant: Person) -> Stocktake:
    return start_stocktake(assistant, "count", [])


def post_all(stocktake: Stocktake, person: Person) -> int:
    found = differences(counted_of(stocktake))
    return post_stocktake(stocktake, [each.lot.pk for each in found], person, digest_of(found))


def balance(lot: Lot) -> int:
    lot.refresh_from_db()
    assert audit().faults == ()
    return lot.balance


def test_the_difference_is_posted_once(everywhere: Stocktake, navy_lot: Lot, assistant: Person) -> None:
    save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    assert post_all(everywhere, assistant) == 1
    assert post_all(everywhere, assistant) == 1
    assert balance(navy_lot) == 450_000
    movement = Movement.objects.get(kind="stocktake")
    assert (movement.delta, movement.person) == (-50_000, assistant)


def test_what_moves_between_count_and_posting_stays(
    everywhere: Stocktake, navy_lot: Lot, assistant: Person, act: MakeAct
) -> None:
    save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    ledger.issue(navy_lot.pk, grams(120), act())
    ledger.give_back(navy_lot.pk, grams(20), act())
    (found,) = differences(counted_of(everywhere))
    assert (found.amount, found.moved_since) == (grams(-50), grams(-100))
    post_all(everywhere, assistant)
    assert balance(navy_lot) == 350_000


def test_a_count_that_agrees_books_nothing(
    everywhere: Stocktake, navy_lot: Lot, assistant: Person, act: MakeAct
) -> None:
    save_count(everywhere, navy_lot.pk, Found(grams(500)), assistant, 0)
    ledger.issue(navy_lot.pk, grams(120), act())
    assert post_all(everywhere, assistant) == 0
    assert balance(navy_lot) == 380_000


def test_what_was_not_counted_is_left(
    everywhere: Stocktake, navy_lot: Lot, eyes_lot: Lot, assistant: Person
) -> None:
    save_count(everywhere, eyes_lot.pk, Found(Amount(38, Unit.PIECE)), assistant, 0)
    post_all(everywhere, assistant)
    assert (balance(navy_lot), balance(eyes_lot)) == (500_000, 38)


def test_two_people_at_one_lot_are_told(
    everywhere: Stocktake, navy_lot: Lot, assistant: Person, designer: Person
) -> None:
    first = save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    with pytest.raises(CountedMeanwhileError, match=r"Ida counted 450\sg of this lot meanwhile"):
        save_count(everywhere, navy_lot.pk, Found(grams(430)), designer, 0)
    again = save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    assert (again.pk, again.version) == (first.pk, 1)
    knowing = save_count(everywhere, navy_lot.pk, Found(grams(430)), designer, 1)
    assert (knowing.found, knowing.counted_by, knowing.version) == (430_000, designer, 2)


def test_the_air_may_explain_five_per_cent_of_weighed_wool_but_not_of_balls(
    everywhere: Stocktake, navy_lot: Lot, assistant: Person
) -> None:
    """5 % of wool: common practice, no source; nylon by a third of its agreed regain (6.25 %)."""
    weighed = save_count(everywhere, navy_lot.pk, Found(grams(480), weighed_mg=480_000), assistant, 0)
    (found,) = differences(counted_of(everywhere))
    assert found.weather
    assert not found.advised
    save_count(everywhere, navy_lot.pk, Found(grams(480), weighed_mg=80_000), assistant, weighed.version)
    (found,) = differences(counted_of(everywhere))
    assert not found.weather


def test_a_difference_into_what_is_promised_holds_all_up(
    everywhere: Stocktake, navy_lot: Lot, eyes_lot: Lot, assistant: Person, act: MakeAct
) -> None:
    ledger.promise(navy_lot.pk, grams(400), act())
    save_count(everywhere, navy_lot.pk, Found(grams(300)), assistant, 0)
    save_count(everywhere, eyes_lot.pk, Found(Amount(30, Unit.PIECE)), assistant, 0)
    found = differences(counted_of(everywhere))
    assert [each.blocked != "" for each in found] == [False, True]
    with pytest.raises(ledger.NotEnoughError):
        post_all(everywhere, assistant)
    assert (balance(navy_lot), balance(eyes_lot)) == (500_000, 40)
    everywhere.refresh_from_db()
    assert everywhere.is_open


def test_only_what_was_looked_at_is_posted(everywhere: Stocktake, navy_lot: Lot, assistant: Person) -> None:
    count = save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    seen = digest_of(differences(counted_of(everywhere)))
    save_count(everywhere, navy_lot.pk, Found(grams(440)), assistant, count.version)
    with pytest.raises(ShownBeforeError):
        post_stocktake(everywhere, [navy_lot.pk], assistant, seen)
    assert balance(navy_lot) == 500_000


def test_a_lot_found_elsewhere_moves_there(everywhere: Stocktake, navy_lot: Lot, assistant: Person) -> None:
    box = Place.objects.create(name="Box 1")
    save_count(everywhere, navy_lot.pk, Found(grams(500), place_id=box.pk), assistant, 0)
    assert post_all(everywhere, assistant) == 1
    navy_lot.refresh_from_db()
    assert (navy_lot.place, navy_lot.balance) == (box, 500_000)
    assert "box 1" in navy_lot.search_text
    assert not Movement.objects.filter(kind="stocktake").exists()


def test_closed_is_closed(everywhere: Stocktake, navy_lot: Lot, assistant: Person) -> None:
    save_count(everywhere, navy_lot.pk, Found(grams(450)), assistant, 0)
    drop_stocktake(everywhere, assistant)
    with pytest.raises(StocktakeClosedError):
        save_count(everywhere, navy_lot.pk, Found(grams(400)), assistant, 1)
    with pytest.raises(StocktakeClosedError):
        post_all(everywhere, assistant)
    assert balance(navy_lot) == 500_000


def test_places_tell_how_far_they_are(
    assistant: Person, navy_lot: Lot, eyes_lot: Lot, shelf_a: Place
) -> None:
    one_place = start_stocktake(assistant, "count", [shelf_a])
    assert start_stocktake(assistant, "count", []) == one_place
    assert [(each.name, each.lots, each.counted) for each in places_to_count(one_place)] == [
        ("Shelf A", 1, 0)
    ]
    save_count(one_place, navy_lot.pk, Found(grams(500), place_id=shelf_a.pk), assistant, 0)
    assert places_to_count(one_place)[0].done
    assert CountedLot.objects.count() == 1
