"""The stocktake's pages: it works, a stranger, a wrong role, a wrong method, bad input refused."""

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from workroom.models import Person, Studio
from yarns import ledger
from yarns.amounts import grams
from yarns.audit import audit
from yarns.models import CountedLot, Lot, Movement, Place, Stocktake
from yarns.stocktakes import (
    Found,
    counted_of,
    differences,
    digest_of,
    save_count,
    start_stocktake,
)


@pytest.fixture
def counting(assistant: Person, navy_lot: Lot, shelf_a: Place) -> Stocktake:
    """Shelf A is to be counted; five balls of navy lie there."""
    return start_stocktake(assistant, "count", [shelf_a])


@pytest.fixture
def counted(counting: Stocktake, navy_lot: Lot, assistant: Person, shelf_a: Place) -> CountedLot:
    return save_count(counting, navy_lot.pk, Found(grams(430), place_id=shelf_a.pk), assistant, 0)


def count_address(counting: Stocktake, lot: Lot, place: int | None = None) -> str:
    place = lot.place_id or 0 if place is None else place
    return reverse("yarns:stocktake_count", args=[counting.pk, place, lot.code])


def place_address(counting: Stocktake, place: Place) -> str:
    return reverse("yarns:stocktake_place", args=[counting.pk, place.pk])


def sent(client: Client, address: str, **facts: str) -> HttpResponse:
    return client.post(address, facts)  # type: ignore[return-value]  # test client


# ------------------------------------------------------------------------------------ beginning


def test_begin_works(assistant_client: Client, assistant: Person, shelf_a: Place) -> None:
    address = reverse("yarns:stocktakes")
    assert "Begin a stocktake" in assistant_client.get(address).content.decode()
    response = sent(assistant_client, address, key="k", places=str(shelf_a.pk))
    row = Stocktake.objects.get()
    assert response["Location"] == reverse("yarns:stocktake", args=[row.pk])
    assert (list(row.places.all()), row.everywhere, row.started_by) == ([shelf_a], False, assistant)
    sent(assistant_client, address, key="k")
    assert Stocktake.objects.count() == 1


def test_begin_rejects_strangers_sellers_and_nonsense(
    stranger_client: Client, seller_client: Client, assistant_client: Client
) -> None:
    address = reverse("yarns:stocktakes")
    assert sent(stranger_client, address, key="k").status_code == 302
    assert sent(seller_client, address, key="k").status_code == 403
    assert assistant_client.put(address).status_code == 405
    assert sent(assistant_client, address, key="k", places="999").status_code == 422
    assert not Stocktake.objects.exists()


# ------------------------------------------------------------------------------------- counting


def test_counting_hides_the_book_and_keeps_what_is_typed(
    assistant_client: Client, counting: Stocktake, navy_lot: Lot, shelf_a: Place
) -> None:
    page = assistant_client.get(place_address(counting, shelf_a)).content.decode()
    assert navy_lot.code in page
    assert "500\u00a0g" not in page
    response = sent(assistant_client, count_address(counting, navy_lot), balls="4", scale="31", seen="0")
    assert response["Location"].endswith(f"#lot-{navy_lot.code}")
    row = CountedLot.objects.get()
    assert (row.found, row.book, row.weighed_mg, row.place) == (431_000, 500_000, 31_000, shelf_a)
    page = assistant_client.get(place_address(counting, shelf_a)).content.decode()
    assert "431\u00a0g" in page
    assert "1 of 1 counted" in page


def test_htmx_gets_the_row_and_the_progress(
    assistant_client: Client, counting: Stocktake, navy_lot: Lot
) -> None:
    response = assistant_client.post(
        count_address(counting, navy_lot),
        {"balls": "5", "seen": "0"},
        headers={"HX-Request": "true"},
    )
    page = response.content.decode()
    assert page.startswith('<li class="count-row counted"')
    assert 'hx-swap-oob="true">1 of 1 counted' in page


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({}, "Write what lies there; 0 if nothing does."),
        ({"scale": "heavy"}, "Write what the scale shows"),
        ({"balls": "-3"}, "greater than or equal to 0"),
        ({"scale": "-1"}, "Write what the scale shows"),
    ],
)
def test_counting_rejects_what_is_no_count(
    assistant_client: Client, counting: Stocktake, navy_lot: Lot, facts: dict[str, str], says: str
) -> None:
    response = sent(assistant_client, count_address(counting, navy_lot), seen="0", **facts)
    assert response.status_code == 422
    assert says in response.content.decode()
    assert not CountedLot.objects.exists()


def test_counting_takes_the_cone_off(assistant_client: Client, counting: Stocktake, navy_lot: Lot) -> None:
    Lot.objects.filter(pk=navy_lot.pk).update(tare_mg=60_000)
    address = count_address(counting, navy_lot)
    assert sent(assistant_client, address, scale="40", seen="0").status_code == 422
    assert sent(assistant_client, address, scale="0", seen="0").status_code == 302
    assert CountedLot.objects.get().found == 0
    assert sent(assistant_client, address, scale="460", seen="1").status_code == 302
    assert CountedLot.objects.get().found == 400_000


