"""Exact units, circles and fibres."""

import math
from decimal import Decimal

import pytest

from craft.standards.fibres import AVERAGE_DENSITY, blend_density, blend_regain, fibre, synthetic_share
from craft.standards.proportions import (
    circle_rounds,
    circle_rule,
    relative_height,
    stitches_added_per_round,
)
from craft.standards.units import (
    grams_to_ounces,
    inches_to_millimetres,
    metres_per_100g,
    metres_to_yards,
    millimetres_to_inches,
    ounces_to_grams,
    per_100mm_to_per_four_inches,
    per_four_inches_to_per_100mm,
    tex_of,
    yards_to_metres,
)


def test_units_are_exact() -> None:
    # Source: international yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg;
    # 16 oz, 36 in.
    assert yards_to_metres(Decimal(1000)) == Decimal("914.4")
    assert ounces_to_grams(Decimal(16)) == Decimal("453.59237")
    assert inches_to_millimetres(Decimal(36)) == Decimal("914.4")


def test_units_come_back() -> None:
    assert metres_to_yards(Decimal("914.4")) == 1000
    assert grams_to_ounces(Decimal("453.59237")) == 16
    assert millimetres_to_inches(Decimal("914.4")) == 36
    assert per_100mm_to_per_four_inches(per_four_inches_to_per_100mm(Decimal(16))) == 16


def test_four_inches_are_more_than_ten_centimetres() -> None:
    assert per_four_inches_to_per_100mm(Decimal("10.16")) == 10


def test_a_ball_band_gives_length_per_100g_and_tex() -> None:
    # Source: table of yarn classes: 125 m in 50 g is 250 m/100 g, 400 tex.
    assert metres_per_100g(Decimal(125), Decimal(50)) == 250
    assert tex_of(Decimal(125), Decimal(50)) == 400


def test_the_roundest_circle() -> None:
    # Source: mspremiseconclusion.wordpress.com, 2018/07/24: nearest whole to 2 pi n.
    assert circle_rounds(8, 2 * math.pi) == (6, 13, 19, 25, 31, 38, 44, 50)


# Source: craftymaria.blogspot.com 2009/06: rules 6, 8, 12.
@pytest.mark.parametrize(("name", "usual"), [("sc", 6), ("hdc", 8), ("dc", 12)])
def test_circle_rules(name: str, usual: int) -> None:
    rule = circle_rule(name)
    assert rule.usual == usual
    assert rule.low <= rule.usual <= rule.high


# Source: published dc disc 12-24-36-48 of 4 in: rows 12.7 mm, edge 6.65 mm a stitch, 12.0 a round;
# jumbo sc base 8 a round to 14 in: 29.6 mm rows, 23.3 mm edge.
@pytest.mark.parametrize(("width", "height", "added"), [(6.65, 12.7, 12.0), (23.3, 29.6, 8.0)])
def test_counted_discs_need_what_they_gain(width: float, height: float, added: float) -> None:
    assert stitches_added_per_round(width, height) == pytest.approx(added, abs=0.05)


def test_usual_circle_rules_agree_with_heights() -> None:
    # Source: gauges of published patterns give 5.8 sc, 8.2 hdc and 11.4 dc a round for w = 7.8 mm,
    # h = 6.8 mm; with the proportions used here the rules lie within a stitch of theory.
    for name, wide, high in (("sc", 7.8, 6.8), ("hdc", 7.8, 10.2), ("dc", 7.8, 14.5)):
        assert circle_rule(name).usual == pytest.approx(stitches_added_per_round(wide, high), abs=1)
    assert relative_height("dc") == 2.0


def test_a_blend_regains_by_mass() -> None:
    # Source: textilecalculation.blogspot.com, 2015/04: 60/40 cotton and viscose, 8.5 and 13 %: 10.3 %.
    parts = [(Decimal("0.6"), Decimal("8.5")), (Decimal("0.4"), Decimal(13))]
    assert blend_regain(parts) == Decimal("10.3")


def test_error_for_a_blend_of_nothing() -> None:
    with pytest.raises(ValueError, match=r"^A blend needs at least one fibre with a share above nought\.$"):
        blend_regain([])


# Source: Regulation (EU) 1007/2011, Annex IX, agreed allowances in per cent.
@pytest.mark.parametrize(
    ("name", "percent"),
    [
        ("wool", "17.0"),
        ("cotton", "8.5"),
        ("linen", "12"),
        ("silk", "11"),
        ("viscose", "13"),
        ("nylon", "6.25"),
    ],
)
def test_agreed_regains(name: str, percent: str) -> None:
    found = fibre(name)
    assert found is not None
    assert found.regain_eu == Decimal(percent)


def test_density_of_a_blend_lies_between_its_fibres() -> None:
    assert blend_density({}) == AVERAGE_DENSITY
    assert blend_density({"cotton": 1.0}) == Decimal("1.52")
    half = blend_density({"cotton": 50, "acrylic": 50})
    # Equal masses: harmonic mean of 1.52 and 1.17.
    assert float(half) == pytest.approx(2 / (1 / 1.52 + 1 / 1.17))


def test_an_unknown_fibre_counts_as_one_that_melts() -> None:
    assert synthetic_share({"cotton": 1.0}) == 0.0
    assert synthetic_share({"cotton": 0.5, "moonlight": 0.5}) == 0.5
