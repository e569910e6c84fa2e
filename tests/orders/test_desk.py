"""The start page's cards, the overview, and its empty states."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orders.desk import counts
from orders.models import Batch, Fair, Piece, WorkroomRates
from orders.timers import timer_start
from workroom.models import Person
from yarns.models import Lot

Make = Callable[..., Batch]


def test_counts_tell_what_waits(
    plan: Make, begin: Make, beanie: Piece, navy_lot: Lot, fair: Fair, today: date
) -> None:
    plan(beanie, 2, due_on=today - timedelta(days=1))
    plan(beanie, 2, due_on=today + timedelta(days=7))
    plan(beanie, 2, due_on=today + timedelta(days=8))
    begin(beanie, 2)
    now = counts(today)
    assert (now.planned, now.started, now.overdue, now.due_soon, now.to_take) == (3, 1, 1, 1, 1)
    assert now.next_fair == fair


def test_a_seller_is_told_what_is_due_and_when_the_fair_is(
    seller_client: Client, plan: Make, beanie: Piece, fair: Fair, rates: WorkroomRates, today: date
) -> None:
    plan(beanie, 2, due_on=today - timedelta(days=1))
    page = seller_client.get("/desk/").text
    assert "1 batch is past its day." in page
    assert "Harbour Wall Fair" in page
    assert "In 30 days" in page
    assert "What is an hour worth?" not in page


def test_a_seller_without_rates_is_asked_for_them(seller_client: Client, studio: object) -> None:
    assert "What is an hour worth?" in seller_client.get("/desk/").text


def test_an_assistant_is_told_of_yarn_to_take_and_of_nothing_else(
    assistant_client: Client, begin: Make, plan: Make, beanie: Piece, navy_lot: Lot, fair: Fair
) -> None:
    plan(beanie, 3)
    begin(beanie, 2)
    page = assistant_client.get("/desk/").text
    assert "Yarn to take off the shelf" in page
    for hidden in ("Batches to start", "Harbour Wall Fair", "What is an hour worth?"):
        assert hidden not in page


def test_a_running_timer_is_on_the_start_page(
    assistant_client: Client, assistant: Person, begin: Make, beanie: Piece
) -> None:
    timer_start(assistant, beanie, begin(beanie, 2), timezone.now())
    page = assistant_client.get("/desk/").text
    assert "Your timer: 2 × Beanie" in page
    assert "Running: 1\u00a0min so far." in page


def test_the_overview_shows_what_is_made_and_what_it_pays(
    seller_client: Client, plan: Make, beanie: Piece, navy_lot: Lot, fair: Fair, rates: WorkroomRates
) -> None:
    plan(beanie, 12, fair=fair)
    page = seller_client.get(reverse("orders:overview")).text
    for said in ("12 × Beanie", "Harbour Wall Fair", "€17.10", "€28.50"):
        assert said in page


@pytest.mark.parametrize(
    ("role", "seen", "hidden"),
    [
        ("seller", ["No batch is planned or begun.", "No fair is in the book.", "No piece yet."], []),
        (
            "assistant",
            ["No batch is planned or begun."],
            ["No fair is in the book.", "No piece yet.", "Rates"],
        ),
        ("designer", ["No batch is planned or begun."], ["No fair is in the book.", "Plan a batch", "Rates"]),
    ],
)
def test_an_empty_room_says_how_to_begin(
    role: str, seen: list[str], hidden: list[str], studio: object, request: pytest.FixtureRequest
) -> None:
    client: Client = request.getfixturevalue(f"{role}_client")
    page = client.get(reverse("orders:overview")).text
    assert [said for said in seen if said not in page] == []
    assert [said for said in hidden if said in page] == []


def test_a_page_of_many_pieces_asks_the_database_no_more_often(
    seller_client: Client,
    make_piece: Callable[..., Piece],
    navy_lot: Lot,
    rates: WorkroomRates,
) -> None:
    url = reverse("orders:pieces")
    make_piece((navy_lot.colour, 50))
    with CaptureQueriesContext(
        connection,
    ) as few:
        seller_client.get(url)
    for number in range(12):
        make_piece((navy_lot.colour, 10 + number))
    with CaptureQueriesContext(connection) as many:
        seller_client.get(url)
    assert len(many) == len(few)
