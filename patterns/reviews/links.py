"""The link of a review. Whoever opens it first, by a press, binds it to that browser.

The link's token and the browser's secret are kept as hashes only. Opening by GET does nothing, so that
the preview of a chat program can't use a link up. The secret travels as a cookie of its own, readable
by no script and sent to these pages alone, and lasts as long as a test does; a session would end too
soon and would end with signing in. A link ends when the designer takes it back, closes the review or
makes a new one, and unopened after thirty days.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from datetime import timedelta
from typing import Final

from django.db.models import Q, QuerySet
from django.utils import timezone
from django.utils.crypto import constant_time_compare

from patterns.reviews.models import Review
from workroom.links import digest

__all__ = [
    "COOKIE_DAYS",
    "UNOPENED_DAYS",
    "bind",
    "bound_here",
    "cookie_name",
    "find",
    "new_link",
    "of_browser",
]

UNOPENED_DAYS: Final = 30
COOKIE_DAYS: Final = 180


def new_link() -> tuple[str, str]:
    """A token for a link, and the hash that is kept of it."""
    token = secrets.token_urlsafe(32)
    return token, digest(token)


def cookie_name(review_id: int) -> str:
    return f"hookledger_review_{review_id}"


def find(token: str) -> Review | None:
    """The review of this link; also one that is closed, so that its page can say so."""
    fresh = timezone.now() - timedelta(days=UNOPENED_DAYS)
    alive = ~Q(browser_digest="") | Q(link_made_at__gt=fresh)
    return _reviews().filter(alive, link_digest=digest(token)).first()


def bind(review: Review) -> str | None:
    """Bind the link to a browser and give the browser's secret; None when another was quicker."""
    secret = secrets.token_urlsafe(32)
    now = timezone.now()
    unopened = Review.objects.filter(
        pk=review.pk, link_digest=review.link_digest, browser_digest="", closed_at=None
    )
    if unopened.update(browser_digest=digest(secret), opened_at=now, seen_at=now) != 1:
        return None
    return secret


def bound_here(review: Review, cookies: Mapping[str, str]) -> bool:
    """Whether the browser that sent these cookies is the one that opened the link."""
    secret = cookies.get(cookie_name(review.pk), "")
    known = review.browser_digest
    return bool(secret and known) and constant_time_compare(digest(secret), known)


def of_browser(review_id: int, cookies: Mapping[str, str]) -> Review | None:
    """The review of that number if this browser opened its link, open or ended."""
    review = _reviews().filter(pk=review_id).first()
    return review if review and bound_here(review, cookies) else None


def _reviews() -> QuerySet[Review]:
    return Review.objects.select_related("pattern", "copy", "invited_by")
