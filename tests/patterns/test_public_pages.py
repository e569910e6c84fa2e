"""The studio's home, a pattern's page and its photos, as a stranger sees them."""

from collections.abc import Callable

import pytest
from django.test import Client

from patterns.models import Pattern, Revision


def words(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_home_shows_what_is_out(stranger_client: Client, published: Revision, pattern: Pattern) -> None:
    page = words(stranger_client, "/")
    assert "Net Band" in page
    assert "3 sizes" in page
    assert 'alt="A blue square."' in page
    assert "Small Disc" not in page


def test_an_empty_home_says_so(stranger_client: Client, studio: object) -> None:
    assert "No pattern is out yet." in words(stranger_client, "/")


def test_a_pattern_has_all_that_a_maker_needs(stranger_client: Client, published: Revision) -> None:
    page = words(stranger_client, "/p/net-band/")
    for part in (
        "5 mm (US H-8)",
        "14 sts and 16 rounds of sc to 10 cm (4 in), worked in the round",
        "Sandpiper Mill Tideline Worsted, Harbour",
        "<dt>sc</dt><dd>single crochet</dd>",
        "6 (8, 10) sc in a magic ring.",
        "12 (16, 20) sts",
        "For your own making.",
        "Version 1.0.0",
        "/p/net-band/a4.pdf",
        "/p/net-band/letter.pdf",
    ):
        assert part in page, part
    assert "hdc" not in page


def test_a_size_is_chosen_by_the_address_alone(stranger_client: Client, published: Revision) -> None:
    page = words(stranger_client, "/p/net-band/?size=l")
    assert "10 sc in a magic ring." in page
    assert "20 sts" in page
    assert '<a href="?size=l" aria-current="true">L</a>' in page
    assert "/p/net-band/a4.pdf?size=l" in page
    assert "6 (8, 10)" not in page


@pytest.mark.parametrize("address", ["/p/net-band/?size=xl", "/p/none/", "/p/small-disc/"])
def test_what_is_not_there_is_not_found(
    stranger_client: Client, published: Revision, pattern: Pattern, address: str
) -> None:
    assert stranger_client.get(address).status_code == 404


@pytest.mark.parametrize("address", ["/", "/p/net-band/", "/p/net-band/a4.pdf"])
def test_readers_send_nothing(stranger_client: Client, published: Revision, address: str) -> None:
    assert stranger_client.post(address).status_code == 405


def test_what_a_designer_typed_is_shown_as_words(
    stranger_client: Client, make_pattern: Callable[..., Pattern], publish: Callable[..., Revision]
) -> None:
    evil = "<script>alert(1)</script>"
    text = f"{evil}\nRnd 1: 6 sc in a magic ring. (6 sts)\nRnd 2: {evil} 2 sc in each st around. (12 sts)\n"
    publish(make_pattern(title=f"Evil {evil}", text=text, introduction=evil, notes=evil, licence=evil))
    page = stranger_client.get(f"/p/{Pattern.objects.get().slug}/").content.decode()
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert evil not in page


def test_a_pattern_without_photo_gauge_or_yarn_still_reads(
    stranger_client: Client, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    publish(pattern)
    page = words(stranger_client, "/p/small-disc/")
    assert "Rnd 3" in page
    assert "Gauge" not in page


def test_a_published_photo_is_for_everybody_and_for_ever(
    stranger_client: Client, published: Revision
) -> None:
    digest = published.facts["photos"][0]["digest"]
    for suffix, kind in (("webp", "image/webp"), ("jpg", "image/jpeg")):
        answer = stranger_client.get(f"/photo/{digest}/480.{suffix}")
        assert answer["Content-Type"] == kind
        assert "immutable" in answer["Cache-Control"]
        assert answer["X-Content-Type-Options"] == "nosniff"


def test_a_photo_that_is_not_out_is_for_the_people_here(
    stranger_client: Client, assistant_client: Client, full_pattern: Pattern
) -> None:
    address = f"/photo/{full_pattern.photos.get().digest}/480.webp"
    assert stranger_client.get(address).status_code == 404
    answer = assistant_client.get(address)
    assert answer.status_code == 200
    assert answer["Cache-Control"] == "private, no-store"


@pytest.mark.parametrize(
    "name",
    ["x/480.webp", "../../secret-key", f"{'0' * 40}/480.webp", f"{'0' * 40}/480.png", f"{'0' * 39}/480.webp"],
)
def test_no_other_file_is_reached(assistant_client: Client, studio: object, name: str) -> None:
    assert assistant_client.get(f"/photo/{name}").status_code == 404
