"""System checks: each with its id, and a hint that says what to do."""

from collections.abc import Callable
from pathlib import Path
from typing import Any
from unittest.mock import patch
from urllib.parse import urlsplit

import pytest
from django.core.checks import CheckMessage
from django.core.exceptions import ImproperlyConfigured
from django.db import connections
from django.db.backends.sqlite3.base import DatabaseWrapper
from pytest_django import Settings

from hookledger import checks, env


def ids(found: list[CheckMessage]) -> list[str | None]:
    assert all(message.hint for message in found)
    return [message.id for message in found]


def test_all_is_well_here() -> None:
    for check in (*checks.BEFORE_SERVING, checks.check_data_folder, checks.check_key_file):
        assert check() == []
    checks.refuse_unsafe()


@pytest.mark.parametrize("key", ["", "short"])
def test_the_key(key: str, settings: Settings) -> None:
    settings.SECRET_KEY = key
    found = checks.check_key()
    assert ids(found) == ["hookledger.E001"]
    assert "secrets.token_urlsafe(60)" in (found[0].hint or "")
    with pytest.raises(ImproperlyConfigured, match=r"^The secret key .* script/serve makes one\."):
        checks.refuse_unsafe()


@pytest.mark.parametrize(
    ("site", "debug", "found"),
    [
        ("https://studio.example", True, ["hookledger.E002"]),
        ("https://studio.example", False, []),
        ("http://studio.example", False, ["hookledger.E003"]),
        ("http://studio.example", True, ["hookledger.E002", "hookledger.E003"]),
        ("http://192.168.1.20:8000", True, []),
        ("http://till.local", False, []),
        ("http://8.8.8.8", False, ["hookledger.E003"]),
        (None, True, []),
    ],
)
def test_debug_and_plain_http_stay_near(
    site: str | None, debug: bool, found: list[str], settings: Settings
) -> None:
    settings.SITE = urlsplit(site) if site else None
    settings.BEHIND_TLS = bool(site and site.startswith("https"))
    settings.DEBUG = debug
    assert ids(checks.check_debug() + checks.check_site()) == found


def test_the_data_folder(settings: Settings, tmp_path: Path) -> None:
    settings.DATA = tmp_path / "gone"
    found = checks.check_data_folder()
    assert ids(found) == ["hookledger.E004"]
    assert str(tmp_path) in found[0].msg


def sqlite_on_disk(path: Path, change: Callable[[dict[str, Any]], None] = dict.copy) -> Any:
    database = dict(connections["default"].settings_dict) | env.sqlite(path)
    change(database["OPTIONS"])
    return DatabaseWrapper(database, "scratch")


def test_sqlite_runs_as_a_ledger_needs_it(db: None, tmp_path: Path) -> None:
    connection = sqlite_on_disk(tmp_path / "ledger.sqlite3")
    assert checks.sqlite_troubles(connection) == []
    connection.close()


@pytest.mark.parametrize(
    ("option", "value", "words"),
    [
        ("init_command", "PRAGMA journal_mode=DELETE", "journal_mode is delete"),
        ("init_command", "PRAGMA synchronous=NORMAL", "synchronous is 1"),
        ("transaction_mode", "DEFERRED", "transaction_mode is DEFERRED"),
        ("timeout", 1, "busy_timeout is 1000"),
    ],
)
def test_sqlite_otherwise_is_told(db: None, option: str, value: object, words: str, tmp_path: Path) -> None:
    def change(options: dict[str, Any]) -> None:
        if option == "timeout":
            options["init_command"] = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL"
        options[option] = value

    connection = sqlite_on_disk(tmp_path / "ledger.sqlite3", change)
    found = checks.sqlite_troubles(connection)
    connection.close()
    assert ids(found) == ["hookledger.E005"]
    assert words in found[0].msg


def test_pango() -> None:
    with patch("hookledger.checks.find_library", return_value=None):
        assert ids(checks.check_pango()) == ["hookledger.W007"]
    with patch("hookledger.checks.find_library", return_value="libpango-1.0.so.0"):
        assert checks.check_pango() == []


def test_a_key_file_that_others_can_read(settings: Settings, tmp_path: Path) -> None:
    settings.SECRET_KEY_FILE = tmp_path / "secret-key"
    assert checks.check_key_file() == []
    settings.SECRET_KEY_FILE.touch(mode=0o600)
    assert checks.check_key_file() == []
    settings.SECRET_KEY_FILE.chmod(0o644)
    assert ids(checks.check_key_file()) == ["hookledger.W008"]
