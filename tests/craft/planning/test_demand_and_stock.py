"""Demand, stock to bring and what fairs teach, against plain sums and integrals."""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.planning import (
    InvalidDemandError,
    NegativeBinomialDemand,
    NormalDemand,
    ObservedDemand,
    PoissonDemand,
    SellingRate,
    UnboundedStockError,
    Vendor,
)

WHOLE = [PoissonDemand(3.7), NegativeBinomialDemand(2.5, 0.4), ObservedDemand.of([0, 3, 3, 9])]


def masses(demand: PoissonDemand | NegativeBinomialDemand | ObservedDemand, most: int = 400) -> list[float]:
    return [demand.cdf(count) - demand.cdf(count - 1) for count in range(most)]


@pytest.mark.parametrize("demand", WHOLE)
def test_closed_forms_agree_with_sums(demand: PoissonDemand) -> None:
    chances = masses(demand)
    mean = math.fsum(count * chance for count, chance in enumerate(chances))
    square = math.fsum(count**2 * chance for count, chance in enumerate(chances))
    assert demand.mean == pytest.approx(mean)
    assert demand.variance == pytest.approx(square - mean**2)
    for quantity in range(12):
        short = math.fsum(max(count - quantity, 0) * chance for count, chance in enumerate(chances))
        assert demand.short(quantity) == pytest.approx(short, abs=1e-9)


def test_normal_shortage_is_its_integral() -> None:
    demand = NormalDemand(50, 8)
    grid = np.linspace(45, 140, 100_001)
    density = np.exp(-(((grid - 50) / 8) ** 2) / 2) / (8 * math.sqrt(2 * math.pi))
    assert demand.short(45) == pytest.approx(float(np.trapezoid((grid - 45) * density, grid)), abs=1e-6)


@given(st.floats(0.2, 30), st.integers(1, 40), st.integers(1, 40))
def test_the_stock_is_the_cheapest_and_the_least_of_them(mean: float, under: int, over: int) -> None:
    seller = Vendor.of_costs(under, over, PoissonDemand(mean))
    best = seller.stock()
    costs = [seller.expected_cost(quantity) for quantity in range(best.whole + 30)]
    assert best.expected_cost == pytest.approx(min(costs), abs=1e-9)
    assert all(cost > best.expected_cost - 1e-9 for cost in costs[: best.whole])


@given(st.lists(st.integers(0, 30), min_size=1, max_size=9), st.integers(1, 9), st.integers(1, 9))
def test_observed_ties_take_the_lowest(values: list[int], under: int, over: int) -> None:
    seller = Vendor.of_costs(under, over, ObservedDemand.of(values))
    costs = [seller.expected_cost(quantity) for quantity in range(32)]
    least = min(costs)
    assert seller.stock().whole == next(q for q, cost in enumerate(costs) if cost <= least + 1e-9)


def test_money_as_written_decides_a_tie() -> None:
    # 0.7 and 0.3 as floats are not seven and three tenths; as written CR is 7/10 and F(7) = 7/10.
    seller = Vendor.of_costs(0.7, 0.3, ObservedDemand.of(range(1, 11)))
    assert seller.stock().whole == 7
    assert seller.critical_ratio == Vendor.of_costs(Decimal("0.7"), Decimal("0.3"), WHOLE[0]).critical_ratio


@pytest.mark.parametrize("demand", [PoissonDemand(4.2), NegativeBinomialDemand(2.5, 0.4)])
def test_an_exact_tie_of_floats_takes_the_lowest(demand: PoissonDemand) -> None:
    covered = demand.cdf(5)
    seller = Vendor.of_costs(covered, 1 - covered, demand)
    assert seller.stock().whole == 5
    assert seller.expected_cost(6) == pytest.approx(seller.expected_cost(5))


def test_nothing_is_brought_that_earns_nothing() -> None:
    assert Vendor.of_prices(5, 5, 1, PoissonDemand(9)).stock().whole == 0


def test_a_left_over_that_loses_nothing_needs_a_cap() -> None:
    keeps = Vendor.of_prices(24, 9, 9, PoissonDemand(4))
    with pytest.raises(
        UnboundedStockError,
        match=r"^A left-over loses nothing here: bring as many as hours and table allow\.$",
    ):
        keeps.stock()
    assert keeps.stock(at_most=12).whole == 12
    assert Vendor.of_prices(24, 9, 8, PoissonDemand(4)).stock(at_most=2).whole == 2


