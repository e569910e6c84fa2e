"""The one table of who may open what, held against every URL of the house with every role."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.template import Context, Template
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from hookledger.checks import check_roles
from hookledger.roles import PUBLIC, ROLES, SIGHTS, May, allows
from workroom.models import Person, Role

SAMPLES: dict[str, Any] = {"int": 999_999, "slug": "nothing-here", "str": "nothing", "path": "a/b"}
"""What stands in a URL for each of Django's converters."""

NAMED_SAMPLES: dict[str, Any] = {
    "digest": "0" * 40,
    "colour": "24577a",
    "paper": "a4",
    "width": 480,
    "suffix": "webp",
}
"""What stands for a named group of a regular expression, or for a converter of our own."""


def patterns(resolver: URLResolver, prefix: str = "") -> Iterator[tuple[str, URLPattern]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLPattern):
            yield f"{prefix}{entry.name}", entry
        else:
            yield from patterns(entry, f"{prefix}{entry.namespace}:" if entry.namespace else prefix)


def arguments(entry: URLPattern) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, converter in entry.pattern.converters.items():
        kind = type(converter).__name__.removesuffix("Converter").lower().replace("string", "str")
        found[name] = NAMED_SAMPLES.get(name, SAMPLES.get(kind, "00000000-0000-0000-0000-000000000000"))
    for name in re.findall(r"\?P<(\w+)>", str(entry.pattern)):
        found[name] = NAMED_SAMPLES.get(name, "1")
    return found


EVERY_URL = dict(patterns(get_resolver()))


def open_it(client: Client, name: str) -> int:
    response = client.get(reverse(name, kwargs=arguments(EVERY_URL[name])))
    if response.status_code == 302 and response["Location"].startswith("/sign-in/"):
        return 401
    return response.status_code


@pytest.mark.django_db
@pytest.mark.parametrize("name", EVERY_URL)
def test_every_url_is_open_to_those_in_the_table_and_to_nobody_else(
    name: str, person_with: Callable[..., Person], client_for: Callable[[Person], Client]
) -> None:
    assert name in ROLES
    for role in Role:
        status = open_it(client_for(person_with(role)), name)
        assert (status == 403) == (ROLES[name] is not PUBLIC and role not in ROLES[name]), (role, status)
        assert status not in {401, 500}
    assert (open_it(Client(), name) == 401) == (ROLES[name] is not PUBLIC)


@pytest.mark.django_db
def test_somebody_without_a_role_gets_nowhere(
    person_with: Callable[..., Person], client_for: Callable[[Person], Client]
) -> None:
    assert client_for(person_with()).get("/desk/").status_code == 403


def test_the_table_and_the_urls_are_the_same_set() -> None:
    assert check_roles() == []


def test_a_url_that_the_table_lacks_is_closed_even_to_an_owner(
    owner_client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(ROLES, "desk")  # type: ignore[arg-type]  # a dict behind its read-only name
    assert owner_client.get("/desk/").status_code == 403
    assert [message.id for message in check_roles()] == ["hookledger.E006"]


def test_an_empty_row_opens_to_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(ROLES, "desk", frozenset())  # type: ignore[arg-type]  # as above
    assert not allows("desk", frozenset(Role))
    assert not allows("desk", frozenset())


def test_a_stranger_is_sent_to_sign_in_and_on_from_there(stranger_client: Client) -> None:
    assert stranger_client.get("/desk/people/")["Location"] == "/sign-in/?next=/desk/people/"


def test_htmx_loads_the_sign_in_page_whole(stranger_client: Client) -> None:
    response = stranger_client.get("/desk/", headers={"HX-Request": "true"})
    assert response.status_code == 200
    assert response["HX-Redirect"] == "/sign-in/?next=/desk/"


def test_several_roles_add_up(person_with: Callable[..., Person]) -> None:
    both = person_with(Role.OWNER, Role.ASSISTANT)
    assert May(both.roles)("workroom:studio")
    assert not May(frozenset({Role.ASSISTANT}))("workroom:studio")


@pytest.mark.parametrize("sight", SIGHTS)
def test_the_assistant_sees_no_money_of_others_and_no_customers(sight: str) -> None:
    assert not allows(sight, frozenset({Role.ASSISTANT}))
    assert allows(sight, frozenset({Role.OWNER}))


def test_a_name_that_nobody_listed_is_refused() -> None:
    assert not allows("see:everything", frozenset(Role))


def test_templates_ask_the_same_table() -> None:
    text = (
        "{% if may.workroom.studio %}profile{% endif %} {% if may.see.wages %}wages{% endif %} {{ may.desk }}"
    )
    page = Template(text)
    assert page.render(Context({"may": May(frozenset({Role.OWNER}))})) == "profile wages True"
    assert page.render(Context({"may": May(frozenset({Role.ASSISTANT}))})) == "  True"


def test_a_refused_act_changes_nothing(assistant_client: Client) -> None:
    response = assistant_client.post("/desk/people/add/", {"name": "Nell", "roles": ["owner"]})
    assert response.status_code == 403
    assert not Person.objects.filter(name="Nell").exists()
