"""The cost sheet: worked examples through our own rows, and how the shelf prices yarn.

Ids and answers are those of tests/craft/costing/examples.json, which names the source of each.
"""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from orders.models import Ending, Piece, PieceExtra, WorkroomRates
from orders.selectors import load_shelf, question_of, uses_for
from orders.sheets import Costing, Question, cost_of, round_price
from orders.uses import Basis
from yarns.amounts import grams, pieces
from yarns.models import Colour, Lot, Ownership, Supply

MakePiece = Callable[..., Piece]
PutOnShelf = Callable[..., Lot]


def sheet_of(piece: Piece, rates: WorkroomRates, price_minor: int | None = None) -> Costing:
    question = question_of(piece, rates)
    if price_minor is not None:
        question = Question(question.minutes, question.wage_minor, question.margin_bp, price_minor)
    uses = uses_for(piece, load_shelf([piece]), rates)
    return cost_of(uses, rates, question, "EUR")


@pytest.fixture
def soft_toy(make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour) -> Piece:
    """O1 (constructed for the reference): 46 g + 4 % at 3.20 for 100 g, 25 g filling at 9.00 a kg, 2.4 h."""
    put_on_shelf(navy, grams(700), price_paid_minor=2240)
    extras = [
        PieceExtra(kind="filling", label="stuffing", unit="mg", quantity=25_000, price_minor=900),
        PieceExtra(kind="notion", label="eyes", unit="pc", quantity=1, price_minor=30),
        PieceExtra(kind="notion", label="label", unit="pc", quantity=1, price_minor=12),
    ]
    return make_piece((navy, 46), minutes=144, extras=extras)


def test_the_soft_toy_of_the_reference_comes_to_its_full_cost(soft_toy: Piece, rates: WorkroomRates) -> None:
    """O1: yarn 1.53, stuffing 0.23, notions 0.42, materials 2.18, labour 30.00, overhead 7.20, 39.38."""
    rates.yarn_waste_bp = 400
    sheet = sheet_of(soft_toy, rates)
    assert (sheet.yarn, sheet.filling, sheet.notions, sheet.materials) == (153, 23, 42, 218)
    assert (sheet.labour, sheet.overhead, sheet.full_cost) == (3000, 720, 3938)


@pytest.mark.parametrize(
    ("card_rate_bp", "ending", "price"),
    [
        (0, Ending.EXACT, 6563),  # O1b: at a 40 % margin 65.63 (65.6265, a minimum goes up)
        (175, Ending.EXACT, 6760),  # O1b: after a 1.75 % card fee 67.60
        (175, Ending.CHARM_95, 6795),  # O1c: next price ending in .95
        (175, Ending.HALF, 6800),  # O1c: next multiple of 0.50
    ],
)
def test_its_price_at_a_margin_of_forty_per_cent(
    soft_toy: Piece, rates: WorkroomRates, card_rate_bp: int, ending: Ending, price: int
) -> None:
    rates.yarn_waste_bp, rates.card_rate_bp, rates.ending = 400, card_rate_bp, ending
    assert sheet_of(soft_toy, rates).suggested == price


def test_what_a_market_price_pays_for_an_hour(soft_toy: Piece, rates: WorkroomRates) -> None:
    """O1d: at 38.00 the toy pays 11.93 an hour before fees."""
    rates.yarn_waste_bp = 400
    assert sheet_of(soft_toy, rates, 3800).pay == 1193


def test_the_card_fee_is_grossed_up(make_piece: MakePiece, rates: WorkroomRates) -> None:
    """FEE1 (published: two payment firms' help pages): to keep 100 at 2.9 % + 0.30 charge 103.30."""
    extra = PieceExtra(kind="notion", label="all of it", unit="pc", quantity=1, price_minor=10_000)
    piece = make_piece(extras=[extra])
    rates.card_rate_bp, rates.card_fixed_minor = 290, 30
    assert sheet_of(piece, rates).floor_out_of_pocket == 10_330


def test_tax_inside_the_price_is_no_income(make_piece: MakePiece, rates: WorkroomRates) -> None:
    """TAX4b (published, HMRC): 60 with 20 % inside holds 10.00, so 50.00 is kept."""
    extra = PieceExtra(kind="notion", label="wool", unit="pc", quantity=1, price_minor=1000)
    rates.tax, rates.tax_bp = "inside", 2000
    sheet = sheet_of(make_piece(extras=[extra]), rates, 6000)
    assert sheet.kept == 5000
    assert sheet.floor_out_of_pocket == 1200


def test_a_price_below_each_floor_is_known(soft_toy: Piece, rates: WorkroomRates) -> None:
    low, middle, high = (sheet_of(soft_toy, rates, price) for price in (200, 2000, 9000))
    assert (low.is_below_pocket, middle.is_below_pocket, high.is_below_pocket) == (True, False, False)
    assert (low.is_below_paid, middle.is_below_paid, high.is_below_paid) == (True, True, False)


