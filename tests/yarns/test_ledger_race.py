"""Several processes at one lot, on a file database and on PostgreSQL: never oversold, always equal."""

import signal

from tests.races import Hand, all_at_once, said, start

HANDS = 5


def hand(database: dict[str, str], *what: str) -> Hand:
    return start("tests.yarns.race", database, *what)


def test_many_hands_never_oversell_a_lot(race_database: dict[str, str]) -> None:
    lot = said(hand(race_database, "set-up", "400"))[0]
    hands = [hand(race_database, "issue", lot, "3", f"hand{n}") for n in range(HANDS)]
    all_at_once(hands)
    counts = [int(said(one)[-1]) for one in hands]
    assert sum(counts) == 133
    assert said(hand(race_database, "check", lot)) == ["1000", "133"]


def test_one_form_sent_by_many_hands_counts_once(race_database: dict[str, str]) -> None:
    lot = said(hand(race_database, "set-up", "100"))[0]
    hands = [hand(race_database, "same-key", lot, "5", f"hand{n}") for n in range(HANDS)]
    all_at_once(hands)
    movements = {tuple(said(one)[-20:]) for one in hands}
    assert len(movements) == 1
    assert said(hand(race_database, "check", lot)) == ["0", "20"]


def test_a_killed_hand_leaves_the_book_equal(race_database: dict[str, str]) -> None:
    lot = said(hand(race_database, "set-up", "900"))[0]
    hands = [hand(race_database, "issue", lot, "1", f"hand{n}") for n in range(3)]
    all_at_once(hands)
    victim = hands.pop()
    assert victim.stdout is not None
    for _line in range(20):
        victim.stdout.readline()
    victim.send_signal(signal.SIGKILL)
    victim.communicate()
    for one in hands:
        said(one)
    assert said(hand(race_database, "check", lot)) == ["0", "900"]
