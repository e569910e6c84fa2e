"""Amounts as testers type them: "46,5 g", "20½ in", "7 1/4 in". Cleaned to whole mg, mm or tenths."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

__all__ = ["GRAMS", "LENGTHS", "PER_100MM", "AmountField", "Unit"]

_PARTS: Final = {"½": Decimal("0.5"), "¼": Decimal("0.25"), "¾": Decimal("0.75"), "⅛": Decimal("0.125"),
                 "⅜": Decimal("0.375"), "⅝": Decimal("0.625"), "⅞": Decimal("0.875")}  # fmt: skip
_AMOUNT: Final = re.compile(
    r"(?P<whole>\d{1,6}(?:[.,]\d{1,3})?)?\s*"
    r"(?:(?P<part>[½¼¾⅛⅜⅝⅞])|(?P<top>\d{1,2})\s*[/⁄]\s*(?P<bottom>\d{1,2}))?"
    r"\s*(?P<unit>[a-z\"″”']*)\.?"
)


class Unit:
    """What an amount may be written in: word -> stored parts of one. `says`: how to write one."""

    def __init__(self, parts: Mapping[str, Decimal], says: str | Promise) -> None:
        self.parts = parts
        self.says = says


_IN: Final = Decimal("25.4")
GRAMS: Final = Unit(
    {"": Decimal(1000), "g": Decimal(1000), "gr": Decimal(1000), "kg": Decimal(10) ** 6,
     "oz": Decimal("28349.5")},
    gettext_lazy("Write the weight in grams, such as 46 or 46.5."),
)  # fmt: skip
"""To mg. An ounce is 28.3495 g (NIST Handbook 44, appendix C)."""
LENGTHS: Final = Unit(
    {"": Decimal(10), "cm": Decimal(10), "mm": Decimal(1), "m": Decimal(1000), "in": _IN, "ins": _IN,
     "inch": _IN, "inches": _IN, '"': _IN, "″": _IN, "”": _IN},
    gettext_lazy("Write the length in cm, such as 52 or 52.5, or in inches, such as 20½ in."),
)  # fmt: skip
"""To mm."""
PER_100MM: Final = Unit(
    {"": Decimal(10), "st": Decimal(10), "sts": Decimal(10), "rows": Decimal(10), "rnds": Decimal(10)},
    gettext_lazy("Write a number, such as 14 or 14.5."),
)
"""To tenths of a stitch or row."""
MINUTES: Final = Unit({"": Decimal(1)}, gettext_lazy("Write a whole number, such as 3."))


class AmountField(forms.CharField):
    """An amount, cleaned to a whole number of the unit's parts; None when empty."""

    def __init__(self, unit: Unit, *, least: int = 0, most: int, **kwargs: Any) -> None:
        self.unit, self.least, self.most = unit, least, most
        widget = forms.TextInput(attrs={"inputmode": "decimal", "size": 8, "autocomplete": "off"})
        super().__init__(**{"max_length": 40, "required": False, "widget": widget, **kwargs})

    def clean(self, value: Any) -> int | None:
        said = str(super().clean(value)).strip().lower()
        if not said:
            return None
        amount = _read(said, self.unit)
        if amount is None:
            raise forms.ValidationError(str(self.unit.says))
        if not self.least <= amount <= self.most:
            raise forms.ValidationError(_("That can't be right. Look at the number once more."))
        return amount


def _read(said: str, unit: Unit) -> int | None:
    match = _AMOUNT.fullmatch(said)
    if match is None or match["unit"] not in unit.parts:
        return None
    if match["whole"] is None and match["part"] is None and match["top"] is None:
        return None
    number = Decimal((match["whole"] or "0").replace(",", "."))
    if match["part"]:
        number += _PARTS[match["part"]]
    if match["top"]:
        bottom = Decimal(match["bottom"])
        if not bottom:
            return None
        number += Decimal(match["top"]) / bottom
    return round(number * unit.parts[match["unit"]])
