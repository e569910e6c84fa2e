"""Pages of pieces and rates: they work, and bad input is refused with nothing changed."""

from collections.abc import Callable
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from orders.models import Piece, PieceYarn, WorkroomRates
from yarns.models import Colour, Lot, Supply

RATES = {
    "version": "0",
    "wage_per_hour_minor": "12.50",
    "overhead_per_hour_minor": "",
    "margin_bp": "40",
    "card_rate_bp": "1.75",
    "tax": "none",
    "ending": "half",
    "session_minutes": "30",
    "break_minutes": "10",
    "day_minutes": "3:00",
}


def form(**fields: str) -> dict[str, str]:
    """A piece as the form sends it: one yarn row, no extras, with `fields` over it."""
    return {
        "key": str(uuid4()),
        "version": "0",
        "source": "",
        "title": "Pier gull",
        "minutes": "1:25",
        "active": "on",
        "yarn-TOTAL_FORMS": "1",
        "yarn-INITIAL_FORMS": "0",
        "yarn-0-label": "body",
        "yarn-0-mass_mg": "46.5",
        "extra-TOTAL_FORMS": "0",
        "extra-INITIAL_FORMS": "0",
        **fields,
    }


# ------------------------------------------------------------------------------------ rates


def test_rates_are_saved(seller_client: Client, studio: object) -> None:
    response = seller_client.post(reverse("orders:rates"), RATES)
    assert response.status_code == 302
    rates = WorkroomRates.objects.get()
    assert (rates.wage_per_hour_minor, rates.margin_bp, rates.card_rate_bp) == (1250, 4000, 175)
    assert (rates.day_minutes, rates.overhead_per_hour_minor) == (180, 0)


def test_a_wage_of_nothing_is_allowed_and_said(
    seller_client: Client, rates: WorkroomRates, beanie: Piece
) -> None:
    sent = {**RATES, "version": "1", "wage_per_hour_minor": "0"}
    assert seller_client.post(reverse("orders:rates"), sent).status_code == 302
    page = seller_client.get(reverse("orders:piece", args=[beanie.pk]))
    assert "Your hour counts as nothing here" in page.text


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("wage_per_hour_minor", "-3", "Write an amount like 12.50."),
        ("wage_per_hour_minor", "", "This field is required."),
        ("wage_per_hour_minor", "20000000", "Write at most €10,000,000.00."),
        ("margin_bp", "100", "Write less than 100 %."),
        ("margin_bp", "much", "Write a share in per cent, like 1.75."),
        ("margin_bp", "99.9", "Margin, card fee and tax together take the whole price. Lower one of them."),
        ("session_minutes", "1", "Write at least 5\u00a0min."),
        ("day_minutes", "25 h", "Write at most 24\u00a0h."),
        ("ending", "odd", "Select a valid choice."),
    ],
)
def test_error_bad_rates_change_nothing(
    seller_client: Client, rates: WorkroomRates, field: str, typed: str, says: str
) -> None:
    sent = {**RATES, "version": "1", "wage_per_hour_minor": "99", field: typed}
    response = seller_client.post(reverse("orders:rates"), sent)
    assert response.status_code == 422
    assert says in response.text
    rates.refresh_from_db()
    assert rates.wage_per_hour_minor == 1250


def test_of_two_people_at_the_rates_the_later_sees_both(seller_client: Client, rates: WorkroomRates) -> None:
    WorkroomRates.objects.update(version=2, wage_per_hour_minor=1500)
    url = reverse("orders:rates")
    response = seller_client.post(url, {**RATES, "version": "1", "wage_per_hour_minor": "11"})
    assert response.status_code == 422
    assert "Somebody else saved this while you were writing." in response.text
    assert "€15.00" in response.text
    assert 'value="11"' in response.text
    again = {**RATES, "version": "2", "wage_per_hour_minor": "11"}
    assert 'name="version" value="2"' in response.text
    seller_client.post(url, again)
    rates.refresh_from_db()
    assert (rates.wage_per_hour_minor, rates.version) == (1100, 3)


# ------------------------------------------------------------------------------------ sheet


def test_the_sheet_names_two_floors_and_the_pay(
    seller_client: Client, rates: WorkroomRates, beanie: Piece, navy_lot: Lot
) -> None:
    """50 g at 3.20 for 100 g is 1.60; an hour at 12.50 and 3.00 overhead makes 17.10; 28.50 at 40 %."""
    page = seller_client.get(reverse("orders:piece", args=[beanie.pk])).text
    for said in ("Floor, out of pocket", "€1.60", "Floor, with your hours paid", "€17.10", "€28.50"):
        assert said in page
    assert f"of lot {navy_lot.code}" in page
    assert "pays <strong>€23.90 an hour</strong>" in page


