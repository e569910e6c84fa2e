"""/desk/patterns/checks/: the index, the search, and a page for each check."""

from html import escape

import pytest
from django.test import Client
from django.urls import reverse

from craft.techedit.checks import CHECKS
from patterns.check_pages import FACT_WORDS, groups, page_of, search
from patterns.models import Pattern
from tests.patterns.examples import DISC_WRONG

INDEX = "/desk/patterns/checks/"
ONE = "/desk/patterns/checks/stitches-left-over/"


def test_every_check_has_a_page_with_all_its_parts() -> None:
    pages = [page for group in groups() for page in group.pages]
    assert [page.slug for page in pages] == [check.slug for check in CHECKS]
    for page in pages:
        names = [part.name for part in page.parts]
        assert page.what
        assert {"Why", "Wrong", "Right"} <= set(names), page.slug
        assert all(part.words.strip() for part in page.parts), page.slug


def test_every_fact_that_a_check_needs_has_words() -> None:
    assert {need for check in CHECKS for need in check.needs} <= set(FACT_WORDS)


def test_groups_carry_the_letter_of_their_checks() -> None:
    for group in groups():
        assert any(id_.startswith(group.letter) for page in group.pages for id_ in page.ids)


def test_search_wants_every_word_in_any_case() -> None:
    found = [page.slug for group in search("HOLE stitch left over") for page in group.pages]
    assert "stitches-left-over" in found
    assert len(found) < len(CHECKS) / 4
    assert search("no such word here zzz") == ()
    assert search("") == groups()


def test_an_unknown_check_has_no_page() -> None:
    assert page_of("nothing") is None


def test_index_and_page_are_shown(designer_client: Client, owner_client: Client, studio: object) -> None:
    index = designer_client.get(INDEX, {"q": "left over"}).content.decode()
    assert f'href="{ONE}"' in index
    page = owner_client.get(ONE).content.decode()
    assert "A round uses every stitch of the round below." in page
    assert "Rnd 3: sc 5, inc, sc 5 (12)" in page


def test_what_is_searched_for_is_shown_as_words(designer_client: Client, studio: object) -> None:
    answer = designer_client.get(INDEX, {"q": "<script>" + "x" * 300})
    assert answer.status_code == 200
    assert "<script>x" not in answer.content.decode()
    assert escape("<script>") in answer.content.decode()


@pytest.mark.parametrize("address", [INDEX, ONE])
def test_strangers_wrong_roles_and_methods(
    stranger_client: Client, seller_client: Client, assistant_client: Client, designer_client: Client,
    studio: object, address: str,
) -> None:  # fmt: skip
    assert stranger_client.get(address).status_code == 302
    assert seller_client.get(address).status_code == 403
    assert assistant_client.get(address).status_code == 403
    assert designer_client.post(address).status_code == 405


def test_a_check_that_is_not_there(designer_client: Client, studio: object) -> None:
    assert designer_client.get("/desk/patterns/checks/nothing/").status_code == 404


def test_each_remark_of_the_editor_leads_to_its_page(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.post(f"/desk/patterns/{pattern.slug}/check/", {"text": DISC_WRONG, "seen": "1"})
    assert reverse("patterns:check_page", args=["count-differs"]) in answer.content.decode()
