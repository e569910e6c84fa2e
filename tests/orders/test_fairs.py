"""Fairs: break-even by the reference's worked example, pages, and bad input."""

from collections.abc import Callable
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from orders.fairs import BreakEven, Offer, fair_create, fair_sums
from orders.models import Batch, Fair, Piece, PieceExtra, WorkroomRates
from yarns.models import Lot


def form(**fields: str) -> dict[str, str]:
    return {
        "key": str(uuid4()),
        "version": "0",
        "name": "Quay Fair",
        "starts_on": "2030-06-01",
        "stall_fee_minor": "85",
        "travel_minor": "38",
        "other_minor": "12",
        "open_minutes": "6:00",
        "busy_pc": "100",
        **fields,
    }


# ------------------------------------------------------------------------------------- sums


@pytest.fixture
def quay(db: None) -> Fair:
    """O2 (constructed for the reference): fixed 85 + 38 + 12."""
    day = date(2030, 6, 1)
    return Fair(
        starts_on=day, ends_on=day, stall_fee_minor=8500, travel_minor=3800, other_minor=1200, key=uuid4()
    )


MIX = [
    Offer("hat", 5, 2400, 900, 2500),
    Offer("scrunchie", 3, 1400, 450, 800),
    Offer("toy", 2, 3800, 1600, 4000),
]


def test_a_mix_breaks_even_as_in_the_reference(quay: Fair, rates: WorkroomRates) -> None:
    """O2: 50/30/20 % of 24 (9), 14 (4.50), 38 (16), card 1.75 %: 10 pieces, 224.16 in takings."""
    rates.card_rate_bp = 175
    sums = fair_sums(quay, MIX, rates, "EUR")
    assert sums is not None
    assert sums.out_of_pocket == BreakEven(10, 22_416)
    assert (sums.pieces, sums.full_price, sums.making) == (10, 23_800, 22_900)


def test_paying_the_making_takes_more_pieces(quay: Fair, rates: WorkroomRates) -> None:
    """135 + 229 at 14.3335 each is 25.4 pieces; six hours at 12.50 more make 30.6."""
    rates.card_rate_bp = 175
    quay.open_minutes, quay.away_minutes = 240, 120
    sums = fair_sums(quay, MIX, rates, "EUR")
    assert sums is not None
    assert sums.making_paid is not None
    assert sums.making_paid.pieces == 26
    assert sums.all_paid is not None
    assert sums.all_paid.pieces == 31


def test_the_organisers_share_comes_off_the_price(quay: Fair, rates: WorkroomRates) -> None:
    """24 less a quarter and less 9 of materials leaves 9: 135 is 15 pieces, 360 in takings."""
    quay.commission_bp = 2500
    sums = fair_sums(quay, MIX[:1], rates, "EUR")
    assert sums is not None
    assert sums.out_of_pocket == BreakEven(15, 36_000)


def test_a_piece_that_brings_nothing_never_breaks_even(quay: Fair, rates: WorkroomRates) -> None:
    sums = fair_sums(quay, [Offer("gift", 5, 900, 900, 0)], rates, "EUR")
    assert sums is not None
    assert (sums.out_of_pocket, sums.making_paid, sums.all_paid) == (None, None, None)


def test_nothing_to_bring_has_no_break_even(quay: Fair, rates: WorkroomRates) -> None:
    assert fair_sums(quay, [], rates, "EUR") is None


# ------------------------------------------------------------------------------------ pages


def test_a_fair_shows_what_it_takes(
    seller_client: Client,
    fair: Fair,
    plan: Callable[..., Batch],
    make_piece: Callable[..., Piece],
    rates: WorkroomRates,
) -> None:
    """103 at 30.00 less 4.00 is 3.96 pieces."""
    wool = PieceExtra(kind="notion", label="wool", unit="pc", quantity=1, price_minor=400)
    plan(make_piece(extras=[wool], price_minor=3000), 12, fair=fair)
    page = seller_client.get(reverse("orders:fair", args=[fair.pk])).text
    assert "You bring 12 pieces; sold at full price they take €360.00." in page
    assert '<td class="num" data-label="Pieces to sell">4</td>' in page
    assert "€118.85" in page  # 3.96 pieces at 30.00
    assert "in 30 days" in page


