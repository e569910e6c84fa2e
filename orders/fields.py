"""Form fields of the orders room: shares in per cent, masses in grams, amounts of a supply."""

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from workroom.money import MoneyField, format_money
from yarns.amounts import Amount, Unit, grams, pieces
from yarns.typed import TypedError, read_mass_mg

MOST_MINOR = 1_000_000_000
"""What one price or fee may come to: it has to fit a column, and more is a slip of the pen."""

MOST_OF_A_SUPPLY = 1_000_000_000

_PER_CENT = re.compile(r"(\d{1,5}(?:[.,]\d{1,2})?)\s*%?")


def plain_decimal(value: Decimal) -> str:
    """A number as it stands in a field: no trailing noughts, no exponent."""
    return format(value.normalize(), "f")


class PriceField(MoneyField):
    """An amount of money that fits one column; cleans to minor units, or None when empty."""

    def clean(self, value: Any) -> Any:
        minor = super().clean(value)
        if minor is not None and minor > MOST_MINOR:
            most = format_money(MOST_MINOR, self.code())
            raise forms.ValidationError(_("Write at most %s.") % most, code="most")
        return minor


class PercentField(forms.CharField):
    """A share like 1.75 or 1,75 %; cleans to basis points (1 % = 100), or None when empty."""

    def __init__(self, *, below_bp: int, **kwargs: Any) -> None:
        self.below_bp = below_bp
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "size": 6}))
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        return plain_decimal(Decimal(value) / 100) if isinstance(value, int) else value

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        found = _PER_CENT.fullmatch(text.strip())
        if found is None or not text.isascii():
            raise forms.ValidationError(_("Write a share in per cent, like 1.75."), code="invalid")
        share_bp = int(Decimal(found[1].replace(",", ".")) * 100)
        if share_bp >= self.below_bp:
            limit = plain_decimal(Decimal(self.below_bp) / 100)
            raise forms.ValidationError(_("Write less than %s %%.") % limit, code="most")
        return share_bp


class GramsField(forms.CharField):
    """A mass like 46, 46.5 g or 1.6 oz; cleans to mg, or None when empty."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "size": 8}))
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        return plain_decimal(Decimal(value) / 1000) if isinstance(value, int) else value

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        try:
            mass_mg = read_mass_mg(text)
        except TypedError as refusal:
            raise forms.ValidationError(str(refusal), code="invalid") from refusal
        if mass_mg <= 0:
            raise forms.ValidationError(_("Write a mass above nought."), code="nought")
        return mass_mg


_AMOUNT = re.compile(r"(\d{1,7}(?:[.,]\d{1,3})?)\s*(g|gr|grams?|kg|x|pcs?|pieces?)?", re.IGNORECASE)


class AmountField(forms.CharField):
    """How much of something: "2" (pieces) or "25 g"; cleans to an Amount, or None when empty."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"size": 8}))
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, Amount):
            return value
        if value.unit is Unit.PIECE:
            return str(value.count)
        return f"{plain_decimal(value.grams)} g"

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        amount = _read_amount(text.strip())
        if amount is None or not 0 < amount.count <= MOST_OF_A_SUPPLY:
            raise forms.ValidationError(_("Write how many, like 2, or how heavy, like 25 g."), code="invalid")
        return amount


def _read_amount(text: str) -> Amount | None:
    found = _AMOUNT.fullmatch(text)
    if found is None or not text.isascii():
        return None
    number = Decimal(found[1].replace(",", "."))
    word = (found[2] or "").lower()
    if word == "kg" or word.startswith("g"):
        return grams(number * (1000 if word == "kg" else 1))
    return pieces(int(number)) if number == int(number) else None
