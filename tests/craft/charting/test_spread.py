"""Order with least movement, held against scipy's isotonic regression and against plain arithmetic."""

from __future__ import annotations

from itertools import accumulate, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from craft.charting.spread import around, evened, in_order

PLACES = st.lists(st.floats(-50, 50), min_size=1, max_size=30)


@given(PLACES, st.floats(0.1, 3))
@settings(max_examples=50, deadline=None)
def test_in_order_is_isotonic_regression_of_what_is_left_of_the_gaps(wanted: list[float], gap: float) -> None:
    steps = np.array([gap * place for place in range(len(wanted))])
    reference = isotonic_regression(np.array(wanted) - steps).x + steps
    assert in_order(wanted, [gap] * len(wanted)) == pytest.approx(reference.tolist(), abs=1e-9)


@given(PLACES, st.floats(0.1, 3))
@settings(max_examples=30, deadline=None)
def test_neighbours_keep_their_gap(wanted: list[float], gap: float) -> None:
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(in_order(wanted, [gap] * len(wanted))))


def test_two_in_one_place_stand_on_either_side_of_it() -> None:
    assert in_order([3.0, 3.0], [1.0, 1.0]) == [2.5, 3.5]


def test_what_has_room_stays_where_it_is() -> None:
    assert in_order([0.0, 2.0, 5.0], [1.0, 1.0, 1.0]) == [0.0, 2.0, 5.0]


def test_around_keeps_the_gap_from_last_to_first() -> None:
    places = around([0.1, 5.0, 9.9], [1.0, 1.0, 1.0], 10.0)
    assert places[0] + 10 - places[-1] >= 1.0 - 1e-9
    assert places[1] == 5.0


def test_around_with_no_room_to_spare_spaces_all_evenly() -> None:
    places = around([0.0] * 8, [1.0] * 8, 8.0)
    assert [b - a for a, b in pairwise(places)] == pytest.approx([1.0] * 7)


@given(PLACES, st.floats(0, 1))
@settings(max_examples=30, deadline=None)
def test_evening_out_keeps_the_middle(wanted: list[float], share: float) -> None:
    found = evened(wanted, [1.0] * len(wanted), share)
    assert sum(found) == pytest.approx(sum(wanted), abs=1e-6)


def test_wholly_evened_places_are_half_their_widths_apart() -> None:
    widths = [1.0, 3.0, 1.0, 1.0]
    found = evened([0.0, 0.0, 9.0, 9.0], widths, 1.0)
    assert [b - a for a, b in pairwise(found)] == pytest.approx([2.0, 2.0, 1.0])
    assert list(accumulate([b - a for a, b in pairwise(found)]))[-1] == pytest.approx(5.0)
