"""Ways of rounds and rows, held against the geometry of the circle, the stadium and the regular polygon."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.charting.tracks import Circle, Frame, Line, Polygon, Track

CLOSED = (Circle(), Frame(9.0), Frame(6.0, 4.0, (1.0, -2.0)), Polygon(4), Polygon(6), Polygon(3))


@pytest.mark.parametrize("track", CLOSED)
@given(st.floats(1.5, 20), st.floats(0, 0.999))
@settings(max_examples=30, deadline=None)
def test_a_point_of_a_way_is_found_again(track: Track, level: float, share: float) -> None:
    along = track.length(level) * share
    found = track.along(level, track.at(level, along).point)
    apart = abs(found - along) % track.length(level)
    assert min(apart, track.length(level) - apart) < 1e-6


@pytest.mark.parametrize("track", CLOSED)
@given(st.floats(1.5, 20))
@settings(max_examples=10, deadline=None)
def test_the_length_is_the_sum_of_small_steps(track: Track, level: float) -> None:
    number = 2000
    points = [track.at(level, track.length(level) * i / number).point for i in range(number + 1)]
    walked = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))
    assert walked == pytest.approx(track.length(level), rel=1e-3)


@pytest.mark.parametrize("track", CLOSED)
def test_rounds_run_anticlockwise(track: Track) -> None:
    """Signed area, y down: negative for anticlockwise on paper (shoelace formula)."""
    length = track.length(5.0)
    points = [track.at(5.0, length * i / 200).point for i in range(200)]
    turned = [*points[1:], points[0]]
    assert sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, turned, strict=True)) < 0


def test_lengths_are_those_of_the_handbook() -> None:
    assert Circle().length(3) == pytest.approx(2 * pi * 3)
    assert Frame(10).length(3) == pytest.approx(2 * 10 + 2 * pi * 3)  # a stadium
    assert Polygon(4, soft=0).length(3) == pytest.approx(8 * 3)  # a square of side 6
    assert Polygon(6, soft=0).length(3) == pytest.approx(12 * 3 * tan(pi / 6))


@pytest.mark.parametrize("track", CLOSED)
@given(st.floats(40, 200))
@settings(max_examples=10, deadline=None)
def test_a_level_for_a_length_has_that_length(track: Track, length: float) -> None:
    assert track.length(track.level_for(length)) == pytest.approx(length, rel=1e-6)


def test_corners_of_a_square_lie_on_its_diagonals() -> None:
    square = Polygon(4)
    for number in range(4):
        x, y = square.at(5.0, square.corner(5.0, number)).point
        assert abs(x) == pytest.approx(abs(y))
        assert hypot(x, y) > 5.0 * sqrt(2) - 0.5


def test_a_row_rises_with_its_level() -> None:
    assert Line().at(3.0, 7.0).point == (7.0, -3.0)
    assert not Line().closed


def test_a_frame_knows_how_far_outside_a_point_lies() -> None:
    frame = Frame(6.0, 4.0)
    assert frame.outside((5.0, 0.0)) == pytest.approx(2.0)
    assert frame.outside((6.0, 6.0)) == pytest.approx(5.0)
    assert frame.outside((0.0, 0.0)) < 0
