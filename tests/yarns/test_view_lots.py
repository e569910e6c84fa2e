"""The lot page and what one can do there. Each refusal leaves the book as it was."""

from collections.abc import Callable
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams
from yarns.audit import audit
from yarns.models import Lot, Parcel, Place, PurposeKind
from yarns.parcels import add_lot, close_parcel, open_parcel

MakeAct = Callable[..., ledger.Act]

FORMS: dict[str, dict[str, str]] = {
    "lot_weigh": {"scale": "431", "seen": "500000", "key": "k"},
    "lot_issue": {"issue-how_much": "120 g", "issue-key": "k"},
    "lot_give_back": {"back-how_much": "20 g", "back-key": "k"},
    "lot_correct": {
        "correct-to": "480 g",
        "correct-why": "typed wrong",
        "correct-seen": "500000",
        "correct-key": "k",
    },
    "lot_write_off": {"off-how_much": "50 g", "off-why": "moth", "off-key": "k"},
    "lot_move": {"place": "Box 9"},
}
AFTER = {
    "lot_weigh": 431_000,
    "lot_issue": 380_000,
    "lot_give_back": 520_000,
    "lot_correct": 480_000,
    "lot_write_off": 450_000,
    "lot_move": 500_000,
}
ACTS = pytest.mark.parametrize("name", FORMS)


def address(name: str, lot: Lot) -> str:
    return reverse(f"yarns:{name}", args=[lot.code])


def send(client: Client, name: str, lot: Lot, **facts: str) -> HttpResponse:
    return client.post(address(name, lot), {**FORMS[name], **facts})  # type: ignore[return-value]  # test client


def balance(lot: Lot) -> int:
    lot.refresh_from_db()
    assert audit().faults == ()
    return lot.balance


def test_the_page_works(assistant_client: Client, navy_lot: Lot) -> None:
    page = assistant_client.get(address("lot", navy_lot)).content.decode()
    assert navy_lot.code in page
    assert "950\u00a0m" in page
    assert "received" in page


def test_the_page_shows_history_with_running_balance(
    assistant_client: Client, navy_lot: Lot, act: MakeAct
) -> None:
    purpose = ledger.Purpose(PurposeKind.BATCH, "14", "12 beanies")
    ledger.issue(navy_lot.pk, grams(120), act(purpose=purpose, why="for the <fair>"))
    ledger.promise(navy_lot.pk, grams(100), act(purpose=purpose))
    page = assistant_client.get(address("lot", navy_lot)).content.decode()
    assert "\N{MINUS SIGN}120\u00a0g" in page
    assert "380\u00a0g" in page
    assert "for the &lt;fair&gt;" in page
    assert "batch 12 beanies" in page


def test_the_page_rejects_post_strangers_and_unknown_codes(
    assistant_client: Client, stranger_client: Client, navy_lot: Lot
) -> None:
    assert assistant_client.post(address("lot", navy_lot)).status_code == 405
    assert stranger_client.get(address("lot", navy_lot)).status_code == 302
    assert assistant_client.get(reverse("yarns:lot", args=["NOSUCHXX"])).status_code == 404


def test_prices_are_not_for_the_assistant(
    assistant_client: Client, seller_client: Client, navy_lot: Lot, studio: object
) -> None:
    assert "32.50" in seller_client.get(address("lot", navy_lot)).content.decode()
    assert "32.50" not in assistant_client.get(address("lot", navy_lot)).content.decode()


@ACTS
def test_each_act_works(assistant_client: Client, navy_lot: Lot, name: str) -> None:
    response = send(assistant_client, name, navy_lot)
    assert (response.status_code, response["Location"]) == (302, address("lot", navy_lot))
    assert balance(navy_lot) == AFTER[name]


@ACTS
def test_each_act_refuses_a_stranger(stranger_client: Client, navy_lot: Lot, name: str) -> None:
    assert send(stranger_client, name, navy_lot).status_code == 302
    assert balance(navy_lot) == 500_000


@ACTS
def test_each_act_refuses_the_seller(seller_client: Client, navy_lot: Lot, name: str) -> None:
    assert send(seller_client, name, navy_lot).status_code == 403
    assert balance(navy_lot) == 500_000


@ACTS
def test_each_act_rejects_get(assistant_client: Client, navy_lot: Lot, name: str) -> None:
    assert assistant_client.get(address(name, navy_lot)).status_code == 405


@ACTS
def test_each_act_sent_twice_counts_once(assistant_client: Client, navy_lot: Lot, name: str) -> None:
    send(assistant_client, name, navy_lot)
    assert send(assistant_client, name, navy_lot).status_code == 302
    assert balance(navy_lot) == AFTER[name]


