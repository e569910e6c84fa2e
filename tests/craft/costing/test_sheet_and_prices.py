"""Cost sheets and prices: what they promise whatever the figures, and what they refuse."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.costing import (
    BulkUse,
    ImpossiblePriceError,
    InvalidCostError,
    Labour,
    Materials,
    SellingTerms,
    TaxKind,
    UnitUse,
    YarnUse,
    area,
    cash_total,
    cost_sheet,
    from_minor,
    implied_pay_per_hour,
    kept_of,
    margin_of,
    margin_of_markup,
    markup_of_margin,
    next_charm_price,
    next_multiple,
    overhead_per_hour,
    price_at_margin,
    price_at_margin_after_fees,
    price_at_markup,
    price_keeping,
    round_money,
    round_money_up,
    sell,
    tax_inside,
    to_minor,
    with_tax,
)

D = Decimal
CENT = D("0.01")
amounts = st.decimals(0, 5000, places=2)
positive = st.decimals("0.01", 5000, places=2)
shares = st.decimals(0, "0.3", places=4)
terms = st.builds(
    SellingTerms,
    card_rate=st.decimals(0, "0.05", places=4),
    card_fixed=st.decimals(0, 1, places=2),
    card_share=st.decimals(0, 1, places=2),
    commission=shares,
    postage=st.decimals(0, 10, places=2),
    tax=st.sampled_from(TaxKind),
    tax_rate=shares,
)

YARN = YarnUse("sand cotton", D(46), D(50), D("3.20"), D("0.04"))
MATERIALS = Materials(
    yarns=(YARN,),
    filling=(BulkUse("wool filling", D(25), D(9)),),
    notions=(UnitUse("eyes", D(2), D("0.15")),),
    packaging=(UnitUse("box", D(1), D("0.60")),),
)
LABOUR = Labour(D(144), D("12.50"), D(3))


@given(amounts, amounts, terms)
def test_price_rises_with_what_is_to_be_kept(one: Decimal, other: Decimal, how: SellingTerms) -> None:
    low, high = sorted((one, other))
    assert price_keeping(low, how) <= price_keeping(high, how)


@given(amounts, terms)
def test_price_keeping_keeps_it(net: Decimal, how: SellingTerms) -> None:
    assert abs(kept_of(price_keeping(net, how), how) - net) < D("1e-18")


@given(amounts, st.decimals(0, "0.3", places=3), terms)
def test_margin_after_fees_is_what_was_asked(cost: Decimal, margin: Decimal, how: SellingTerms) -> None:
    price = price_at_margin_after_fees(cost, margin, how)
    tax_free = price / (1 + how.tax_rate) if how.tax is TaxKind.INSIDE else price
    assert abs(kept_of(price, how) - cost - margin * tax_free) < D("1e-18")


@given(positive, terms)
def test_a_booked_sale_adds_up(price: Decimal, how: SellingTerms) -> None:
    sale = sell(price, how)
    parts = sale.tax + sale.card_fee + sale.commission + sale.kept + how.postage
    assert parts == sale.customer_pays
    every_card = replace(how, card_share=D(1))
    assert abs(sale.kept - kept_of(price, every_card)) <= 3 * CENT


@given(positive, st.decimals(0, "0.99", places=2))
def test_margin_and_markup_say_the_same(cost: Decimal, margin: Decimal) -> None:
    markup = markup_of_margin(margin)
    price = price_at_margin(cost, margin)
    assert abs(price - price_at_markup(cost, markup)) < D("1e-20")
    assert abs(margin_of_markup(markup) - margin) < D("1e-20")
    assert abs(margin_of(price, cost) - margin) < D("1e-20")


@given(st.decimals(0, 10_000, places=2), st.integers(1, 50))
def test_more_yarn_or_time_never_costs_less(more: Decimal, pieces: int) -> None:
    base = cost_sheet(MATERIALS, LABOUR, pieces=pieces)
    dearer_yarn = replace(MATERIALS, yarns=(replace(YARN, used_g=YARN.used_g + more),))
    slower = replace(LABOUR, minutes=LABOUR.minutes + more)
    for sheet in (cost_sheet(dearer_yarn, LABOUR), cost_sheet(MATERIALS, slower)):
        assert sheet.full_cost >= base.full_cost
        assert sheet.floor_paid >= base.floor_paid
        assert sheet.floor_paid >= sheet.floor_out_of_pocket


@given(terms)
def test_floors_give_back_what_they_promise(how: SellingTerms) -> None:
    worst = replace(how, card_share=D(1))
    sheet = cost_sheet(MATERIALS, LABOUR, how)
    assert kept_of(sheet.floor_out_of_pocket, worst) >= sheet.out_of_pocket - D("1e-20")
    assert kept_of(sheet.floor_paid, worst) >= sheet.full_cost - D("1e-20")
    assert kept_of(sheet.floor_paid - CENT, worst) < sheet.full_cost


@given(st.integers(1, 200))
def test_setting_up_is_paid_once_by_the_batch(pieces: int) -> None:
    labour = replace(LABOUR, setup_minutes=D(90))
    sheet = cost_sheet(MATERIALS, labour, pieces=pieces)
    assert abs(sheet.batch_hours - (D(144) * pieces + 90) / 60) < D("1e-20")


def test_book_cost_leaves_out_own_hours_packaging_and_selling() -> None:
    # Source: IAS 2 paragraphs 10 and 16 (no selling, storage or office cost); US Schedule C (no own labour).
    sheet = cost_sheet(MATERIALS, replace(LABOUR, making_share=D("0.5")), SellingTerms(card_fixed=D(1)))
    assert sheet.book_cost == sheet.yarn + sheet.filling + sheet.notions + sheet.overhead / 2
    assert sheet.full_cost == sheet.materials + sheet.labour + sheet.overhead
    assert sheet.materials == sheet.yarn + sheet.filling + sheet.notions + sheet.packaging


def test_what_is_shown_is_rounded_and_the_total_is_of_unrounded_parts() -> None:
    third = Materials(notions=(UnitUse("a", D(1), D("0.005")),), packaging=(UnitUse("b", D(1), D("0.005")),))
    sheet = cost_sheet(third, Labour(D(0), D(0)))
    shown = sheet.shown()
    assert (shown.notions, shown.packaging, shown.materials) == (D("0.01"), D("0.01"), D("0.01"))
    assert sheet.shown(0).materials == 0


def test_a_yen_floor_has_no_decimals() -> None:
    sheet = cost_sheet(Materials(notions=(UnitUse("a", D(1), D("100.2")),)), Labour(D(0), D(0)), digits=0)
    assert sheet.floor_out_of_pocket == D(101)


# Source: Canada's rule (Budget 2012): 1, 2 down; 3, 4 up; 6, 7 down; 8, 9 up.
@pytest.mark.parametrize(
    ("ending", "cash"),
    zip(
        "0123456789",
        ["0.00", "0.00", "0.00", "0.05", "0.05", "0.05", "0.05", "0.05", "0.10", "0.10"],
        strict=True,
    ),
)
def test_cash_endings(ending: str, cash: str) -> None:
    assert cash_total(D(f"7.0{ending}"), D("0.05")) == 7 + D(cash)


def test_a_tiny_cash_total_may_be_lifted_to_one_coin() -> None:
    # Source: US Treasury questions and answers, December 2025, as quoted by the Kentucky League of Cities.
    assert cash_total(D("0.02"), D("0.05")) == 0
    assert cash_total(D("0.02"), D("0.05"), lift_small=True) == D("0.05")
    assert cash_total(D(0), D("0.05"), lift_small=True) == 0


@given(amounts, st.sampled_from([D("0.95"), D("0.99"), D(0), D("0.50")]))
def test_a_charm_price_is_the_next_one(price: Decimal, ending: Decimal) -> None:
    charm = next_charm_price(price, ending)
    assert price <= charm < price + 1
    assert (charm - ending) % 1 == 0


@given(amounts, st.sampled_from([D("0.05"), D("0.5"), D(1), D(5)]))
def test_a_step_is_never_below_the_price(price: Decimal, step: Decimal) -> None:
    multiple = next_multiple(price, step)
    assert price <= multiple < price + step
    assert multiple % step == 0


@pytest.mark.parametrize(
    ("amount", "nearest", "up"), [("2.345", "2.35", "2.35"), ("-2.345", "-2.35", "-2.34")]
)
def test_ties_go_away_from_nought_and_minimums_up(amount: str, nearest: str, up: str) -> None:
    assert round_money(D(amount)) == D(nearest)
    assert round_money_up(D(amount)) == D(up)


@given(st.integers(-(10**12), 10**12), st.sampled_from([0, 2, 3]))
def test_minor_units_come_back(amount_minor: int, digits: int) -> None:
    assert to_minor(from_minor(amount_minor, digits), digits) == amount_minor


@given(positive, st.decimals("0.01", "0.3", places=4))
def test_tax_inside_a_taxed_price_is_the_tax_added(net: Decimal, rate: Decimal) -> None:
    assert abs(tax_inside(with_tax(net, rate), rate) - net * rate) < D("1e-20")


@pytest.mark.parametrize(("rate", "part"), [("0.20", 6), ("0.05", 21)])
def test_the_tax_fraction(rate: str, part: int) -> None:
    # Source: HMRC, Calculating VAT: one sixth at 20 %, one twenty-first at 5 %.
    assert tax_inside(D(part * 10), D(rate)) == 10


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: cost_sheet(MATERIALS, LABOUR, pieces=0), "Cost at least one piece."),
        (
            lambda: cost_sheet(Materials(yarns=(replace(YARN, ball_g=D(0)),)), LABOUR),
            "A ball of “sand cotton” has to weigh more than nothing.",
        ),
        (
            lambda: cost_sheet(Materials(notions=(UnitUse("eyes", D(-1), D(1)),)), LABOUR),
            "“eyes” cannot cost less than nothing.",
        ),
        (
            lambda: cost_sheet(MATERIALS, replace(LABOUR, minutes=D(-1))),
            "Time, pay and overhead cannot be below nought.",
        ),
        (
            lambda: cost_sheet(MATERIALS, replace(LABOUR, making_share=D(2))),
            "The making share of the overhead lies between 0 and 1.",
        ),
        (lambda: overhead_per_hour(D(1440), D(0)), "The year needs some productive hours."),
        (lambda: price_at_margin(D(5), D(1)), "A margin is a share of the price and has to be below 100 %."),
        (lambda: price_at_markup(D(5), D(-1)), "A markup has to be above -100 %."),
        (lambda: margin_of(D(0), D(1)), "A margin needs a price above nought."),
        (
            lambda: implied_pay_per_hour(D(5), D(1), D(1), D(0)),
            "Pay per hour needs the hours that the piece takes.",
        ),
        (lambda: next_multiple(D(5), D(0)), "The step between prices has to be above nought."),
        (lambda: cash_total(D(5), D(0)), "The smallest coin has to be above nought."),
    ],
)
def test_error_sentences(call: object, sentence: str) -> None:
    assert callable(call)
    with pytest.raises(InvalidCostError) as caught:
        call()
    assert str(caught.value) == sentence


def test_error_when_nothing_is_left_of_any_price() -> None:
    greedy = SellingTerms(card_rate=D("0.5"), commission=D("0.5"))
    with pytest.raises(ImpossiblePriceError) as caught:
        price_keeping(D(10), greedy)
    assert str(caught.value) == (
        "Fees, tax and margin together take the whole price: no price gives what is asked."
    )


def test_a_rectangle_hides_its_hours() -> None:
    assert area(D(90), D(106)) == 9540
