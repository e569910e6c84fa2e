"""The parcel on the table, without scripts and with htmx; each refusal adds nothing."""

from collections.abc import Callable
from datetime import date

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams, pieces
from yarns.models import Colour, Lot, Ownership, Parcel, SetAside, Supplier, Supply, Yarn
from yarns.parcels import open_parcel

HTMX = {"HX-Request": "true"}
UNKNOWN_BARCODE = "8904000210037"  # GS1 India, "An example calculating the check digit"


@pytest.fixture
def parcel(assistant: Person, harbour_shop: Supplier) -> Parcel:
    return open_parcel(assistant, "table", supplier=harbour_shop, received_on=date(2026, 3, 2))


def address(name: str, parcel: Parcel, *more: object) -> str:
    return reverse(f"yarns:{name}", args=[parcel.pk, *more])


def find(client: Client, parcel: Parcel, words: str, **more: str) -> HttpResponse:
    response = client.get(address("parcel", parcel), {"q": words, **more})
    assert response.status_code == 200
    return response  # type: ignore[return-value]  # test client


def add(client: Client, parcel: Parcel, what: str, **typed: str) -> HttpResponse:
    line = {"how_much": "5", "dye_lot": "7C", "place": "Shelf A", "key": "k", "what": what}
    return client.post(address("parcel_add", parcel), {**line, **typed})  # type: ignore[return-value]  # test client


# -------------------------------------------------------------------------------- the parcel


def test_a_parcel_is_opened_once(assistant_client: Client) -> None:
    url = reverse("yarns:receive")
    assert assistant_client.get(url).status_code == 200
    typed = {"supplier": "Harbour Wool Shop", "received_on": "2026-03-02", "key": "p"}
    first = assistant_client.post(url, typed)
    assert assistant_client.post(url, typed)["Location"] == first["Location"]
    parcel = Parcel.objects.get()
    assert (str(parcel.supplier), parcel.received_on) == ("Harbour Wool Shop", date(2026, 3, 2))


def test_the_last_supplier_is_remembered(assistant_client: Client, parcel: Parcel) -> None:
    page = assistant_client.get(reverse("yarns:receive")).content.decode()
    assert 'value="Harbour Wool Shop"' in page


def test_opening_refuses_strangers_sellers_and_nonsense(
    stranger_client: Client, seller_client: Client, assistant_client: Client
) -> None:
    url = reverse("yarns:receive")
    assert stranger_client.get(url).status_code == 302
    assert seller_client.get(url).status_code == 403
    assert assistant_client.post(url, {"received_on": "soon", "key": "p"}).status_code == 422
    assert not Parcel.objects.exists()


def test_closing_notes_postage_and_reopening_takes_lots_again(
    assistant_client: Client, parcel: Parcel, navy: Colour
) -> None:
    add(assistant_client, parcel, f"colour-{navy.pk}", price="32.50")
    closed = assistant_client.post(address("parcel_close", parcel), {"postage_minor": "2.50"})
    assert closed.status_code == 302
    parcel.refresh_from_db()
    assert (parcel.postage_minor, parcel.closed_at is None) == (250, False)
    assert Lot.objects.get().postage_share_minor == 250
    assistant_client.post(address("parcel_reopen", parcel))
    parcel.refresh_from_db()
    assert parcel.closed_at is None


def test_closing_refuses_nonsense(assistant_client: Client, seller_client: Client, parcel: Parcel) -> None:
    url = address("parcel_close", parcel)
    assert assistant_client.get(url).status_code == 405
    assert assistant_client.post(url, {"postage_minor": "much"}).status_code == 422
    assert seller_client.post(url, {"postage_minor": "2"}).status_code == 403
    parcel.refresh_from_db()
    assert parcel.closed_at is None


# ------------------------------------------------------------------------------- the one field


