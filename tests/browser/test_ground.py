"""Signing in, the menu and the workroom's own pages, on a phone and on a desk."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.conftest import PASSWORD
from workroom.models import Person, Studio

WIDTHS = pytest.mark.parametrize("width", [390, 1280])
THEMES = pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
OpenPage = Callable[..., Page]
SignIn = Callable[[Page, Person], None]
Check = Callable[[Page], None]


@WIDTHS
@THEMES
def test_the_front_page_and_sign_in(
    width: int, dark: bool, studio: Studio, open_page: OpenPage, assert_accessible: Check, assert_fits: Check
) -> None:
    page = open_page(width=width, dark=dark)
    for path in ("/", "/sign-in/"):
        page.goto(path)
        expect(page.get_by_role("banner")).to_contain_text("Two Gulls Crochet")
        assert_accessible(page)
        assert_fits(page)


@pytest.fixture
def assert_good(assert_accessible: Check, assert_fits: Check) -> Check:
    def check(page: Page) -> None:
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        assert_accessible(page)
        assert_fits(page)

    return check


def test_name_and_password_let_in(designer: Person, page: Page) -> None:
    page.goto("/sign-in/")
    page.get_by_label("Sign-in name").fill(designer.handle or "")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Hello, Maren")


def test_a_wrong_password_is_told_beside_the_form(
    owner: Person, page: Page, assert_accessible: Check
) -> None:
    page.goto("/sign-in/")
    page.get_by_label("Sign-in name").fill("odile")
    page.get_by_label("Password").fill("wrong")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_text("This name and password don't belong together.")).to_be_visible()
    expect(page.get_by_label("Sign-in name")).to_have_value("odile")
    assert_accessible(page)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no-script"])
def test_the_menu_on_a_phone_works_without_script(
    script: bool, owner: Person, open_page: OpenPage, sign_in_as: SignIn
) -> None:
    page = open_page(width=390, script=script)
    sign_in_as(page, owner)
    link = page.get_by_role("link", name="People", exact=True)
    expect(link).to_have_count(0)
    page.get_by_text("Menu").click()
    link.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("People")


def test_somebody_is_asked_in_and_comes(owner: Person, open_page: OpenPage, sign_in_as: SignIn) -> None:
    page = open_page(script=False)
    sign_in_as(page, owner)
    page.goto("/desk/people/")
    page.get_by_label("Name", exact=True).fill("Nell Carrow")
    page.get_by_label("Assistant").check()
    page.get_by_role("button", name="Make a link").click()
    link = page.get_by_label("One-time link").input_value()

    guest = open_page(width=390)
    guest.goto(link)
    guest.get_by_label("Sign-in name").fill("nell")
    guest.get_by_label("Password", exact=True).fill("herring on the quay")
    guest.get_by_label("The same password again").fill("herring on the quay")
    guest.get_by_role("button", name="Come in").click()
    expect(guest.get_by_role("heading", level=1)).to_have_text("Hello, Nell Carrow")


def test_the_keyboard_reaches_the_page_past_the_menu(owner: Person, page: Page, sign_in_as: SignIn) -> None:
    sign_in_as(page, owner)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_be_focused()


def test_the_typefaces_come_from_here(owner: Person, page: Page, sign_in_as: SignIn) -> None:
    sign_in_as(page, owner)
    page.wait_for_function("document.fonts.ready")
    assert page.evaluate("document.fonts.check('16px Sans') && document.fonts.check('600 16px Serif')")
    assert page.evaluate(
        "performance.getEntriesByType('resource').every(one => one.name.startsWith(location.origin))"
    )
