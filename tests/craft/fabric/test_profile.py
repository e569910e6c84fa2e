"""Profiles against closed forms: disc, cylinder, cone, ball (Euclid, Archimedes)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.fabric.filled import filled
from craft.fabric.gauge import Gauge
from craft.fabric.profile import Profile, around_factor, profile_of
from tests.craft.fabric.plain_parts import ball_counts, disc, of_counts, part

SQUARE = Gauge(5.0, 5.0)


def profile(text: str, gauge: Gauge = SQUARE) -> Profile:
    found = profile_of(part(text, gauge))
    assert found is not None
    return found


def test_a_disc_has_the_area_of_a_circle() -> None:
    # 2 pi stitches a round: 6, 13, 19, 25, 31, 38, 44, 50 (mspremiseconclusion.wordpress.com, 2018)
    found = profile(of_counts([6, 13, 19, 25, 31, 38, 44, 50]))
    assert found.diameter == pytest.approx(80.0, rel=0.01)
    assert found.area_mm2 == pytest.approx(math.pi * 40**2, rel=0.02)
    assert found.height < 5.0


def test_six_a_round_in_square_sc_is_a_cone_of_73_degrees() -> None:
    # half-angle arcsin(N / N0), N0 = 2 pi: 6 -> 73 degrees (standards section 6c)
    found = profile(disc(20, 6))
    assert math.degrees(math.atan2(found.radius, found.height)) == pytest.approx(72.7, abs=0.2)
    assert found.area_mm2 == pytest.approx(math.pi * found.radius * found.along, rel=0.001)  # pi r s
    assert found.volume_mm3 == pytest.approx(math.pi * found.radius**2 * found.height / 3, rel=0.001)


def test_a_tube_is_a_cylinder() -> None:
    text = "Ch 60, join with sl st to form a ring.\nRnd 1: Sc in each ch around. (60)\n"
    found = profile(text + "Rnds 2-20: Sc in each st around. (60)\n")
    radius = 300 / (2 * math.pi)
    assert found.radius == pytest.approx(radius)
    assert found.height == pytest.approx(100.0)
    assert found.area_mm2 == pytest.approx(300 * 100)
    assert found.volume_mm3 == pytest.approx(math.pi * radius**2 * 100)


@pytest.mark.parametrize(
    ("radius", "width", "height"), [(40.0, 5.0, 5.0), (72.0, 5.4, 5.0), (30.0, 3.1, 3.0), (100.0, 7.2, 7.4)]
)
def test_a_ball_of_the_formula_s_counts_is_a_ball(radius: float, width: float, height: float) -> None:
    """N = 2 pi R sin(k h / R) / w: within 3 % in diameter, height, area and volume (sphere, Archimedes)."""
    found = profile(of_counts(ball_counts(radius, width, height)), Gauge(width, height))
    assert found.closed
    for shape in (found, filled(found)):
        assert shape.diameter == pytest.approx(2 * radius, rel=0.03)
        assert shape.height == pytest.approx(2 * radius, rel=0.03)
        assert shape.area_mm2 == pytest.approx(4 * math.pi * radius**2, rel=0.03)
        assert shape.volume_mm3 == pytest.approx(4 / 3 * math.pi * radius**3, rel=0.03)


def test_filling_rounds_flat_ends() -> None:
    found = profile(of_counts([6, 12, 18, 24, 30, 36, *[36] * 6, 30, 24, 18, 12, 6]))
    round_one = filled(found)
    assert round_one.filled
    assert round_one.volume_mm3 > 1.05 * found.volume_mm3
    assert round_one.height > 1.1 * found.height
    # no round is longer than it was worked, none rises by more than its height
    before = (0.0, 0.0)
    for station in round_one.stations:
        assert 2 * math.pi * station.radius <= station.level.around + 2.5  # half a stitch
        step = math.hypot(station.radius - before[0], station.height - before[1])
        assert step <= station.level.height * 1.02
        before = (station.radius, station.height)


def test_open_parts_are_not_rounded_by_filling() -> None:
    open_one = profile(of_counts([6, 12, 18, 18, 18, 18]))
    assert filled(open_one) is open_one


def test_a_square_from_the_middle_has_eight_times_its_reach_around_it() -> None:
    # 2 k tan(pi / k): a square of half-side 1 is 8 around, a hexagon 6.93
    assert around_factor(4) == pytest.approx(8.0)
    assert around_factor(6) == pytest.approx(6.928, abs=0.001)
    assert around_factor(0) == pytest.approx(2 * math.pi)


def test_an_oval_base_carries_its_straight_part() -> None:
    # 30 x 12 cm at 12 x 13: S = 24, n = 8, 92 sts (tech_editing section 3.8)
    chain = "Sc in 2nd ch from hook, sc in next 22 ch, 3 sc in last ch; working along other side of chain, "
    lines = ["Ch 25.", f"Rnd 1: {chain}sc in next 22 ch, 2 sc in last ch. (50)"]
    for number in range(2, 9):
        plain = f"sc in next {number - 2} sts, " if number > 2 else ""
        inc = f"[{plain}2 sc in next st]"
        lines.append(
            f"Rnd {number}: {inc} once, sc in next 22 sts, {inc} 3 times, sc in next 22 sts, {inc} 2 times. "
            f"({44 + 6 * number})"
        )
    found = profile("\n".join(lines), Gauge(100 / 12, 100 / 13))
    assert found.part.straight == 22
    assert found.stations[-1].level.count == 92
    assert found.length == pytest.approx(300, rel=0.03)
    assert found.diameter == pytest.approx(120, rel=0.03)


def test_rounds_after_a_gap_stand_apart_and_what_is_known_is_drawn() -> None:
    text = of_counts([6, 12, 18]) + "Rnd 4: Blorb the flange.\nRnd 5: Sc in each st around. (24)\n"
    found = profile(text + "Rnd 6: Sc in each st around. (24)\n")
    assert [level.number for level in found.part.gaps] == [4, 5]
    assert [station.after_gap for station in found.stations] == [False, False, False, True]


def test_rounds_drawn_in_faster_than_they_are_high_are_gathered() -> None:
    found = profile(of_counts([6, 12, 18, 24, 30, 36, 36, 18, 9]), Gauge(6.0, 4.0))
    assert found.stations[7].gathered
    assert not found.stations[6].gathered


@settings(max_examples=40, deadline=None)
@given(
    counts=st.lists(st.integers(4, 60), min_size=2, max_size=9),
    width=st.floats(2, 12),
    height=st.floats(2, 12),
    scale=st.floats(0.5, 3),
)
def test_a_gauge_scaled_scales_the_piece(
    counts: list[int], width: float, height: float, scale: float
) -> None:
    """Twice as large a stitch: twice the piece, four times its area, eight times what it holds."""
    small = _of(counts, Gauge(width, height))
    large = _of(counts, Gauge(width * scale, height * scale))
    assert large.radius == pytest.approx(scale * small.radius)
    assert large.height == pytest.approx(scale * small.height, abs=1e-4)
    assert large.area_mm2 == pytest.approx(scale**2 * small.area_mm2)
    assert large.volume_mm3 == pytest.approx(scale**3 * small.volume_mm3, abs=0.01)


def _of(counts: list[int], gauge: Gauge) -> Profile:
    steps = [counts[0]]
    for count in counts[1:]:
        steps.append(max((steps[-1] + 1) // 2, min(count, 2 * steps[-1])))
    return profile(of_counts(steps), gauge)