def test_what_if_changes_the_answer_and_nothing_else(
    seller_client: Client, rates: WorkroomRates, beanie: Piece, navy_lot: Lot
) -> None:
    url = reverse("orders:piece", args=[beanie.pk])
    page = seller_client.get(
        url, {"minutes": "2 h", "wage_minor": "10", "price_minor": "20", "margin_bp": ""}
    )
    assert "These are your what-if figures. Nothing is saved." in page.text
    assert "€27.60" in page.text  # 1.60 + 2 h at 13.00
    assert "pays <strong>€6.20 an hour</strong>" in page.text  # (20.00 - 1.60 - 6.00) / 2
    beanie.refresh_from_db()
    assert (beanie.minutes, beanie.price_minor) == (60, None)


def test_error_a_what_if_that_is_none_is_said(
    seller_client: Client, rates: WorkroomRates, beanie: Piece
) -> None:
    url = reverse("orders:piece", args=[beanie.pk])
    response = seller_client.get(url, {"minutes": "-20", "price_minor": "cheap"})
    assert response.status_code == 422
    assert "Time can&#x27;t be negative." in response.text
    assert 'value="cheap"' in response.text


def test_a_price_under_cost_is_allowed_and_said(
    seller_client: Client, rates: WorkroomRates, beanie: Piece, navy_lot: Lot
) -> None:
    response = seller_client.post(
        reverse("orders:piece_price", args=[beanie.pk]), {"price": "1.00"}, follow=True
    )
    assert "At €1.00 you lose money on every piece" in response.text
    beanie.refresh_from_db()
    assert beanie.price_minor == 100


@pytest.mark.parametrize("typed", ["", "a lot", "-4", "1e9", "9" * 39])
def test_error_a_price_that_is_none_changes_nothing(
    seller_client: Client, rates: WorkroomRates, beanie: Piece, typed: str
) -> None:
    response = seller_client.post(reverse("orders:piece_price", args=[beanie.pk]), {"price": typed})
    assert response.status_code == 422
    beanie.refresh_from_db()
    assert (beanie.price_minor, beanie.version) == (None, 1)


def test_a_designer_sees_materials_and_no_pay(
    designer_client: Client, rates: WorkroomRates, beanie: Piece, navy_lot: Lot
) -> None:
    page = designer_client.get(reverse("orders:piece", args=[beanie.pk]), {"price_minor": "20"}).text
    assert "€1.60" in page
    for hidden in ("Floor", "margin", "12.50", "€17.10", "What if"):
        assert hidden not in page


def test_without_rates_the_sheet_says_what_is_missing(
    seller_client: Client, beanie: Piece, navy_lot: Lot
) -> None:
    page = seller_client.get(reverse("orders:piece", args=[beanie.pk])).text
    assert "Say first what an hour of work is worth." in page


# ------------------------------------------------------------------------------------- form


def test_a_piece_is_entered_by_hand(
    seller_client: Client, studio: object, navy: Colour, eyes: Supply
) -> None:
    sent = form(
        **{
            "yarn-0-colour": str(navy.pk),
            "yarn-0-reserve_mg": "50",
            "extra-TOTAL_FORMS": "2",
            "extra-0-kind": "notion",
            "extra-0-supply": str(eyes.pk),
            "extra-0-amount": "2",
            "extra-1-kind": "filling",
            "extra-1-label": "wool fluff",
            "extra-1-amount": "25 g",
            "extra-1-price_minor": "9",
        }
    )
    response = seller_client.post(reverse("orders:piece_new"), sent)
    piece = Piece.objects.get()
    assert response["Location"] == reverse("orders:piece", args=[piece.pk])
    assert (piece.title, piece.minutes, piece.revision) == ("Pier gull", 85, None)
    yarn = piece.yarns.get()
    assert (yarn.part_key, yarn.colour, yarn.mass_mg, yarn.reserve_mg) == ("Y1", navy, 46_500, 50_000)
    extras = list(piece.extras.values_list("kind", "label", "unit", "quantity", "price_minor"))
    assert extras == [
        ("notion", "Safety eyes 9 mm", "pc", 2, None),
        ("filling", "wool fluff", "mg", 25_000, 900),
    ]


def test_a_piece_sent_twice_is_one_piece(seller_client: Client, studio: object) -> None:
    sent = form()
    for _again in range(2):
        assert seller_client.post(reverse("orders:piece_new"), sent).status_code == 302
    assert Piece.objects.count() == 1


