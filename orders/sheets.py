"""The cost sheet of a piece as the page shows it: cost, two floors, a price, and what a price pays an hour.

Decimal money comes in from `craft.costing` and leaves as whole minor units; only what is shown is rounded
(half up, minimums up).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from craft.costing import (
    CostSheet,
    ImpossiblePriceError,
    Labour,
    Materials,
    SellingTerms,
    TaxKind,
    cost_sheet,
)
from craft.costing.money import next_charm_price, next_multiple, round_money_up, to_minor
from craft.costing.prices import (
    implied_pay_per_hour,
    kept_of,
    margin_of,
    price_at_margin_after_fees,
)
from orders.models import Ending, WorkroomRates
from orders.uses import (
    Use,
    filling_for_sheet,
    notions_for_sheet,
    packaging_for_sheet,
    yarns_for_sheet,
)
from workroom.money import minor_digits, plain, to_decimal

__all__ = ["Costing", "Question", "cost_of", "materials_of", "round_price", "selling_terms"]

BASIS_POINTS = Decimal(10_000)


@dataclass(frozen=True, slots=True)
class Question:
    """What the sheet is asked with: minutes and pay for an hour, and a price to look at (None: none yet)."""

    minutes: int
    wage_minor: int
    margin_bp: int
    price_minor: int | None = None


@dataclass(frozen=True, slots=True)
class Costing:
    """The answers, minor units. `suggested`: the price at the margin, rounded to the ending; None where fees,
    tax and margin leave no price that does it. `pay`: what `price` pays an hour. `margin_bp`: of that price.
    `pay_at_floors`: what the two floor prices pay an hour.
    """

    question: Question
    uses: tuple[Use, ...]
    currency: str
    yarn: int
    filling: int
    notions: int
    packaging: int
    materials: int
    labour: int
    overhead: int
    full_cost: int
    book_cost: int
    floor_out_of_pocket: int
    floor_paid: int
    exact: int | None
    suggested: int | None
    price: int | None
    pay: int | None
    kept: int | None
    profit: int | None
    margin_bp: int | None
    pay_at_floors: tuple[int, int]
    pay_at_suggested: int | None

    @property
    def price_plain(self) -> str:
        """The price as it stands in a field."""
        return "" if self.price is None else plain(self.price, self.currency)

    @property
    def unknown(self) -> tuple[Use, ...]:
        """Lines whose cost, or part of it, nobody knows; they count as nothing."""
        return tuple(use for use in self.uses if use.has_unknown)

    @property
    def is_below_pocket(self) -> bool:
        return self.price is not None and self.price < self.floor_out_of_pocket

    @property
    def is_below_paid(self) -> bool:
        return self.price is not None and self.price < self.floor_paid


def selling_terms(rates: WorkroomRates, currency: str, commission_bp: int = 0) -> SellingTerms:
    """What a sale takes from the price, every sale taken as paid by card."""
    return SellingTerms(
        card_rate=rates.card_rate_bp / BASIS_POINTS,
        card_fixed=to_decimal(rates.card_fixed_minor, currency),
        commission=commission_bp / BASIS_POINTS,
        tax=TaxKind(rates.tax),
        tax_rate=rates.tax_bp / BASIS_POINTS,
    )


def materials_of(uses: Sequence[Use], currency: str) -> Materials:
    return Materials(
        yarns=tuple(yarns_for_sheet(uses, currency)),
        filling=tuple(filling_for_sheet(uses, currency)),
        notions=tuple(notions_for_sheet(uses, currency)),
        packaging=tuple(packaging_for_sheet(uses, currency)),
    )


def cost_of(uses: Sequence[Use], rates: WorkroomRates, question: Question, currency: str) -> Costing:
    """Work out the sheet of one piece. Raises ImpossiblePriceError where fees and tax eat every price."""
    terms = selling_terms(rates, currency)
    sheet = cost_sheet(
        materials_of(uses, currency),
        Labour(
            minutes=Decimal(question.minutes),
            pay_per_hour=to_decimal(question.wage_minor, currency),
            overhead_per_hour=to_decimal(rates.overhead_per_hour_minor, currency),
        ),
        terms,
        digits=minor_digits(currency),
    )
    exact = _price_at_margin(sheet, question, terms)
    suggested = None if exact is None else round_price(exact, Ending(rates.ending), currency)
    price = question.price_minor if question.price_minor is not None else suggested
    return _answer(sheet, tuple(uses), question, (exact, suggested, price), (terms, currency))


def _price_at_margin(sheet: CostSheet, question: Question, terms: SellingTerms) -> Decimal | None:
    margin = question.margin_bp / BASIS_POINTS
    try:
        return price_at_margin_after_fees(sheet.full_cost, margin, terms)
    except ImpossiblePriceError:
        return None


def round_price(price: Decimal, ending: Ending, currency: str) -> int:
    """The price on the tag, minor units: never below `price`."""
    digits = minor_digits(currency)
    steps = {Ending.FIVE_CENTS: "0.05", Ending.HALF: "0.5", Ending.WHOLE: "1", Ending.FIVE: "5"}
    if ending is Ending.EXACT or (not digits and ending not in {Ending.WHOLE, Ending.FIVE}):
        rounded = round_money_up(price, digits)
    elif ending in steps:
        rounded = next_multiple(price, Decimal(steps[ending]))
    else:
        rounded = next_charm_price(price, Decimal(ending.value))
    return to_minor(rounded, digits)


def _answer(
    sheet: CostSheet,
    uses: tuple[Use, ...],
    question: Question,
    prices: tuple[Decimal | None, int | None, int | None],
    money: tuple[SellingTerms, str],
) -> Costing:
    terms, currency = money
    digits = minor_digits(currency)
    exact, suggested, price = prices
    return Costing(
        question=question,
        uses=uses,
        currency=currency,
        yarn=to_minor(sheet.yarn, digits),
        filling=to_minor(sheet.filling, digits),
        notions=to_minor(sheet.notions, digits),
        packaging=to_minor(sheet.packaging, digits),
        materials=to_minor(sheet.materials, digits),
        labour=to_minor(sheet.labour, digits),
        overhead=to_minor(sheet.overhead, digits),
        full_cost=to_minor(sheet.full_cost, digits),
        book_cost=to_minor(sheet.book_cost, digits),
        floor_out_of_pocket=to_minor(sheet.floor_out_of_pocket, digits),
        floor_paid=to_minor(sheet.floor_paid, digits),
        exact=None if exact is None else to_minor(exact, digits),
        suggested=suggested,
        price=price,
        pay_at_floors=(
            _pay(sheet, terms, digits, sheet.floor_out_of_pocket),
            _pay(sheet, terms, digits, sheet.floor_paid),
        ),
        pay_at_suggested=(
            None if suggested is None else _pay(sheet, terms, digits, to_decimal(suggested, currency))
        ),
        **_at_price(sheet, price, terms, currency),
    )


def _at_price(
    sheet: CostSheet, price: int | None, terms: SellingTerms, currency: str
) -> dict[str, int | None]:
    """What a price leaves: kept after tax and fees, pay for an hour, profit over full cost, margin."""
    if price is None:
        return {"pay": None, "kept": None, "profit": None, "margin_bp": None}
    digits = minor_digits(currency)
    money = to_decimal(price, currency)
    kept = kept_of(money, terms)
    tax_free = kept_of(money, SellingTerms(tax=terms.tax, tax_rate=terms.tax_rate))
    profit = kept - sheet.full_cost
    margin = margin_of(tax_free, tax_free - profit) if tax_free > 0 else None
    return {
        "kept": to_minor(kept, digits),
        "pay": _pay(sheet, terms, digits, money),
        "profit": to_minor(profit, digits),
        "margin_bp": None if margin is None else round(margin * BASIS_POINTS),
    }


def _pay(sheet: CostSheet, terms: SellingTerms, digits: int, price: Decimal) -> int:
    """What a price pays for an hour of making, minor units."""
    kept = kept_of(price, terms)
    return to_minor(implied_pay_per_hour(kept, sheet.materials, sheet.overhead, sheet.hours), digits)