@pytest.mark.parametrize("words", ["6291041500213", " 6291041500213 ", "06291041500213"])
def test_a_known_barcode_goes_straight_to_the_lot(
    assistant_client: Client, parcel: Parcel, navy: Colour, words: str
) -> None:
    page = find(assistant_client, parcel, words).content.decode()
    assert f'value="colour-{navy.pk}"' in page
    assert "Dye lot" in page


def test_a_wrong_barcode_says_so_and_stays(assistant_client: Client, parcel: Parcel) -> None:
    page = find(assistant_client, parcel, "6291041500214").content.decode()
    assert "does not fit the others" in page
    assert 'value="6291041500214"' in page


def test_an_unknown_barcode_asks_for_its_yarn_and_is_kept(
    assistant_client: Client, parcel: Parcel, navy: Colour
) -> None:
    page = find(assistant_client, parcel, UNKNOWN_BARCODE).content.decode()
    assert f"The barcode {UNKNOWN_BARCODE} is new here. Which yarn is it?" in page
    page = find(assistant_client, parcel, "tideline", gtin=f"0{UNKNOWN_BARCODE}").content.decode()
    assert f"what=yarn-{navy.yarn_id}&amp;gtin=0{UNKNOWN_BARCODE}" in page
    assert "what=colour-" not in page


def test_words_of_one_colour_go_straight_to_the_lot(
    assistant_client: Client, parcel: Parcel, navy: Colour, foam: Colour
) -> None:
    assert f'value="colour-{foam.pk}"' in find(assistant_client, parcel, "FOAM").content.decode()


def test_words_of_several_give_a_choice(
    assistant_client: Client, parcel: Parcel, navy: Colour, foam: Colour
) -> None:
    page = find(assistant_client, parcel, "tideline").content.decode()
    for what in (f"colour-{navy.pk}", f"colour-{foam.pk}", f"yarn-{navy.yarn_id}", "new"):
        assert f"what={what}" in page


def test_unknown_words_offer_a_new_colour_and_a_new_yarn(
    assistant_client: Client, parcel: Parcel, navy: Colour
) -> None:
    page = find(assistant_client, parcel, "tideline Gorse").content.decode()
    assert "Nothing here is called “tideline Gorse”." in page
    assert f"what=yarn-{navy.yarn_id}&amp;name=Gorse" in page
    assert "what=new&amp;name=tideline+Gorse" in page


def test_a_label_of_ours_means_its_colour(assistant_client: Client, parcel: Parcel, navy_lot: Lot) -> None:
    page = find(assistant_client, parcel, navy_lot.code).content.decode()
    assert f'value="colour-{navy_lot.colour_id}"' in page


def test_plus_repeats_the_last_lot_without_its_dye_lot(
    assistant_client: Client, parcel: Parcel, navy: Colour
) -> None:
    assert "no lot in this parcel yet" in find(assistant_client, parcel, "+").content.decode()
    add(assistant_client, parcel, f"colour-{navy.pk}", price="32.50", place="Box 3")
    page = find(assistant_client, parcel, "+").content.decode()
    assert f'value="colour-{navy.pk}"' in page
    assert 'name="how_much" value="5"' in page
    assert 'value="Box 3"' in page
    assert 'value="32.50"' in page
    assert 'value="7C"' not in page


def test_the_last_place_is_remembered(assistant_client: Client, parcel: Parcel, navy_lot: Lot) -> None:
    page = find(assistant_client, parcel, "6291041500213").content.decode()
    assert 'value="Shelf A"' in page


@pytest.mark.parametrize("words", ["", " ", "\x00", "%", "'; --", "x" * 3000, "😀", "<b>"])
def test_any_words_are_answered(assistant_client: Client, parcel: Parcel, words: str) -> None:
    page = find(assistant_client, parcel, words).content.decode()
    assert "<b>" not in page


