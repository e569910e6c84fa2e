"""Postage is shared out to the last coin, by price, and a parcel is opened once."""

from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workroom.models import Person
from yarns import ledger, parcels
from yarns.amounts import grams
from yarns.models import Colour, Lot, Ownership, Parcel, Supplier, Yarn

MakeAct = Callable[..., ledger.Act]


@given(st.integers(0, 10_000), st.lists(st.integers(0, 5000), max_size=12))
def test_shares_add_to_the_whole_and_keep_to_their_weight(total: int, weights: list[int]) -> None:
    parts = parcels.shared(total, weights)
    assert len(parts) == len(weights)
    if not weights:
        return
    assert sum(parts) == total
    if any(weights):
        for part, weight in zip(parts, weights, strict=True):
            assert abs(part - total * weight / sum(weights)) < 1


def test_largest_remainder_by_hand() -> None:
    """10 over 3 equal parts is 3.33 each: the coin left over goes to the first."""
    assert parcels.shared(10, [1, 1, 1]) == [4, 3, 3]
    assert parcels.shared(850, [7800, 6240, 6600]) == [321, 257, 272]


@pytest.fixture
def parcel(assistant: Person, harbour_shop: Supplier) -> Parcel:
    return parcels.open_parcel(assistant, "table", supplier=harbour_shop, received_on=date(2026, 3, 2))


def arrival(colour: Colour, price: int | None, **facts: object) -> ledger.Arrival:
    return ledger.Arrival(colour, grams(100), date(1999, 1, 1), price_paid_minor=price, **facts)  # type: ignore[arg-type]  # mixed facts


def test_postage_goes_by_price(parcel: Parcel, navy: Colour, act: MakeAct) -> None:
    dear = parcels.add_lot(parcel, arrival(navy, 900), act()).lot
    cheap = parcels.add_lot(parcel, arrival(navy, 300), act()).lot
    parcels.close_parcel(parcel, 600, "S-1")
    dear.refresh_from_db()
    cheap.refresh_from_db()
    assert (dear.postage_share_minor, cheap.postage_share_minor) == (450, 150)
    assert dear.received_on == parcel.received_on


def test_a_late_lot_shares_too_and_undone_or_foreign_ones_do_not(
    parcel: Parcel, navy: Colour, act: MakeAct
) -> None:
    parcels.close_parcel(parcel, 600, "")
    parcels.reopen_parcel(parcel)
    ours = parcels.add_lot(parcel, arrival(navy, 900), act()).lot
    wrong = parcels.add_lot(parcel, arrival(navy, 900), act())
    theirs = parcels.add_lot(parcel, arrival(navy, None, ownership=Ownership.CUSTOMER), act()).lot
    ledger.undo(wrong.pk, act())
    parcels.share_postage(parcel)
    shares = dict(Lot.objects.values_list("pk", "postage_share_minor"))
    assert shares == {ours.pk: 600, wrong.lot_id: 0, theirs.pk: 0}


def test_the_same_key_opens_one_parcel(parcel: Parcel, assistant: Person) -> None:
    again = parcels.open_parcel(assistant, "table", supplier=None, received_on=date(2026, 3, 3))
    assert again == parcel


def test_a_new_yarn_comes_with_its_first_lot_and_only_once(
    parcel: Parcel, navy: Colour, act: MakeAct
) -> None:
    def send() -> Lot:
        new = parcels.NewThing(Colour(name="Kelp"), Yarn(name="Fen", ball_mass_mg=100_000))
        return parcels.add_new_thing(parcel, new, arrival(navy, 500), act(key="new")).lot

    first = send()
    assert send() == first
    assert str(first.thing) == "Fen Kelp"
    assert Yarn.objects.filter(name="Fen").count() == 1
