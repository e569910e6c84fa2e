"""Part balls against the worked examples O5, O5w and O5a of the trade reference."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.yardage.part_ball import (
    InvalidWeighingError,
    conditioned_mass,
    part_ball,
    scale_step,
    weather_share,
)

D = Decimal


def test_part_ball_by_the_band() -> None:
    """O5 (constructed): 31 g of a 50 g ball of 125 m is 77.5 m, uncertain by 1.25 m on a 1 g scale."""
    ball = part_ball(D(31), D(0), D(1), D(125) / 50, {"cotton": 1.0})
    assert ball.net_g * 125 / 50 == D("77.5")
    assert ball.uncertain_m == D("1.25")
    assert str(ball.length_m) == "78"


@pytest.mark.parametrize(
    ("gross", "step", "shown"), [("31", "1", "78"), ("31.0", "0.1", "77.5"), ("310", "10", "780")]
)
def test_no_more_digits_than_the_scale_has(gross: str, step: str, shown: str) -> None:
    ball = part_ball(D(gross), D(0), D(step), D("2.5"), {})
    assert f"{ball.length_m:f}" == shown


def test_the_cone_is_taken_off() -> None:
    assert part_ball(D("112"), D(12), D(1), D(2), {}).net_g == D(100)


def test_error_cone_heavier_than_all() -> None:
    with pytest.raises(InvalidWeighingError) as caught:
        part_ball(D(10), D(12), D(1), D(2), {})
    assert str(caught.value) == "The empty cone or bag (12 g) weighs more than all together (10 g)."


def test_no_band_no_length() -> None:
    ball = part_ball(D(40), D(0), D(1), None, {})
    assert (ball.net_g, ball.length_m, ball.uncertain_m) == (D(40), None, None)


@pytest.mark.parametrize(("typed", "step"), [("31", "1"), ("31.4", "0.1"), ("0.25", "0.01")])
def test_the_last_digit_says_how_fine_the_scale_is(typed: str, step: str) -> None:
    assert scale_step(D(typed)) == D(step)


@pytest.mark.parametrize(
    ("band", "room", "mass"),
    [("0.17", "0.1", "94.0171"), ("0.17", "0.22", "104.2735"), ("0.02", "0.01", "99.0196")],
)
def test_a_ball_weighs_by_the_air(band: str, room: str, mass: str) -> None:
    """O5w and O5a (constructed; room regains illustrative): a 100 g ball in dry and damp rooms."""
    found = conditioned_mass(D(100), D(band), D(room))
    assert abs(found - D(mass)) < D("0.00005")


def test_weather_by_fibre() -> None:
    """Wool 5 %, cotton 3 % (common practice, no source); the rest derived from the EU regains."""
    assert weather_share({"wool": 1.0}) == D("0.05")
    assert weather_share({"merino": 0.5, "cotton": 0.5}) == D("0.04")
    assert weather_share({"acrylic": 1.0}) == D("0.01")
    assert weather_share({}) == D("0.05")
    assert weather_share({"moon dust": 1.0}) == D("0.05")


@given(st.decimals(1, 5000, places=1), st.sampled_from(["0.1", "1", "2", "5"]), st.integers(1, 900))
def test_rounding_hides_no_more_than_the_uncertainty(gross: Decimal, step: str, rate: int) -> None:
    m_per_g = D(rate) / 100
    ball = part_ball(gross, D(0), D(step), m_per_g, {})
    assert ball.length_m is not None
    assert ball.uncertain_m is not None
    assert abs(ball.length_m - gross * m_per_g) <= ball.uncertain_m * 5
