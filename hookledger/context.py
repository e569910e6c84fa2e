"""What every template can use: `studio`, `may`, `nav`, `theme`."""

from typing import Any

from django.http import HttpRequest

from hookledger.nav import links
from hookledger.roles import May
from workroom.models import Person, Theme
from workroom.selectors import current_studio


def page(request: HttpRequest) -> dict[str, Any]:
    may: May = getattr(request, "may", May(frozenset()))
    user = getattr(request, "user", None)
    person = user if isinstance(user, Person) else None
    return {
        "studio": current_studio(),
        "may": may,
        "nav": links(request, may) if person else [],
        "theme": person.theme if person else Theme.SYSTEM,
        "person": person,
    }
