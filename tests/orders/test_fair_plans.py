"""What to make for a fair, what past fairs teach, and the two pages."""

from collections.abc import Callable
from datetime import timedelta
from itertools import product as choices

import pytest
from django.test import Client
from django.urls import reverse

from craft.planning import worth_of_piece
from orders.demand import demand_of, demands
from orders.fair_plans import WhatToMake, _product, _with_pay, free_minutes, what_to_make
from orders.models import Batch, Expectation, Fair, FairResult, Piece, WorkroomRates
from orders.selectors import costings, load_shelf
from yarns.amounts import grams
from yarns.models import Colour, Lot

MakePiece = Callable[..., Piece]


@pytest.fixture
def expect(db: None) -> Callable[..., Expectation]:
    """`expect(beanie, 4, 8)`: four at an ordinary fair, eight at a very good one; a left-over keeps half."""

    def say(piece: Piece, ordinary: int, very_good: int, keeps_pc: int = 50) -> Expectation:
        return Expectation.objects.create(
            piece=piece, ordinary=ordinary, very_good=very_good, keeps_pc=keeps_pc
        )

    return say


def plan_of(fair: Fair, pieces: list[Piece], rates: WorkroomRates, minutes: int) -> WhatToMake:
    known = demands(pieces)
    sheets = costings(pieces, rates, "EUR")
    rows = [(piece, sheets[piece.pk], known[piece.pk]) for piece in pieces]
    return what_to_make(fair, rows, load_shelf(pieces), rates, minutes)


def made(plan: WhatToMake) -> list[int]:
    return [line.make for line in plan.lines]


@pytest.fixture
def hat_and_toy(
    make_piece: MakePiece, navy: Colour, foam: Colour, navy_lot: Lot, put_on_shelf: Callable[..., Lot],
    expect: Callable[..., Expectation],
) -> list[Piece]:  # fmt: skip
    """Prices and hours of O6 (constructed for the reference): hat 24, 2 h; toy 38, 3.5 h."""
    put_on_shelf(foam, grams(2000), dye_lot="A", price_paid_minor=6400)
    hat = make_piece((navy, 50), title="Hat", minutes=120, price_minor=2400)
    toy = make_piece((foam, 60), title="Toy", minutes=210, price_minor=3800)
    expect(hat, 4, 7)
    expect(toy, 2, 5)
    return [hat, toy]


@pytest.mark.parametrize("hours", [0, 3, 7, 11, 20])
def test_no_other_plan_within_the_hours_is_worth_more(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates, hours: int
) -> None:
    """Every mix of up to twelve of each is tried."""
    rates.wage_per_hour_minor = 0
    rates.overhead_per_hour_minor = 0
    sheets = costings(hat_and_toy, rates, "EUR")
    known = demands(hat_and_toy)
    products = [_product(fair, (p, sheets[p.pk], known[p.pk]), rates, 0) for p in hat_and_toy]
    best = max(
        sum(
            worth_of_piece(each, n)
            for each, count in zip(products, counts, strict=True)
            for n in range(1, count + 1)
        )
        for counts in choices(range(13), repeat=2)
        if sum(each.hours * count for each, count in zip(products, counts, strict=True)) <= hours
    )
    assert plan_of(fair, hat_and_toy, rates, hours * 60).value == round(best)


def test_where_hours_are_the_limit_pay_is_not_in_the_cost(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates
) -> None:
    """An hour on a hat brings about 11; at 5.00 the hours run out first, and pay plays no part."""
    rates.overhead_per_hour_minor = 0
    rates.wage_per_hour_minor = 500
    plan = plan_of(fair, hat_and_toy, rates, 10 * 60)
    rates.wage_per_hour_minor = 0
    assert plan.hours_bind
    assert sum(made(plan)) > 0
    assert made(plan) == made(plan_of(fair, hat_and_toy, rates, 10 * 60))
    assert plan.unpaid == ()


def test_an_hour_that_brings_less_than_is_wanted_for_it_is_not_worked(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates
) -> None:
    """With 100 hours and pay left out, ever more pieces would be made for a few pence an hour."""
    rates.overhead_per_hour_minor = 0
    rates.wage_per_hour_minor = 500
    plan = plan_of(fair, hat_and_toy, rates, 100 * 60)
    assert not plan.hours_bind
    assert 0 < sum(made(plan)) < sum(count for _piece, count in plan.unpaid)


def test_where_hours_are_plenty_pay_is_in_the_cost(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates
) -> None:
    plan = plan_of(fair, hat_and_toy, rates, 1000 * 60)
    assert not plan.hours_bind
    assert made(plan) == [0, 0], "two hours at 15.50 are more than a price of 24.00"
    assert {piece.title for piece, _count in plan.unpaid} == {"Hat", "Toy"}
    rates.wage_per_hour_minor = 0
    cheap = plan_of(fair, hat_and_toy, rates, 1000 * 60)
    assert min(made(cheap)) > 0


