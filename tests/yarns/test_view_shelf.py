"""The shelf page: search, filter, sort, paging, totals, export."""

from collections.abc import Callable
from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from yarns import ledger
from yarns.amounts import grams
from yarns.models import Colour, Lot, Ownership, Place, SetAside, Yarn

MakeAct = Callable[..., ledger.Act]
Put = Callable[..., Lot]
URL = reverse("yarns:shelf")


def codes(client: Client, **asked: str) -> list[str]:
    """The lots on the page, in its order."""
    response = client.get(URL, asked)
    assert response.status_code == 200
    return [lot.code for lot in response.context["lots"]]


def test_it_works(assistant_client: Client, navy_lot: Lot) -> None:
    page = assistant_client.get(URL).content.decode()
    assert "Sandpiper Mill Tideline Worsted" in page
    assert "Navy" in page
    assert "950\u00a0m" in page


def test_stranger_is_sent_to_sign_in(stranger_client: Client, navy_lot: Lot) -> None:
    response = stranger_client.get(URL)
    assert response.status_code == 302
    assert reverse("workroom:sign_in") in response["Location"]


def test_seller_reads_but_may_not_book(seller_client: Client, navy_lot: Lot) -> None:
    page = seller_client.get(URL).content.decode()
    assert "Navy" in page
    assert reverse("yarns:receive") not in page


def test_it_rejects_post(assistant_client: Client) -> None:
    assert assistant_client.post(URL).status_code == 405


def test_empty_shelf_says_what_to_do(assistant_client: Client) -> None:
    page = assistant_client.get(URL).content.decode()
    assert "The shelf is empty." in page
    assert reverse("yarns:receive") in page


def test_nothing_found_offers_the_whole_shelf(assistant_client: Client, navy_lot: Lot) -> None:
    page = assistant_client.get(URL, {"q": "purple elephant"}).content.decode()
    assert "No lot answers that." in page


@pytest.mark.parametrize(
    "words",
    ["navy", "NAVY tideline", "sandpiper 7b", "shelf a", "wool", "6291041500213", "medium"],
)
def test_search(assistant_client: Client, navy_lot: Lot, words: str) -> None:
    assert codes(assistant_client, q=words) == [navy_lot.code]
    assert codes(assistant_client, q=f"{words} nothing") == []


def test_search_minds_no_accents(assistant_client: Client, put_on_shelf: Put, tideline: Yarn) -> None:
    lot = put_on_shelf(Colour.objects.create(yarn=tideline, name="Crème Brûlée"), grams(50))
    assert codes(assistant_client, q="creme brulee") == [lot.code]
    assert codes(assistant_client, q="BRÛLÉE") == [lot.code]


def test_a_label_opens_its_lot(assistant_client: Client, navy_lot: Lot) -> None:
    response = assistant_client.get(URL, {"q": navy_lot.code.lower()})
    assert response["Location"] == reverse("yarns:lot", args=[navy_lot.code])


def test_filters(
    assistant_client: Client, navy: Colour, put_on_shelf: Put, act: MakeAct, shelf_a: Place
) -> None:
    ours = put_on_shelf(navy, grams(50), dye_lot="1", place_id=shelf_a.pk)
    theirs = put_on_shelf(navy, grams(50), dye_lot="2", ownership=Ownership.CUSTOMER)
    moth = put_on_shelf(navy, grams(50), dye_lot="3", set_aside=SetAside.MOTH)
    gone = put_on_shelf(navy, grams(50), dye_lot="4")
    ledger.issue(gone.pk, grams(50), act())
    assert codes(assistant_client) == [ours.code, theirs.code, moth.code]
    assert codes(assistant_client, show="free") == [ours.code]
    assert codes(assistant_client, show="customer") == [theirs.code]
    assert codes(assistant_client, show="aside") == [moth.code]
    assert codes(assistant_client, show="gone") == [gone.code]
    assert len(codes(assistant_client, show="all")) == 4
    assert codes(assistant_client, place=str(shelf_a.pk)) == [ours.code]
    assert codes(assistant_client, weight="4", show="free") == [ours.code]
    assert codes(assistant_client, weight="3") == []


