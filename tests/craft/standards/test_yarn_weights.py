"""The yarn weight table against printed copies of the council's table."""

from decimal import Decimal

import pytest

from craft.standards.yarn_weights import CREDIT_LINE, YARN_WEIGHTS, Bounds, guess_weight, weight_category

# Source: Craft Yarn Council crochet columns as copied at 222handspun.com and crochetonatrain.com (rows 0-5)
# and in a yarn company's guide and "Grosor de los Hilados" (rows 6, 7): name, gauge, stitch, hook mm, US.
COPIED = [
    (0, "Lace", (32, 42), "dc", (2.25, 2.25), "B-1"),
    (1, "Super Fine", (21, 32), "sc", (2.25, 3.5), "B-1 to E-4"),
    (2, "Fine", (16, 20), "sc", (3.5, 4.5), "E-4 to 7"),
    (3, "Light", (12, 17), "sc", (4.5, 5.5), "7 to I-9"),
    (4, "Medium", (11, 14), "sc", (5.5, 6.5), "I-9 to K-10½"),
    (5, "Bulky", (8, 11), "sc", (6.5, 9), "K-10½ to M-13"),
    (6, "Super Bulky", (7, 9), "sc", (9, 15), "M-13 to Q"),
    (7, "Jumbo", (None, 6), "sc", (15, None), "Q and larger"),
]

# Source: the same copies, knitting columns: stockinette stitches to 4 in, needle mm.
KNITTING = [
    (0, (33, 40), (1.5, 2.25)),
    (1, (27, 32), (2.25, 3.25)),
    (2, (23, 26), (3.25, 3.75)),
    (3, (21, 24), (3.75, 4.5)),
    (4, (16, 20), (4.5, 5.5)),
    (5, (12, 15), (5.5, 8)),
    (6, (7, 11), (8, 12.75)),
    (7, (None, 6), (12.75, None)),
]


def bounds(pair: tuple[float | None, float | None]) -> Bounds:
    low, high = (None if value is None else Decimal(str(value)) for value in pair)
    return Bounds(low, high)


@pytest.mark.parametrize(("number", "name", "gauge", "counted", "hook", "us"), COPIED)
def test_crochet_columns_agree_with_the_copies(
    number: int,
    name: str,
    gauge: tuple[float | None, float | None],
    counted: str,
    hook: tuple[float | None, float | None],
    us: str,
) -> None:
    weight = weight_category(number)
    assert (weight.name, weight.gauge_stitch, weight.hook_us) == (name, counted, us)
    assert weight.gauge == bounds(gauge)
    assert weight.hook_mm == bounds(hook)


@pytest.mark.parametrize(("number", "gauge", "needle"), KNITTING)
def test_knitting_columns_agree_with_the_copies(
    number: int, gauge: tuple[float | None, float | None], needle: tuple[float | None, float | None]
) -> None:
    assert weight_category(number).knit_gauge == bounds(gauge)
    assert weight_category(number).needle_mm == bounds(needle)


def test_the_credit_line_is_the_one_the_council_asks_for() -> None:
    # Source: Craft Yarn Council, Standards & Guidelines for Crochet and Knitting, 2018-02-05, first page.
    assert CREDIT_LINE == "Source: Craft Yarn Council's www.YarnStandards.com"


@pytest.mark.parametrize("number", [-1, 8])
def test_error_for_a_weight_that_is_not_there(number: int) -> None:
    message = f"^Yarn weights run from 0 \\(lace\\) to 7 \\(jumbo\\); {number} is none of them\\.$"
    with pytest.raises(ValueError, match=message):
        weight_category(number)


# Source: median lengths per class of 1,376 published gauges: fingering 487, sport 299, DK 250, worsted 168,
# bulky 116, super bulky 70, jumbo 19 m/100 g; lace 700 from the trade's charts.
@pytest.mark.parametrize(
    ("length", "number"),
    [(700, 0), (487, 1), (299, 2), (250, 3), (168, 4), (116, 5), (70, 6), (19, 7)],
)
def test_a_typical_yarn_falls_into_its_class(length: int, number: int) -> None:
    assert guess_weight(Decimal(length)).number == number


def test_a_guess_always_lies_inside_its_own_range() -> None:
    for length in range(1, 1200):
        assert guess_weight(Decimal(length)).metres_per_100g.holds(Decimal(length)), length


def test_error_for_a_yarn_without_length() -> None:
    with pytest.raises(ValueError, match=r"^The length of 100 g has to be above nought\.$"):
        guess_weight(Decimal(0))


def test_numbers_stand_in_order() -> None:
    assert [weight.number for weight in YARN_WEIGHTS] == list(range(8))
