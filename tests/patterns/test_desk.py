"""The patterns room's cards on the start page."""

from collections.abc import Callable
from datetime import date
from uuid import uuid4

from django.test import Client

from patterns.models import Pattern, Revision
from patterns.reviews.asking import Invitation, review_invite
from patterns.reviews.models import ReviewRole
from patterns.reviews.reading import Said, remark_write
from patterns.services import text_save
from tests.patterns.examples import DISC
from workroom.models import Person


def desk(client: Client) -> str:
    return client.get("/desk/").content.decode()


def test_an_empty_room_shows_where_to_begin(designer_client: Client, studio: object) -> None:
    assert "Your first pattern" in desk(designer_client)


def test_drafts_and_what_moved_on(
    designer_client: Client, designer: Person, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    page = desk(designer_client)
    assert "Last worked on: Small Disc" in page
    publish(pattern)
    assert "Small Disc" not in desk(designer_client)
    text_save(pattern, text=DISC + "\n", seen=1, by=designer)
    page = desk(designer_client)
    assert "Readers still see the version before: Small Disc" in page
    assert "/desk/patterns/small-disc/publish/" in page


def test_seller_and_assistant_see_no_pattern_cards(
    seller_client: Client, assistant_client: Client, pattern: Pattern
) -> None:
    for client in (seller_client, assistant_client):
        assert "Small Disc" not in desk(client)


def test_late_readers_and_waiting_remarks(
    designer_client: Client, designer: Person, pattern: Pattern
) -> None:
    wanted = Invitation(ReviewRole.TESTER, "Nell", size_key="one", due_on=date(2026, 1, 2))
    review, _token = review_invite(pattern, wanted, by=designer)
    page = desk(designer_client)
    assert "Late readers" in page
    assert "Nell" in page
    assert "Remarks to answer" not in page
    remark_write(review, form_key=uuid4(), line=2, said=Said("other", "Why six?"))
    page = desk(designer_client)
    assert "The newest is on: Small Disc" in page
    assert "/desk/patterns/small-disc/reviews/" in page