def test_a_whole_normal_answer_is_the_cheaper_neighbour() -> None:
    seller = Vendor.of_costs(20, 1, NormalDemand(100, 20))
    best = seller.stock()
    assert best.whole in {math.floor(best.quantity), math.ceil(best.quantity)}
    assert seller.expected_cost(best.whole) == min(
        seller.expected_cost(math.floor(best.quantity)), seller.expected_cost(math.ceil(best.quantity))
    )


@given(st.floats(1, 20), st.floats(0.2, 5), st.integers(0, 8), st.floats(0.3, 3))
def test_sold_out_is_an_integral_over_the_prior(
    shape: float, rate: float, brought: int, exposure: float
) -> None:
    prior = SellingRate(shape, rate)
    grid = np.linspace(1e-9, (shape + 12 * math.sqrt(shape) + 30) / rate, 6_001)
    log_prior = (shape - 1) * np.log(grid) - rate * grid
    reached = 1 - sum(
        np.exp(count * np.log(grid * exposure) - grid * exposure - math.lgamma(count + 1))
        for count in range(brought)
    )
    weight = np.exp(log_prior - log_prior.max()) * reached
    mean = float(np.trapezoid(grid * weight, grid) / np.trapezoid(weight, grid))
    assert prior.mean_if_sold_out(brought, exposure) == pytest.approx(mean, rel=2e-2, abs=2e-3)


@given(st.floats(0.5, 20), st.floats(0.2, 5), st.integers(1, 12))
def test_sold_out_says_more_than_the_same_count(shape: float, rate: float, brought: int) -> None:
    prior = SellingRate(shape, rate)
    assert prior.mean_if_sold_out(brought) > prior.after([brought]).mean
    after = prior.after_sold_out(brought)
    assert after.mean == pytest.approx(prior.mean_if_sold_out(brought))


def test_a_sold_out_fair_of_nothing_teaches_nothing() -> None:
    prior = SellingRate(3, 1.5)
    assert prior.after_sold_out(0).mean == pytest.approx(prior.mean)
    assert prior.after_sold_out(0).shape == pytest.approx(prior.shape)


@given(st.lists(st.integers(0, 30), max_size=8), st.floats(0.5, 9), st.floats(0.2, 5))
def test_fairs_may_come_in_any_order(counts: list[int], shape: float, rate: float) -> None:
    prior = SellingRate(shape, rate)
    one_by_one = prior
    for count in reversed(counts):
        one_by_one = one_by_one.after([count])
    together = prior.after(counts)
    assert (one_by_one.shape, one_by_one.rate) == (
        pytest.approx(together.shape),
        pytest.approx(together.rate),
    )


@given(st.floats(1, 20), st.floats(1.05, 2.6))
def test_guesses_come_back(ordinary: float, times: float) -> None:
    prior = SellingRate.of_guesses(ordinary, ordinary * times)
    assert prior.mean == pytest.approx(ordinary)
    assert prior.range(0.8)[1] == pytest.approx(ordinary * times, rel=1e-6)


def test_a_wild_guess_gets_the_least_sure_prior() -> None:
    assert SellingRate.of_guesses(2, 20).shape == pytest.approx(0.5)


def test_a_prior_from_like_products() -> None:
    prior = SellingRate.of_mean_and_variance(2.0, 4 / 3)
    assert (prior.shape, prior.rate) == (pytest.approx(3), pytest.approx(1.5))


def test_a_wet_fair_sells_less_of_the_same() -> None:
    known = SellingRate(11, 4.5)
    assert known.next_fair(0.5).mean == pytest.approx(known.next_fair(1.0).mean / 2)
    assert known.next_fair(1.0).variance == pytest.approx(known.mean * (1 + 1 / 4.5))


def test_error_sentences() -> None:
    known = SellingRate(3, 1.5)
    cases = [
        (lambda: SellingRate(0, 0), "A selling rate needs a shape and a rate above nought."),
        (lambda: known.after([1, 2], [1.0]), "Give one exposure for each fair."),
        (lambda: known.after([-1]), "Counts and exposures cannot be below nought."),
        (
            lambda: SellingRate.of_guesses(5, 5),
            "A very good fair sells more than an ordinary one, and both sell some.",
        ),
        (
            lambda: SellingRate.of_mean_and_variance(1, 0),
            "Mean and variance have to be above nought.",
        ),
        (
            lambda: known.mean_if_sold_out(-1),
            "Pieces brought and exposure cannot be below nought.",
        ),
    ]
    for call, sentence in cases:
        with pytest.raises(InvalidDemandError) as caught:
            call()
        assert str(caught.value) == sentence