def test_a_left_over_keeps_its_share_of_the_cost_that_counts(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates
) -> None:
    sheets = costings(hat_and_toy, rates, "EUR")
    row = (hat_and_toy[0], sheets[hat_and_toy[0].pk], demands(hat_and_toy)[hat_and_toy[0].pk])
    bare = _product(fair, row, rates, 0)
    paid = _with_pay(bare, row[1])
    assert (bare.cost, bare.worth_left) == (160, 80)
    assert (paid.cost, paid.worth_left) == (3260, 1630)


def test_the_yarn_on_the_shelf_is_a_limit_and_says_what_a_ball_is_worth(
    fair: Fair, make_piece: MakePiece, navy: Colour, put_on_shelf: Callable[..., Lot], rates: WorkroomRates,
    expect: Callable[..., Expectation],
) -> None:  # fmt: skip
    put_on_shelf(navy, grams(120), price_paid_minor=384)
    hat = make_piece((navy, 50), minutes=60, price_minor=2400)
    expect(hat, 6, 9)
    plan = plan_of(fair, [hat], rates, 100 * 60)
    assert made(plan) == [2]
    assert [name for name, worth in plan.yarn_worth if worth > 0] == ["Sandpiper Mill Tideline Worsted Navy"]


def test_what_is_planned_for_the_fair_is_not_made_twice(
    fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates, plan: Callable[..., Batch]
) -> None:
    rates.wage_per_hour_minor = rates.overhead_per_hour_minor = 0
    before = made(plan_of(fair, hat_and_toy, rates, 100 * 60))
    plan(hat_and_toy[0], 2, fair=fair)
    after = plan_of(fair, hat_and_toy, rates, 100 * 60)
    assert before[0] > 2
    assert made(after) == [before[0] - 2, before[1]]
    assert after.lines[0].ready == 2


def test_open_batches_take_their_hours_off_first(
    fair: Fair, beanie: Piece, rates: WorkroomRates, plan: Callable[..., Batch]
) -> None:
    """Thirty days of three hours, less twelve of a batch due before the fair; a later one doesn't count."""
    today = fair.starts_on - timedelta(days=30)
    assert free_minutes(fair, rates, today) == 90 * 60
    plan(beanie, 12, due_on=fair.starts_on - timedelta(days=1))
    plan(beanie, 12, due_on=fair.starts_on + timedelta(days=1))
    assert free_minutes(fair, rates, today) == 78 * 60
    assert free_minutes(fair, rates, fair.starts_on + timedelta(days=1)) == 0


# ---------------------------------------------------------------------------------- learning


def test_past_fairs_move_what_is_expected(
    fair: Fair, beanie: Piece, expect: Callable[..., Expectation]
) -> None:
    """Gamma-Poisson: three fairs sold 4, 1 and 3 add 8 to the shape and 3 to the rate (as in O3)."""
    expectation = expect(beanie, 2, 4)
    prior = demand_of(expectation, []).rate
    rows = [FairResult(fair=fair, piece=beanie, brought=9, sold=sold) for sold in (4, 1, 3)]
    learned = demand_of(expectation, rows)
    assert (learned.fairs, learned.sold_out) == (3, 0)
    assert learned.rate.shape == pytest.approx(prior.shape + 8)
    assert learned.rate.rate == pytest.approx(prior.rate + 3)


def test_a_busy_fair_teaches_by_how_busy_it_was(
    fair: Fair, beanie: Piece, expect: Callable[..., Expectation]
) -> None:
    expectation = expect(beanie, 2, 4)
    fair.busy_pc = 200
    learned = demand_of(expectation, [FairResult(fair=fair, piece=beanie, brought=9, sold=4)])
    assert learned.rate.rate == pytest.approx(demand_of(expectation, []).rate.rate + 2)


def test_sold_out_counts_as_at_least_so_many(
    fair: Fair, beanie: Piece, expect: Callable[..., Expectation]
) -> None:
    """As in O3e: 3 of 3 sold moves the mean up more than 3 of 9 sold."""
    expectation = expect(beanie, 2, 4)
    all_gone, some_left = (
        demand_of(expectation, [FairResult(fair=fair, piece=beanie, brought=brought, sold=3)])
        for brought in (3, 9)
    )
    assert all_gone.sold_out == 1
    assert all_gone.rate.mean > some_left.rate.mean


def test_a_sell_out_beyond_belief_still_moves_the_rate(
    fair: Fair, beanie: Piece, expect: Callable[..., Expectation]
) -> None:
    expectation = expect(beanie, 1, 2)
    learned = demand_of(expectation, [FairResult(fair=fair, piece=beanie, brought=400, sold=400)])
    assert learned.rate.mean > 10