@pytest.mark.parametrize(
    ("name", "facts", "status", "sentence"),
    [
        ("lot_issue", {"issue-how_much": ""}, 422, "This field is required."),
        ("lot_issue", {"issue-how_much": "lots"}, 422, "Write how much, like 10 (balls)"),
        ("lot_issue", {"issue-how_much": "6"}, 409, "600\u00a0g is more than that."),
        ("lot_issue", {"issue-purpose_kind": "theft"}, 422, "Select a valid choice."),
        ("lot_issue", {"issue-key": ""}, 422, "A part of this form got lost."),
        ("lot_weigh", {"seen": ""}, 422, "A part of this form got lost."),
        ("lot_write_off", {"off-why": ""}, 422, "This field is required."),
        ("lot_write_off", {"off-how_much": "501 g"}, 409, "501\u00a0g is more than that."),
        ("lot_correct", {"correct-why": ""}, 422, "This field is required."),
        ("lot_correct", {"correct-seen": "400000"}, 409, "stood at 400\u00a0g when you opened"),
        ("lot_weigh", {"scale": "heavy"}, 422, "Write what the scale shows"),
        ("lot_weigh", {"scale": "31", "tare_mg": "40"}, 422, "weighs more than all together"),
        ("lot_weigh", {"seen": "1"}, 409, "stands at 500\u00a0g now"),
        ("lot_weigh", {"full_balls": "-1"}, 422, "greater than or equal to 0"),
        ("lot_move", {"place": ""}, 422, "This field is required."),
        ("lot_give_back", {"back-how_much": "-5"}, 422, "Write how much, like 10 (balls)"),
    ],
)
def test_bad_input_is_refused_and_stays_in_the_field(
    assistant_client: Client,
    navy_lot: Lot,
    name: str,
    facts: dict[str, str],
    status: int,
    sentence: str,
) -> None:
    response = send(assistant_client, name, navy_lot, **facts)
    page = response.content.decode()
    assert response.status_code == status
    assert sentence in page
    for typed in facts.values():
        assert not typed or f'value="{typed}"' in page or typed == "theft"
    assert balance(navy_lot) == 500_000


def test_correct_to_nothing(assistant_client: Client, navy_lot: Lot) -> None:
    send(assistant_client, "lot_correct", navy_lot, **{"correct-to": "0"})
    assert balance(navy_lot) == 0


# ---------------------------------------------------------------------------------- weighing


def test_full_balls_and_a_weighed_rest(assistant_client: Client, navy_lot: Lot) -> None:
    """Four full balls of 100 g by the band and 43 g on the scale, 12 of them the bag."""
    facts = {"full_balls": "4", "scale": "43", "tare_mg": "12"}
    send(assistant_client, "lot_weigh", navy_lot, **facts)
    assert balance(navy_lot) == 431_000
    movement = navy_lot.movements.latest("pk")
    assert (movement.tare_mg, movement.scale_step_mg) == (12_000, 1000)


def test_ounces_are_read(assistant_client: Client, navy_lot: Lot) -> None:
    """1 oz is 28.349523125 g (international pound of 1959)."""
    send(assistant_client, "lot_weigh", navy_lot, scale="8 oz")
    assert balance(navy_lot) == 226_796


def test_what_may_be_the_air_is_asked_first(assistant_client: Client, navy_lot: Lot) -> None:
    """80 wool 20 nylon: 0.8 x 5 % + 0.2 x 2 % of 490 g is 21.6 g; the book says 500 g."""
    response = send(assistant_client, "lot_weigh", navy_lot, scale="490")
    page = response.content.decode()
    assert response.status_code == 200
    assert "by up to 21.6 g" in page
    assert balance(navy_lot) == 500_000
    send(assistant_client, "lot_weigh", navy_lot, scale="490", even_so="on")
    assert balance(navy_lot) == 490_000


# ----------------------------------------------------------------------------------- undoing


def undo(client: Client, lot: Lot, pk: int, **facts: str) -> HttpResponse:
    return client.post(  # type: ignore[return-value]  # test client
        reverse("yarns:lot_undo", args=[lot.code, pk]), {"key": "u", **facts}
    )


