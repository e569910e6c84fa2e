"""Shows times as the clock on the studio's wall does."""

from collections.abc import Callable
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from workroom.selectors import current_studio


class StudioClockMiddleware:
    """Turns the studio's time zone on for every view but the health check, which may find no database."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *args: object) -> None:
        if request.resolver_match and request.resolver_match.view_name != "healthz":
            timezone.activate(ZoneInfo(current_studio().time_zone))
