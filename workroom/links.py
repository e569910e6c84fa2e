"""One-time links: welcome (choose a sign-in name and password) and sign in once.

The token is shown once and mailed or handed over; the database keeps its hash.
A link is used by one conditional UPDATE, so two clicks at once let in one.
"""

import secrets
from datetime import timedelta
from hashlib import sha256
from typing import Final

from django.utils import timezone

from workroom.models import LinkKind, OneTimeLink, Person

LIFETIMES: Final = {LinkKind.WELCOME: timedelta(days=7), LinkKind.SIGN_IN: timedelta(days=1)}


def digest(token: str) -> str:
    return sha256(token.encode()).hexdigest()


def link_make(*, person: Person, kind: LinkKind, made_by: Person | None = None) -> str:
    """Make a link and give its token. Earlier unused links of that kind for the person end."""
    now = timezone.now()
    OneTimeLink.objects.filter(person=person, kind=kind, used_at=None).update(used_at=now)
    token = secrets.token_urlsafe(32)
    OneTimeLink.objects.create(
        person=person,
        kind=kind,
        made_by=made_by,
        digest=digest(token),
        expires_at=now + LIFETIMES[kind],
    )
    return token


def link_find(token: str) -> OneTimeLink | None:
    """The link of this token if it still lets somebody in."""
    return (
        OneTimeLink.objects.select_related("person")
        .filter(
            digest=digest(token),
            used_at=None,
            expires_at__gt=timezone.now(),
            person__is_active=True,
        )
        .first()
    )


def link_use(link: OneTimeLink) -> bool:
    """Use the link up; False when somebody was quicker or it has run out."""
    now = timezone.now()
    unused = OneTimeLink.objects.filter(pk=link.pk, used_at=None, expires_at__gt=now)
    return unused.update(used_at=now) == 1
