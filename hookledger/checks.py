"""System checks: what would be unsafe or would not work, each with an id and what to do about it.

`refuse_unsafe` runs the first few before anything is served.
"""

import ipaddress
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from ctypes.util import find_library
from typing import Any, Final

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register  # noqa: A004 - Django's name
from django.core.exceptions import ImproperlyConfigured
from django.db import connections
from django.urls import URLPattern, URLResolver, get_resolver

from hookledger.health import can_write
from hookledger.roles import PUBLIC, ROLES

KEY_COMMAND: Final = "python3 -c 'import secrets; print(secrets.token_urlsafe(60))'"
SHORTEST_KEY: Final = 50


def is_near(host: str | None) -> bool:
    """Whether the host is this machine or a private address, where plain http may do."""
    if host is None or host == "localhost" or host.endswith((".localhost", ".local")):
        return True
    try:
        return ipaddress.ip_address(host).is_private
    except ValueError:
        return False


def check_key(**kwargs: Any) -> list[CheckMessage]:
    try:
        key = settings.SECRET_KEY
    except ImproperlyConfigured:  # Django's way to say that it is empty
        key = ""
    if len(key) >= SHORTEST_KEY:
        return []
    found = "has fewer than 50 characters" if key else "is missing"
    hint = f"script/serve makes one. Otherwise set HOOKLEDGER_SECRET_KEY to what this prints: {KEY_COMMAND}"
    return [Error(f"The secret key {found}.", hint=hint, id="hookledger.E001")]


def check_debug(**kwargs: Any) -> list[CheckMessage]:
    if not settings.DEBUG or settings.SITE is None or is_near(settings.SITE.hostname):
        return []
    return [
        Error(
            "HOOKLEDGER_DEBUG is on for an address that others can open; it shows them the program's inside.",
            hint="Unset HOOKLEDGER_DEBUG.",
            id="hookledger.E002",
        )
    ]


def check_site(**kwargs: Any) -> list[CheckMessage]:
    if settings.SITE is None or settings.BEHIND_TLS or is_near(settings.SITE.hostname):
        return []
    return [
        Error(
            "HOOKLEDGER_SITE begins with http://, so passwords would travel in the open.",
            hint="Put a proxy with a certificate in front and write https:// in HOOKLEDGER_SITE.",
            id="hookledger.E003",
        )
    ]


def check_data_folder(**kwargs: Any) -> list[CheckMessage]:
    if can_write(settings.DATA):
        return []
    return [
        Error(
            f"Nothing can be written in the data folder {settings.DATA}.",
            hint=f"Run as its owner, or: chown -R $(id -un) {settings.DATA}, or set HOOKLEDGER_DATA.",
            id="hookledger.E004",
        )
    ]


def check_sqlite(databases: Sequence[str] | None = None, **kwargs: Any) -> list[CheckMessage]:
    """Asks the connection itself: settings in the wrong place have no effect and say nothing."""
    found = []
    for alias in databases or ():
        connection = connections[alias]
        if connection.vendor == "sqlite" and connection.settings_dict["NAME"] != ":memory:":
            found += sqlite_troubles(connection)
    return found


def sqlite_troubles(connection: Any) -> list[CheckMessage]:
    wanted = {"journal_mode": "wal", "synchronous": 2, "busy_timeout": 20000}
    with connection.cursor() as cursor:
        in_force = {name: cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in wanted}
    wrong = [f"{name} is {in_force[name]}" for name in wanted if in_force[name] != wanted[name]]
    if connection.transaction_mode != "IMMEDIATE":
        wrong.append(f"transaction_mode is {connection.transaction_mode}")
    if not wrong:
        return []
    hint = "The database has to lie on a local disk, and DATABASES has to come from hookledger/env.py."
    message = f"SQLite {sqlite3.sqlite_version} does not run as a ledger needs it: {', '.join(wrong)}."
    return [Error(message, hint=hint, id="hookledger.E005")]


def check_roles(**kwargs: Any) -> list[CheckMessage]:
    """Every URL stands in the table of roles, and every row of the table is a URL."""
    names = set(url_names())
    missing = [
        f"The URL {name} is not in hookledger/roles.py, so it is closed." for name in names - set(ROLES)
    ]
    stale = [f"hookledger/roles.py lists {name}, which is no URL." for name in set(ROLES) - names]
    empty = [
        f"hookledger/roles.py opens {n} to nobody." for n, r in ROLES.items() if not r and r is not PUBLIC
    ]
    hint = "Add, correct or drop its row."
    return [Error(text, hint=hint, id="hookledger.E006") for text in sorted(missing + stale + empty)]


def url_names() -> Iterator[str]:
    """The full name of every URL of the house; nameless ones show their pattern."""
    yield from _names(get_resolver(), "")


def _names(resolver: URLResolver, prefix: str) -> Iterator[str]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLPattern):
            yield f"{prefix}{entry.name or entry.pattern}"
        else:
            yield from _names(entry, f"{prefix}{entry.namespace}:" if entry.namespace else prefix)


def check_pango(**kwargs: Any) -> list[CheckMessage]:
    if find_library("pango-1.0") or find_library("libpango-1.0-0"):
        return []
    hint = "Run script/setup, or on macOS: brew install pango."
    return [Warning("Pango is missing, so no PDF can be printed.", hint=hint, id="hookledger.W007")]


def check_key_file(**kwargs: Any) -> list[CheckMessage]:
    path = settings.SECRET_KEY_FILE
    if not path.is_file() or not path.stat().st_mode & 0o077:
        return []
    message = f"Others on this machine can read {path}."
    return [Warning(message, hint=f"chmod 600 {path}", id="hookledger.W008")]


Check = Callable[..., list[CheckMessage]]
BEFORE_SERVING: Final[tuple[Check, ...]] = (check_key, check_debug, check_site)


def register_all() -> None:
    for check in (*BEFORE_SERVING, check_data_folder, check_roles, check_pango, check_key_file):
        register(check, "hookledger", deploy=True)
    register(check_sqlite, Tags.database)


def refuse_unsafe() -> None:
    """Raise ImproperlyConfigured, with what to do, when serving would be unsafe."""
    wrong = [message for check in BEFORE_SERVING for message in check()]
    if wrong:
        raise ImproperlyConfigured("\n".join(f"{message.msg} {message.hint}" for message in wrong))