def test_a_batch_due_after_the_fair_is_said(
    seller_client: Client, fair: Fair, plan: Callable[..., Batch], beanie: Piece, navy_lot: Lot
) -> None:
    plan(beanie, 12, fair=fair, due_on=fair.starts_on + timedelta(days=1))
    page = seller_client.get(reverse("orders:fair", args=[fair.pk])).text
    assert "after the fair has begun" in page


def test_a_fair_is_added_once(seller_client: Client, studio: object) -> None:
    sent = form()
    for _again in range(2):
        assert seller_client.post(reverse("orders:fair_new"), sent).status_code == 302
    fair = Fair.objects.get()
    assert (fair.ends_on, fair.fixed_minor, fair.open_minutes) == (date(2030, 6, 1), 13_500, 360)


def test_a_fair_in_the_past_is_allowed_and_said(seller_client: Client, studio: object) -> None:
    sent = form(starts_on="2020-06-01")
    response = seller_client.post(reverse("orders:fair_new"), sent, follow=True)
    assert "Its date is in the past. That is allowed; check the year." in response.text
    assert Fair.objects.get().starts_on == date(2020, 6, 1)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"name": ""}, "This field is required."),
        ({"starts_on": "soon"}, "Enter a valid date."),
        ({"ends_on": "2030-05-31"}, "The last day comes before the first."),
        ({"ends_on": "2031-06-01"}, "A fair of more than sixty days: check the year."),
        ({"stall_fee_minor": "-85"}, "Write an amount like 12.50."),
        ({"commission_bp": "100"}, "Write less than 100 %."),
        ({"busy_pc": "0"}, "Ensure this value is greater than or equal to 10."),
        ({"open_minutes": "-1"}, "Time can&#x27;t be negative."),
        ({"open_minutes": "9999 h"}, "Write at most"),
    ],
)
def test_error_a_bad_fair_is_not_saved(
    seller_client: Client, studio: object, fields: dict[str, str], says: str
) -> None:
    response = seller_client.post(reverse("orders:fair_new"), form(**fields))
    assert response.status_code == 422
    assert says in response.text
    assert not Fair.objects.exists()


def test_a_fair_is_changed(seller_client: Client, fair: Fair) -> None:
    address = reverse("orders:fair_edit", args=[fair.pk])
    assert 'value="85.00"' in seller_client.get(address).text
    assert seller_client.post(address, form(version="1")).status_code == 302
    fair.refresh_from_db()
    assert (fair.name, fair.version) == ("Quay Fair", 2)


def test_of_two_people_at_a_fair_the_later_loses_nothing(seller_client: Client, fair: Fair) -> None:
    Fair.objects.update(version=2, place="The other hall")
    address = reverse("orders:fair_edit", args=[fair.pk])
    response = seller_client.post(address, form(version="1"))
    assert response.status_code == 422
    assert "The other hall" in response.text
    assert 'value="Quay Fair"' in response.text
    fair.refresh_from_db()
    assert fair.name == "Harbour Wall Fair"


def test_a_fair_that_nothing_hangs_on_is_struck_out(seller_client: Client, fair: Fair) -> None:
    response = seller_client.post(reverse("orders:fair_strike", args=[fair.pk]), follow=True)
    assert "“Harbour Wall Fair” is struck out." in response.text
    assert not Fair.objects.exists()


def test_error_a_fair_with_batches_is_kept(
    seller_client: Client, fair: Fair, plan: Callable[..., Batch], beanie: Piece
) -> None:
    plan(beanie, 12, fair=fair)
    response = seller_client.post(reverse("orders:fair_strike", args=[fair.pk]))
    assert response.status_code == 409
    assert "Batches are planned for this fair." in response.text
    assert Fair.objects.exists()


def test_coming_and_past_fairs_stand_apart(seller_client: Client, fair: Fair, today: date) -> None:
    day = today - timedelta(days=400)
    fair_create({"name": "Old Fair", "starts_on": day, "ends_on": day}, uuid4())
    page = seller_client.get(reverse("orders:fairs")).text
    coming, past = page.split("Past fairs")
    assert ("Harbour Wall Fair" in coming, "Old Fair" in past) == (True, True)


def test_no_fair_yet_says_what_a_fair_is_for(seller_client: Client, studio: object) -> None:
    assert "No fair is to come." in seller_client.get(reverse("orders:fairs")).text
