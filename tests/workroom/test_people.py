"""The owner's pages under /desk/people/."""

from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
from django.core import mail
from django.test import Client
from pytest_django import Settings

from workroom.models import OneTimeLink, Person, Role, RoleHeld
from workroom.people import LastOwnerError, NoRoleError, person_invite, person_remove, roles_set

URL = "/desk/people/"
NELL = {"name": "Nell Carrow", "roles": ["assistant", "seller"]}


def test_the_list_works(
    owner_client: Client, designer: Person, django_assert_max_num_queries: Callable
) -> None:
    for number in range(6):
        person_invite(name=f"Nell {number}", roles=[Role.ASSISTANT])
    with django_assert_max_num_queries(9):
        response = owner_client.get(URL)
    assert response.status_code == 200
    assert "Nell 5" in response.text
    assert "not here yet" in response.text


def test_the_list_refuses_a_stranger_and_other_roles(
    stranger_client: Client, designer_client: Client, seller_client: Client, assistant_client: Client
) -> None:
    assert stranger_client.get(URL).status_code == 302
    for client in (designer_client, seller_client, assistant_client):
        assert client.get(URL).status_code == 403


def test_the_list_refuses_other_methods(owner_client: Client) -> None:
    assert owner_client.post(URL).status_code == 405


def test_asking_somebody_in_shows_a_link_once(owner: Person, owner_client: Client) -> None:
    assert owner_client.post(f"{URL}add/", NELL)["Location"] == URL
    nell = Person.objects.get(name="Nell Carrow")
    assert (nell.roles, nell.handle) == ({Role.ASSISTANT, Role.SELLER}, None)
    assert OneTimeLink.objects.get().made_by == owner
    page = owner_client.get(URL).text
    assert "http://testserver/welcome/" in page
    assert "/welcome/" not in owner_client.get(URL).text


def test_the_link_carries_the_address_that_is_set(owner_client: Client, settings: Settings) -> None:
    settings.SITE = urlsplit("https://studio.example")
    owner_client.post(f"{URL}add/", NELL)
    assert "https://studio.example/welcome/" in owner_client.get(URL).text


def test_asking_in_refuses_other_methods(owner_client: Client) -> None:
    assert owner_client.get(f"{URL}add/").status_code == 405


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"name": "", "roles": ["seller"]}, "This field is required."),
        ({"name": "Nell"}, "Tick at least one role."),
        ({"name": "Nell", "roles": ["queen"]}, "queen is not one of the available choices."),
        ({"name": "Nell", "roles": ["seller"], "email": "nell"}, "Enter a valid email address."),
    ],
)
def test_asking_in_refuses_bad_input(data: dict[str, object], sentence: str, owner_client: Client) -> None:
    response = owner_client.post(f"{URL}add/", data)
    assert response.status_code == 422
    assert sentence in response.text
    assert Person.objects.count() == 1


def test_without_a_mail_server_nothing_is_mailed(owner_client: Client) -> None:
    owner_client.post(f"{URL}add/", NELL | {"email": "nell@two-gulls.example"})
    assert mail.outbox == []


def test_with_a_mail_server_the_link_is_mailed_and_shown(owner_client: Client, settings: Settings) -> None:
    settings.HOOKLEDGER_MAIL = "set"
    owner_client.post(f"{URL}add/", NELL | {"email": "nell@two-gulls.example"})
    letter = mail.outbox[0]
    assert letter.to == ["nell@two-gulls.example"]
    assert "http://testserver/welcome/" in letter.body
    page = owner_client.get(URL).text
    assert "The link was mailed to nell@two-gulls.example." in page
    assert "http://testserver/welcome/" in page


def test_a_mail_server_that_is_down_is_told(owner_client: Client, settings: Settings) -> None:
    settings.HOOKLEDGER_MAIL = "set"
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 9
    owner_client.post(f"{URL}add/", NELL | {"email": "nell@two-gulls.example"})
    page = owner_client.get(URL).text
    assert "The mail server did not take the letter. Hand the link over yourself." in page
    assert "http://testserver/welcome/" in page


