"""Yarns, colours, supplies and places: added, changed, and never overwritten unseen."""

from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from yarns.models import Colour, Lot, Place, Supply, Yarn

YARN = {
    "maker": "Old Rope Walk",
    "name": "Hempen",
    "weight_category": "4",
    "fibres": "60 cotton, 40 hemp",
    "ball_mass_mg": "100",
    "ball_length_mm": "160 m",
    "put_up": "ball",
    "hook_um": "5.5",
    "care": "wash at 30",
}


def yarn_typed(yarn: Yarn, **changed: Any) -> dict[str, Any]:
    return {
        **YARN,
        "maker": yarn.maker,
        "name": yarn.name,
        "fibres": "80 wool 20 nylon",
        "ball_length_mm": "190",
        "version": yarn.version,
        **changed,
    }


# -------------------------------------------------------------------------------------- yarns


def test_list_works_for_all_who_work_here(seller_client: Client, navy_lot: Lot, eyes: Supply) -> None:
    page = seller_client.get(reverse("yarns:yarns")).content.decode()
    assert "Tideline Worsted" in page
    assert "80\u00a0% wool, 20\u00a0% nylon" in page
    assert "500\u00a0g" in page
    assert "Safety eyes black 9 mm" in page


def test_page_works(seller_client: Client, navy_lot: Lot, tideline: Yarn) -> None:
    page = seller_client.get(reverse("yarns:yarn", args=[tideline.pk])).content.decode()
    assert "4 Medium" in page
    assert "Navy" in page
    assert seller_client.get(reverse("yarns:yarn", args=[999])).status_code == 404


def test_page_of_a_yarn_that_nobody_knows_much_of(assistant_client: Client) -> None:
    yarn = Yarn.objects.create(name="Attic", fibres=[["moon dust", 1000]])
    page = assistant_client.get(reverse("yarns:yarn", args=[yarn.pk])).content.decode()
    assert "not known" in page
    assert "Not in the table of fibres: moon dust." in page


def test_add_a_yarn(assistant_client: Client) -> None:
    url = reverse("yarns:yarn_add")
    assert assistant_client.get(url).status_code == 200
    response = assistant_client.post(url, YARN)
    yarn = Yarn.objects.get()
    assert response["Location"] == reverse("yarns:yarn", args=[yarn.pk])
    assert (yarn.fibres, yarn.hook_um) == ([["cotton", 600], ["hemp", 400]], 5500)
    assert (yarn.ball_mass_mg, yarn.ball_length_mm) == (100_000, 160_000)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"fibres": "90 cotton"}, "The fibres add to 90"),
        ({"weight_category": "8"}, "Select a valid choice."),
        ({"hook_um": "5 cm"}, "Write the hook in millimetres"),
        ({"ball_length_mm": "far"}, "Write the length like 125 m or 137 yd."),
        (
            {"maker": "SANDPIPER mill", "name": "tideline worsted"},
            "yarn of that name is already here.",
        ),
    ],
)
def test_add_refuses_bad_input(
    assistant_client: Client, tideline: Yarn, typed: dict[str, str], sentence: str
) -> None:
    response = assistant_client.post(reverse("yarns:yarn_add"), {**YARN, **typed})
    page = response.content.decode()
    assert response.status_code == 422
    assert sentence in page
    assert 'value="wash at 30"' in page
    assert Yarn.objects.count() == 1


def test_change_a_yarn_and_find_its_lots_by_the_new_name(
    assistant_client: Client, tideline: Yarn, navy_lot: Lot
) -> None:
    url = reverse("yarns:yarn_edit", args=[tideline.pk])
    assert 'value="80 % wool, 20 % nylon"' in assistant_client.get(url).content.decode()
    response = assistant_client.post(url, yarn_typed(tideline, name="Ebbline"))
    assert response.status_code == 302
    navy_lot.refresh_from_db()
    assert navy_lot.shelf_name == "sandpiper mill ebbline navy 7b"
    assert "ebbline" in navy_lot.search_text


def test_two_people_change_one_yarn(assistant_client: Client, tideline: Yarn) -> None:
    url = reverse("yarns:yarn_edit", args=[tideline.pk])
    mine = yarn_typed(tideline, care="mine")
    assistant_client.post(url, yarn_typed(tideline, care="theirs"))
    refused = assistant_client.post(url, mine)
    page = refused.content.decode()
    assert refused.status_code == 409
    assert "<dd>theirs</dd>" in page
    assert 'value="mine"' in page
    assert 'name="version" value="2"' in page
    tideline.refresh_from_db()
    assert tideline.care == "theirs"
    assert assistant_client.post(url, {**mine, "version": 2}).status_code == 302


def test_measure_it_yourself(assistant_client: Client, tideline: Yarn, navy_lot: Lot) -> None:
    """10 m that weigh 5.5 g are 1.818 m a gram: 500 g are 909 m, and no movement changes."""
    url = reverse("yarns:yarn_measured", args=[tideline.pk])
    assistant_client.post(url, {"length_mm": "10", "mass_mg": "5.5"})
    page = assistant_client.get(reverse("yarns:yarn", args=[tideline.pk])).content.decode()
    assert "909\u00a0m" in page
    assert navy_lot.movements.count() == 1
    assert assistant_client.post(url, {"length_mm": "10"}).status_code == 422
    assistant_client.post(url, {})
    tideline.refresh_from_db()
    assert tideline.measured_mm_per_g is None