def test_sorts(assistant_client: Client, navy: Colour, put_on_shelf: Put) -> None:
    big = put_on_shelf(navy, grams(90), dye_lot="B", received_on=date(2026, 1, 1))
    small = put_on_shelf(navy, grams(10), dye_lot="A", received_on=date(2026, 2, 1))
    assert codes(assistant_client) == [small.code, big.code]
    assert codes(assistant_client, sort="most") == [big.code, small.code]
    assert codes(assistant_client, sort="least") == [small.code, big.code]
    assert codes(assistant_client, sort="newest") == [small.code, big.code]
    assert codes(assistant_client, sort="oldest") == [big.code, small.code]


@pytest.mark.parametrize("sort", ["name", "newest", "oldest", "most", "least"])
def test_pages_show_every_lot_once_both_ways(
    assistant_client: Client,
    navy: Colour,
    put_on_shelf: Put,
    sort: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("yarns.shelf.PAGE_SIZE", 3)
    for number in range(8):
        put_on_shelf(navy, grams(50 + number % 2), received_on=date(2026, 1, 1 + number // 4))
    whole, asked = [], {"sort": sort}
    while True:
        response = assistant_client.get(URL, asked)
        whole.append([lot.code for lot in response.context["lots"]])
        if not response.context["page"].after:
            break
        asked = {"sort": sort, "after": response.context["page"].after}
    assert [len(page) for page in whole] == [3, 3, 2]
    assert len({code for page in whole for code in page}) == 8
    back = assistant_client.get(URL, {"sort": sort, "before": response.context["page"].before})
    assert [lot.code for lot in back.context["lots"]] == whole[1]
    first = assistant_client.get(URL, {"sort": sort, "before": back.context["page"].before})
    assert [lot.code for lot in first.context["lots"]] == whole[0]
    assert first.context["page"].before == ""


@pytest.mark.parametrize(
    "asked",
    [
        {"after": "rubbish"},
        {"after": "WzEsMl0"},
        {"before": "W251bGwsIG51bGxd", "sort": "newest"},
        {"after": "WzEwMDAwMDAwMDAwMDAwMDAwMDAwMDAwMCwxXQ", "sort": "most"},
        {"weight": "9"},
        {"weight": "x"},
        {"place": "99999999999999999999999"},
        {"show": "everything", "sort": "sideways"},
        {"q": "\x00"},
        {"q": "x" * 5000},
    ],
)
def test_nonsense_in_the_address_is_left_out(
    assistant_client: Client, navy_lot: Lot, asked: dict[str, str]
) -> None:
    assert assistant_client.get(URL, asked).status_code == 200


def test_totals_by_weight_and_place(
    owner_client: Client, navy_lot: Lot, put_on_shelf: Put, act: MakeAct, db: None
) -> None:
    """Half of a lot of 35.00 with postage is left: it stands at 17.50."""
    plain = Colour.objects.create(yarn=Yarn.objects.create(name="No band"), name="Grey")
    put_on_shelf(plain, grams(70))
    ledger.issue(navy_lot.pk, grams(250), act())
    totals = owner_client.get(URL).context["totals"]
    assert (totals.all.lots, totals.all.on_hand, totals.all.metres) == (2, grams(320), 475)
    assert totals.all.value_minor == 1750
    assert [(row.label, row.lots) for row in totals.by_weight] == [
        ("4 Medium", 1),
        ("Weight not known", 1),
    ]
    assert [(row.label, row.on_hand) for row in totals.by_place] == [
        ("Shelf A", grams(250)),
        ("No place", grams(70)),
    ]


def test_value_at_cost_is_not_for_the_assistant(
    owner_client: Client, assistant_client: Client, navy_lot: Lot, studio: object
) -> None:
    assert "at cost" in owner_client.get(URL).content.decode()
    page = assistant_client.get(URL).content.decode()
    assert "at cost" not in page
    assert "35.00" not in page


@pytest.mark.parametrize("lots", [1, 30])
def test_a_constant_number_of_queries(
    lots: int,
    assistant_client: Client,
    navy: Colour,
    put_on_shelf: Put,
    django_assert_max_num_queries: Callable[[int], object],
) -> None:
    for _lot in range(lots):
        put_on_shelf(navy, grams(50))
    with django_assert_max_num_queries(8):  # type: ignore[attr-defined]  # pytest-django's fixture
        assistant_client.get(URL)


# ------------------------------------------------------------------------------------ export


def exported(client: Client, **asked: str) -> list[str]:
    response = client.get(reverse("yarns:shelf_export"), asked)
    assert response.status_code == 200
    assert response["Content-Type"] == "text/csv; charset=utf-8"
    text = b"".join(response.streaming_content).decode()  # type: ignore[attr-defined]  # it streams
    assert text.startswith("\ufeff")
    return text.removeprefix("\ufeff").splitlines()


def test_export(owner_client: Client, navy_lot: Lot) -> None:
    head, row = exported(owner_client)
    assert head.startswith("label,kind,maker,yarn or supply,size,colour,")
    assert head.endswith(",price paid,share of postage,currency")
    assert row.startswith(f"{navy_lot.code},yarn,Sandpiper Mill,Tideline Worsted,,Navy,12,6291041500213,4,")
    assert row.endswith(",32.50,2.50,EUR")
    assert ",g,500,500,0,500,950,ours," in row


def test_export_keeps_prices_from_the_assistant(assistant_client: Client, navy_lot: Lot) -> None:
    head, row = exported(assistant_client)
    assert "price" not in head
    assert "32.50" not in row


def test_export_of_what_was_asked_for(assistant_client: Client, navy_lot: Lot) -> None:
    assert len(exported(assistant_client, q="nothing")) == 1


@pytest.mark.parametrize("evil", ["=1+2", "+1", "-1", "@SUM(A1)", "\tx", "'quoted"])
def test_export_runs_nothing_in_a_spreadsheet(
    assistant_client: Client, tideline: Yarn, put_on_shelf: Put, evil: str
) -> None:
    """OWASP, "CSV Injection": cells that begin = + - @ tab get an apostrophe."""
    put_on_shelf(Colour.objects.create(yarn=tideline, name=evil), grams(50))
    _head, row = exported(assistant_client)
    assert f",'{evil}," in row


# --------------------------------------------------------------------------------- shade card


def test_shade_card(assistant_client: Client, navy_lot: Lot) -> None:
    page = assistant_client.get(reverse("yarns:shade_card")).content.decode()
    assert 'fill="#1f3350"' in page
    picture = assistant_client.get(reverse("yarns:shade_picture"))
    assert picture["Content-Type"] == "image/svg+xml"
    assert "Navy 12" in picture.content.decode()


def test_shade_card_writes_names_as_text(assistant_client: Client, tideline: Yarn, put_on_shelf: Put) -> None:
    put_on_shelf(Colour.objects.create(yarn=tideline, name="<b>&x"), grams(5))
    picture = assistant_client.get(reverse("yarns:shade_picture")).content.decode()
    assert "&lt;b&gt;&amp;x" in picture
    assert "shade not known" in picture


def test_shade_card_of_an_empty_shelf(assistant_client: Client) -> None:
    assert (
        "No colour lies on the shelf yet."
        in assistant_client.get(reverse("yarns:shade_card")).content.decode()
    )
    assert assistant_client.get(reverse("yarns:shade_picture")).status_code == 200


def test_too_many_answers_are_not_added_up(
    assistant_client: Client, navy_lot: Lot, put_on_shelf: Put, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("yarns.shelf.FEW", 1)
    put_on_shelf(navy_lot.colour, grams(5))
    response = assistant_client.get(URL, {"q": "navy"})
    assert response.context["totals"] is None
    assert len(response.context["lots"]) == 2
    assert "Narrow the search." in response.content.decode()


def test_totals_follow_a_measured_yarn_at_once(
    assistant_client: Client, navy_lot: Lot, tideline: Yarn
) -> None:
    """500 g at 1.8 m a gram are 900 m."""
    url = reverse("yarns:yarn_measured", args=[tideline.pk])
    assistant_client.post(url, {"length_mm": "18", "mass_mg": "10"})
    assert assistant_client.get(URL).context["totals"].all.metres == 900


def test_a_customers_own_is_in_none_of_our_totals(
    owner_client: Client, navy: Colour, navy_lot: Lot, put_on_shelf: Callable[..., Lot]
) -> None:
    put_on_shelf(navy, grams(4000), ownership=Ownership.CUSTOMER, dye_lot="theirs")
    page = owner_client.get(reverse("yarns:shelf"))
    assert (page.context["totals"].all.on_hand, page.context["totals"].all.value_minor) == (grams(500), 3500)
    theirs = owner_client.get(reverse("yarns:shelf"), {"show": "customer"}).context["totals"].all
    assert (theirs.on_hand, theirs.value_minor) == (grams(4000), 0)
    yarns = owner_client.get(reverse("yarns:yarns")).context["yarns"]
    assert [yarn.on_hand for yarn in yarns] == [500_000]
