"""Fairs, break-even, hours and ordering beyond the worked examples."""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.costing import (
    PACE_PER_MINUTE,
    Curve,
    HoursKnown,
    ImpossiblePriceError,
    InvalidCostError,
    LearningCurve,
    MixProduct,
    break_even_mix,
    break_even_pieces,
    break_even_price,
    break_even_units,
    cash_up,
    contribution,
    economic_order_quantity,
    fair_measures,
    fair_sheet,
    fee_share_of_takings,
    invoice_mass,
    learn_hours,
    length_of_part_ball,
    margin_of_safety,
    mass_in_room,
    moisture_content,
    pieces_for_profit,
    rate_of_totals,
    reorder_point,
    reorder_point_of_rate,
    sales_to_break_even,
    service_level_of_costs,
    takings_where_fee_equals_commission,
    working_minutes,
)

D = Decimal


@given(st.decimals(1, 9999, places=2), st.decimals("0.01", 99, places=2))
def test_break_even_pieces_are_just_enough(fixed: Decimal, each: Decimal) -> None:
    pieces = break_even_pieces(fixed, each)
    assert pieces * each >= fixed > (pieces - 1) * each
    more = pieces_for_profit(fixed, D(50), each)
    assert more * each >= fixed + 50 > (more - 1) * each


@given(st.decimals(1, 9999, places=2), st.integers(1, 500), st.decimals(0, 50, places=2))
def test_a_break_even_price_is_rounded_up(fixed: Decimal, pieces: int, variable: Decimal) -> None:
    price = break_even_price(fixed, pieces, variable)
    assert (price - variable) * pieces >= fixed
    assert (price - D("0.01") - variable) * pieces < fixed


def test_a_price_cut_instead_of_rounded_up_loses_money() -> None:
    # Source: MAT 540 homework, food vendor: the page cuts 0.8857 to 0.88, at which the vendor loses 80.
    assert break_even_price(D(7500), 14000, D("0.35")) == D("0.89")
    assert (D("0.88") - D("0.35")) * 14000 - 7500 == -80


def test_sales_and_safety() -> None:
    # Source: Cost-volume-profit notes (Horngren style): fixed 2,000, 25 units of 80; price 200 and
    # 40 units assumed.
    assert sales_to_break_even(D(2000), D(80), D(200)) == 5000
    assert margin_of_safety(D(5000), D(8000)) == D("0.375")


@pytest.mark.parametrize("each", ["0", "-1"])
def test_error_where_nothing_breaks_even(each: str) -> None:
    with pytest.raises(ImpossiblePriceError, match=r"^A piece that brings nothing after its own costs never"):
        break_even_units(D(100), D(each))


def test_takings_that_hold_the_tax_hold_less_of_it() -> None:
    # Source: Jolaf studio show sheet: 3,165 at 5 %: 150.71 inside, 158.25 (as printed there) on the whole.
    inside = fair_sheet([], D(3165), takings_include_tax=True, tax_rate=D("0.05"))
    on_top = fair_sheet([], D(3165), takings_include_tax=False, tax_rate=D("0.05"))
    assert round(inside.tax, 2) == D("150.71")
    assert on_top.tax == D("158.25")


def test_cash_rounding_is_expected_not_variance() -> None:
    found = cash_up(opening_float=D(100), cash_sales=D("4.92"), rounding=D("-0.02"), counted=D("104.90"))
    assert (found.expected, found.variance) == (D("104.90"), 0)


def test_measures_of_a_fair() -> None:
    # Source: a first-time vendor's public diary: 28 of 700 visitors bought, 1,468 on a fee of 187
    # (7.9 times).
    found = fair_measures(
        takings=D(1468), sold=60, brought=200, transactions=28, open_hours=D(8), fee=D(187), visitors=700
    )
    assert found.buyers_of_visitors == D("0.04")
    assert found.takings_over_fee is not None
    assert round(found.takings_over_fee, 1) == D("7.9")
    assert found.sell_through == D("0.3")


def test_measures_without_their_count_are_not_guessed() -> None:
    found = fair_measures(takings=D(0), sold=0, brought=0, transactions=0, open_hours=D(6), fee=D(0))
    assert found.sell_through is None
    assert found.average_basket is None
    assert found.takings_over_fee is None
    assert found.buyers_of_visitors is None
    assert found.takings_per_open_hour == 0


