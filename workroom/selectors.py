"""Reads of the workroom."""

from datetime import date
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.utils import timezone

from workroom.models import Person, Studio


def current_studio() -> Studio:
    """The studio's profile; one with the defaults (not saved) before anybody filled it in."""
    return Studio.objects.filter(pk=1).first() or Studio(pk=1)


def local_today() -> date:
    """The date on the wall of the studio; due dates and fairs are local dates."""
    return timezone.localdate(timezone=ZoneInfo(current_studio().time_zone))


def people_here() -> QuerySet[Person]:
    """Everybody who works here or was asked in, with their roles."""
    return Person.objects.filter(is_active=True).prefetch_related("roles_held")
