"""The timer: one for each person, on every device the same; what it measured is written down once."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from orders.models import Batch, Piece, TimeEntry, Timer
from orders.refusals import BatchClosedError, NoTimerError, TimerElsewhereError
from orders.timers import timer_of, timer_pause, timer_start, timer_stop
from workroom.models import Person

Make = Callable[..., Batch]
TEN = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def test_pauses_are_left_out(begin: Make, beanie: Piece, seller: Person) -> None:
    batch = begin(beanie, 2)
    timer_start(seller, beanie, batch, TEN)
    timer_pause(seller, TEN + minutes(25))
    timer_pause(seller, TEN + minutes(40))
    timer_start(seller, beanie, batch, TEN + minutes(60))
    timer = timer_of(seller)
    assert timer is not None
    now = TEN + minutes(65)
    assert (timer.minutes(now), timer.sitting_minutes(now), timer.is_running) == (30, 5, True)


def test_a_clock_that_was_set_back_takes_nothing_away(beanie: Piece, seller: Person) -> None:
    timer = timer_start(seller, beanie, None, TEN)
    assert timer.seconds(TEN - minutes(5)) == 0
    assert timer_pause(seller, TEN - minutes(5)).banked_seconds == 0


def test_starting_twice_is_starting_once(begin: Make, beanie: Piece, seller: Person) -> None:
    batch = begin(beanie, 2)
    first = timer_start(seller, beanie, batch, TEN)
    again = timer_start(seller, beanie, batch, TEN + minutes(5))
    assert (again.pk, again.running_since) == (first.pk, TEN)


def test_error_one_pair_of_hands_has_one_timer(begin: Make, beanie: Piece, seller: Person) -> None:
    timer_start(seller, beanie, begin(beanie, 2), TEN)
    with pytest.raises(TimerElsewhereError) as refusal:
        timer_start(seller, beanie, begin(beanie, 3), TEN)
    assert str(refusal.value) == "Your timer runs for 2 × Beanie already. Stop that one first."


def test_error_no_timer_for_a_cancelled_batch(plan: Make, beanie: Piece, seller: Person) -> None:
    batch = plan(beanie, 2)
    batch.state = "cancelled"
    with pytest.raises(BatchClosedError):
        timer_start(seller, beanie, batch, TEN)


def test_stopping_writes_down_once(beanie: Piece, seller: Person, today: date) -> None:
    timer = timer_start(seller, beanie, None, TEN)

    def entry() -> TimeEntry:
        return TimeEntry(piece=beanie, person=seller, minutes=30, pieces=1, worked_on=today)

    first = timer_stop(seller, entry(), timer.key, today)
    again = timer_stop(seller, entry(), timer.key, today)
    assert (first.pk, TimeEntry.objects.count(), Timer.objects.count()) == (again.pk, 1, 0)


def test_error_a_timer_that_is_gone(beanie: Piece, seller: Person, today: date) -> None:
    with pytest.raises(NoTimerError) as refusal:
        timer_pause(seller, TEN)
    assert str(refusal.value) == ("Your timer is not running; it may have been stopped on another device.")
    entry = TimeEntry(piece=beanie, person=seller, minutes=30, worked_on=today)
    with pytest.raises(NoTimerError):
        timer_stop(seller, entry, uuid4(), today)
    assert not TimeEntry.objects.exists()


# ------------------------------------------------------------------------------------ pages


def test_an_assistant_times_a_batch(
    assistant_client: Client, assistant: Person, begin: Make, beanie: Piece, today: date
) -> None:
    batch = begin(beanie, 2)
    page = assistant_client.post(reverse("orders:timer_start"), {"batch": batch.code}, follow=True)
    assert "running" in page.text
    timer = Timer.objects.get()
    Timer.objects.update(running_since=timer.running_since - minutes(34))  # type: ignore[operator]  # it runs
    page = assistant_client.get(reverse("orders:timer"))
    assert 'value="34"' in page.text
    assert 'data-break role="status">' in page.text
    assert "Your timer is running" in assistant_client.get(reverse("orders:batch", args=[batch.code])).text
    paused = assistant_client.post(reverse("orders:timer_pause"), follow=True)
    assert "paused" in paused.text
    sent = {"key": str(timer.key), "minutes": "34", "worked_on": today.isoformat()}
    for _again in range(2):
        assert assistant_client.post(reverse("orders:timer_stop"), sent).status_code == 302
    entry = TimeEntry.objects.get()
    assert (entry.batch, entry.minutes, entry.pieces, entry.person) == (batch, 34, None, assistant)


def test_a_piece_is_timed_on_its_own(seller_client: Client, beanie: Piece, today: date) -> None:
    seller_client.post(reverse("orders:timer_start"), {"piece": str(beanie.pk)})
    sent = {
        "key": str(Timer.objects.get().key),
        "minutes": "58",
        "pieces": "1",
        "worked_on": today.isoformat(),
    }
    response = seller_client.post(reverse("orders:timer_stop"), sent)
    assert response["Location"] == reverse("orders:piece", args=[beanie.pk])
    assert TimeEntry.objects.get().batch is None


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"minutes": "-5"}, "Time can&#x27;t be negative."),
        ({"minutes": ""}, "This field is required."),
        ({"worked_on": "2100-01-01"}, "That day has not come yet."),
    ],
)
def test_error_bad_time_leaves_the_timer(
    seller_client: Client, beanie: Piece, today: date, fields: dict[str, str], says: str
) -> None:
    seller_client.post(reverse("orders:timer_start"), {"piece": str(beanie.pk)})
    sent = {"key": str(Timer.objects.get().key), "minutes": "5", "worked_on": today.isoformat(), **fields}
    response = seller_client.post(reverse("orders:timer_stop"), sent)
    assert response.status_code == 422
    assert says in response.text
    assert (Timer.objects.count(), TimeEntry.objects.count()) == (1, 0)


@pytest.mark.parametrize("sent", [{}, {"piece": "x"}, {"piece": "999"}, {"batch": "ZZZZZZZZ"}])
def test_error_a_timer_for_nothing_is_not_found(
    seller_client: Client, studio: object, sent: dict[str, str]
) -> None:
    assert seller_client.post(reverse("orders:timer_start"), sent).status_code == 404


def test_error_pausing_what_is_not_there(seller_client: Client, studio: object) -> None:
    response = seller_client.post(reverse("orders:timer_pause"))
    assert response.status_code == 409
    assert "Your timer is not running" in response.text


def test_a_timer_is_put_away(seller_client: Client, beanie: Piece) -> None:
    seller_client.post(reverse("orders:timer_start"), {"piece": str(beanie.pk)})
    response = seller_client.post(reverse("orders:timer_discard"), follow=True)
    assert "nothing was written down" in response.text
    assert not Timer.objects.exists()
