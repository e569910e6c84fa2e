"""What every template can use: `studio`, `may`, `nav`, `theme`."""

from typing import Any

from django.http import HttpRequest

from hookledger.nav import links
from hookledger.roles import May
from workroom.models import Theme
from workroom.selectors import current_studio


def page(request: HttpRequest) -> dict[str, Any]:
    may: May = getattr(request, "may", May(frozenset()))
    user = getattr(request, "user", None)
    signed_in = user is not None and user.is_authenticated
    return {
        "studio": current_studio(),
        "may": may,
        "nav": links(request) if signed_in and hasattr(request, "may") else [],
        "theme": user.theme if signed_in else Theme.SYSTEM,
        "person": user if signed_in else None,
    }
