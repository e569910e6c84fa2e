"""`{% load making %}`: times, shares and balls for people."""

from decimal import Decimal

from django import template
from django.utils.formats import number_format

from orders.durations import shown_minutes
from orders.fields import plain_decimal
from yarns.amounts import Amount, Unit, milligrams

register = template.Library()


@register.filter
def duration(minutes: int | None) -> str:
    """'1 h 25 min'; a dash where there is none."""
    return "\N{EN DASH}" if minutes is None else shown_minutes(minutes)


@register.filter
def per_cent(share_bp: int | None) -> str:
    """4000 gives '40 %', to one decimal; a dash where there is none."""
    if share_bp is None:
        return "\N{EN DASH}"
    share = round(Decimal(share_bp) / 100, 1)
    places = 0 if share == int(share) else 1
    return f"{number_format(share, places)}\N{NO-BREAK SPACE}%"


@register.filter
def scale(amount: Amount | None) -> str:
    """An amount as a kitchen scale shows it: 57.375 g gives '57.4 g'; a dash where there is none."""
    if amount is None:
        return "\N{EN DASH}"
    if amount.unit is Unit.PIECE:
        return str(amount)
    return str(milligrams((amount.count + 50) // 100 * 100))


@register.filter
def to_tenth(number: float | Decimal | None) -> str:
    """0.46 gives '0.5'; a dash where there is none."""
    if number is None:
        return "\N{EN DASH}"
    tenth = round(Decimal(number), 1)
    return str(number_format(plain_decimal(tenth) if tenth else "0", use_l10n=True))
