"""Several processes at one lot, on a file database and on PostgreSQL: never oversold, always equal.

The test database in memory can't show this, so each database here is a real one, and each hand
a process of its own with its own connection. PostgreSQL: HOOKLEDGER_TEST_POSTGRES names an empty database.
"""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HANDS = 5
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


def start(database: dict[str, str], *what: str) -> Hand:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.yarns.race", *what],
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


def test_many_hands_never_oversell_a_lot(database: dict[str, str]) -> None:
    lot = said(start(database, "set-up", "400"))[0]
    hands = [start(database, "issue", lot, "3", f"hand{n}") for n in range(HANDS)]
    all_at_once(hands)
    counts = [int(said(hand)[-1]) for hand in hands]
    assert sum(counts) == 133
    assert said(start(database, "check", lot)) == ["1000", "133"]


def test_one_form_sent_by_many_hands_counts_once(database: dict[str, str]) -> None:
    lot = said(start(database, "set-up", "100"))[0]
    hands = [start(database, "same-key", lot, "5", f"hand{n}") for n in range(HANDS)]
    all_at_once(hands)
    movements = {tuple(said(hand)[-20:]) for hand in hands}
    assert len(movements) == 1
    assert said(start(database, "check", lot)) == ["0", "20"]


def test_a_killed_hand_leaves_the_book_equal(database: dict[str, str]) -> None:
    lot = said(start(database, "set-up", "900"))[0]
    hands = [start(database, "issue", lot, "1", f"hand{n}") for n in range(3)]
    all_at_once(hands)
    victim = hands.pop()
    assert victim.stdout is not None
    for _line in range(20):
        victim.stdout.readline()
    victim.send_signal(signal.SIGKILL)
    victim.communicate()
    for hand in hands:
        said(hand)
    assert said(start(database, "check", lot)) == ["0", "900"]
