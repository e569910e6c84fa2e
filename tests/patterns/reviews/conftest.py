"""Reviews of the examples, and browsers that have opened their links."""

from collections.abc import Callable
from datetime import date
from typing import NamedTuple

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.reviews.asking import Invitation, review_invite
from patterns.reviews.models import Review, ReviewRole
from workroom.models import Person

DUE = date(2026, 5, 14)


class Invited(NamedTuple):
    """A review, its link's address, and a browser that has opened it."""

    review: Review
    link: str
    browser: Client

    @property
    def address(self) -> str:
        return f"/review/{self.review.pk}/"


@pytest.fixture
def invite(full_pattern: Pattern, designer: Person) -> Callable[..., Invited]:
    """Invites a tester of size M (or an editor) and opens the link, unless `opened` is False."""

    def invite_one(
        name: str = "Nell", *, role: ReviewRole = ReviewRole.TESTER, size: str = "m", opened: bool = True,
        pattern: Pattern | None = None, due_on: date | None = DUE,
    ) -> Invited:  # fmt: skip
        wanted = Invitation(role=role, name=name, size_key=size, due_on=due_on)
        review, token = review_invite(pattern or full_pattern, wanted, by=designer)
        browser, link = Client(), f"/review/open/{token}/"
        if opened:
            assert browser.post(link).status_code == 302
            review.refresh_from_db()
        return Invited(review, link, browser)

    return invite_one


@pytest.fixture
def tester(invite: Callable[..., Invited]) -> Invited:
    return invite()


@pytest.fixture
def editor(invite: Callable[..., Invited]) -> Invited:
    return invite("Bram", role=ReviewRole.EDITOR, size="")
