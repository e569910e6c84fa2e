"""/desk/patterns/<slug>/check/: the answer of the check alone, as one types."""

from django.test import Client

from patterns.checking import check
from patterns.models import Pattern
from patterns.selectors import source_of
from tests.patterns.examples import DISC, DISC_WRONG

ADDRESS = "/desk/patterns/small-disc/check/"
HTMX = {"HX-Request": "true"}


def test_it_answers_with_a_fragment(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.post(ADDRESS, {"text": DISC_WRONG, "seen": "1"}, headers=HTMX)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "<html" not in page
    assert "must mend" in page
    assert page.count("data-line=") == 3
    pattern.refresh_from_db()
    assert pattern.text == DISC


def test_a_stranger_is_sent_to_the_door_in_one_piece(stranger_client: Client, pattern: Pattern) -> None:
    answer = stranger_client.post(ADDRESS, {"text": "x"}, headers=HTMX)
    assert "sign-in" in answer["HX-Redirect"]


def test_the_wrong_roles_are_refused(
    seller_client: Client, assistant_client: Client, pattern: Pattern
) -> None:
    for client in (seller_client, assistant_client):
        assert client.post(ADDRESS, {"text": "x"}).status_code == 403


def test_it_takes_posts_only(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.get(ADDRESS).status_code == 405


def test_what_is_too_long_is_said(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.post(ADDRESS, {"text": "x" * 200_001}, headers=HTMX)
    assert answer.status_code == 422
    assert "at most 200,000 are taken" in answer.content.decode()


def test_a_remark_is_set_aside_from_the_fragment(designer_client: Client, pattern: Pattern) -> None:
    key = check(source_of(pattern, DISC_WRONG), "us").blocking[0].key
    data = {"text": DISC_WRONG, "do": f"aside:{key}", f"reason-{key}": "on purpose"}
    page = designer_client.post(ADDRESS, data, headers=HTMX).content.decode()
    assert "Stays because: on purpose" in page
    assert pattern.set_aside.count() == 1


def test_nothing_is_saved_by_a_save_sent_here(designer_client: Client, pattern: Pattern) -> None:
    designer_client.post(ADDRESS, {"text": "mine", "do": "save", "seen": "1"}, headers=HTMX)
    pattern.refresh_from_db()
    assert pattern.text == DISC
