"""Contrast as WCAG 2.2 defines it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workroom.colour import (
    TEXT_AA,
    contrast,
    darkened_for_paper,
    is_colour,
    lightened_for_night,
    reads_at_night,
    reads_on_paper,
    text_on,
)

colours = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#ffffff", "#000000", 21.0),  # WCAG 2.2, definition of contrast ratio: from 1 to 21
        ("#777777", "#777777", 1.0),
        ("#767676", "#ffffff", 4.54),  # the well-known lightest grey that passes AA on white
        ("#ff0000", "#ffffff", 4.0),  # luminance of pure red is 0.2126: 1.05 / 0.2626
    ],
)
def test_contrast(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(one, other) == contrast(other, one)


@pytest.mark.parametrize(
    ("text", "good"),
    [("#24577a", True), ("24577a", False), ("#24577A", False), ("#fff", False), ("#24577a\n", False)],
)
def test_is_colour(text: str, good: bool) -> None:
    assert is_colour(text) is good


@given(colours)
def test_every_colour_can_be_made_to_read(colour: str) -> None:
    assert reads_on_paper(darkened_for_paper(colour))
    assert reads_at_night(lightened_for_night(colour))
    for shown in (darkened_for_paper(colour), lightened_for_night(colour)):
        assert contrast(text_on(shown), shown) >= TEXT_AA


def test_a_colour_that_reads_is_left_alone() -> None:
    assert darkened_for_paper("#24577a") == "#24577a"
    assert lightened_for_night("#8fc1e0") == "#8fc1e0"
