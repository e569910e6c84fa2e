"""What the patterns room puts on the start page."""

from __future__ import annotations

from django.db.models import F
from django.urls import reverse
from django.utils.translation import gettext as _

from patterns.models import Pattern
from patterns.reviews.board import late_reviews, open_remarks
from workroom.desk import Card
from workroom.http import StaffRequest
from workroom.selectors import local_today

__all__ = ["cards"]


def cards(request: StaffRequest) -> list[Card]:
    """Drafts to go on with, published patterns that have moved on, and what readers wait for."""
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
    found += _readers()
    if not found and not patterns.exists():
        url = reverse("patterns:new")
        found.append(Card(_("Your first pattern"), _("Begin with a title."), url, _("New pattern")))
    return found


def _readers() -> list[Card]:
    """Readers who are late, and remarks that wait for an answer."""
    found = []
    if late := late_reviews(local_today()):
        names = ", ".join(dict.fromkeys(review.name for review in late[:3]))
        url = reverse("patterns:reviews", args=[late[0].pattern.slug])
        found.append(Card(_("Late readers"), names, url, _("See who"), count=len(late), urgent=True))
    waiting, newest = open_remarks()
    if newest:
        pattern = newest.review.pattern
        url = reverse("patterns:reviews", args=[pattern.slug])
        says = _("The newest is on: %s") % pattern.title
        found.append(Card(_("Remarks to answer"), says, url, _("Read them"), count=waiting))
    return found


def _card(title: str, says: str, pattern: Pattern, count: int, url_name: str) -> Card:
    url = reverse(url_name, args=[pattern.slug])
    return Card(title, says % pattern.title, url, _("Go on with it"), count=count)