def test_a_new_link(owner_client: Client, designer: Person) -> None:
    assert owner_client.get(f"{URL}{designer.pk}/link/").status_code == 405
    assert owner_client.post(f"{URL}{designer.pk}/link/")["Location"] == URL
    assert "A link for Maren" in owner_client.get(URL).text
    assert owner_client.post(f"{URL}999/link/").status_code == 404


def test_changing_roles_works(owner_client: Client, designer: Person, designer_client: Client) -> None:
    url = f"{URL}{designer.pk}/"
    assert 'value="designer"' in owner_client.get(url).text
    assert owner_client.post(url, {"roles": ["seller", "assistant"]})["Location"] == URL
    assert Person.objects.get(pk=designer.pk).roles == {Role.SELLER, Role.ASSISTANT}
    assert "The roles of Maren are changed." in owner_client.get(URL).text


def test_changed_roles_count_from_the_next_click(
    owner_client: Client, designer: Person, designer_client: Client
) -> None:
    assert designer_client.get(URL).status_code == 403
    owner_client.post(f"{URL}{designer.pk}/", {"roles": ["owner"]})
    assert designer_client.get(URL).status_code == 200


@pytest.mark.parametrize("roles", [[], ["queen"]])
def test_changing_roles_refuses_bad_input(roles: list[str], owner_client: Client, designer: Person) -> None:
    assert owner_client.post(f"{URL}{designer.pk}/", {"roles": roles}).status_code == 422
    assert Person.objects.get(pk=designer.pk).roles == {Role.DESIGNER}


def test_the_last_owner_stays_owner(owner_client: Client, owner: Person) -> None:
    response = owner_client.post(f"{URL}{owner.pk}/", {"roles": ["designer"]})
    assert response.status_code == 422
    assert "Odile is the only owner. Make somebody else an owner first." in response.text
    assert Person.objects.get(pk=owner.pk).roles == {Role.OWNER}


def test_removing_asks_first_and_shuts_out_at_once(
    owner_client: Client, designer: Person, designer_client: Client
) -> None:
    url = f"{URL}{designer.pk}/remove/"
    assert "Remove Maren?" in owner_client.get(url).text
    assert designer_client.get("/desk/").status_code == 200
    assert owner_client.post(url)["Location"] == URL
    assert designer_client.get("/desk/").status_code == 302
    gone = Person.objects.get(pk=designer.pk)
    assert (gone.name, gone.is_active, gone.handle, gone.roles) == ("Maren", False, None, frozenset())
    assert "Maren can&#x27;t come in any more." in owner_client.get(URL).text
    assert owner_client.get(url).status_code == 404


def test_the_last_owner_stays(owner_client: Client, owner: Person) -> None:
    owner_client.post(f"{URL}{owner.pk}/remove/")
    assert "Odile is the only owner." in owner_client.get(URL).text
    assert Person.objects.get(pk=owner.pk).is_active


def test_an_owner_who_has_not_come_yet_does_not_count(owner: Person) -> None:
    person_invite(name="Nell", roles=[Role.OWNER])
    with pytest.raises(LastOwnerError):
        person_remove(person=owner)


def test_one_of_two_owners_can_go(owner: Person, person_with: Callable[..., Person]) -> None:
    second = person_with(Role.OWNER, name="Second")
    person_remove(person=owner)
    with pytest.raises(LastOwnerError):
        roles_set(person=second, roles=[Role.SELLER])


def test_services_refuse_nobodies_roles(owner: Person) -> None:
    with pytest.raises(NoRoleError):
        person_invite(name="Nell", roles=[])
    with pytest.raises(NoRoleError):
        roles_set(person=owner, roles=[])
    assert RoleHeld.objects.count() == 1
