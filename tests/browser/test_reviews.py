"""A draft is tested: the designer asks, a tester on a phone remarks and reports, the designer takes it in."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from patterns.models import Pattern
from workroom.models import Person

BETTER = "Rnd 2: Work 2 sc in each st around. (12 (16, 20) sts)"


@pytest.fixture
def looks_right(
    assert_accessible: Callable[[Page], None], assert_fits: Callable[[Page], None]
) -> Callable[[Page], None]:
    def check(page: Page) -> None:
        assert_accessible(page)
        assert_fits(page)

    return check


@pytest.mark.django_db(transaction=True)
def test_from_the_link_to_the_change(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    looks_right: Callable[[Page], None],
    full_pattern: Pattern,
    designer: Person,
) -> None:
    desk, phone = open_page(), open_page(width=390, dark=True)
    sign_in_as(desk, designer)
    phone.goto(link_for_nell(desk, looks_right))
    looks_right(phone)
    phone.get_by_role("button", name="Open the draft here").click()
    expect(phone.get_by_text("You make size M.")).to_be_visible()
    assert "/review/open/" not in phone.url, "the address that can be seen over a shoulder opens nothing"
    remark_on_line_3(phone, looks_right)
    send_a_report(phone, looks_right)

    desk.goto("/desk/patterns/net-band/reviews/")
    looks_right(desk)
    desk.get_by_role("button", name="Take it in").click()
    expect(desk.get_by_role("button", name="Undo")).to_be_visible()
    full_pattern.refresh_from_db()
    assert full_pattern.text.split("\n")[2] == BETTER
    desk.get_by_role("link", name="the report").click()
    looks_right(desk)
    phone.get_by_role("link", name="Edit sheet").click()
    looks_right(phone)
    phone.get_by_role("link", name="Draft", exact=True).click()
    expect(phone.get_by_text("Taken into the pattern.")).to_be_visible()
    looks_right(phone)


def link_for_nell(desk: Page, looks_right: Callable[[Page], None]) -> str:
    desk.goto("/desk/patterns/net-band/reviews/invite/")
    looks_right(desk)
    desk.get_by_label("Name or nick").fill("Nell")
    desk.get_by_label("Size to make").select_option("M")
    desk.get_by_role("button", name="Make a link").click()
    looks_right(desk)
    return desk.get_by_label("Link", exact=True).input_value()


def remark_on_line_3(phone: Page, looks_right: Callable[[Page], None]) -> None:
    """Half of it is typed, the page is lost, and the words are there again."""
    noticed = phone.get_by_label("What you noticed")
    phone.get_by_role("link", name="Remark on line 3").click()
    noticed.fill("Work what?")
    phone.reload()
    phone.get_by_role("link", name="Remark on line 3").click()
    expect(noticed).to_have_value("Work what?")
    phone.get_by_label("How the line should read").fill(BETTER)
    looks_right(phone)
    phone.get_by_role("button", name="Keep this remark").click()
    expect(phone.get_by_text("Not answered yet.")).to_be_visible()
    phone.get_by_role("link", name="Remark on line 3").click()
    expect(noticed).to_have_value("")  # it was sent, so it is kept no longer


def send_a_report(phone: Page, looks_right: Callable[[Page], None]) -> None:
    """What is typed is kept without a press; a weight that is none is refused, then mended."""
    phone.get_by_role("link", name="Your report", exact=True).click()
    phone.get_by_label("Hook that met the gauge").fill("5")
    with phone.expect_response(lambda answer: "/report/" in answer.url):
        phone.get_by_label("Grams before").fill("100")
    expect(phone.get_by_text("Kept at ")).to_be_visible()
    phone.get_by_label("Grams after").fill("a lot")
    phone.reload()  # sooner than it could be sent: it is kept in this browser
    expect(phone.get_by_label("Grams before")).to_have_value("100")
    expect(phone.get_by_label("Grams after")).to_have_value("a lot")
    phone.get_by_role("button", name="Send the report").click()
    expect(phone.get_by_text("Write the weight in grams")).to_be_visible()
    looks_right(phone)
    phone.get_by_label("Grams after").fill("96")
    phone.get_by_role("button", name="Send the report").click()
    expect(phone.get_by_text("Your report is sent;")).to_be_visible()
