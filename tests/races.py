"""Several processes at one database, on a file and on PostgreSQL: what the tests of races share.

The test database in memory can't show a race, so each database here is a real one of its own, and each
hand a process with its own connection. HOOKLEDGER_TEST_POSTGRES names a database of a server on which new
ones may be made.
"""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit
from uuid import uuid4

import psycopg
import pytest
from psycopg import sql

ROOT = Path(__file__).resolve().parent.parent
POSTGRES = os.environ.get("HOOKLEDGER_TEST_POSTGRES", "")

Hand = subprocess.Popen[str]


@pytest.fixture(
    params=[
        "sqlite",
        pytest.param(
            "postgres",
            marks=[
                pytest.mark.postgres,
                pytest.mark.skipif(
                    not POSTGRES,
                    reason="no PostgreSQL: set HOOKLEDGER_TEST_POSTGRES=postgres://.../database",
                ),
            ],
        ),
    ]
)
def race_database(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[dict[str, str]]:
    """The environment that a hand needs to work on this database, which nobody else has."""
    env = {**os.environ, "HOOKLEDGER_DATA": str(tmp_path), "DJANGO_SETTINGS_MODULE": "hookledger.settings"}
    if request.param == "sqlite":
        yield {**env, "DATABASE_URL": f"sqlite:///{tmp_path}/race.sqlite3"}
        return
    with _new_database(POSTGRES) as url:
        yield {**env, "DATABASE_URL": url}


@contextmanager
def _new_database(server: str) -> Iterator[str]:
    name = f"race_{uuid4().hex}"
    parts = urlsplit(server)
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        try:
            yield urlunsplit(parts._replace(path=f"/{name}"))
        finally:
            connection.execute(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name)))


def start(module: str, database: dict[str, str], *what: str) -> Hand:
    """A hand that runs `python -m module what...` on the database."""
    return subprocess.Popen(
        [sys.executable, "-m", module, *what],
        cwd=ROOT,
        env=database,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def said(hand: Hand) -> list[str]:
    """Everything a hand printed, once it is done without an error."""
    out, err = hand.communicate(timeout=120)
    assert hand.returncode == 0, err
    return out.split()


def all_at_once(hands: list[Hand]) -> None:
    """Let them go only when every one of them is ready."""
    for hand in hands:
        assert hand.stdout is not None
        assert hand.stdout.readline() == "ready\n"
    for hand in hands:
        assert hand.stdin is not None
        hand.stdin.write("go\n")
        hand.stdin.flush()