@pytest.mark.parametrize(
    ("ending", "price", "rounded"),
    [
        (Ending.EXACT, "12.341", 1235),
        (Ending.FIVE_CENTS, "12.31", 1235),
        (Ending.FIVE_CENTS, "12.35", 1235),  # an exact hit stays where it is
        (Ending.WHOLE, "12.01", 1300),
        (Ending.FIVE, "12.01", 1500),
        (Ending.CHARM_99, "12.995", 1399),
        (Ending.CHARM_95, "12.95", 1295),
    ],
)
def test_rounding_never_goes_below_the_price_worked_out(ending: Ending, price: str, rounded: int) -> None:
    assert round_price(Decimal(price), ending, "EUR") == rounded


@pytest.mark.parametrize(("ending", "rounded"), [(Ending.CHARM_95, 13), (Ending.HALF, 13), (Ending.FIVE, 15)])
def test_a_currency_without_small_coin_has_whole_prices(ending: Ending, rounded: int) -> None:
    assert round_price(Decimal("12.4"), ending, "JPY") == rounded


# ------------------------------------------------------------------------------ the shelf


def shares(piece: Piece, rates: WorkroomRates) -> list[tuple[Basis, int, Fraction]]:
    """(basis, amount, cost in minor units) of the first line."""
    use = uses_for(piece, load_shelf([piece]), rates)[0]
    return [(share.basis, share.amount.count, share.cost_minor) for share in use.shares]


def test_yarn_costs_what_its_own_lots_cost_first_come_first(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour, rates: WorkroomRates
) -> None:
    put_on_shelf(navy, grams(100), price_paid_minor=400, received_on=date(2026, 2, 1))
    put_on_shelf(navy, grams(30), price_paid_minor=90, received_on=date(2026, 1, 1))
    assert shares(make_piece((navy, 50)), rates) == [
        (Basis.SHELF, 30_000, Fraction(90)),
        (Basis.SHELF, 20_000, Fraction(80)),
    ]


def test_postage_is_part_of_what_a_lot_cost(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour, rates: WorkroomRates
) -> None:
    put_on_shelf(navy, grams(100), price_paid_minor=400, postage_share_minor=100)
    assert shares(make_piece((navy, 50)), rates) == [(Basis.SHELF, 50_000, Fraction(250))]


def test_what_is_not_on_the_shelf_counts_at_what_was_last_paid(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour, rates: WorkroomRates
) -> None:
    put_on_shelf(navy, grams(20), price_paid_minor=60, received_on=date(2026, 1, 1))
    put_on_shelf(navy, grams(10), price_paid_minor=50, received_on=date(2026, 2, 1))
    assert shares(make_piece((navy, 50)), rates)[-1] == (Basis.LAST_PAID, 20_000, Fraction(100))


def test_a_lot_without_a_price_counts_at_what_was_last_paid(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour, rates: WorkroomRates
) -> None:
    put_on_shelf(navy, grams(100), received_on=date(2026, 1, 1))
    put_on_shelf(navy, grams(10), price_paid_minor=50, received_on=date(2026, 2, 1))
    assert shares(make_piece((navy, 50)), rates) == [(Basis.LAST_PAID, 50_000, Fraction(250))]


def test_a_colour_never_bought_counts_as_its_yarn_in_another(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, navy: Colour, foam: Colour, rates: WorkroomRates
) -> None:
    put_on_shelf(foam, grams(100), price_paid_minor=320)
    assert shares(make_piece((navy, 50)), rates) == [(Basis.SAME_YARN, 50_000, Fraction(160))]


def test_what_nobody_knows_the_price_of_counts_as_nothing_and_is_named(
    make_piece: MakePiece, navy: Colour, rates: WorkroomRates
) -> None:
    sheet = sheet_of(make_piece((navy, 50), (None, 5)), rates)
    assert sheet.yarn == 0
    assert [use.label for use in sheet.unknown] == ["part 1", "part 2"]


@pytest.mark.parametrize(
    "facts", [{"ownership": Ownership.CUSTOMER}, {"set_aside": "moth", "price_paid_minor": 100}]
)
def test_yarn_that_nobody_may_plan_with_is_not_drawn_on(
    make_piece: MakePiece,
    put_on_shelf: PutOnShelf,
    navy: Colour,
    rates: WorkroomRates,
    facts: dict[str, object],
) -> None:
    put_on_shelf(navy, grams(100), **facts)
    bases = {basis for basis, _amount, _cost in shares(make_piece((navy, 50)), rates)}
    assert Basis.SHELF not in bases


def test_a_supply_costs_what_its_lot_cost(
    make_piece: MakePiece, put_on_shelf: PutOnShelf, eyes: Supply, rates: WorkroomRates
) -> None:
    put_on_shelf(eyes, pieces(100), price_paid_minor=1400)
    extra = PieceExtra(kind="notion", label="eyes", supply=eyes, unit="pc", quantity=2)
    assert sheet_of(make_piece(extras=[extra]), rates).notions == 28
