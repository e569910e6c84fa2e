"""Every page that needs no argument, opened by an owner who also does everything else, in the demo."""

from collections.abc import Callable

import pytest
from django.core.management import call_command
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from playwright.sync_api import Page

from workroom.models import Person, Role, RoleHeld

LEFT_OUT = {"workroom:sign_in"}
"""Sends on who is in already."""


def plain_urls(resolver: URLResolver, prefix: str = "") -> list[str]:
    """Names of the URLs without arguments."""
    names = []
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            names += plain_urls(entry, f"{prefix}{entry.namespace}:" if entry.namespace else prefix)
        elif isinstance(entry, URLPattern) and entry.pattern.regex.groups == 0:
            names.append(f"{prefix}{entry.name}")
    return [name for name in names if name not in LEFT_OUT]


@pytest.fixture
def everybody_in_one(transactional_db: None) -> Person:
    call_command("demo", verbosity=0)
    person = Person.objects.get(handle="maren")
    RoleHeld.objects.bulk_create((RoleHeld(person=person, role=role) for role in Role), ignore_conflicts=True)
    return person


def test_every_page_fits_and_is_accessible(
    everybody_in_one: Person,
    open_page: Callable[..., Page],
    sign_in_as: Callable[[Page, Person], None],
    assert_accessible: Callable[[Page], None],
    assert_fits: Callable[[Page], None],
) -> None:
    """On a phone in the dark and on a desk in the light; all troubles are told at once."""
    visited, troubles = set(), []
    for width, dark in ((390, True), (1280, False)):
        page = open_page(width=width, dark=dark)
        sign_in_as(page, everybody_in_one)
        for name in plain_urls(get_resolver()):
            if not is_page(page, reverse(name)):
                continue
            visited.add(name)
            page.goto(reverse(name))
            for check in (assert_fits, assert_accessible):
                try:
                    check(page)
                except AssertionError as trouble:
                    troubles.append(f"{name} at {width}: {trouble}")
    assert {"desk", "public:home", "patterns:list", "yarns:shelf", "orders:overview"} <= visited
    assert troubles == []


def is_page(page: Page, url: str) -> bool:
    answer = page.request.get(url)
    return answer.status == 200 and "text/html" in answer.headers["content-type"]
