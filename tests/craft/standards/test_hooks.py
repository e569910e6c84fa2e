"""Hook sizes against shop charts."""

from decimal import Decimal

import pytest

from craft.standards.hooks import (
    HOOKS,
    STEEL_HOOKS,
    hook_by_mm,
    hook_label,
    hooks_by_us,
    nearest_hook,
    steel_hook,
)

# Source: sizes on which the UK shop PDF of conversions, a Canadian store's chart and matifs.com agree.
CHARTS = {
    "2.25": ("B-1", "13"),
    "3.25": ("D-3", "10"),
    "4.0": ("G-6", "8"),
    "4.5": ("7", "7"),
    "5.0": ("H-8", "6"),
    "5.5": ("I-9", "5"),
    "6.0": ("J-10", "4"),
    "6.5": ("K-10½", "3"),
    "8.0": ("L-11", "0"),
    "9.0": ("M/N-13", "00"),
    "10.0": ("N/P-15", "000"),
}


@pytest.mark.parametrize(("mm", "names"), CHARTS.items())
def test_sizes_agree_with_the_charts(mm: str, names: tuple[str, str]) -> None:
    hook = hook_by_mm(Decimal(mm))
    assert hook is not None
    assert (hook.us, hook.uk[0]) == names


def test_us_eight_and_old_uk_eight_are_different_hooks() -> None:
    # Source: the same charts: the trap that US numbers rise and old UK numbers fall.
    assert [hook.mm for hook in hooks_by_us("8")] == [Decimal("5.0")]
    assert [hook.mm for hook in HOOKS if "8" in hook.uk] == [Decimal("4.0")]


def test_old_uk_numbers_fall_as_hooks_grow() -> None:
    numbers = [hook.uk[0] for hook in HOOKS if hook.uk and hook.confirmed]
    sizes = [int(number) if number.strip("0") else 1 - len(number) for number in numbers]
    assert sizes == sorted(sizes, reverse=True)


# Source: homequestionsanswered.com (00 = 3.5 mm, 14 = 0.75 mm); winenfood.com and a publisher's
# lesson (7 = 1.65).
@pytest.mark.parametrize(("us", "mm"), [("00", "3.50"), ("7", "1.65"), ("#14", "0.75")])
def test_steel_hooks_at_the_confirmed_points(us: str, mm: str) -> None:
    assert steel_hook(us).mm == Decimal(mm)
    assert steel_hook(us).confirmed


def test_steel_hooks_get_finer_with_their_number() -> None:
    sizes = [hook.mm for hook in STEEL_HOOKS]
    assert sizes == sorted(sizes, reverse=True)
    assert len(set(sizes)) == 16


@pytest.mark.parametrize(
    ("said", "sizes"),
    [
        ("H-8", ["5.0"]),
        ("h/8", ["5.0"]),
        ("US K-10 1/2", ["6.5"]),
        ("N", ["9.0", "10.0"]),
        ("G", ["4.0", "4.25"]),
        ("Z", []),
    ],
)
def test_a_us_size_may_be_more_than_one_hook(said: str, sizes: list[str]) -> None:
    assert [hook.mm for hook in hooks_by_us(said)] == [Decimal(size) for size in sizes]


@pytest.mark.parametrize(
    ("mm", "label"),
    [("5.0", "5 mm (US H-8)"), ("10.0", "10 mm (US N/P-15)"), ("2.5", "2.5 mm"), ("5.3", "5.3 mm")],
)
def test_labels_lead_with_the_millimetre(mm: str, label: str) -> None:
    assert hook_label(Decimal(mm)) == label


def test_the_nearest_hook_is_the_smaller_of_two_equally_near() -> None:
    assert nearest_hook(Decimal("4.75")).mm == Decimal("4.5")
    assert nearest_hook(Decimal(50)).mm == Decimal("30.0")


def test_error_for_a_steel_hook_that_is_not_there() -> None:
    with pytest.raises(ValueError, match=r"^US steel hooks run from 00 to 14; “15” is none of them\.$"):
        steel_hook("15")


def test_every_row_says_where_it_comes_from() -> None:
    assert all(hook.source for hook in (*HOOKS, *STEEL_HOOKS))
