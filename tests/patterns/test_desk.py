"""The patterns room's cards on the start page."""

from collections.abc import Callable

from django.test import Client

from patterns.models import Pattern, Revision
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
