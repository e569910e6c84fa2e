"""The fixed cast: an owner, a designer, a seller, an assistant, and a stranger.

`owner`, `designer`, `seller`, `assistant` are people; `owner_client` and so on
are their signed-in browsers; `stranger_client` is nobody's. `client_for(person)`
signs in anybody else; `person_with(role, ...)` makes one.
"""

from collections.abc import Callable

import pytest
from django.db import connection
from django.test import Client

from workroom.models import Person, Role, RoleHeld, Studio

pytest_plugins = ("tests.patterns.fixtures", "tests.races")  # fixtures that several rooms use


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Tests of what two people do at once run where two transactions really run at once."""
    if connection.vendor == "postgresql":
        return
    left_out = [item for item in items if item.get_closest_marker("on_postgres")]
    items[:] = [item for item in items if item not in left_out]
    config.hook.pytest_deselected(items=left_out)


PASSWORD = "seven gulls over the pier"


@pytest.fixture
def studio(db: None) -> Studio:
    return Studio.objects.create(pk=1, name="Two Gulls Crochet", currency="EUR")


@pytest.fixture
def person_with(db: None) -> Callable[..., Person]:
    """Makes a person: `person_with(Role.DESIGNER, name="Maren")`, with the password PASSWORD."""

    def make(*roles: Role, name: str = "Somebody") -> Person:
        handle = f"{name.lower()}{Person.objects.count()}"
        person = Person(handle=handle, name=name)
        person.set_password(PASSWORD)
        person.save()
        RoleHeld.objects.bulk_create(RoleHeld(person=person, role=role) for role in roles)
        return person

    return make


@pytest.fixture
def client_for() -> Callable[[Person], Client]:
    def sign_in(person: Person) -> Client:
        client = Client()
        client.force_login(person)
        return client

    return sign_in


@pytest.fixture
def owner(person_with: Callable[..., Person]) -> Person:
    return person_with(Role.OWNER, name="Odile")


@pytest.fixture
def designer(person_with: Callable[..., Person]) -> Person:
    return person_with(Role.DESIGNER, name="Maren")


@pytest.fixture
def seller(person_with: Callable[..., Person]) -> Person:
    return person_with(Role.SELLER, name="Tomas")


@pytest.fixture
def assistant(person_with: Callable[..., Person]) -> Person:
    return person_with(Role.ASSISTANT, name="Ida")


@pytest.fixture
def owner_client(owner: Person, client_for: Callable[[Person], Client]) -> Client:
    return client_for(owner)


@pytest.fixture
def designer_client(designer: Person, client_for: Callable[[Person], Client]) -> Client:
    return client_for(designer)


@pytest.fixture
def seller_client(seller: Person, client_for: Callable[[Person], Client]) -> Client:
    return client_for(seller)


@pytest.fixture
def assistant_client(assistant: Person, client_for: Callable[[Person], Client]) -> Client:
    return client_for(assistant)


@pytest.fixture
def stranger_client(db: None) -> Client:
    return Client()
