"""The start page, /desk/."""

from collections.abc import Callable
from unittest.mock import patch

import pytest
from django.test import Client

from hookledger import desk
from workroom.desk import Card
from workroom.models import Person, Role, Studio

URL = "/desk/"


@pytest.fixture
def rooms_say_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desk, "ROOMS", ())


def test_it_works_for_every_role(
    person_with: Callable[..., Person], client_for: Callable[[Person], Client], studio: Studio
) -> None:
    for role in Role:
        response = client_for(person_with(role, name="Nell")).get(URL)
        assert response.status_code == 200
        assert "Hello, Nell" in response.text


def test_it_refuses_a_stranger_and_other_methods(stranger_client: Client, owner_client: Client) -> None:
    assert stranger_client.get(URL)["Location"] == "/sign-in/?next=/desk/"
    assert owner_client.post(URL).status_code == 405


def test_the_menu_shows_what_one_may_open(owner_client: Client, assistant_client: Client) -> None:
    assert 'href="/desk/people/"' in owner_client.get(URL).text
    assert 'href="/desk/people/"' not in assistant_client.get(URL).text


def test_the_menu_marks_where_one_is(owner_client: Client) -> None:
    assert '<a href="/desk/people/" aria-current="page">' in owner_client.get("/desk/people/").text
    assert '<a href="/desk/" aria-current="page">' in owner_client.get(URL).text
    assert "aria-current" not in owner_client.get("/desk/me/").text


def test_nothing_to_do_is_said(rooms_say_nothing: None, studio: Studio, assistant_client: Client) -> None:
    assert "Nothing is waiting for you." in assistant_client.get(URL).text


def test_an_owner_of_a_new_studio_is_told_where_to_begin(
    rooms_say_nothing: None, owner_client: Client, designer_client: Client
) -> None:
    assert "Describe your studio" in owner_client.get(URL).text
    assert "Describe your studio" not in designer_client.get(URL).text


def test_urgent_cards_come_first(owner_client: Client, studio: Studio) -> None:
    calm = Card(title="Calm", says="Later.", url="/a/", action="Look")
    urgent = Card(title="Burning", says="Now.", url="/b/", action="Mend", count=3, urgent=True)
    with patch("hookledger.desk.makers", return_value=[lambda _: [calm], lambda _: [urgent]]):
        text = owner_client.get(URL).text
    assert text.index("Burning") < text.index("Calm")
    assert '<p class="count">3</p>' in text