def test_a_second_hand_sees_the_first_and_can_save_again(
    designer_client: Client, counting: Stocktake, counted: CountedLot, navy_lot: Lot
) -> None:
    response = sent(designer_client, count_address(counting, navy_lot), scale="400", seen="0")
    assert response.status_code == 409
    page = response.content.decode()
    assert "Ida counted 430" in page
    assert 'value="400"' in page
    assert f'name="seen" value="{counted.version}"' in page


def test_counting_rejects_strangers_sellers_and_get(
    stranger_client: Client,
    seller_client: Client,
    assistant_client: Client,
    counting: Stocktake,
    navy_lot: Lot,
) -> None:
    address = count_address(counting, navy_lot)
    assert sent(stranger_client, address, scale="400", seen="0").status_code == 302
    assert sent(seller_client, address, scale="400", seen="0").status_code == 403
    assert assistant_client.get(address).status_code == 405
    assert not CountedLot.objects.exists()


def test_a_label_brings_up_a_lot_of_elsewhere(
    assistant_client: Client, counting: Stocktake, eyes_lot: Lot, shelf_a: Place
) -> None:
    address = place_address(counting, shelf_a)
    assert eyes_lot.code in assistant_client.get(address, {"label": eyes_lot.code.lower()}).content.decode()
    assert "no label of this workroom" in assistant_client.get(address, {"label": "??"}).content.decode()
    sent(assistant_client, count_address(counting, eyes_lot, shelf_a.pk), pieces="40", seen="0")
    assert CountedLot.objects.get().place == shelf_a


def test_a_count_is_taken_out(assistant_client: Client, counting: Stocktake, counted: CountedLot) -> None:
    address = reverse("yarns:stocktake_forget", args=[counting.pk, counted.lot.place_id, counted.lot.code])
    assert assistant_client.get(address).status_code == 405
    assert sent(assistant_client, address).status_code == 302
    assert not CountedLot.objects.exists()


# -------------------------------------------------------------------------------------- closing


def test_differences_are_shown_then_posted(
    assistant_client: Client, counting: Stocktake, counted: CountedLot, navy_lot: Lot
) -> None:
    page = assistant_client.get(reverse("yarns:stocktake", args=[counting.pk])).content.decode()
    assert "\N{MINUS SIGN}70\u00a0g" in page
    assert not Movement.objects.filter(kind="stocktake").exists()
    seen = digest_of(differences(counted_of(counting)))
    address = reverse("yarns:stocktake_post", args=[counting.pk])
    for _twice in range(2):
        assert sent(assistant_client, address, seen=seen, lot=str(navy_lot.pk)).status_code == 302
    navy_lot.refresh_from_db()
    assert (navy_lot.balance, audit().faults) == (430_000, ())
    assert Movement.objects.filter(kind="stocktake").count() == 1
    page = assistant_client.get(reverse("yarns:stocktake", args=[counting.pk])).content.decode()
    assert "Posted" in page


def test_posting_rejects_strangers_sellers_get_and_what_was_not_looked_at(
    stranger_client: Client,
    seller_client: Client,
    assistant_client: Client,
    counting: Stocktake,
    counted: CountedLot,
    navy_lot: Lot,
) -> None:
    address = reverse("yarns:stocktake_post", args=[counting.pk])
    assert sent(stranger_client, address, lot=str(navy_lot.pk)).status_code == 302
    assert sent(seller_client, address, lot=str(navy_lot.pk)).status_code == 403
    assert assistant_client.get(address).status_code == 405
    response = sent(assistant_client, address, lot=str(navy_lot.pk), seen="other")
    assert response.status_code == 409
    assert "Counts have changed since you looked" in response.content.decode()
    navy_lot.refresh_from_db()
    assert navy_lot.balance == 500_000


def test_posting_into_a_promise_is_refused_with_its_sentence(
    assistant_client: Client,
    counting: Stocktake,
    counted: CountedLot,
    navy_lot: Lot,
    act: Callable[..., ledger.Act],
) -> None:
    ledger.promise(navy_lot.pk, grams(450), act())
    page = assistant_client.get(reverse("yarns:stocktake", args=[counting.pk])).content.decode()
    assert "Release a promise first." in page
    seen = digest_of(differences(counted_of(counting)))
    address = reverse("yarns:stocktake_post", args=[counting.pk])
    assert sent(assistant_client, address, seen=seen, lot=str(navy_lot.pk)).status_code == 409
    navy_lot.refresh_from_db()
    assert navy_lot.balance == 500_000


def test_giving_up_leaves_the_book(
    assistant_client: Client, seller_client: Client, counting: Stocktake, counted: CountedLot
) -> None:
    address = reverse("yarns:stocktake_drop", args=[counting.pk])
    assert sent(seller_client, address).status_code == 403
    assert sent(assistant_client, address).status_code == 302
    counting.refresh_from_db()
    assert counting.state == "dropped"
    assert not Movement.objects.filter(kind="stocktake").exists()


def test_the_sheet_names_every_lot_and_no_balance(
    assistant_client: Client, seller_client: Client, counting: Stocktake, navy_lot: Lot, studio: Studio
) -> None:
    address = reverse("yarns:stocktake_sheet", args=[counting.pk])
    assert seller_client.get(address).status_code == 403
    response = assistant_client.get(address)
    assert response["Content-Type"] == "application/pdf"
    with pikepdf.open(BytesIO(response.content)) as paper:
        assert len(paper.pages) == 1
