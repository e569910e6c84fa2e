"""Amounts of the reviews as they are read: `{{ use.used_mg|grams }}`, `{{ length_mm|centimetres }}`."""

from decimal import Decimal

from django import template
from django.utils.formats import number_format

register = template.Library()


@register.filter
def grams(mass_mg: int | None) -> str:
    """A mass in mg as grams to a tenth; a dash for what is not known."""
    return "–" if mass_mg is None else _tenths(Decimal(mass_mg) / 1000)


@register.filter
def centimetres(length_mm: int | None) -> str:
    """A length in mm as cm to a tenth; a dash for what is not known."""
    return "–" if length_mm is None else _tenths(Decimal(length_mm) / 10)


def _tenths(number: Decimal) -> str:
    rounded = round(number, 1)
    whole = rounded == rounded.to_integral_value()
    return number_format(rounded, decimal_pos=0 if whole else 1)
