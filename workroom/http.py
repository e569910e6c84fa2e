"""The request as our views see it."""

from collections.abc import Callable

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails

from workroom.models import Person


class StaffRequest(HttpRequest):
    """A request that the roles table has let through to a signed-in person."""

    user: Person
    htmx: HtmxDetails
    may: Callable[[str], bool]
