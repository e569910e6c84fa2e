"""One-time links: /welcome/<token>/."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from workroom.links import link_find, link_make, link_use
from workroom.models import LinkKind, OneTimeLink, Person, Role
from workroom.people import LinkUsedError, person_invite, person_welcome

GOOD = {
    "name": "Nell Carrow",
    "handle": "Nell",
    "password": "herring on the quay",
    "again": "herring on the quay",
}


@pytest.fixture
def invited(db: None) -> tuple[Person, str]:
    person, token = person_invite(name="Nell", roles=[Role.ASSISTANT])
    return person, f"/welcome/{token}/"


def test_it_works(invited: tuple[Person, str], stranger_client: Client) -> None:
    person, url = invited
    assert stranger_client.get(url).status_code == 200
    response = stranger_client.post(url, GOOD)
    assert response["Location"] == "/desk/"
    assert stranger_client.get("/desk/").status_code == 200
    person.refresh_from_db()
    assert (person.name, person.handle) == ("Nell Carrow", "nell")
    assert person.check_password("herring on the quay")
    assert person.roles == {Role.ASSISTANT}


def test_looking_does_not_use_it_up(invited: tuple[Person, str], stranger_client: Client) -> None:
    _person, url = invited
    for _time in range(3):
        assert stranger_client.get(url).status_code == 200
    assert OneTimeLink.objects.get().used_at is None


def test_it_works_once(invited: tuple[Person, str], stranger_client: Client) -> None:
    _person, url = invited
    stranger_client.post(url, GOOD)
    for response in (Client().get(url), Client().post(url, GOOD | {"handle": "other"})):
        assert response.status_code == 410
        assert "This link has ended" in response.text
    assert not Person.objects.filter(handle="other").exists()


def test_two_clicks_at_once_let_in_one(invited: tuple[Person, str]) -> None:
    _person, url = invited
    token = url.split("/")[2]
    first, second = link_find(token), link_find(token)
    assert first is not None
    assert second is not None
    person_welcome(link=first, handle="nell", name="Nell", password="herring on the quay")
    with pytest.raises(LinkUsedError, match="This link has been used already"):
        person_welcome(link=second, handle="other", name="Other", password="herring on the quay")
    assert Person.objects.get().handle == "nell"


def test_it_runs_out(invited: tuple[Person, str], stranger_client: Client) -> None:
    _person, url = invited
    link = OneTimeLink.objects.get()
    assert link.expires_at - link.made_at < timedelta(days=7, seconds=5)
    OneTimeLink.objects.update(expires_at=timezone.now())
    assert stranger_client.get(url).status_code == 410
    assert stranger_client.post(url, GOOD).status_code == 410
    assert not link_use(link)


def test_a_newer_link_ends_the_older(invited: tuple[Person, str], stranger_client: Client) -> None:
    person, url = invited
    link_make(person=person, kind=LinkKind.WELCOME)
    assert stranger_client.get(url).status_code == 410


def test_only_the_hash_of_the_token_is_kept(invited: tuple[Person, str]) -> None:
    _person, url = invited
    token = url.split("/")[2]
    assert len(token) >= 40
    assert token not in str(list(OneTimeLink.objects.values()))


@pytest.mark.parametrize("token", ["x", "é", "0" * 500])
def test_a_made_up_token_is_refused(token: str, stranger_client: Client) -> None:
    assert stranger_client.get(f"/welcome/{token}/").status_code == 410


def test_the_link_of_somebody_removed_is_refused(
    invited: tuple[Person, str], stranger_client: Client
) -> None:
    person, url = invited
    Person.objects.filter(pk=person.pk).update(is_active=False)
    assert stranger_client.get(url).status_code == 410


def test_it_refuses_other_methods(invited: tuple[Person, str], stranger_client: Client) -> None:
    _person, url = invited
    assert stranger_client.put(url).status_code == 405


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"handle": ""}, "This field is required."),
        (
            {"handle": "two words"},
            "Use small letters, numbers and . _ @ + -, and begin with a letter or number.",
        ),
        ({"handle": "maren0"}, "Somebody here signs in with that name. Choose another."),
        ({"again": "something else"}, "The two passwords differ. Type the same one twice."),
        ({"password": "short", "again": "short"}, "This password is too short."),
        ({"password": "password123", "again": "password123"}, "This password is too common."),
        (
            {"password": "nellnellnell", "handle": "nellnellnell"},
            "The password is too similar to the sign-in name.",
        ),
        ({"name": "x" * 81}, "at most 80 characters"),
    ],
)
def test_bad_input_is_refused_and_the_link_still_works(
    change: dict[str, str],
    sentence: str,
    designer: Person,
    invited: tuple[Person, str],
    stranger_client: Client,
) -> None:
    person, url = invited
    response = stranger_client.post(url, GOOD | change)
    assert response.status_code == 422
    assert sentence in response.text
    person.refresh_from_db()
    assert person.handle is None
    assert stranger_client.post(url, GOOD).status_code == 302


def test_a_password_that_is_lost_is_set_anew_under_the_old_name(
    designer: Person, stranger_client: Client
) -> None:
    url = f"/welcome/{link_make(person=designer, kind=LinkKind.WELCOME)}/"
    assert f'value="{designer.handle}"' in stranger_client.get(url).text
    assert stranger_client.post(url, GOOD | {"handle": designer.handle}).status_code == 302
    designer.refresh_from_db()
    assert designer.check_password("herring on the quay")


def test_a_sign_in_link_asks_and_signs_in_once(designer: Person, stranger_client: Client) -> None:
    url = f"/welcome/{link_make(person=designer, kind=LinkKind.SIGN_IN)}/"
    assert "Sign in as Maren" in stranger_client.get(url).text
    assert stranger_client.get("/desk/").status_code == 302
    assert stranger_client.post(url)["Location"] == "/desk/"
    assert "Hello, Maren" in stranger_client.get("/desk/").text
    assert Client().post(url).status_code == 410