# ------------------------------------------------------------------------------------ pages


def fields(piece: Piece, **values: str) -> dict[str, str]:
    return {f"piece-{piece.pk}-{name}": value for name, value in values.items()}


def test_a_seller_is_asked_and_then_told(
    seller_client: Client, fair: Fair, hat_and_toy: list[Piece], rates: WorkroomRates
) -> None:
    Expectation.objects.all().delete()
    WorkroomRates.objects.update(wage_per_hour_minor=300, overhead_per_hour_minor=0)
    url = reverse("orders:fair_plan", args=[fair.pk])
    assert "No fair has taught anything yet." in seller_client.get(url).text
    hat, toy = hat_and_toy
    sent = {
        **fields(hat, ordinary="4", very_good="7", keeps_pc="95"),
        **fields(toy, ordinary="", very_good="", keeps_pc="95"),
    }
    page = seller_client.post(url, sent, follow=True).text
    assert Expectation.objects.get().very_good == 7
    assert "× Hat</strong>" in page
    assert "× Toy</strong>" not in page
    assert "as you expect; no fair has taught anything yet" in page
    assert "Hours are the limit" in seller_client.get(url, {"hours": "4 h"}).text
    assert "Hours are not the limit" in seller_client.get(url, {"hours": "400 h"}).text


def test_taking_both_numbers_out_takes_the_expectation_out(
    seller_client: Client, fair: Fair, beanie: Piece, expect: Callable[..., Expectation], rates: WorkroomRates
) -> None:
    expect(beanie, 4, 8)
    sent = fields(beanie, ordinary="", very_good="", keeps_pc="95")
    assert seller_client.post(reverse("orders:fair_plan", args=[fair.pk]), sent).status_code == 302
    assert not Expectation.objects.exists()


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"ordinary": "8", "very_good": "4"}, "A very good fair sells more than an ordinary one."),
        ({"ordinary": "4", "very_good": "4"}, "A very good fair sells more than an ordinary one."),
        ({"ordinary": "4", "very_good": ""}, "Write both numbers, or leave both empty."),
        ({"ordinary": "-4", "very_good": "8"}, "Ensure this value is greater than or equal to 1."),
        ({"ordinary": "few", "very_good": "8"}, "Enter a whole number."),
        ({"ordinary": "4", "very_good": "8", "keeps_pc": "200"}, "Select a valid choice."),
    ],
)
def test_error_a_bad_expectation_is_not_saved(
    seller_client: Client, fair: Fair, beanie: Piece, rates: WorkroomRates, values: dict[str, str], says: str
) -> None:
    sent = fields(beanie, **{"keeps_pc": "95", **values})
    response = seller_client.post(reverse("orders:fair_plan", args=[fair.pk]), sent)
    assert response.status_code == 422
    assert says in response.text
    assert not Expectation.objects.exists()


def test_error_hours_that_are_none_are_said(
    seller_client: Client, fair: Fair, beanie: Piece, expect: Callable[..., Expectation], rates: WorkroomRates
) -> None:
    expect(beanie, 4, 8)
    response = seller_client.get(reverse("orders:fair_plan", args=[fair.pk]), {"hours": "-3"})
    assert response.status_code == 422
    assert "Time can&#x27;t be negative." in response.text


def test_how_a_fair_went_is_written_down_and_changed(
    seller_client: Client, fair: Fair, beanie: Piece, rates: WorkroomRates
) -> None:
    url = reverse("orders:fair_result", args=[fair.pk])
    for sold in ("9", "12"):
        seller_client.post(url, fields(beanie, brought="12", sold=sold))
    row = FairResult.objects.get()
    assert (row.brought, row.sold, row.sold_out) == (12, 12, True)
    assert "sold out" in seller_client.get(reverse("orders:fair", args=[fair.pk])).text
    seller_client.post(url, fields(beanie, brought="", sold=""))
    assert not FairResult.objects.exists()


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"brought": "3", "sold": "4"}, "More sold than brought. Write how many you had with you."),
        ({"brought": "", "sold": "4"}, "More sold than brought."),
        ({"brought": "-1", "sold": "0"}, "Ensure this value is greater than or equal to 0."),
        ({"brought": "all", "sold": "0"}, "Enter a whole number."),
    ],
)
def test_error_a_bad_result_is_not_written_down(
    seller_client: Client, fair: Fair, beanie: Piece, values: dict[str, str], says: str
) -> None:
    response = seller_client.post(reverse("orders:fair_result", args=[fair.pk]), fields(beanie, **values))
    assert response.status_code == 422
    assert says in response.text
    assert not FairResult.objects.exists()
