"""Money in and out: minor units inside. Digits after the point by ISO 4217."""

from decimal import Decimal

import pytest
from django import forms
from django.template import Context, Template
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from workroom.models import Studio
from workroom.money import (
    CURRENCIES,
    MoneyError,
    MoneyField,
    format_money,
    minor_digits,
    parse_money,
    plain,
    to_decimal,
    to_minor,
)


@pytest.mark.parametrize(
    ("currency", "digits"),
    [("EUR", 2), ("GBP", 2), ("USD", 2), ("JPY", 0), ("KRW", 0), ("ISK", 0), ("HUF", 2)],
)
def test_minor_digits_follow_iso_4217(currency: str, digits: int) -> None:
    assert minor_digits(currency) == digits


def test_there_and_back() -> None:
    assert to_decimal(1250, "EUR") == Decimal("12.50")
    assert to_minor(Decimal("12.5"), "EUR") == 1250
    assert to_minor(Decimal(12), "JPY") == 12
    with pytest.raises(MoneyError, match=r"Write at most two digits after the point, like 12\.50\."):
        to_minor(Decimal("12.505"), "EUR")
    with pytest.raises(MoneyError, match="Write a whole amount; this currency has no smaller coin"):
        to_minor(Decimal("12.5"), "JPY")


@pytest.mark.parametrize(
    ("minor", "currency", "shown"),
    [
        (123450, "GBP", "£1,234.50"),
        (0, "EUR", "€0.00"),
        (-305, "USD", "−$3.05"),
        (1200, "JPY", "¥1,200"),
        (500, "CHF", "CHF 5.00"),
        (199, "XTS", "XTS 1.99"),
    ],
)
def test_shown_in_english(minor: int, currency: str, shown: str) -> None:
    assert format_money(minor, currency) == shown


def test_shown_in_german() -> None:
    with translation.override("de"):
        assert format_money(123450, "EUR") == "1.234,50\N{NO-BREAK SPACE}€"
        assert plain(123450, "EUR") == "1234,50"


@pytest.mark.parametrize(
    ("text", "minor"),
    [
        ("12.50", 1250), ("12,50", 1250), ("12", 1200), ("12.5", 1250), ("0", 0), ("€ 12.50", 1250),
        ("12 EUR", 1200), ("1,234.50", 123450), ("1.234,50", 123450), ("1,234", 123400),
        ("1 234,50", 123450), ("1’234.50", 123450),
        ("1,234,567", 123456700), ("1.234.567", 123456700), ("12.", 1200), ("٣", 300),
    ],
)  # fmt: skip
def test_read_as_people_write_it(text: str, minor: int) -> None:
    assert parse_money(text, "EUR") == minor


@pytest.mark.parametrize("text", ["", "abc", "-5", "1.2.3", "1,23,4.5", "1.234,50,1", "12.50.", "1e5", "."])
def test_refused_when_it_is_no_amount(text: str) -> None:
    with pytest.raises(MoneyError, match=r"^Write an amount like 12\.50\.$"):
        parse_money(text, "EUR")


def test_refused_when_it_could_mean_two_things() -> None:
    with pytest.raises(MoneyError, match="Write at most two digits after the point"):
        parse_money("1.234", "EUR")
    with translation.override("de"):
        assert parse_money("1.234", "EUR") == 123400


def test_refused_when_it_is_too_much() -> None:
    with pytest.raises(MoneyError, match="more money than this book can hold"):
        parse_money("99999999999", "EUR")


@given(minor=st.integers(0, 10**11), currency=st.sampled_from([code for code, _name in CURRENCIES]))
def test_what_is_shown_reads_back_as_the_same(minor: int, currency: str) -> None:
    assert parse_money(format_money(minor, currency), currency) == minor
    assert parse_money(plain(minor, currency), currency) == minor


@given(text=st.text(max_size=20))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    try:
        outcome: int | str = parse_money(text, "EUR")
    except MoneyError as refusal:
        outcome = str(refusal)
    assert outcome.endswith(".") if isinstance(outcome, str) else outcome >= 0


class PriceForm(forms.Form):
    price = MoneyField(currency="GBP")
    fee = MoneyField(required=False, currency="GBP", allow_zero=False)


def test_the_field_gives_minor_units_and_shows_amounts() -> None:
    form = PriceForm({"price": "12.50", "fee": ""})
    assert form.is_valid()
    assert form.cleaned_data == {"price": 1250, "fee": None}
    assert 'value="1234.50"' in str(PriceForm(initial={"price": 123450})["price"])


def test_the_field_keeps_what_was_typed_and_says_what_to_do() -> None:
    form = PriceForm({"price": "a lot", "fee": "0"})
    assert form.errors == {"price": ["Write an amount like 12.50."], "fee": ["Write an amount above zero."]}
    assert 'value="a lot"' in str(form["price"])


def test_the_field_takes_the_studios_currency(studio: Studio) -> None:
    Studio.objects.update(currency="JPY")
    assert MoneyField().clean("1200") == 1200


def test_the_filter() -> None:
    page = Template("{% load money %}{{ price|money:studio }} {{ none|money:studio }}")
    studio = Studio(currency="GBP")
    assert page.render(Context({"price": 1250, "none": None, "studio": studio})) == "£12.50 –"
