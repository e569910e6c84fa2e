"""Ordering again: the published reorder point and order quantity come out, and the advice follows."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.costing.restocking import HOLDING_A_YEAR, WEEKS_A_YEAR, Terms, restock
from craft.costing.values import InvalidCostError


def test_reorder_point_of_the_textbook() -> None:
    """Lead-time demand normal 50, 5, risk 3 %: 9.4040 and 59.4040 (costing example ROP1, exact z)."""
    weeks = [50 - 5, 50 + 5]  # mean 50; the sample's sd is 5 sqrt 2, so half a week's lead has sd 5
    found = restock([2 * week for week in weeks], 1000, Terms(lead_weeks=0.5, stockout_risk=0.03))
    assert found.use_a_week == 100
    assert found.safety_stock == pytest.approx(9.4040 * 2, abs=1e-3)
    assert found.reorder_at == pytest.approx(50 + 18.808, abs=1e-3)


def test_order_quantity_is_the_economic_one() -> None:
    """sqrt(2 K D / h), K 12, D 24 a week, h of a price of 3.20."""
    holding = 3.20 * HOLDING_A_YEAR / WEEKS_A_YEAR
    found = restock([24.0] * 10, 0, Terms(lead_weeks=2, order_cost=12, unit_price=3.20))
    assert found.reorder_at == 48
    assert found.advised == pytest.approx(max(48, sqrt(2 * 12 * 24 / holding)), abs=1)


def test_at_the_point_it_is_ordered_above_it_is_not() -> None:
    """Order when stock on hand plus on order is at or below the reorder point (costing, 7.3)."""
    terms = Terms(lead_weeks=3, pack=50)
    assert restock([10.0] * 8, 30, terms).advised == 100  # eight weeks of ten, in packs of fifty
    assert restock([10.0] * 8, 31, terms).advised == 0


def test_what_is_asked_for_and_nobody_used_yet_is_ordered_and_no_more() -> None:
    assert restock([], -130, Terms(lead_weeks=2, pack=50)).advised == 150
    assert restock([], 0, Terms(lead_weeks=2, pack=50)).advised == 0


def test_a_minimum_that_somebody_set_stands() -> None:
    terms = Terms(lead_weeks=2, pack=100)
    assert restock([1.0] * 8, 250, terms, minimum=300).advised == 100
    assert restock([], 300, terms, minimum=300).advised == 100
    assert restock([1.0] * 8, 301, terms, minimum=300).advised == 0


def test_returns_in_a_week_do_not_make_use_negative() -> None:
    assert restock([-5.0, 0.0], 0, Terms(lead_weeks=2)).use_a_week == 0


def test_error_a_pack_of_nothing() -> None:
    with pytest.raises(InvalidCostError, match="A pack has to be above nought"):
        restock([1.0], 0, Terms(lead_weeks=1, pack=0))


@settings(max_examples=50)
@given(
    st.lists(st.floats(0, 500), max_size=26),
    st.floats(-1000, 5000),
    st.floats(0.5, 12),
    st.sampled_from([1.0, 25.0, 50.0, 100.0]),
)
def test_after_the_advice_is_followed_nothing_more_is_due(
    weeks: list[float], position: float, lead: float, pack: float
) -> None:
    terms = Terms(lead_weeks=lead, pack=pack)
    found = restock(weeks, position, terms)
    assert found.advised % pack == 0
    again = restock(weeks, position + found.advised, terms)
    assert again.position >= again.reorder_at - 1e-6 or not found.due
