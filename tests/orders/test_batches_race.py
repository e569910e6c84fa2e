"""Several people at one batch, or at one lot for two batches, on a file database and on PostgreSQL."""

from tests.races import Hand, all_at_once, said, start


def hand(database: dict[str, str], *what: str) -> Hand:
    return start("tests.orders.race", database, *what)


def answers_of(hands: list[Hand]) -> list[str]:
    """What each says last when all go at once, sorted."""
    all_at_once(hands)
    return sorted(said(each)[-1] for each in hands)


def test_of_many_who_start_one_batch_one_does(race_database: dict[str, str]) -> None:
    code = said(hand(race_database, "set-up", "700", "12", "1"))[0]
    answers = answers_of([hand(race_database, "start", code) for _hand in range(4)])
    assert answers == ["BatchNotPlannedError"] * 3 + ["done"]
    assert said(hand(race_database, "check", code)) == ["600", "700", "started", "12", "0"]
    answers = answers_of([hand(race_database, "finish", code) for _hand in range(3)])
    assert answers == ["BatchClosedError"] * 2 + ["done"]
    assert said(hand(race_database, "check", code)) == ["0", "100", "finished", "12", "12"]


def test_two_batches_never_get_one_gram_twice(race_database: dict[str, str]) -> None:
    """700 g, and both plans see 600 g of them free."""
    codes = said(hand(race_database, "set-up", "700", "12", "2"))
    answers = answers_of([hand(race_database, "start", code) for code in codes])
    refused, done = answers
    assert done == "done"
    assert refused in {"PlanMovedError", "NotEnoughError"}
    facts = said(hand(race_database, "check", *codes))
    assert facts[:2] == ["600", "700"]
    assert sorted(facts[2::3]) == ["planned", "started"]