def test_htmx_gets_the_table_alone(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    url = address("parcel_entry", parcel)
    page = assistant_client.get(url, {"q": "navy"}, headers=HTMX).content.decode()
    assert page.lstrip().startswith('<div id="table"')
    assert "<html" not in page


# ------------------------------------------------------------------------------- putting away


def test_a_known_colour(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    response = add(assistant_client, parcel, f"colour-{navy.pk}", price="32.50")
    assert response["Location"] == address("parcel", parcel)
    lot = Lot.objects.get()
    assert (lot.on_hand, lot.dye_lot, str(lot.place)) == (grams(500), "7C", "Shelf A")
    assert (lot.price_paid_minor, lot.supplier, lot.parcel) == (3250, parcel.supplier, parcel)


def test_with_htmx_the_next_field_comes_back(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    typed = {"what": f"colour-{navy.pk}", "how_much": "5", "key": "k"}
    response = assistant_client.post(address("parcel_add", parcel), typed, headers=HTMX)
    page = response.content.decode()
    assert response.status_code == 200
    assert Lot.objects.get().code in page
    assert "Barcode, or yarn and colour" in page


def test_sent_twice_is_one_lot(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    for _time in range(2):
        add(assistant_client, parcel, f"colour-{navy.pk}")
    assert Lot.objects.count() == 1


def test_grams_flags_and_a_customers_own(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    add(
        assistant_client,
        parcel,
        f"colour-{navy.pk}",
        how_much="230 g",
        ownership="customer",
        owner_note="order 7",
        no_band="on",
        set_aside="moth",
        tare_mg="12 g",
    )
    lot = Lot.objects.get()
    assert (lot.on_hand, lot.ownership, lot.owner_note) == (
        grams(230),
        Ownership.CUSTOMER,
        "order 7",
    )
    assert (lot.no_band, lot.set_aside, lot.tare_mg) == (True, SetAside.MOTH, 12_000)


def test_a_supply_by_the_piece(assistant_client: Client, parcel: Parcel, eyes: Supply) -> None:
    add(assistant_client, parcel, f"supply-{eyes.pk}", how_much="40", dye_lot="L-2291")
    assert Lot.objects.get().on_hand == pieces(40)


def test_a_new_colour_with_its_barcode(assistant_client: Client, parcel: Parcel, tideline: Yarn) -> None:
    add(
        assistant_client,
        parcel,
        f"yarn-{tideline.pk}",
        **{"colour-name": "Gorse", "colour-gtin": UNKNOWN_BARCODE},
    )
    lot = Lot.objects.get()
    assert str(lot.thing) == "Sandpiper Mill Tideline Worsted Gorse"
    assert lot.on_hand == grams(500)
    assert lot.colour is not None
    assert lot.colour.gtin == f"0{UNKNOWN_BARCODE}"


NEW_YARN = {
    "yarn-name": "Skerry",
    "yarn-ball_mass_mg": "50 g",
    "yarn-ball_length_mm": "137 yd",
    "yarn-fibres": "80 wool 20 nylon",
    "yarn-put_up": "ball",
    "colour-name": "Moss",
}


def test_a_new_yarn_with_its_colour(assistant_client: Client, parcel: Parcel) -> None:
    """137 yd is 125.2728 m (international yard of 1959)."""
    for _time in range(2):
        add(assistant_client, parcel, "new", **NEW_YARN)
    yarn = Yarn.objects.get()
    assert (yarn.ball_mass_mg, yarn.ball_length_mm) == (50_000, 125_273)
    assert yarn.fibres == [["wool", 800], ["nylon", 200]]
    assert Lot.objects.get().on_hand == grams(250)


def test_a_yarn_without_a_band(assistant_client: Client, parcel: Parcel) -> None:
    typed = {"yarn-name": "Attic pink", "yarn-put_up": "ball", "colour-name": "Pink"}
    refused = add(assistant_client, parcel, "new", **typed, how_much="2 balls")
    assert "The mass of one ball is not known" in refused.content.decode()
    add(assistant_client, parcel, "new", **typed, how_much="230 g")
    assert Lot.objects.get().on_hand == grams(230)


@pytest.mark.parametrize(
    ("what", "typed", "sentence"),
    [
        ("colour", {"how_much": ""}, "This field is required."),
        ("colour", {"how_much": "some"}, "Write how much, like 10 (balls)"),
        ("colour", {"price": "dear"}, "Write an amount like 12.50."),
        ("colour", {"key": ""}, "A part of this form got lost."),
        (
            "colour",
            {"ownership": "customer", "price": "3"},
            "A customer’s own yarn has no price: it is not yours.",
        ),
        ("yarn", {"colour-name": ""}, "This field is required."),
        ("yarn", {"colour-name": "navy", "colour-code": "12"}, "a colour of that name and number"),
        (
            "yarn",
            {"colour-name": "X", "colour-gtin": "6291041500213"},
            "This barcode belongs to Sandpiper Mill Tideline Worsted Navy.",
        ),
        ("yarn", {"colour-name": "X", "colour-gtin": "123"}, "A barcode has 8, 12, 13 or 14"),
        ("new", {**NEW_YARN, "yarn-fibres": "80 wool"}, "The fibres add to 80"),
        ("new", {**NEW_YARN, "yarn-weight_category": "9"}, "Select a valid choice."),
        ("new", {**NEW_YARN, "yarn-ball_mass_mg": "heavy"}, "Write what the scale shows"),
        (
            "new",
            {**NEW_YARN, "yarn-maker": "sandpiper mill", "yarn-name": "TIDELINE WORSTED"},
            "yarn of that name is already here.",
        ),
    ],
)
def test_bad_input_adds_nothing_and_stays_in_the_field(
    assistant_client: Client,
    parcel: Parcel,
    navy: Colour,
    what: str,
    typed: dict[str, str],
    sentence: str,
) -> None:
    named = {"colour": f"colour-{navy.pk}", "yarn": f"yarn-{navy.yarn_id}", "new": "new"}[what]
    response = add(assistant_client, parcel, named, **typed)
    page = response.content.decode()
    assert response.status_code == 422
    assert sentence in page.replace("&#x27;", "'")
    assert 'value="7C"' in page
    counts = (Lot.objects.count(), Colour.objects.count(), Yarn.objects.count())
    assert counts == (0, 1, 1)


def test_adding_refuses_strangers_sellers_and_unknown_things(
    stranger_client: Client,
    seller_client: Client,
    assistant_client: Client,
    parcel: Parcel,
    navy: Colour,
) -> None:
    what = f"colour-{navy.pk}"
    assert add(stranger_client, parcel, what).status_code == 302
    assert add(seller_client, parcel, what).status_code == 403
    assert add(assistant_client, parcel, "colour-999").status_code == 404
    assert add(assistant_client, parcel, "yarn-999999999999999999999").status_code == 404
    assert assistant_client.get(address("parcel_add", parcel)).status_code == 405
    assert not Lot.objects.exists()


# ------------------------------------------------------------------------------- taking back


def test_take_back_undoes_the_receipt(assistant_client: Client, parcel: Parcel, navy: Colour) -> None:
    add(assistant_client, parcel, f"colour-{navy.pk}")
    lot = Lot.objects.get()
    for _time in range(2):
        response = assistant_client.post(address("parcel_take_back", parcel, lot.code))
        assert response.status_code == 302
    lot.refresh_from_db()
    assert (lot.balance, lot.movements.count()) == (0, 2)


def test_take_back_refuses_what_has_gone_out_and_other_parcels(
    assistant_client: Client,
    seller_client: Client,
    parcel: Parcel,
    navy: Colour,
    navy_lot: Lot,
    act: Callable[..., ledger.Act],
) -> None:
    add(assistant_client, parcel, f"colour-{navy.pk}")
    lot = Lot.objects.latest("pk")
    ledger.issue(lot.pk, grams(10), act())
    url = address("parcel_take_back", parcel, lot.code)
    assert seller_client.post(url).status_code == 403
    page = assistant_client.post(url, follow=True).content.decode()
    assert "has 490\u00a0g" in page
    lot.refresh_from_db()
    assert lot.balance == 490_000
    other = address("parcel_take_back", parcel, navy_lot.code)
    assert assistant_client.post(other).status_code == 404
