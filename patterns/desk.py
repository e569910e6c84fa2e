"""What the patterns room puts on the start page."""

from __future__ import annotations

from django.db.models import F
from django.urls import reverse
from django.utils.translation import gettext as _

from patterns.models import Pattern
from workroom.desk import Card
from workroom.http import StaffRequest

__all__ = ["cards"]


def cards(request: StaffRequest) -> list[Card]:
    """Drafts to go on with, and published patterns whose text or facts have moved on."""
    if not request.may("patterns:edit"):
        return []
    patterns = Pattern.objects.order_by("-changed_at")
    drafts = patterns.filter(published__isnull=True)
    moved = patterns.filter(changed_at__gt=F("published__published_at"))
    found = []
    if draft := drafts.first():
        found.append(_card(_("Drafts"), _("Last worked on: %s"), draft, drafts.count(), "patterns:edit"))
    if changed := moved.first():
        says = _("Readers still see the version before: %s")
        found.append(_card(_("Changed since published"), says, changed, moved.count(), "patterns:publish"))
    if not found and not patterns.exists():
        url = reverse("patterns:new")
        found.append(Card(_("Your first pattern"), _("Begin with a title."), url, _("New pattern")))
    return found


def _card(title: str, says: str, pattern: Pattern, count: int, url_name: str) -> Card:
    url = reverse(url_name, args=[pattern.slug])
    return Card(title, says % pattern.title, url, _("Go on with it"), count=count)
