"""The seller costs a batch of twelve for a fair, on a phone: from an empty room to yarn and a sheet."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from playwright.sync_api import Page, expect

from orders.models import Batch, Piece
from workroom.models import Person, Studio
from yarns import ledger
from yarns.amounts import grams
from yarns.models import Colour, Lot, Yarn

PHONE = 390
FAIR_DAY = date.today() + timedelta(days=30)  # noqa: DTZ011 - any day to come will do


@pytest.fixture
def navy_lot(transactional_db: None, assistant: Person) -> Lot:
    """1.2 kg of one dye lot, 38.40: 3.20 for 100 g."""
    yarn = Yarn.objects.create(maker="Sandpiper Mill", name="Tideline Worsted", ball_mass_mg=100_000)
    colour = Colour.objects.create(yarn=yarn, name="Navy", hex_swatch="#1f3350")
    arrival = ledger.Arrival(colour, grams(1200), date(2026, 3, 2), dye_lot="7B", price_paid_minor=3840)
    return ledger.receive(arrival, ledger.Act(assistant, "parcel")).lot


def set_rates(page: Page) -> None:
    page.goto("/desk/orders/rates/")
    page.get_by_label("Your pay for an hour of work").fill("12.50")
    page.get_by_label("Overhead for an hour of work").fill("3")
    page.get_by_label("Margin wanted").fill("20")
    page.get_by_role("button", name="Save the rates").click()


def add_piece(page: Page) -> None:
    page.get_by_role("link", name="Add a piece").click()
    page.get_by_label("Name of the piece").fill("Harbour beanie")
    page.get_by_label("Time for one").fill("1:30")
    page.get_by_label("Part").first.fill("all of it")
    page.get_by_label("Yarn and colour").first.select_option(label="Tideline Worsted Navy")
    page.get_by_label("Grams for one").first.fill("80")
    page.get_by_label("Grams to have at hand").first.fill("90")
    page.get_by_role("button", name="Save the piece").click()


def add_fair(page: Page) -> None:
    page.goto("/desk/orders/fairs/new/")
    page.get_by_label("Fair", exact=True).fill("Harbour Wall Fair")
    page.get_by_label("First day").fill(FAIR_DAY.isoformat())
    page.get_by_label("Stall fee").fill("85")
    page.get_by_label("Travel", exact=False).first.fill("18")
    page.get_by_role("button", name="Save the fair").click()


@pytest.mark.parametrize("script", [True, False])
def test_twelve_for_a_fair(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    studio: Studio,
    seller: Person,
    navy_lot: Lot,
    script: bool,
) -> None:
    page = open_page(width=PHONE, script=script)
    look = (
        (lambda: assert_fits(page)) if not script else (lambda: (assert_accessible(page), assert_fits(page)))
    )
    sign_in_as(page, seller)
    set_rates(page)
    look()
    add_piece(page)

    # 80 g at 0.032 is 2.56; 1.5 h at 15.50 is 23.25: full cost 25.81, at 20 % 32.27 (32.2625 goes up)
    sheet = page.locator("#sheet")
    expect(sheet).to_contain_text("€2.56")
    expect(sheet).to_contain_text("€25.81")
    expect(sheet).to_contain_text("€32.27")
    look()
    page.get_by_role("textbox", name="Price", exact=True).fill("35")
    page.get_by_role("button", name="Work it out").click()
    # 35.00 less 2.56 of yarn and 4.50 of overhead, over an hour and a half
    expect(sheet).to_contain_text("pays €18.63 an hour")
    page.get_by_role("button", name="Put €35.00 on the tag").click()
    assert Piece.objects.get().price_minor == 3500

    add_fair(page)
    look()
    page.get_by_role("link", name="Plan a batch for it").click()
    page.get_by_label("Piece", exact=True).select_option(label="Harbour beanie")
    page.get_by_label("How many").fill("12")
    look()
    page.get_by_role("button", name="See what it takes").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("12 × Harbour beanie")
    main = page.locator("main")
    expect(main).to_contain_text("The shelf has all the yarn for 12 pieces.")
    expect(main).to_contain_text("€309.72")  # 12 at 25.81
    expect(main).to_contain_text("dye lot 7B")
    look()
    page.get_by_role("button", name="Start and reserve the yarn").click()
    expect(main).to_contain_text("The yarn for 12 pieces is reserved.")
    navy_lot.refresh_from_db()
    assert navy_lot.promised == 12 * 90_000

    page.get_by_role("link", name="Harbour Wall Fair").click()
    # 103.00 of fair at 35.00 - 2.56: 3.2 pieces
    expect(page.get_by_role("row", name="out of pocket")).to_contain_text("4")
    look()
    page.goto(f"/desk/orders/batches/{Batch.objects.get().code}/sheet/")
    expect(main).to_contain_text("Stop after 30 min")
    look()


def test_in_the_dark_the_sheet_can_be_read(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    studio: Studio,
    seller: Person,
    navy_lot: Lot,
) -> None:
    page = open_page(width=1280, dark=True)
    sign_in_as(page, seller)
    set_rates(page)
    add_piece(page)
    assert_accessible(page)
    page.get_by_role("link", name="Change").click()
    assert_accessible(page)
    page.goto("/desk/orders/")
    assert_accessible(page)


def test_what_if_answers_while_one_types(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    studio: Studio,
    seller: Person,
    navy_lot: Lot,
) -> None:
    """With script the sheet changes on leaving a field; a bad figure is said and what was typed stays."""
    page = open_page(width=PHONE)
    sign_in_as(page, seller)
    set_rates(page)
    add_piece(page)
    price = page.get_by_role("textbox", name="Price", exact=True)
    price.fill("20")
    price.blur()
    expect(page.locator("#sheet")).to_contain_text("At €20.00 an hour pays €8.63.")
    price.fill("cheap")
    price.blur()
    expect(page.locator("#sheet")).to_contain_text("Write an amount like 12.50.")
    expect(price).to_have_value("cheap")
