"""Lengths in both units, as patterns print them (1 in = 2.54 cm: yard and pound agreement of 1959)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.standards.printed_lengths import centimetres, inches, rounded_cm, rounded_inches


@pytest.mark.parametrize(
    ("length_mm", "cm", "inch"),
    [
        (240, "24", "9½"),  # 24 cm is 9.45 in: trade notes, check E8
        (431, "43", "17"), (101.6, "10", "4"), (525, "52.5", "20¾"), (1000, "100", "39¼"),
        (232.5, "23.5", "9¼"), (49, "4.9", "1⅞"), (12, "1.2", "½"), (3, "0.3", "⅛"), (0, "0", "0"),
        (50, "5", "2"),
    ],
)  # fmt: skip
def test_both_units(length_mm: float, cm: str, inch: str) -> None:
    assert (centimetres(length_mm), inches(length_mm)) == (cm, inch)


@given(length_mm=st.floats(0, 5000))
def test_rounding_moves_no_length_by_more_than_half_a_step(length_mm: float) -> None:
    fine = length_mm < 50
    assert abs(float(rounded_cm(length_mm)) * 10 - length_mm) <= (0.5 if fine else 2.5) + 1e-6
    assert abs(float(rounded_inches(length_mm)) * 25.4 - length_mm) <= 25.4 / (16 if fine else 8) + 1e-6
