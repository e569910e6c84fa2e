"""One's own settings: /desk/me/."""

from collections.abc import Callable

import pytest
from django.test import Client

from tests.conftest import PASSWORD
from workroom.models import Person, Role

URL = "/desk/me/"
NEW = {"present": PASSWORD, "password": "herring on the quay", "again": "herring on the quay"}


def test_it_works(assistant: Person, assistant_client: Client) -> None:
    assert assistant_client.get(URL).status_code == 200
    response = assistant_client.post(URL, {"name": "Ida P.", "email": "", "theme": "dark"})
    assert response["Location"] == URL
    assistant.refresh_from_db()
    assert (assistant.name, assistant.theme) == ("Ida P.", "dark")
    assert 'data-theme="dark"' in assistant_client.get("/desk/").text


def test_it_refuses_a_stranger_and_other_methods(stranger_client: Client, owner_client: Client) -> None:
    assert stranger_client.get(URL).status_code == 302
    assert owner_client.put(URL).status_code == 405
    assert owner_client.get(f"{URL}password/").status_code == 405


@pytest.mark.parametrize("change", [{"name": ""}, {"theme": "pink"}, {"email": "ida"}])
def test_bad_input_is_refused(change: dict[str, str], assistant: Person, assistant_client: Client) -> None:
    response = assistant_client.post(URL, {"name": "X", "email": "", "theme": "dark"} | change)
    assert response.status_code == 422
    assistant.refresh_from_db()
    assert (assistant.name, assistant.theme) == ("Ida", "system")


def test_nobody_gives_themselves_a_role(assistant: Person, assistant_client: Client) -> None:
    data = {"name": "Ida", "email": "", "theme": "dark", "roles": "owner", "handle": "x", "is_active": ""}
    assistant_client.post(URL, data)
    fresh = Person.objects.get(pk=assistant.pk)
    assert (fresh.roles, fresh.handle, fresh.is_active) == ({Role.ASSISTANT}, assistant.handle, True)


def test_a_new_password_keeps_this_window_and_closes_the_others(
    seller: Person, seller_client: Client, client_for: Callable[[Person], Client]
) -> None:
    other = client_for(seller)
    assert seller_client.post(f"{URL}password/", NEW)["Location"] == URL
    seller.refresh_from_db()
    assert seller.check_password("herring on the quay")
    assert seller_client.get("/desk/").status_code == 200
    assert other.get("/desk/").status_code == 302


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"present": "wrong"}, "That is not your present password."),
        ({"again": "herring on a quay"}, "The two passwords differ."),
        ({"password": "1234567890", "again": "1234567890"}, "This password is too common."),
    ],
)
def test_a_bad_password_is_refused(
    change: dict[str, str], sentence: str, seller: Person, seller_client: Client
) -> None:
    response = seller_client.post(f"{URL}password/", NEW | change)
    assert response.status_code == 422
    assert sentence in response.text
    seller.refresh_from_db()
    assert seller.check_password(PASSWORD)


def test_who_came_by_a_link_sets_a_first_password(
    seller: Person, client_for: Callable[[Person], Client]
) -> None:
    seller.set_unusable_password()
    seller.save()
    client = client_for(seller)
    assert client.post(f"{URL}password/", {key: NEW[key] for key in ("password", "again")}).status_code == 302
    seller.refresh_from_db()
    assert seller.check_password("herring on the quay")
