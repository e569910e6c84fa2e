"""The demo's making and selling: made once, whatever else is there."""

from django.test import Client
from django.urls import reverse

from orders import demo
from orders.models import Batch, Expectation, Fair, FairResult, Piece, WorkroomRates
from patterns.models import Pattern
from workroom.demo import Cast
from workroom.models import Person, Studio
from workroom.selectors import local_today


def cast_of(studio: Studio, person: Person) -> Cast:
    return Cast(studio, person, person, person, local_today())


def test_a_second_run_adds_nothing(studio: Studio, seller: Person, pattern: Pattern) -> None:
    cast = cast_of(studio, seller)
    for _again in range(2):
        demo.make(cast)
    rows = [Piece, Fair, Batch, WorkroomRates]
    assert [model.objects.count() for model in rows] == [1, 2, 1, 1]
    assert (Expectation.objects.count(), FairResult.objects.count()) == (1, 1)


def test_twelve_hats_are_planned_for_a_fair_next_month(
    studio: Studio, seller: Person, pattern: Pattern, seller_client: Client
) -> None:
    demo.make(cast_of(studio, seller))
    batch = Batch.objects.get()
    assert batch.fair is not None
    assert batch.due_on is not None
    assert batch.quantity == 12
    assert 28 <= (batch.fair.starts_on - local_today()).days <= 37
    assert batch.due_on < batch.fair.starts_on
    assert seller_client.get(reverse("orders:batch", args=[batch.code])).status_code == 200


def test_without_patterns_there_is_a_fair_and_no_piece(studio: Studio, seller: Person) -> None:
    demo.make(cast_of(studio, seller))
    assert (Fair.objects.count(), Piece.objects.count(), Batch.objects.count()) == (2, 0, 0)
