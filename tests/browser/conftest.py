"""A real browser against a live server: Debian's Chromium, driven by Playwright.

`open_page(width=390, dark=True, script=False)` gives a page; `sign_in_as(page, person)` hands it
a signed-in cookie and opens the desk; `assert_accessible(page)` runs axe-core's WCAG 2.2 A and AA rules.
A page that logs an error (a refused script, a missing file) fails its test.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page, sync_playwright
from pytest_django.live_server_helper import LiveServer

from workroom.models import Person

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip
CHROMIUMS = ("chromium", "chromium-browser", "google-chrome")
AXE = (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(Path(__file__).parent):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = next((found for name in CHROMIUMS if (found := shutil.which(name))), None)
    assert path, "Chromium is missing. Run script/setup."
    # Playwright's own loop runs in this thread, and Django would take it for an asynchronous view.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=path, args=list(FLAGS))
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@pytest.fixture
def live_url(live_server: LiveServer) -> str:
    return str(live_server.url)


@pytest.fixture
def open_page(browser: Browser, live_url: str) -> Iterator[Callable[..., Page]]:
    contexts, complaints = [], []

    def open_one(*, width: int = 1280, dark: bool = False, script: bool = True) -> Page:
        context = browser.new_context(
            base_url=live_url,
            viewport={"width": width, "height": 844},
            color_scheme="dark" if dark else "light",
            java_script_enabled=script,
        )
        context.set_default_timeout(10_000)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield open_one
    for context in contexts:
        context.close()
    assert [words for words in complaints if not expected(words)] == []


def expected(words: str) -> bool:
    """Browser and htmx log every 4xx answer; a form that comes back with its errors is a 422."""
    return "status of 422" in words or "Error Code 422" in words


@pytest.fixture
def page(open_page: Callable[..., Page]) -> Page:
    return open_page()


@pytest.fixture
def sign_in_as(live_url: str) -> Callable[[Page, Person], None]:
    def sign_in(page: Page, person: Person) -> None:
        client = Client()
        client.force_login(person)
        name = settings.SESSION_COOKIE_NAME
        page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": live_url}])
        page.goto("/desk/")

    return sign_in


@pytest.fixture
def assert_accessible() -> Callable[[Page], None]:
    def check(page: Page) -> None:
        page.evaluate(AXE)
        found = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
        assert [told(violation) for violation in found["violations"]] == []

    return check


def told(violation: dict[str, Any]) -> str:
    places = [node["target"] for node in violation["nodes"]]
    return f"{violation['id']}: {violation['help']} at {places}"


@pytest.fixture
def assert_fits() -> Callable[[Page], None]:
    """Nothing sticks out to the right of the window."""

    def check(page: Page) -> None:
        wide, window = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide <= window

    return check
