"""Whom the designer asks: inviting, new links, newer drafts, closing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from patterns.models import Pattern
from patterns.reviews.copies import copy_now, copy_sizes
from patterns.reviews.links import new_link
from patterns.reviews.models import Review, ReviewRole
from workroom.models import Person

__all__ = [
    "Invitation",
    "ReviewError",
    "review_close",
    "review_invite",
    "review_link_renew",
    "review_move_due",
    "review_newest_draft",
    "review_reopen",
    "review_withdraw",
    "reviews_close",
]


class ReviewError(RuntimeError):
    """A refusal; the text is a sentence for the person who asked."""


@dataclass(frozen=True, slots=True)
class Invitation:
    """Whom to ask, for what. `size_key` "" and `due_on` None where they don't matter."""

    role: ReviewRole
    name: str
    size_key: str = ""
    due_on: date | None = None
    email: str = ""
    contact: str = ""


def review_invite(pattern: Pattern, invitation: Invitation, *, by: Person) -> tuple[Review, str]:
    """Freeze the draft as it is and make a link to it; gives the review and the link's token."""
    with transaction.atomic():
        copy = copy_now(pattern)
        if not copy.text.strip():
            raise ReviewError(_("There are no instructions to read yet. Write and save them first."))
        if invitation.size_key and invitation.size_key not in {size.key for size in copy_sizes(copy)}:
            raise ReviewError(_("The pattern has no such size. Choose one of its sizes."))
        token, digest = new_link()
        review = Review.objects.create(
            pattern=pattern, copy=copy, role=invitation.role, name=invitation.name,
            size_key=invitation.size_key, due_on=invitation.due_on, email=invitation.email,
            contact=invitation.contact, link_digest=digest, link_made_at=timezone.now(), invited_by=by,
        )  # fmt: skip
    return review, token


def review_link_renew(review: Review) -> str:
    """A new link; the old one and the browser that it was opened in are shut out. What was said stays."""
    token, digest = new_link()
    renewed = Review.objects.filter(pk=review.pk, closed_at=None).update(
        link_digest=digest, browser_digest="", link_made_at=timezone.now()
    )
    if not renewed:
        raise ReviewError(_("This review is closed. Open it again before you make a new link."))
    return token


def review_withdraw(review: Review) -> None:
    """Take the link back: it opens nothing any more, in no browser."""
    Review.objects.filter(pk=review.pk).update(link_digest=None)


def review_close(review: Review) -> None:
    """End the review with thanks: its link says that it is closed."""
    Review.objects.filter(pk=review.pk, closed_at=None).update(closed_at=timezone.now())


def review_reopen(review: Review) -> None:
    Review.objects.filter(pk=review.pk).update(closed_at=None)


def reviews_close(pattern: Pattern) -> int:
    """Close the whole round; gives how many reviews were open."""
    return pattern.reviews.filter(closed_at=None).update(closed_at=timezone.now())


def review_move_due(review: Review, due_on: date | None) -> None:
    Review.objects.filter(pk=review.pk).update(due_on=due_on)


def review_newest_draft(review: Review) -> bool:
    """Let the same link show the draft as it is now; False when the reader has it already.

    The copy before is kept beside it, so that the reader's page can list the lines that changed.
    """
    with transaction.atomic():
        copy = copy_now(review.pattern)
        current = Review.objects.select_for_update().get(pk=review.pk)
        if current.copy_id == copy.pk:
            return False
        Review.objects.filter(pk=review.pk).update(copy=copy, earlier_copy=current.copy_id)
    return True