@given(
    st.sampled_from(Curve), st.floats(0.5, 50), st.floats(0.6, 1.0), st.integers(1, 40), st.integers(1, 40)
)
def test_blocks_add_up_to_totals(kind: Curve, first: float, rate: float, one: int, other: int) -> None:
    curve = LearningCurve.of_rate(kind, first, rate)
    units = one + other
    assert curve.block(1, one) + curve.block(one + 1, units) == pytest.approx(curve.total(units))
    assert curve.unit(units) <= curve.unit(1) + 1e-9


def test_the_two_curves_differ_a_lot() -> None:
    # Source: learningCurve package, 75 h first, 85 %, units 201-250: 806.772; the unit curve gives 1,053.316.
    assert LearningCurve.of_rate(Curve.UNIT, 75, 0.85).block(201, 250) == pytest.approx(1053.316, abs=5e-4)


@given(st.floats(1, 20), st.floats(0.7, 0.99), st.integers(2, 60))
def test_the_rate_is_found_again(first: float, rate: float, units: int) -> None:
    total = LearningCurve.of_rate(Curve.CUMULATIVE_AVERAGE, first, rate).total(units)
    assert rate_of_totals(first, units, total) == pytest.approx(rate)


@given(st.lists(st.floats(0.5, 8), min_size=1, max_size=8))
def test_learning_hours_one_by_one_is_the_regression(hours: list[float]) -> None:
    # Source: Bayesian linear regression with known noise, any textbook: V = (V0^-1 + X'X/s^2)^-1.
    known = HoursKnown.prior(3.0, 0.92)
    after = learn_hours(known, hours)
    design = np.array([[1.0, math.log2(number)] for number in range(1, len(hours) + 1)])
    before = np.diag([known.var_first, known.var_rate])
    precision = np.linalg.inv(before) + design.T @ design / known.noise_log**2
    mean = np.linalg.solve(
        precision,
        np.linalg.solve(before, [known.log_first, known.log_rate])
        + design.T @ np.log(hours) / known.noise_log**2,
    )
    assert [after.log_first, after.log_rate] == pytest.approx(list(mean))
    covariance = np.linalg.inv(precision)
    assert [after.var_first, after.var_rate, after.covariance] == pytest.approx(
        [covariance[0, 0], covariance[1, 1], covariance[0, 1]]
    )


def test_timing_narrows_the_range_of_the_next_piece() -> None:
    known = HoursKnown.prior(3.0)
    after = learn_hours(known, [3.1, 2.9, 2.8])
    low, high = after.unit_range(4)
    assert low < after.unit(4) < high
    wide_low, wide_high = known.unit_range(4)
    assert high / low < wide_high / wide_low


@given(st.floats(0.5, 500), st.floats(0.01, 50), st.floats(1, 5000))
def test_the_order_quantity_is_the_cheapest(order_cost: float, holding: float, demand: float) -> None:
    best = economic_order_quantity(order_cost, holding, demand)
    for factor in (0.5, 0.9, 1.1, 2.0):
        other = best.quantity * factor
        assert best.cost_rate <= order_cost * demand / other + holding * other / 2 + 1e-9
    assert abs(best.whole - best.quantity) <= 1
    assert best.whole_cost_rate >= best.cost_rate - 1e-9


def test_half_of_the_cost_of_the_artisan_is_ordering() -> None:
    # Source: craft artisan, EOQ 250: ordering and holding 187.50 each; the page's total does not follow.
    assert economic_order_quantity(18.75, 1.5, 2500).cost_rate == pytest.approx(375.0)


def test_safety_stock_of_the_artisan() -> None:
    # Same source: z 1.65 and lead-time spread 4 give 6.6 and 36.6, not the printed 45.8.
    risk = 1 - 0.9505285  # Phi(1.65), standard normal table
    found = reorder_point_of_rate(2500, 250, 3, 4 / math.sqrt(3), risk)
    assert found.safety_stock == pytest.approx(6.6, abs=0.001)
    assert (found.point, found.whole) == (pytest.approx(36.6, abs=0.001), 37)


