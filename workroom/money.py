"""Money at the edge: whole minor units inside, words of the reader's language outside.

Minor digits by ISO 4217 (list of currency and funds codes): most currencies
have two, the króna of Iceland, the yen and the won none.
"""

import re
from decimal import Decimal
from typing import Any, Final

from django import forms
from django.utils import formats
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from workroom.selectors import current_studio

SYMBOLS: Final = {
    "AUD": "A$", "BRL": "R$", "CAD": "CA$", "CHF": "CHF ", "CZK": "Kč", "DKK": "kr.", "EUR": "€",
    "GBP": "£", "HUF": "Ft", "INR": "₹", "ISK": "kr.", "JPY": "¥", "KRW": "₩", "MXN": "MX$",
    "NOK": "kr", "NZD": "NZ$", "PLN": "zł", "SEK": "kr", "TRY": "₺", "USD": "$", "ZAR": "R",
}  # fmt: skip
WITHOUT_MINOR: Final = frozenset({"ISK", "JPY", "KRW"})
CURRENCIES: Final = tuple((code, f"{code} ({sign.strip()})") for code, sign in SYMBOLS.items())
MOST_MINOR: Final = 10**12
SIGN_FIRST: Final = frozenset({"en", "ja", "ko", "nl", "zh"})


class MoneyError(ValueError):
    """A text that is no amount of money; the sentence says what to write."""


def minor_digits(currency: str) -> int:
    return 0 if currency in WITHOUT_MINOR else 2


def to_decimal(minor: int, currency: str) -> Decimal:
    """1250 with EUR gives Decimal('12.50')."""
    return Decimal(minor).scaleb(-minor_digits(currency))


def to_minor(amount: Decimal, currency: str) -> int:
    """Decimal('12.50') with EUR gives 1250. Raises MoneyError below the smallest coin."""
    minor = amount.scaleb(minor_digits(currency))
    if minor != minor.to_integral_value():
        raise MoneyError(too_fine(currency))
    return int(minor)


def too_fine(currency: str) -> str:
    if currency in WITHOUT_MINOR:
        return str(_("Write a whole amount; this currency has no smaller coin."))
    return str(_("Write at most two digits after the point, like 12.50."))


def plain(minor: int, currency: str) -> str:
    """What stands in a form field: no sign, no grouping, the decimal mark of the language."""
    amount = to_decimal(minor, currency)
    return str(formats.number_format(amount, minor_digits(currency), use_l10n=True)).replace(
        formats.get_format("THOUSAND_SEPARATOR"), ""
    )


def format_money(minor: int, currency: str) -> str:
    """What a reader sees: 123450 with GBP gives '£1,234.50' in English, '1.234,50 £' in German."""
    amount = abs(to_decimal(minor, currency))
    number = formats.number_format(amount, minor_digits(currency), force_grouping=True)
    sign = SYMBOLS.get(currency, f"{currency} ")
    minus = "\N{MINUS SIGN}" if minor < 0 else ""
    if (get_language() or "en").split("-")[0] in SIGN_FIRST:
        return f"{minus}{sign}{number}"
    return f"{minus}{number}\N{NO-BREAK SPACE}{sign.strip()}"


def parse_money(text: str, currency: str) -> int:
    """Minor units from what somebody typed: '12.50', '12,50', '1,234.50', '€ 12'.

    A mark that could mean thousands or parts means what it means in the
    reader's language. Raises MoneyError with a sentence.
    """
    bare = re.sub(r"\s", "", text).replace(SYMBOLS.get(currency, "").strip() or currency, "")
    bare = bare.replace(currency, "")
    if not re.fullmatch(r"\d[\d.,’']*", bare):
        raise MoneyError(str(_("Write an amount like 12.50.")))
    minor = to_minor(Decimal(_with_point(re.sub(r"[’']", "", bare))), currency)
    if minor > MOST_MINOR:
        raise MoneyError(str(_("That is more money than this book can hold.")))
    return minor


def _with_point(text: str) -> str:
    """The same number with a point for the parts and nothing between thousands."""
    marks = re.findall(r"[.,]", text)
    if not marks:
        return text
    last = marks[-1]
    other = "," if last == "." else "."
    grouped = re.fullmatch(rf"\d{{1,3}}(\{last}\d{{3}})+", text)
    if grouped and (len(marks) > 1 or last == formats.get_format("THOUSAND_SEPARATOR")):
        return text.replace(last, "")
    whole, _mark, parts = text.rpartition(last)
    if last in whole or (other in whole and not re.fullmatch(rf"\d{{1,3}}(\{other}\d{{3}})+", whole)):
        raise MoneyError(str(_("Write an amount like 12.50.")))
    return f"{whole.replace(other, '')}.{parts or '0'}"


class MoneyField(forms.CharField):
    """An amount of the studio's currency; cleans to minor units, or None when empty."""

    def __init__(self, *, currency: str = "", allow_zero: bool = True, **kwargs: Any) -> None:
        self.currency = currency
        self.allow_zero = allow_zero
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "size": 10}))
        super().__init__(**kwargs)

    def code(self) -> str:
        return self.currency or current_studio().currency

    def prepare_value(self, value: Any) -> Any:
        return plain(value, self.code()) if isinstance(value, int) else value

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        try:
            minor = parse_money(text, self.code())
        except MoneyError as refusal:
            raise forms.ValidationError(str(refusal), code="invalid") from refusal
        if minor == 0 and not self.allow_zero:
            raise forms.ValidationError(_("Write an amount above zero."), code="zero")
        return minor
