"""The page /sign-in/."""

from collections.abc import Callable

import pytest
from django.test import Client
from pytest_django import Settings

from tests.conftest import PASSWORD
from workroom.models import Person, SignInTry
from workroom.throttle import MOST_FOR_ADDRESS, MOST_FOR_NAME, MOST_FOR_PAIR, take_try

URL = "/sign-in/"
SORRY = "This name and password don&#x27;t belong together. Check both and try again."


def test_it_works(designer: Person, stranger_client: Client) -> None:
    response = stranger_client.post(URL, {"handle": f" {designer.handle}".upper(), "password": PASSWORD})
    assert (response.status_code, response["Location"]) == (302, "/desk/")
    assert stranger_client.get("/desk/").status_code == 200


def test_it_shows_its_form(stranger_client: Client) -> None:
    response = stranger_client.get(URL)
    assert response.status_code == 200
    assert 'autocomplete="current-password"' in response.text


def test_it_goes_on_to_the_page_asked_for(owner: Person, stranger_client: Client) -> None:
    data = {"handle": owner.handle, "password": PASSWORD, "next": "/desk/people/"}
    assert stranger_client.post(URL, data)["Location"] == "/desk/people/"


@pytest.mark.parametrize("elsewhere", ["https://evil.example/", "//evil.example", "javascript:alert(1)"])
def test_it_never_goes_on_to_another_site(elsewhere: str, owner: Person, stranger_client: Client) -> None:
    data = {"handle": owner.handle, "password": PASSWORD, "next": elsewhere}
    assert stranger_client.post(URL, data)["Location"] == "/desk/"


def test_who_is_in_already_goes_to_the_desk(owner_client: Client) -> None:
    assert owner_client.get(URL)["Location"] == "/desk/"


@pytest.mark.parametrize("method", ["put", "delete", "patch"])
def test_it_refuses_other_methods(method: str, stranger_client: Client) -> None:
    assert getattr(stranger_client, method)(URL).status_code == 405


def test_a_wrong_password_is_refused_and_the_name_stays(designer: Person, stranger_client: Client) -> None:
    response = stranger_client.post(URL, {"handle": designer.handle, "password": "wrong one"})
    assert response.status_code == 422
    assert SORRY in response.text
    assert f'value="{designer.handle}"' in response.text
    assert "wrong one" not in response.text
    assert stranger_client.get("/desk/").status_code == 302


@pytest.mark.parametrize("handle", ["nobody", "x" * 60, "né", "a b"])
def test_an_unknown_name_is_told_the_same(handle: str, stranger_client: Client) -> None:
    response = stranger_client.post(URL, {"handle": handle, "password": PASSWORD})
    assert response.status_code == 422
    assert SORRY in response.text


@pytest.mark.parametrize(
    "data", [{}, {"handle": "x"}, {"handle": "x" * 61, "password": "y"}, {"handle": "\0"}]
)
def test_a_form_half_filled_is_refused(data: dict[str, str], stranger_client: Client) -> None:
    assert stranger_client.post(URL, data).status_code == 422
    assert not SignInTry.objects.exists()


def test_somebody_removed_can_not_come_in(designer: Person, stranger_client: Client) -> None:
    Person.objects.filter(pk=designer.pk).update(is_active=False)
    response = stranger_client.post(URL, {"handle": designer.handle, "password": PASSWORD})
    assert response.status_code == 422


def test_too_many_tries_end_for_that_name_from_that_address(
    designer: Person, stranger_client: Client
) -> None:
    for _number in range(MOST_FOR_PAIR):
        stranger_client.post(URL, {"handle": designer.handle, "password": "wrong one"})
    response = stranger_client.post(URL, {"handle": designer.handle, "password": PASSWORD})
    assert response.status_code == 429
    assert response["Retry-After"] == "900"
    assert "That were too many tries. Wait 15 minutes, or ask the owner for a new link." in response.text
    elsewhere = Client(REMOTE_ADDR="192.0.2.7")
    assert elsewhere.post(URL, {"handle": designer.handle, "password": PASSWORD}).status_code == 302


def test_a_right_password_starts_the_count_afresh(designer: Person, stranger_client: Client) -> None:
    for _number in range(MOST_FOR_PAIR - 1):
        stranger_client.post(URL, {"handle": designer.handle, "password": "wrong one"})
    data = {"handle": designer.handle, "password": PASSWORD}
    assert stranger_client.post(URL, data).status_code == 302
    assert take_try(designer.handle or "", "127.0.0.1")


def test_one_address_can_not_try_many_names(db: None) -> None:
    tries = [take_try(f"name{number}", "192.0.2.1") for number in range(MOST_FOR_ADDRESS + 1)]
    assert tries == [True] * MOST_FOR_ADDRESS + [False]


def test_many_addresses_can_not_try_one_name(db: None) -> None:
    tries = [take_try("maren", f"192.0.2.{number}") for number in range(MOST_FOR_NAME + 1)]
    assert tries == [True] * MOST_FOR_NAME + [False]


def test_the_window_ends(db: None) -> None:
    for _number in range(MOST_FOR_PAIR + 1):
        take_try("maren", "192.0.2.1")
    assert not take_try("maren", "192.0.2.1")
    SignInTry.objects.update(window_ends_at="2020-01-01T00:00Z")
    assert take_try("maren", "192.0.2.1")
    assert SignInTry.objects.count() == 3


def test_counters_hold_no_names_and_no_addresses(db: None) -> None:
    take_try("maren", "192.0.2.1")
    kept = " ".join(SignInTry.objects.values_list("bucket", flat=True))
    assert "maren" not in kept
    assert "192.0.2.1" not in kept


def test_the_address_behind_our_own_proxy_is_the_one_it_saw(
    designer: Person, settings: Settings, stranger_client: Client
) -> None:
    """Only the last entry is the proxy's own; what stands before it can be made up by the visitor."""
    settings.BEHIND_TLS = True
    for number in range(MOST_FOR_PAIR + 1):
        forwarded = {"X-Forwarded-For": f"10.0.0.{number}, 192.0.2.9"}
        data = {"handle": designer.handle, "password": "wrong one"}
        last = stranger_client.post(URL, data, headers=forwarded)
    assert last.status_code == 429


def test_sign_out(owner_client: Client) -> None:
    assert owner_client.get("/sign-out/").status_code == 405
    assert owner_client.post("/sign-out/")["Location"] == URL
    assert owner_client.get("/desk/").status_code == 302


def test_the_session_changes_at_sign_in(
    designer: Person, stranger_client: Client, client_for: Callable[[Person], Client]
) -> None:
    """A session that somebody planted before is not the one that is signed in."""
    session = stranger_client.session
    session["planted"] = "yes"
    session.save()
    before = session.session_key
    stranger_client.cookies["hookledger_session"] = str(before)
    stranger_client.post(URL, {"handle": designer.handle, "password": PASSWORD})
    assert stranger_client.session.session_key != before
