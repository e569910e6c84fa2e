"""The pages of reviewing in a real browser: they fit a phone, and axe finds nothing."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from patterns.models import Pattern
from workroom.models import Person

ADDRESSES = (
    "/desk/patterns/import/",
    "/desk/patterns/checks/",
    "/desk/patterns/checks/stitches-left-over/",
    "/desk/patterns/net-band/sheet/",
    "/desk/patterns/net-band/chart/",
)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("width", "dark"), [(390, True), (1280, False)])
def test_the_pages_are_open_to_everybody(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    full_pattern: Pattern,
    designer: Person,
    width: int,
    dark: bool,
) -> None:
    text = full_pattern.text.replace("(12 (16, 20)", "(12 (16, 21)")
    Pattern.objects.filter(pk=full_pattern.pk).update(text=text)
    page = open_page(width=width, dark=dark)
    sign_in_as(page, designer)
    for address in ADDRESSES:
        page.goto(address)
        assert_accessible(page)
        assert_fits(page)
    page.goto("/desk/patterns/import/")
    page.get_by_label("Or paste a text").fill(
        "Mat\nHook: 5 mm\n½ × “old”\nRnd 1: 6 sc in a magic ring. (6)\n"
    )
    page.get_by_role("button", name="Look at it").click()
    assert_accessible(page)
    assert_fits(page)


@pytest.mark.django_db(transaction=True)
def test_a_line_of_the_text_lights_its_round_in_the_drawing_and_back(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    pattern: Pattern,
    designer: Person,
) -> None:
    page = open_page(width=1280, dark=False)
    sign_in_as(page, designer)
    page.goto(f"/desk/patterns/{pattern.slug}/chart/")
    course, line = page.locator("[data-course='0:1']"), page.locator("[data-courses='0:1']")
    line.hover()
    assert "lit" in (course.get_attribute("class") or "")
    assert "lit" not in (page.locator("[data-course='0:0']").get_attribute("class") or "")
    page.locator("h1").hover()
    assert "lit" not in (course.get_attribute("class") or "")
    course.locator("a").focus()
    assert "lit" in (line.get_attribute("class") or "")