def test_undo_works_and_counts_once(assistant_client: Client, navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    assert undo(assistant_client, navy_lot, movement.pk).status_code == 302
    assert undo(assistant_client, navy_lot, movement.pk).status_code == 302
    assert balance(navy_lot) == 500_000
    assert navy_lot.movements.count() == 3


def test_undo_refuses_what_is_not_this_lots(
    assistant_client: Client,
    seller_client: Client,
    navy_lot: Lot,
    eyes_lot: Lot,
    act: MakeAct,
) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    assert undo(assistant_client, eyes_lot, movement.pk).status_code == 404
    assert undo(seller_client, navy_lot, movement.pk).status_code == 403
    assert undo(assistant_client, navy_lot, movement.pk, key="").status_code == 422
    assert balance(navy_lot) == 400_000


def test_undo_twice_says_so(assistant_client: Client, navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    undo(assistant_client, navy_lot, movement.pk)
    undo(assistant_client, navy_lot, movement.pk, key="another form")
    page = assistant_client.get(address("lot", navy_lot)).content.decode()
    assert "That entry was undone already." in page


def test_undoing_a_receipt_shares_the_postage_anew(
    assistant_client: Client, assistant: Person, navy_lot: Lot, act: MakeAct
) -> None:
    day = navy_lot.received_on
    parcel = open_parcel(assistant, "p", supplier=None, received_on=day)
    colour = navy_lot.colour
    assert colour is not None
    arrival = ledger.Arrival(colour, grams(100), day, price_paid_minor=500)
    one, two = (add_lot(parcel, arrival, act()) for _lot in range(2))
    close_parcel(parcel, 300, "")
    undo(assistant_client, two.lot, two.pk)
    assert Lot.objects.get(pk=one.lot_id).postage_share_minor == 300


# ------------------------------------------------------------------------------------- facts


def facts(lot: Lot, **changed: Any) -> dict[str, Any]:
    return {
        "dye_lot": lot.dye_lot,
        "place": "Shelf A",
        "received_on": "2026-03-02",
        "price_paid_minor": "32.50",
        "ownership": "ours",
        "set_aside": "",
        "version": lot.version,
        **changed,
    }


def test_facts_can_be_changed_and_found_by(assistant_client: Client, navy_lot: Lot) -> None:
    url = address("lot_edit", navy_lot)
    assert assistant_client.get(url).status_code == 200
    response = assistant_client.post(url, facts(navy_lot, dye_lot="8C", place="Box 3"))
    assert response.status_code == 302
    navy_lot.refresh_from_db()
    assert (navy_lot.dye_lot, str(navy_lot.place), navy_lot.balance) == ("8C", "Box 3", 500_000)
    assert "8c" in navy_lot.search_text
    assert "box 3" in navy_lot.search_text


def test_a_customers_lot_has_no_price(assistant_client: Client, navy_lot: Lot) -> None:
    url = address("lot_edit", navy_lot)
    refused = assistant_client.post(url, facts(navy_lot, ownership="customer"))
    assert refused.status_code == 422
    assert "has no price: it is not yours" in refused.content.decode()
    assistant_client.post(url, facts(navy_lot, ownership="customer", price_paid_minor=""))
    navy_lot.refresh_from_db()
    assert (navy_lot.ownership, navy_lot.cost_minor) == ("customer", None)


def test_facts_changed_by_two_people(assistant_client: Client, navy_lot: Lot) -> None:
    url = address("lot_edit", navy_lot)
    mine = facts(navy_lot, notes="mine")
    assistant_client.post(url, facts(navy_lot, notes="theirs"))
    refused = assistant_client.post(url, mine)
    assert refused.status_code == 409
    page = refused.content.decode()
    assert "Somebody changed this while you had it open." in page
    assert 'value="mine"' in page
    again = assistant_client.post(url, {**mine, "version": 2})
    assert again.status_code == 302
    navy_lot.refresh_from_db()
    assert navy_lot.notes == "mine"


def test_facts_bad_input(assistant_client: Client, seller_client: Client, navy_lot: Lot) -> None:
    url = address("lot_edit", navy_lot)
    for bad in ({"received_on": "yesterday"}, {"ownership": "thief"}, {"price_paid_minor": "x"}):
        assert assistant_client.post(url, facts(navy_lot, **bad)).status_code == 422
    assert seller_client.get(url).status_code == 403
    navy_lot.refresh_from_db()
    assert navy_lot.version == 1


def test_a_move_is_found_by_its_new_place(assistant_client: Client, navy_lot: Lot) -> None:
    send(assistant_client, "lot_move", navy_lot, place="  box   9 ")
    navy_lot.refresh_from_db()
    assert str(navy_lot.place) == "box 9"
    assert Place.objects.filter(name__iexact="box 9").count() == 1
    assert "box 9" in navy_lot.search_text
    assert not Parcel.objects.exists()
