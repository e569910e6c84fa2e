"""The yarn room on a phone and on a desk, in light and dark, with and without scripts."""

from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from workroom.demo import Cast, make_cast
from workroom.models import Person
from yarns import demo
from yarns.audit import audit
from yarns.models import Lot, Parcel, Place, Purchase, Stocktake, Yarn
from yarns.parcels import open_parcel
from yarns.stocktakes import start_stocktake

OpenPage = Callable[..., Page]
SignIn = Callable[[Page, Person], None]
Check = Callable[[Page], None]
# every pair of colours is held to its contrast in tests/hookledger/test_palette.py
LOOKS = pytest.mark.parametrize(("width", "dark"), [(390, True), (1280, False)], ids=["phone", "desk"])


@pytest.fixture
def cast(db: None) -> Cast:
    cast = make_cast()
    demo.make(cast)
    return cast


def pages(cast: Cast) -> list[str]:
    """The pages that need a row, the receiving steps among them; test_every_page.py walks the others."""
    lot = Lot.objects.filter(colour__name="Harbour").earliest("pk")
    yarn = Yarn.objects.get(name="Tideline Worsted")
    parcel = open_parcel(cast.assistant, "look", supplier=None, received_on=cast.today)
    table = reverse("yarns:parcel", args=[parcel.pk])
    stocktake = Stocktake.objects.get(key="demo:stocktake")
    return [
        reverse("yarns:stocktake", args=[stocktake.pk]),
        reverse("yarns:stocktake_place", args=[stocktake.pk, stocktake.places.get().pk]),
        reverse("yarns:purchase", args=[Purchase.objects.get().pk]),
        reverse("yarns:restock_rule", args=[f"colour-{lot.colour_id}"]),
        f"{reverse('yarns:shelf')}?q=nothing+of+the+kind",
        reverse("yarns:lot", args=[lot.code]),
        reverse("yarns:lot_edit", args=[lot.code]),
        reverse("yarns:yarn", args=[yarn.pk]),
        reverse("yarns:yarn_edit", args=[yarn.pk]),
        table,
        f"{table}?q=tideline",
        f"{table}?what=colour-{lot.colour_id}",
        f"{table}?what=new&name=Skerry",
    ]


@LOOKS
def test_every_page_is_accessible_and_fits(
    width: int,
    dark: bool,
    cast: Cast,
    open_page: OpenPage,
    sign_in_as: SignIn,
    assert_accessible: Check,
    assert_fits: Check,
) -> None:
    page = open_page(width=width, dark=dark)
    sign_in_as(page, cast.assistant)
    for path in pages(cast):
        page.goto(path)
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        assert_accessible(page)
        assert_fits(page)


def test_a_part_ball_is_weighed_on_the_phone(cast: Cast, open_page: OpenPage, sign_in_as: SignIn) -> None:
    lot = Lot.objects.get(colour__name="Marigold")
    page = open_page(width=390)
    sign_in_as(page, cast.assistant)
    page.goto(reverse("yarns:lot", args=[lot.code]))
    page.get_by_text("Weigh what is left").click()
    page.get_by_label("Full balls").fill("2")
    page.get_by_label("The scale shows").fill("37")
    page.get_by_role("button", name="Weigh", exact=True).click()
    expect(page.get_by_text("The lot stands at 237")).to_be_visible()
    lot.refresh_from_db()
    assert lot.balance == 237_000
    assert audit().faults == ()


def test_a_lot_is_logged_without_scripts(cast: Cast, open_page: OpenPage, sign_in_as: SignIn) -> None:
    page = open_page(script=False)
    sign_in_as(page, cast.assistant)
    page.goto(reverse("yarns:receive"))
    page.get_by_role("button", name="Open the parcel").click()
    page.get_by_label("Barcode, or yarn and colour").fill("pocket")
    page.get_by_role("button", name="Find").click()
    page.get_by_role("link", name="Pocket DK Cotton Coral").click()
    page.get_by_label("Dye lot").fill("P19")
    page.get_by_label("How much").fill("4")
    page.get_by_role("button", name="Put on the shelf").click()
    expect(page.get_by_role("row", name="P19")).to_contain_text("200")
    page.get_by_label("Postage of the parcel").fill("4.20")
    page.get_by_role("button", name="Put the parcel away").click()
    expect(page.get_by_text("The parcel is put away.")).to_be_visible()
    assert Parcel.objects.latest("pk").postage_minor == 420


def test_keys_choose_and_go_back(cast: Cast, page: Page, sign_in_as: SignIn) -> None:
    sign_in_as(page, cast.assistant)
    page.goto(reverse("yarns:receive"))
    page.keyboard.press("Enter")
    expect(page.get_by_label("Barcode, or yarn and colour")).to_be_focused()
    page.keyboard.type("tideline")
    page.keyboard.press("Enter")
    expect(page.locator(".choice").first).to_be_focused()
    page.keyboard.press("2")
    expect(page.get_by_label("Dye lot")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.get_by_label("Barcode, or yarn and colour")).to_be_focused()


def test_a_shelf_is_counted_on_the_phone(cast: Cast, open_page: OpenPage, sign_in_as: SignIn) -> None:
    """Saved as one goes, each row by itself; the difference is shown, then posted."""
    shelf = Place.objects.get(name="Shelf C")
    lot = Lot.objects.get(colour__name="Tar")
    stocktake = start_stocktake(cast.assistant, "phone", [shelf])
    page = open_page(width=390)
    sign_in_as(page, cast.assistant)
    page.goto(reverse("yarns:stocktake_place", args=[stocktake.pk, shelf.pk]))
    row = page.locator(f"#lot-{lot.code}")
    row.get_by_label("Balls").fill("4")
    row.get_by_label("Grams").fill("38")
    row.get_by_role("button", name="Save").click()
    expect(row.get_by_text("438")).to_be_visible()
    expect(page.get_by_text("1 of 4 counted")).to_be_visible()
    page.get_by_role("link", name="Done here").click()
    expect(page.get_by_role("row", name="Tar")).to_contain_text("62")
    page.get_by_role("button", name="Post what is ticked and close").click()
    expect(page.get_by_text("Posted: 1 difference stands in the stock book.")).to_be_visible()
    lot.refresh_from_db()
    assert lot.balance == 438_000
    assert audit().faults == ()
