"""How stock is written on a page: lengths in the studio's units, signed changes."""

from decimal import Decimal

from django import template
from django.utils.formats import number_format

from craft.standards.units import metres_to_yards
from workroom.models import Studio, Units
from yarns import amounts, typed
from yarns.models import Movement, Supply

register = template.Library()
NO_BREAK = "\u00a0"


@register.filter
def as_length(length_m: Decimal | int | None, studio: Studio) -> str:
    """Whole metres, or yards where the studio reads those first; nothing where no label gives it."""
    if length_m is None:
        return ""
    exact = Decimal(length_m)
    if studio.units == Units.IMPERIAL:
        return f"{number_format(round(metres_to_yards(exact)))}{NO_BREAK}yd"
    return f"{number_format(round(exact))}{NO_BREAK}m"


@register.filter
def fine_length(length_m: Decimal | None, studio: Studio) -> str:
    """A length with the digits that it was rounded to, and no others."""
    if length_m is None:
        return ""
    if studio.units == Units.IMPERIAL:
        places = max(0, -int(length_m.as_tuple().exponent))
        return f"{number_format(round(metres_to_yards(length_m), places))}{NO_BREAK}yd"
    return f"{number_format(length_m)}{NO_BREAK}m"


@register.filter
def change(movement: Movement, unit: str) -> str:
    """A movement's difference with its sign; a minus that is no hyphen."""
    return signed(amounts.Amount(movement.delta, amounts.Unit(unit)))


@register.filter
def signed(amount: amounts.Amount) -> str:
    """An amount with its sign; a minus that is no hyphen."""
    shown = amounts.shown(amounts.Amount(abs(amount.count), amount.unit))
    sign = {1: "+", -1: "\N{MINUS SIGN}"}.get((amount.count > 0) - (amount.count < 0), "")
    return f"{sign}{shown}"


@register.filter
def after(movement: Movement, unit: str) -> str:
    """The balance that a movement left."""
    return amounts.shown(amounts.Amount(movement.balance_after, amounts.Unit(unit)))


@register.filter
def milligrams(mass_mg: int | None) -> str:
    """A mass in grams."""
    return "" if mass_mg is None else amounts.shown(amounts.milligrams(mass_mg))


@register.filter
def millimetres(length_mm: int | None, studio: Studio) -> str:
    """A length kept in millimetres, in metres or yards."""
    return "" if length_mm is None else as_length(Decimal(length_mm) / 1000, studio)


@register.filter
def supply_on_hand(supply: Supply) -> str:
    """What is here of a supply, in its unit; the view has summed it up."""
    total = getattr(supply, "on_hand", None) or 0
    return amounts.shown(amounts.Amount(total, amounts.Unit(supply.counts_in)))


@register.filter
def fibres(mix: list[list[str | int]]) -> str:
    """A fibre mix as a label has it."""
    return typed.fibres_shown(mix)
