"""The gauge of a fabric: as stated, or likely from hook and yarn with its spread."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.yardage import Gauge, InvalidYardageError
from craft.yardage.fabric_gauge import (
    fabric_gauge,
    likely_gauge,
    likely_gauge_of_hook,
    likely_gauge_of_weight,
)


def test_a_stated_gauge_is_taken_as_it_stands() -> None:
    found = fabric_gauge(Gauge("hdc", 16, 12, in_rounds=True))
    assert (found.stitch_mm, found.row_mm) == (pytest.approx(6.25), pytest.approx(100 / 12))
    assert (found.stitch, found.in_round, found.estimated) == ("hdc", True, False)


def test_rows_that_are_not_given_are_an_estimate() -> None:
    found = fabric_gauge(Gauge("sc", 16))
    assert found.row_mm == pytest.approx(0.92 * 6.25)
    assert (found.width_spread, found.height_spread) == (0, 0.09)


def test_a_likely_gauge_holds_the_published_range_of_its_hook() -> None:
    # medium yarn, 5.5 to 6.5 mm hook: 11 to 14 sc to 4 in (Craft Yarn Council, Standard Yarn Weight System)
    found = likely_gauge("sc", 6.0, 100_000 / 190)
    low, high = (101.6 / (found.stitch_mm * (1 + sign * found.width_spread)) for sign in (1, -1))
    assert low < 12.5 < high
    assert found.estimated
    assert found.in_round is None


def test_a_hook_alone_gives_a_wider_range() -> None:
    alone, known = likely_gauge_of_hook(6.0), likely_gauge("sc", 6.0, 100_000 / 190)
    assert alone is not None
    assert alone.width_spread >= 0.1
    assert alone.stitch_mm == pytest.approx(known.stitch_mm, rel=0.35)
    assert likely_gauge_of_hook(1.0) is None


def test_a_weight_gives_the_council_s_range() -> None:
    # category 4, Medium: 11 to 14 sc to 4 in (Craft Yarn Council)
    found = likely_gauge_of_weight(4)
    assert found.stitch_mm * (1 + found.width_spread) == pytest.approx(101.6 / 11)
    assert found.stitch_mm * (1 - found.width_spread) == pytest.approx(101.6 / 14)


@pytest.mark.parametrize("gauge", [Gauge("ch", 16, 12), Gauge("sc", 0, 12), Gauge("sc", 16, -1)])
def test_what_is_no_gauge_is_refused(gauge: Gauge) -> None:
    with pytest.raises(InvalidYardageError):
        fabric_gauge(gauge)


@settings(max_examples=30)
@given(hook=st.floats(2, 12), more=st.floats(1.05, 2), tex=st.floats(100, 2000))
def test_a_thicker_hook_or_yarn_makes_larger_stitches(hook: float, more: float, tex: float) -> None:
    usual = likely_gauge("sc", hook, tex)
    assert likely_gauge("sc", hook * more, tex).stitch_mm > usual.stitch_mm
    assert likely_gauge("sc", hook, tex * more).row_mm > usual.row_mm
