"""Several people at one batch, or at one lot for two batches, on a file database and on PostgreSQL.

Each hand is a process of its own with its own connection; the test database in memory can't show this.
PostgreSQL: HOOKLEDGER_TEST_POSTGRES names an empty database.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
POSTGRES = os.environ.get("HOOKLEDGER_TEST_POSTGRES", "")

pytestmark = pytest.mark.xdist_group("race")  # one PostgreSQL database serves every race, one after another

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
def database(request: pytest.FixtureRequest, tmp_path: Path) -> dict[str, str]:
    """The environment that a hand needs to work on this database."""
    url = POSTGRES if request.param == "postgres" else f"sqlite:///{tmp_path}/race.sqlite3"
    return {
        **os.environ,
        "DATABASE_URL": url,
        "HOOKLEDGER_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "hookledger.settings",
    }


def hand(database: dict[str, str], *what: str) -> Hand:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.orders.race", *what],
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


def all_at_once(hands: list[Hand]) -> list[str]:
    """Let them go when every one is ready; gives their answers, sorted."""
    for each in hands:
        assert each.stdout is not None
        assert each.stdout.readline() == "ready\n"
    for each in hands:
        assert each.stdin is not None
        each.stdin.write("go\n")
        each.stdin.flush()
    return sorted(said(each)[-1] for each in hands)


def test_of_many_who_start_one_batch_one_does(database: dict[str, str]) -> None:
    code = said(hand(database, "set-up", "700", "12", "1"))[0]
    answers = all_at_once([hand(database, "start", code) for _hand in range(4)])
    assert answers == ["BatchNotPlannedError"] * 3 + ["done"]
    assert said(hand(database, "check", code)) == ["600", "700", "started", "12", "0"]
    answers = all_at_once([hand(database, "finish", code) for _hand in range(3)])
    assert answers == ["BatchClosedError"] * 2 + ["done"]
    assert said(hand(database, "check", code)) == ["0", "100", "finished", "12", "12"]


def test_two_batches_never_get_one_gram_twice(database: dict[str, str]) -> None:
    """700 g, and both plans see 600 g of them free."""
    codes = said(hand(database, "set-up", "700", "12", "2"))
    answers = all_at_once([hand(database, "start", code) for code in codes])
    refused, done = answers
    assert done == "done"
    assert refused in {"PlanMovedError", "NotEnoughError"}
    facts = said(hand(database, "check", *codes))
    assert facts[:2] == ["600", "700"]
    assert sorted(facts[2::3]) == ["planned", "started"]
