"""Numbers with units. Conversions by the international yard and pound agreement of 1959."""

from __future__ import annotations

import pytest

from craft.techedit.quantities import CM_PER_INCH, G_PER_OUNCE, M_PER_YARD, amounts, number, pairs


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("10", 10),
        ("4.5", 4.5),
        ("4 1/2", 4.5),
        ("4½", 4.5),
        ("4 ½", 4.5),
        ("1/2", 0.5),
        ("¾", 0.75),
        ("9-1/4", 9.25),
    ],
)
def test_numbers(words: str, value: float) -> None:
    assert number(words) == value


@pytest.mark.parametrize(
    ("text", "values", "unit"),
    [
        ("10 cm", (10,), "cm"),
        ("10cm", (10,), "cm"),
        ("5-mm hook", (5,), "mm"),
        ('4"', (4,), "in"),
        ("4 1/2 inches", (4.5,), "in"),
        ('1/2" deep', (0.5,), "in"),
        ("24 (26, 28) cm", (24, 26, 28), "cm"),
        ("9½ (10¼, 11)”", (9.5, 10.25, 11), "in"),
        ("40 (45-50-55) cm", (40, 45, 50, 55), "cm"),
        ("200 yds", (200,), "yd"),
        ("3.5 oz", (3.5,), "oz"),
        ("50 g", (50,), "g"),
    ],
)
def test_amounts(text: str, values: tuple[float, ...], unit: str) -> None:
    (found,) = amounts(text)
    assert (found.values, found.unit) == (values, unit)


@pytest.mark.parametrize(
    "text", ["ch-3 sp", "sc in next 4 sts", "Row 12", "R5: sc", "6 in ring"[2:], "1,000"]
)
def test_no_amounts(text: str) -> None:
    assert list(amounts(text)) == []


def test_pairs_stand_side_by_side() -> None:
    text = 'Width 24 cm (9 1/2 in), length 40 cm / 15¾", 100 g [3.5 oz], 5 mm hook; 10 cm and 4 in'
    found = tuple(amounts(text))
    assert [(a.unit, b.unit) for a, b in pairs(found, text)] == [("cm", "in"), ("cm", "in"), ("g", "oz")]


def test_conversions_are_the_agreed_ones() -> None:
    assert (CM_PER_INCH, M_PER_YARD, G_PER_OUNCE) == (2.54, 0.9144, 28.349523125)