# ------------------------------------------------------------------------- colours, supplies


def test_add_and_change_a_colour(assistant_client: Client, tideline: Yarn) -> None:
    url = reverse("yarns:colour_add", args=[tideline.pk])
    typed = {"name": "Kelp", "code": "44", "hex_swatch": "56613B", "gtin": "6291041500213"}
    assert assistant_client.post(url, typed).status_code == 302
    colour = Colour.objects.get()
    assert (colour.hex_swatch, colour.gtin) == ("#56613b", "06291041500213")
    edit = reverse("yarns:colour_edit", args=[colour.pk])
    assert 'value="6291041500213"' in assistant_client.get(edit).content.decode()
    assistant_client.post(edit, {**typed, "name": "Weed", "version": 1})
    colour.refresh_from_db()
    assert (colour.name, colour.version) == ("Weed", 2)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": "navy", "code": "12"}, "a colour of that name and number already."),
        ({"hex_swatch": "blue"}, "Write the shade as # and six of 0-9 and a-f."),
        ({"hex_swatch": '"><x'}, "Write the shade as # and six of 0-9 and a-f."),
        ({"gtin": "6291041500214"}, "does not fit the others"),
        ({"gtin": "6291041500213"}, "This barcode belongs to"),
    ],
)
def test_colour_refuses_bad_input(
    assistant_client: Client, navy: Colour, typed: dict[str, str], sentence: str
) -> None:
    url = reverse("yarns:colour_add", args=[navy.yarn_id])
    response = assistant_client.post(url, {"name": "Kelp", **typed})
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert Colour.objects.count() == 1


def test_add_and_change_a_supply(assistant_client: Client) -> None:
    typed = {"kind": "filling", "name": "Toy filling", "counts_in": "mg"}
    assert assistant_client.post(reverse("yarns:supply_add"), typed).status_code == 302
    supply = Supply.objects.get()
    url = reverse("yarns:supply_edit", args=[supply.pk])
    assert assistant_client.get(url).status_code == 200
    assistant_client.post(url, {**typed, "maker": "Downy Dock", "version": 1})
    supply.refresh_from_db()
    assert supply.maker == "Downy Dock"
    assert assistant_client.post(reverse("yarns:supply_add"), {"kind": "x"}).status_code == 422


def test_the_unit_of_a_supply_with_lots_stays(assistant_client: Client, eyes: Supply, eyes_lot: Lot) -> None:
    url = reverse("yarns:supply_edit", args=[eyes.pk])
    typed = {"kind": "eyes", "name": eyes.name, "size": eyes.size, "counts_in": "mg", "version": 1}
    response = assistant_client.post(url, typed)
    assert response.status_code == 422
    assert "Lots of it are in the stock book" in response.content.decode()


# ------------------------------------------------------------------------------------- places


def test_places(assistant_client: Client, navy_lot: Lot, shelf_a: Place) -> None:
    url = reverse("yarns:places")
    assert "500\u00a0g" in assistant_client.get(url).content.decode()
    assert assistant_client.post(url, {"name": "Box 1"}).status_code == 302
    assert assistant_client.post(url, {"name": "BOX 1"}).status_code == 422
    assert Place.objects.count() == 2
    edit = reverse("yarns:place_edit", args=[shelf_a.pk])
    assistant_client.post(edit, {"name": "Attic"})
    navy_lot.refresh_from_db()
    assert "attic" in navy_lot.search_text
    assert assistant_client.post(edit, {"name": "box 1"}).status_code == 422
    shelf_a.refresh_from_db()
    assert shelf_a.name == "Attic"


def test_a_place_goes_only_when_no_lot_lay_there(
    assistant_client: Client, navy_lot: Lot, shelf_a: Place
) -> None:
    url = reverse("yarns:place_delete", args=[shelf_a.pk])
    page = assistant_client.post(url, follow=True).content.decode()
    assert "so it stays in the book" in page
    empty = Place.objects.create(name="Box 2")
    assistant_client.post(reverse("yarns:place_delete", args=[empty.pk]))
    assert list(Place.objects.all()) == [shelf_a]


# -------------------------------------------------------------------------------------- doors


@pytest.mark.parametrize(
    ("name", "with_id"),
    [
        ("yarn_add", False),
        ("supply_add", False),
        ("places", False),
        ("yarn_edit", True),
        ("colour_add", True),
        ("colour_edit", True),
        ("supply_edit", True),
        ("place_edit", True),
        ("yarn_measured", True),
        ("place_delete", True),
    ],
)
def test_strangers_and_sellers_change_nothing(
    stranger_client: Client, seller_client: Client, navy: Colour, name: str, with_id: bool
) -> None:
    url = reverse(f"yarns:{name}", args=[navy.yarn_id] if with_id else [])
    for method in ("get", "post"):
        answer: HttpResponse = getattr(stranger_client, method)(url)
        assert answer.status_code == 302
        assert getattr(seller_client, method)(url).status_code == 403


@pytest.mark.parametrize("name", ["yarn_measured", "place_delete"])
def test_these_reject_get(assistant_client: Client, name: str) -> None:
    assert assistant_client.get(reverse(f"yarns:{name}", args=[1])).status_code == 405
