"""`{% load money %}{{ batch.cost_minor|money:studio }}`."""

from django import template

from workroom.models import Studio
from workroom.money import format_money

register = template.Library()


@register.filter
def money(minor: int | None, studio: Studio) -> str:
    """The amount with its sign; a dash where there is none."""
    return "\N{EN DASH}" if minor is None else format_money(minor, studio.currency)
