"""Measuring a pattern in a real browser: several sizes on a phone, drawn, and taken over by one press."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from patterns.models import Pattern, PatternSize
from tests.craft.fabric.plain_parts import disc
from workroom.models import Person


@pytest.mark.django_db(transaction=True)
def test_a_designer_looks_at_the_sizes_and_takes_them_over(
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
    full_pattern: Pattern,
    designer: Person,
) -> None:
    text = disc(9, 6).replace("Rnd 9:", "Rnd 9: With A,") + "Rnds 10-14: Sc in each st around. (54)\n"
    Pattern.objects.filter(pk=full_pattern.pk).update(text=text)
    PatternSize.objects.filter(pattern=full_pattern).update(finished="60 cm (23½ in) around")
    page = open_page(width=390, dark=True)
    sign_in_as(page, designer)
    page.goto("/desk/patterns/net-band/measures/")
    expect(page.get_by_role("heading", name="Does it lie flat?")).to_be_visible()
    expect(page.get_by_text("facts: 60 cm (23½ in)").first).to_be_visible()
    page.get_by_text("The same counts with staggered increases").click()
    assert_accessible(page)
    assert_fits(page)
    page.get_by_role("button", name="Use these as finished size").click()
    expect(page.get_by_text("the facts now give these as the finished sizes")).to_be_visible()
    assert {size.finished for size in full_pattern.sizes.all()} == {
        "38.5 cm (15¼ in) around, 9 cm (3½ in) deep"
    }
