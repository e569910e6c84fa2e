"""From cost to price and back: margin, markup, doubling, fees and tax.

    margin m = (p - c)/p     markup k = (p - c)/c     k = m/(1 - m)     m = k/(1 + k)

A card fee is a share f of what the customer pays, tax included, plus a fixed part F; commission q
is a share of the price without tax. With tax rate t, what is kept of a price is

    no tax       P (1 - f - q) - F
    tax inside   P ((1 - q)/(1 + t) - f) - F
    tax added    p (1 - q - f (1 + t)) - F

and a price is worked out by turning that round. Where the bracket is not above nought no price does it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from craft.costing.money import round_money
from craft.costing.values import (
    ImpossiblePriceError,
    InvalidCostError,
    SellingTerms,
    TaxKind,
)

__all__ = [
    "Sale",
    "area",
    "card_fee",
    "edge_length",
    "implied_pay_per_hour",
    "kept_of",
    "margin_of",
    "margin_of_markup",
    "markup_of_margin",
    "price_at_margin",
    "price_at_margin_after_fees",
    "price_at_markup",
    "price_by_area",
    "price_by_length",
    "price_keeping",
    "sell",
    "tax_by_line",
    "tax_inside",
    "tax_on_total",
    "ticket_total",
    "wholesale_and_retail",
    "with_tax",
]

ONE = Decimal(1)
ZERO = Decimal(0)


def markup_of_margin(margin: Decimal) -> Decimal:
    """Return the markup (share of cost) that a margin (share of price) amounts to."""
    return margin / (1 - _below_one(margin))


def margin_of_markup(markup: Decimal) -> Decimal:
    """Return the margin that a markup amounts to."""
    return markup / (1 + _above_minus_one(markup))


def margin_of(price: Decimal, cost: Decimal) -> Decimal:
    """Return the margin of a price over a cost, as a share of the price."""
    if price <= 0:
        raise InvalidCostError("A margin needs a price above nought.")
    return (price - cost) / price


def price_at_margin(cost: Decimal, margin: Decimal) -> Decimal:
    """Return the price that leaves `margin` of itself over a cost, unrounded, before fees and tax."""
    return cost / (1 - _below_one(margin))


def price_at_markup(cost: Decimal, markup: Decimal) -> Decimal:
    """Return cost plus a share of cost, unrounded, before fees and tax."""
    return cost * (1 + _above_minus_one(markup))


def wholesale_and_retail(cost: Decimal) -> tuple[Decimal, Decimal]:
    """Return the makers' doubling rule: wholesale twice the cost, retail twice that.

    On a piece that takes hours it gives a price that no fair will bear: show what it pays an hour.
    """
    return 2 * cost, 4 * cost


def kept_of(price: Decimal, terms: SellingTerms) -> Decimal:
    """Return what is left of a price (as labelled) after tax, fees and postage, unrounded."""
    return price * _kept_share(terms) - _fixed(terms)


def price_keeping(net: Decimal, terms: SellingTerms) -> Decimal:
    """Return the price to label for `net` to be kept, unrounded. Raises ImpossiblePriceError."""
    return (net + _fixed(terms)) / _possible(_kept_share(terms))


def price_at_margin_after_fees(cost: Decimal, margin: Decimal, terms: SellingTerms) -> Decimal:
    """Return the price that leaves `margin` of its tax-free part after cost, fees and tax, unrounded."""
    _below_one(margin)
    share = _kept_share(terms) - margin * _tax_free_share(terms)
    return (cost + _fixed(terms)) / _possible(share)


def implied_pay_per_hour(kept: Decimal, materials: Decimal, overhead: Decimal, hours: Decimal) -> Decimal:
    """Return what a price pays for an hour of making, from what is kept of it after tax and fees."""
    if hours <= 0:
        raise InvalidCostError("Pay per hour needs the hours that the piece takes.")
    return (kept - materials - overhead) / hours


@dataclass(frozen=True, slots=True)
class Sale:
    """One sale as it is booked, each part rounded to the minor unit."""

    customer_pays: Decimal
    tax: Decimal
    card_fee: Decimal
    commission: Decimal
    kept: Decimal


def sell(price: Decimal, terms: SellingTerms, *, by_card: bool = True, digits: int = 2) -> Sale:
    """Return what becomes of one sale at a labelled price: tax, fee and what is kept."""
    if terms.tax is TaxKind.ADDED:
        tax = round_money(price * terms.tax_rate, digits)
        pays, tax_free = price + tax, price
    else:
        tax = round_money(tax_inside(price, _rate(terms)), digits)
        pays, tax_free = price, price - tax
    fee = round_money(card_fee(pays, terms), digits) if by_card else ZERO
    commission = round_money(tax_free * terms.commission, digits)
    return Sale(pays, tax, fee, commission, tax_free - fee - commission - terms.postage)


def card_fee(paid: Decimal, terms: SellingTerms) -> Decimal:
    """Return the card fee on what a customer pays, tax included, unrounded."""
    return paid * terms.card_rate + terms.card_fixed


def with_tax(net: Decimal, tax_rate: Decimal) -> Decimal:
    """Add tax to a price."""
    return net * (1 + tax_rate)


def tax_inside(gross: Decimal, tax_rate: Decimal) -> Decimal:
    """Return the tax inside a price: at 20 % one sixth of it."""
    return gross * tax_rate / (1 + tax_rate)


def tax_by_line(lines: Sequence[Decimal], tax_rate: Decimal, digits: int = 2) -> Decimal:
    """Return tax added at the till, each line rounded half up. Places differ in which they allow."""
    return sum((round_money(line * tax_rate, digits) for line in lines), ZERO)


def tax_on_total(lines: Sequence[Decimal], tax_rate: Decimal, digits: int = 2) -> Decimal:
    """Return tax added at the till, on the total, rounded half up."""
    return round_money(sum(lines, ZERO) * tax_rate, digits)


def ticket_total(lines: Sequence[Decimal], tax_rate: Decimal, digits: int = 2) -> Decimal:
    """Return what a customer pays with tax added on the total."""
    return sum(lines, ZERO) + tax_on_total(lines, tax_rate, digits)


def area(width: Decimal, length: Decimal) -> Decimal:
    """Return the area of a rectangle."""
    return width * length


def edge_length(width: Decimal, length: Decimal) -> Decimal:
    """Return the length of edging round a rectangle."""
    return 2 * (width + length)


def price_by_area(width: Decimal, length: Decimal, *rates: Decimal) -> Decimal:
    """Return a price by area, all rates per unit of area together. It hides labour: only a check."""
    return area(width, length) * sum(rates, ZERO)


def price_by_length(length: Decimal, rate: Decimal) -> Decimal:
    """Return a price by length: of edging, or of yarn used."""
    return length * rate


def _rate(terms: SellingTerms) -> Decimal:
    return ZERO if terms.tax is TaxKind.NONE else terms.tax_rate


def _tax_free_share(terms: SellingTerms) -> Decimal:
    """Part of the labelled price that is not tax."""
    return 1 / (1 + terms.tax_rate) if terms.tax is TaxKind.INSIDE else ONE


def _kept_share(terms: SellingTerms) -> Decimal:
    paid = 1 + terms.tax_rate if terms.tax is TaxKind.ADDED else ONE
    fees = terms.card_rate * terms.card_share * paid
    return _tax_free_share(terms) * (1 - terms.commission) - fees


def _fixed(terms: SellingTerms) -> Decimal:
    return terms.card_fixed * terms.card_share + terms.postage


def _possible(share: Decimal) -> Decimal:
    if share <= 0:
        raise ImpossiblePriceError(
            "Fees, tax and margin together take the whole price: no price gives what is asked."
        )
    return share


def _below_one(margin: Decimal) -> Decimal:
    if margin >= 1:
        raise InvalidCostError("A margin is a share of the price and has to be below 100 %.")
    return margin


def _above_minus_one(markup: Decimal) -> Decimal:
    if markup <= -1:
        raise InvalidCostError("A markup has to be above -100 %.")
    return markup
