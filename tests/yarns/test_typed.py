"""What people type of yarn. Yard, ounce and pound are exact by the agreement of 1959."""

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yarns import typed
from yarns.amounts import Amount, Unit, grams, pieces

D = Decimal


def said(caught: pytest.ExceptionInfo[typed.TypedError]) -> str:
    return str(caught.value).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("190", 190_000),
        ("190 m", 190_000),
        ("208 yd", 190_195),  # 208 x 0.9144 m, international yard of 1959
        ("1 yard", 914),
        ("12,5m", 12_500),
        (".5 m", 500),
    ],
)
def test_length(text: str, mm: int) -> None:
    assert typed.read_length_mm(text) == mm


@pytest.mark.parametrize(
    ("text", "mg"),
    [
        ("100", 100_000),
        ("50 g", 50_000),
        ("1.75 oz", 49_612),  # 1.75 x 28.349523125 g, from the pound of 1959
        ("0,5 kg", 500_000),
        ("1 lb", 453_592),
    ],
)
def test_mass(text: str, mg: int) -> None:
    assert typed.read_mass_mg(text) == mg


@pytest.mark.parametrize(
    ("text", "step"), [("31", "1"), ("31.0", "0.1"), ("1.1 oz", "2.8349523125"), ("31,25", "0.01")]
)
def test_the_scale_gives_its_step_away(text: str, step: str) -> None:
    assert typed.read_weighed(text).step_g == D(step)


@pytest.mark.parametrize(
    ("text", "ball", "amount"),
    [
        ("10", 50_000, grams(500)),
        ("2 balls", 50_000, grams(100)),
        ("1.5", 100_000, grams(150)),
        ("3x", 100_000, grams(300)),
        ("450 g", 50_000, grams(450)),
        ("450", None, grams(450)),
        ("16 oz", None, Amount(453_592, Unit.MILLIGRAM)),
    ],
)
def test_amount_of_yarn(text: str, ball: int | None, amount: Amount) -> None:
    assert typed.read_amount(text, Unit.MILLIGRAM, ball) == amount


def test_amount_of_pieces() -> None:
    assert typed.read_amount("40 pieces", Unit.PIECE, None) == pieces(40)
    assert typed.read_amount("40", Unit.PIECE, None) == pieces(40)


@pytest.mark.parametrize(
    ("text", "unit", "ball", "sentence"),
    [
        ("", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("ten", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("10 miles", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("-3", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("1e5", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("١٠", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("0", Unit.MILLIGRAM, 1, "Write an amount above nought."),
        ("3 tonnes", Unit.MILLIGRAM, 1, "Write how much, like 10 (balls), 450 g or 16 oz."),
        ("9000 kg", Unit.MILLIGRAM, 1, "That is more than two tonnes. Check the figure."),
        (
            "2 balls",
            Unit.MILLIGRAM,
            None,
            "The mass of one ball is not known for this yarn. Write grams, like 450 g.",
        ),
        ("2.5", Unit.PIECE, None, "Write how many pieces, like 40."),
        ("40 g", Unit.PIECE, None, "Write how many pieces, like 40."),
    ],
)
def test_error_amount(text: str, unit: Unit, ball: int | None, sentence: str) -> None:
    with pytest.raises(typed.TypedError) as caught:
        typed.read_amount(text, unit, ball)
    assert said(caught) == sentence


@pytest.mark.parametrize(
    ("text", "mix"),
    [
        ("", []),
        ("  ", []),
        ("cotton", [["cotton", 1000]]),
        ("100% Cotton", [["cotton", 1000]]),
        ("80% wool, 20% nylon", [["wool", 800], ["nylon", 200]]),
        ("20 nylon 80 wool", [["wool", 800], ["nylon", 200]]),
        ("wool 80 / nylon 20", [["wool", 800], ["nylon", 200]]),
        ("wool 80 nylon 20", [["wool", 800], ["nylon", 200]]),
        ("97,5 % cotton; 2,5 % elastane", [["cotton", 975], ["elastane", 25]]),
        ("70 superwash merino 30 silk", [["superwash merino", 700], ["silk", 300]]),
    ],
)
def test_fibres(text: str, mix: list[list[str | int]]) -> None:
    assert typed.read_fibres(text) == mix


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("80 wool", "The fibres add to 80 %, not to 100 %."),
        ("80 wool, 30 nylon", "The fibres add to 110 %, not to 100 %."),
        ("50 wool, 50 wool", "One fibre is named twice. Add its shares up."),
        ("wool, nylon", "Write the fibres like 80 wool, 20 nylon."),
        ("80, 20", "Write the fibres like 80 wool, 20 nylon."),
        ("100 wool, 0 nylon", "Leave out a fibre that has no share."),
    ],
)
def test_error_fibres(text: str, sentence: str) -> None:
    with pytest.raises(typed.TypedError) as caught:
        typed.read_fibres(text)
    assert said(caught) == sentence


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (typed.read_fibres, typed.read_length_mm, typed.read_mass_mg, typed.read_hook_um):
        with suppress(typed.TypedError):
            read(text)


@pytest.mark.parametrize(("text", "um"), [("5", 5000), ("5.5 mm", 5500), ("H-8", 5000), ("3,75", 3750)])
def test_hook(text: str, um: int) -> None:
    """US H-8 is 5 mm: Craft Yarn Council's table, repeated by craft.standards.hooks."""
    assert typed.read_hook_um(text) == um


@pytest.mark.parametrize("text", ["", "0", "60", "5 cm", "big", "ZZ-9"])
def test_error_hook(text: str) -> None:
    with pytest.raises(typed.TypedError) as caught:
        typed.read_hook_um(text)
    assert said(caught) == "Write the hook in millimetres, like 5 or 5.5 mm."


def test_fibres_are_shown_as_a_label_has_them() -> None:
    shown = typed.fibres_shown([["wool", 800], ["nylon", 195], ["silk", 5]])
    assert shown.replace("\u00a0", " ") == "80 % wool, 19.5 % nylon, 0.5 % silk"
    assert typed.unknown_fibres([["wool", 800], ["moon dust", 200]]) == ["moon dust"]