def test_service_level_balances_penalty_and_holding() -> None:
    assert service_level_of_costs(20, 1) == pytest.approx(20 / 21)


@given(
    st.decimals(1, 500, places=1), st.decimals("0.01", "0.3", places=3), st.decimals("0.01", "0.3", places=3)
)
def test_a_ball_weighs_the_same_again_back_in_its_room(mass: Decimal, band: Decimal, room: Decimal) -> None:
    there = mass_in_room(mass, band, room)
    assert abs(invoice_mass(there, room, band) - mass) < D("1e-20")
    assert moisture_content(band) < band


def test_a_core_is_taken_off() -> None:
    assert length_of_part_ball(D(31), D(50), D(125), D(1), D(6)).length_m == D("62.5")


def test_a_cowl_of_known_counts() -> None:
    # Source: mme-g.blogspot.com 2011/02: 200 dc x 5 and 200 sc, 203 ch, 200 sl st in about an hour
    # and a half.
    spread = working_minutes({"dc": 1000, "sc": 200, "ch": 203, "sl st": 200})
    assert spread.low <= 90 <= spread.high


def test_an_own_timed_minute_scales_and_narrows() -> None:
    usual = working_minutes({"sc": 1400})
    own = working_minutes({"sc": 1400}, own_sc_per_minute=28)
    assert usual.median == pytest.approx(100)
    assert own.median == pytest.approx(50)
    assert own.high / own.low < usual.high / usual.low


@pytest.mark.parametrize("name", ["sc2tog", "FPdc", "5-dc bobble", "moon st", "dtr"])
def test_every_stitch_takes_some_time(name: str) -> None:
    assert name not in PACE_PER_MINUTE
    assert working_minutes({name: 10}).median > 0


def test_error_sentences() -> None:
    cases = [
        (lambda: break_even_price(D(1), 0, D(1)), "A break-even price needs at least one piece to sell."),
        (lambda: margin_of_safety(D(1), D(0)), "A margin of safety needs expected takings above nought."),
        (lambda: fee_share_of_takings(D(0)), "Takings have to be above nought."),
        (
            lambda: takings_where_fee_equals_commission(D(1), D(0)),
            "Without commission the flat fee is never the same.",
        ),
        (
            lambda: break_even_mix([D(1)], [MixProduct(D(1), D(0), D(0))]),
            "The products of a mix need shares above nought.",
        ),
        (
            lambda: economic_order_quantity(0, 1, 1),
            "Order cost, holding cost and demand all have to be above nought.",
        ),
        (
            lambda: reorder_point(1, 1, 1),
            "The risk lies between 0 and 1, and a spread is not below nought.",
        ),
        (
            lambda: reorder_point_of_rate(1, 0, 1),
            "Periods have to be above nought and the lead time not below it.",
        ),
        (
            lambda: service_level_of_costs(0, 1),
            "Penalty and holding cost have to be above nought.",
        ),
        (lambda: length_of_part_ball(D(5), D(0), D(1)), "The band needs a mass and a length above nought."),
        (lambda: length_of_part_ball(D(5), D(50), D(1), D(1), D(6)), "The ball weighs less than its core."),
        (
            lambda: LearningCurve.of_rate(Curve.UNIT, 1, 1.2),
            "A learning rate lies above 0 and not above 1.",
        ),
        (lambda: LearningCurve.of_rate(Curve.UNIT, 1, 0.9).unit(0), "Units are counted from 1."),
        (
            lambda: rate_of_totals(1, 1, 1),
            "A learning rate needs two units or more and times above nought.",
        ),
        (lambda: learn_hours(HoursKnown.prior(3), [0.0]), "A timed piece takes more than no time."),
        (
            lambda: HoursKnown.prior(0),
            "Hours, rate and spreads have to be above nought, the rate not above 1.",
        ),
        (lambda: working_minutes({"sc": 1}, own_sc_per_minute=0), "A pace has to be above nought."),
    ]
    for call, sentence in cases:
        with pytest.raises(InvalidCostError) as caught:
            call()
        assert str(caught.value) == sentence


def test_contribution_counts_every_share_of_the_price() -> None:
    assert contribution(D(20), D(5), D("0.02"), D("0.10")) == D("12.60")
