"""A draft is tested: the designer asks, a tester on a phone remarks and reports, the designer takes it in."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from patterns.models import Pattern
from workroom.models import Person

BETTER = "Rnd 2: Work 2 sc in each st around. (12 (16, 20) sts)"


@pytest.mark.django_db(transaction=True)
def test_from_the_link_to_the_change(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    full_pattern: Pattern,
    designer: Person,
) -> None:
    desk, phone = open_page(), open_page(width=390, dark=True)

    def looks_right(page: Page) -> None:
        assert_accessible(page)
        assert_fits(page)

    sign_in_as(desk, designer)
    desk.goto("/desk/patterns/net-band/reviews/invite/")
    looks_right(desk)
    desk.get_by_label("Name or nick").fill("Nell")
    desk.get_by_label("Size to make").select_option("M")
    desk.get_by_role("button", name="Make a link").click()
    link = desk.get_by_label("Link", exact=True).input_value()
    looks_right(desk)

    phone.goto(link)
    looks_right(phone)
    phone.get_by_role("button", name="Open the draft here").click()
    expect(phone.get_by_text("You make size M.")).to_be_visible()
    assert "/review/open/" not in phone.url, "the address that can be seen over a shoulder opens nothing"
    phone.get_by_role("link", name="Remark on line 3").click()
    phone.get_by_label("What you noticed").fill("Work what?")
    phone.reload()
    phone.get_by_role("link", name="Remark on line 3").click()
    expect(phone.get_by_label("What you noticed")).to_have_value("Work what?")  # kept in this browser
    phone.get_by_label("How the line should read").fill(BETTER)
    looks_right(phone)
    phone.get_by_role("button", name="Keep this remark").click()
    expect(phone.get_by_text("Not answered yet.")).to_be_visible()

    phone.get_by_role("link", name="Your report", exact=True).click()
    phone.get_by_label("Hook that met the gauge").fill("5")
    with phone.expect_response(lambda answer: "/report/" in answer.url):
        phone.get_by_label("Grams before").fill("100")  # kept without a press
    expect(phone.get_by_text("Kept at ")).to_be_visible()
    phone.reload()
    expect(phone.get_by_label("Grams before")).to_have_value("100")
    phone.get_by_label("Grams after").fill("a lot")
    phone.get_by_role("button", name="Send the report").click()
    expect(phone.get_by_text("Write the weight in grams")).to_be_visible()
    looks_right(phone)
    phone.get_by_label("Grams after").fill("96")
    phone.get_by_role("button", name="Send the report").click()
    expect(phone.get_by_text("Your report is sent;")).to_be_visible()

    desk.goto("/desk/patterns/net-band/reviews/")
    looks_right(desk)
    desk.get_by_role("button", name="Take it in").click()
    expect(desk.get_by_role("button", name="Undo")).to_be_visible()
    full_pattern.refresh_from_db()
    assert full_pattern.text.split("\n")[2] == BETTER
    phone.goto(phone.url.replace("report/", ""))
    expect(phone.get_by_text("Taken into the pattern.")).to_be_visible()
    looks_right(phone)