def test_more_rows_keep_what_was_typed(seller_client: Client, studio: object) -> None:
    response = seller_client.post(reverse("orders:piece_new"), form(more="yarn", title="Half a thought"))
    assert response.status_code == 200
    assert 'value="Half a thought"' in response.text
    assert 'name="yarn-3-mass_mg"' in response.text
    assert not Piece.objects.exists()


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"title": ""}, "This field is required."),
        ({"minutes": "0"}, "Write at least 1\u00a0min."),
        ({"minutes": "-5"}, "Time can&#x27;t be negative."),
        ({"minutes": "100000 h"}, "Write at most 1,000\u00a0h."),
        ({"yarn-0-mass_mg": ""}, "Write how many grams one piece takes, or take the row out."),
        ({"yarn-0-mass_mg": "0"}, "Write a mass above nought."),
        ({"yarn-0-mass_mg": "a ball"}, "Write what the scale shows"),
        ({"yarn-0-reserve_mg": "20"}, "Have at hand at least what a piece takes."),
        ({"yarn-0-colour": "999"}, "Select a valid choice."),
        ({"extra-TOTAL_FORMS": "1", "extra-0-label": "eyes"}, "Write how many one piece takes"),
        ({"extra-TOTAL_FORMS": "1", "extra-0-amount": "2"}, "Write what it is."),
        ({"extra-TOTAL_FORMS": "1", "extra-0-label": "e", "extra-0-amount": "🧵"}, "Write how many, like 2"),
        ({"yarn-TOTAL_FORMS": "many"}, "ManagementForm data is missing"),
        ({"key": "no key"}, "Enter a valid UUID."),
    ],
)
def test_error_a_bad_piece_is_not_saved(
    seller_client: Client, studio: object, fields: dict[str, str], says: str
) -> None:
    response = seller_client.post(reverse("orders:piece_new"), form(**fields))
    assert response.status_code == 422
    assert says in response.text
    assert not Piece.objects.exists()


def test_error_a_supply_that_is_counted_takes_no_grams(
    seller_client: Client, studio: object, eyes: Supply
) -> None:
    extra = {"extra-TOTAL_FORMS": "1", "extra-0-supply": str(eyes.pk), "extra-0-amount": "2 g"}
    response = seller_client.post(reverse("orders:piece_new"), form(**extra))
    assert response.status_code == 422
    assert "This supply is counted. Write how many, like 2." in response.text


def test_a_piece_is_changed_and_a_row_taken_out(
    seller_client: Client, make_piece: Callable[..., Piece], navy: Colour, foam: Colour
) -> None:
    piece = make_piece((navy, 50), (foam, 10))
    rows = {
        "yarn-TOTAL_FORMS": "2",
        "yarn-INITIAL_FORMS": "2",
        "yarn-0-part_key": "Y1",
        "yarn-0-colour": str(navy.pk),
        "yarn-1-part_key": "Y2",
        "yarn-1-mass_mg": "10",
        "yarn-1-remove": "on",
    }
    url = reverse("orders:piece_edit", args=[piece.pk])
    assert seller_client.post(url, form(version="1", **rows)).status_code == 302
    piece.refresh_from_db()
    assert (piece.title, piece.version) == ("Pier gull", 2)
    assert list(PieceYarn.objects.values_list("part_key", "mass_mg")) == [("Y1", 46_500)]


def test_of_two_people_at_a_piece_the_later_loses_nothing(seller_client: Client, beanie: Piece) -> None:
    Piece.objects.update(version=2, title="Winter beanie", minutes=75)
    url = reverse("orders:piece_edit", args=[beanie.pk])
    response = seller_client.post(url, form(version="1", title="Summer beanie"))
    assert response.status_code == 422
    assert "Winter beanie" in response.text
    assert 'value="Summer beanie"' in response.text
    beanie.refresh_from_db()
    assert beanie.title == "Winter beanie"
    assert seller_client.post(url, form(version="2", title="Summer beanie")).status_code == 302
    beanie.refresh_from_db()
    assert beanie.title == "Summer beanie"


@pytest.mark.parametrize("source", ["999:m", "soup", "1:", "99999999999999:m", "-1:m", "²:m"])
def test_error_a_pattern_that_is_not_out_is_said(seller_client: Client, studio: object, source: str) -> None:
    response = seller_client.get(reverse("orders:piece_new"), {"from": source})
    assert response.status_code == 200
    assert "That pattern or size is not published any more. Choose another." in response.text


def test_error_a_piece_of_no_pattern_is_not_saved_as_one(seller_client: Client, studio: object) -> None:
    response = seller_client.post(reverse("orders:piece_new"), form(source="999:m"))
    assert response.status_code == 302
    assert Piece.objects.get().revision is None
