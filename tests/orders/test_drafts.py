"""A piece from a published pattern: its yarn, notions and minutes are taken over, nothing is typed twice."""

from collections.abc import Callable
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from orders.drafts import draft_of, find_revision, newer_revision, pattern_choices
from orders.models import Piece
from orders.pieces import PieceFacts, piece_create
from patterns.models import Pattern, Revision
from patterns.revisions import UnknownSizeError
from yarns.models import Colour, Supply


def source(pattern: Pattern, size: str = "m") -> str:
    return f"{pattern.published_id}:{size}"


def test_published_patterns_are_offered_with_their_sizes(pattern: Pattern) -> None:
    assert pattern_choices() == [
        (
            "Tideline Beanie",
            [
                (source(pattern, "s"), "Tideline Beanie, Small"),
                (source(pattern), "Tideline Beanie, Medium"),
            ],
        )
    ]


def test_a_draft_takes_over_what_the_pattern_knows(pattern: Pattern, navy: Colour, eyes: Supply) -> None:
    found = find_revision(source(pattern))
    assert found is not None
    draft = draft_of(*found)
    assert (draft.title, draft.minutes) == ("Tideline Beanie, Medium", 85)
    main, scrap = draft.yarns
    assert main.label == "MC"
    assert (main.part_key, main.colour_id, main.mass_mg, main.reserve_mg) == ("MC", navy.pk, 84_000, 97_000)
    assert (scrap.part_key, scrap.colour_id, scrap.from_pattern) == ("B", None, False)
    assert draft.without_mass == ("B: a scrap for the eyes",)
    assert len(draft.extras) == 2, "a needle is no part of the piece"
    filling = draft.extras[1]
    assert (filling.kind, filling.unit, filling.quantity) == ("filling", "mg", 2500)
    notion = draft.extras[0]
    assert (notion.label, notion.quantity, notion.price_minor, notion.supply_id) == (
        "safety eyes",
        2,
        15,
        eyes.pk,
    )


def test_error_a_size_that_the_pattern_lacks(pattern: Pattern) -> None:
    assert pattern.published is not None
    with pytest.raises(UnknownSizeError):
        draft_of(pattern.published, "xl")


def test_the_form_is_filled_in_and_saved_as_of_the_pattern(
    seller_client: Client, pattern: Pattern, navy: Colour
) -> None:
    address = reverse("orders:piece_new")
    page = seller_client.get(address, {"from": source(pattern)}).text
    for filled in ('value="Tideline Beanie, Medium"', 'value="1:25"', 'value="84"', 'value="97"'):
        assert filled in page
    assert "The pattern knows no weight for B: a scrap for the eyes" in page
    sent = {
        "key": str(uuid4()),
        "version": "0",
        "source": source(pattern),
        "title": "Tideline Beanie, Medium",
        "minutes": "1:45",
        "yarn-TOTAL_FORMS": "1",
        "yarn-INITIAL_FORMS": "1",
        "yarn-0-part_key": "MC",
        "yarn-0-from_pattern": "True",
        "yarn-0-label": "MC",
        "yarn-0-colour": str(navy.pk),
        "yarn-0-mass_mg": "84",
        "yarn-0-reserve_mg": "97",
        "extra-TOTAL_FORMS": "0",
        "extra-INITIAL_FORMS": "0",
    }
    assert seller_client.post(address, sent).status_code == 302
    piece = Piece.objects.get()
    assert (piece.revision, piece.size_key) == (pattern.published, "m")
    assert piece.yarns.get().from_pattern is True


def test_a_newer_version_of_the_pattern_is_noticed(
    seller_client: Client, pattern: Pattern, publish: Callable[[Pattern], Revision]
) -> None:
    facts = PieceFacts("Beanie", 90, revision=pattern.published, size_key="m")
    piece = piece_create(facts, uuid4())
    assert newer_revision(piece) is None
    publish(pattern)
    page = seller_client.get(reverse("orders:piece", args=[piece.pk])).text
    assert "Version 2.0.0 of this pattern is out" in page
    assert "size Medium" in page
