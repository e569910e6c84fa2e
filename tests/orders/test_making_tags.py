"""How times, shares and amounts are shown."""

import pytest

from orders.templatetags.making import duration, per_cent, scale, to_tenth
from yarns.amounts import Amount, Unit, milligrams, pieces


@pytest.mark.parametrize(
    ("amount", "shown"),
    [
        (milligrams(57_375), "57.4\u00a0g"),
        (milligrams(57_349), "57.3\u00a0g"),
        (milligrams(600_000), "600\u00a0g"),
        (pieces(12), "12 pieces"),
        (Amount(1, Unit.PIECE), "1 piece"),
        (None, "–"),
    ],
)
def test_amounts_are_no_finer_than_a_scale(amount: Amount | None, shown: str) -> None:
    assert scale(amount) == shown


@pytest.mark.parametrize(
    ("share_bp", "shown"), [(4000, "40\u00a0%"), (175, "1.8\u00a0%"), (0, "0\u00a0%"), (None, "–")]
)
def test_shares_are_shown_to_one_decimal(share_bp: int | None, shown: str) -> None:
    assert per_cent(share_bp) == shown


@pytest.mark.parametrize(("number", "shown"), [(0.46, "0.5"), (6.0, "6"), (0.0, "0"), (None, "–")])
def test_balls_are_shown_to_a_tenth(number: float | None, shown: str) -> None:
    assert to_tenth(number) == shown


def test_no_time_is_a_dash() -> None:
    assert duration(None) == "–"
