"""/desk/patterns/<slug>/publish/, unpublish/ and preview/."""

from collections.abc import Callable

import pytest
from django.test import Client

from patterns.checking import check
from patterns.models import Pattern, Revision
from patterns.selectors import source_of
from patterns.services import text_save
from tests.patterns.examples import DISC, DISC_WRONG
from workroom.models import Person

ADDRESS = "/desk/patterns/small-disc/publish/"


def posted(pattern: Pattern, **changes: str) -> dict[str, str]:
    return {
        "version": "1.0.0", "changes": "", "text_edit": str(pattern.text_edit),
        "facts_edit": str(pattern.facts_edit),
    } | changes  # fmt: skip


def test_it_publishes(designer_client: Client, pattern: Pattern, designer: Person) -> None:
    assert "Ready" in designer_client.get(ADDRESS).content.decode()
    assert designer_client.post(ADDRESS, posted(pattern, changes="First.")).status_code == 302
    revision = Revision.objects.get()
    assert (revision.version, revision.changes, revision.published_by) == ("1.0.0", "First.", designer)
    assert revision.text == DISC
    pattern.refresh_from_db()
    assert pattern.published == revision


def test_nobody_else_publishes(
    stranger_client: Client, seller_client: Client, assistant_client: Client, pattern: Pattern
) -> None:
    assert stranger_client.post(ADDRESS, posted(pattern)).status_code == 302
    for client in (seller_client, assistant_client):
        assert client.post(ADDRESS, posted(pattern)).status_code == 403
        assert client.post("/desk/patterns/small-disc/unpublish/").status_code == 403
    assert not Revision.objects.exists()


def test_other_methods_are_refused(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.delete(ADDRESS).status_code == 405
    assert designer_client.get("/desk/patterns/small-disc/unpublish/").status_code == 405


def test_what_contradicts_itself_is_not_published_unless_set_aside(
    designer_client: Client, make_pattern: Callable[..., Pattern], designer: Person
) -> None:
    pattern = make_pattern(text=DISC_WRONG)
    page = designer_client.get(ADDRESS).content.decode()
    assert "1 remark must be mended or set aside first." in page
    assert designer_client.post(ADDRESS, posted(pattern)).status_code == 422
    assert not Revision.objects.exists()
    aside = {"text": DISC_WRONG, "seen": "1"}
    key = check(source_of(pattern), "us").blocking[0].key
    designer_client.post("/desk/patterns/small-disc/", aside | {"do": f"aside:{key}", f"reason-{key}": "so"})
    assert designer_client.post(ADDRESS, posted(pattern)).status_code == 302
    assert Revision.objects.get().findings[0]["aside"] == "so"


def test_text_and_facts_speak_for_the_same_sizes(designer_client: Client, full_pattern: Pattern) -> None:
    text_save(
        full_pattern, text="Sizes: 1 (2)\nRnd 1: 6 (8) sc in a magic ring. (6 (8) sts)\n", seen=1, by=None
    )
    full_pattern.refresh_from_db()
    answer = designer_client.post("/desk/patterns/net-band/publish/", posted(full_pattern))
    assert answer.status_code == 422
    assert "The facts name 3 sizes and the text is read for 2." in answer.content.decode()


@pytest.mark.parametrize("text", ["", "Fry the onions."])
def test_without_rounds_nothing_is_published(
    designer_client: Client, make_pattern: Callable[..., Pattern], text: str
) -> None:
    pattern = make_pattern(text=text)
    answer = designer_client.post(ADDRESS, posted(pattern))
    assert answer.status_code == 422
    assert "There are no rounds or rows that could be read." in answer.content.decode()
    assert not Revision.objects.exists()


@pytest.mark.parametrize("version", ["", "1", "1.0", "v1.0.0", "1.0.0.0", "a.b.c", "99999.0.0"])
def test_a_version_is_three_numbers(designer_client: Client, pattern: Pattern, version: str) -> None:
    answer = designer_client.post(ADDRESS, posted(pattern, version=version, changes="my words"))
    assert answer.status_code == 422
    assert "my words" in answer.content.decode()
    assert not Revision.objects.exists()


def test_a_version_that_is_taken_is_refused(
    designer_client: Client, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    publish(pattern)
    answer = designer_client.post(ADDRESS, posted(pattern))
    assert answer.status_code == 422
    assert "There is a version 1.0.0 already." in answer.content.decode()


def test_what_somebody_saved_in_between_is_shown_before_it_is_published(
    designer_client: Client, pattern: Pattern, owner: Person
) -> None:
    data = posted(pattern)
    text_save(pattern, text=DISC + "Rnd 4: Sc in each st around. (18 sts)\n", seen=1, by=owner)
    answer = designer_client.post(ADDRESS, data)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody saved a change in the meantime." in page
    assert 'name="text_edit" value="2"' in page
    assert not Revision.objects.exists()


def test_the_next_version_is_suggested(
    designer_client: Client, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    publish(pattern)
    assert 'value="1.0.1"' in designer_client.get(ADDRESS).content.decode()


def test_what_a_reader_would_miss_is_named(designer_client: Client, pattern: Pattern) -> None:
    page = designer_client.get(ADDRESS).content.decode()
    for words in ("A photo.", "The hook.", "The gauge; without it", "The yarn."):
        assert words in page


def test_unpublishing_takes_it_off_the_site(
    designer_client: Client, stranger_client: Client, published: Revision
) -> None:
    assert stranger_client.get("/p/net-band/").status_code == 200
    assert designer_client.post("/desk/patterns/net-band/unpublish/").status_code == 302
    assert stranger_client.get("/p/net-band/").status_code == 404
    assert Revision.objects.get() == published


def test_a_preview_is_for_the_people_here(
    designer_client: Client, stranger_client: Client, seller_client: Client, full_pattern: Pattern
) -> None:
    address = "/desk/patterns/net-band/preview/"
    page = designer_client.get(address).content.decode()
    assert "A preview from what is saved now" in page
    assert "Rnd 2" in page
    assert ".pdf" not in page
    assert "M</a>" in designer_client.get(f"{address}?size=m").content.decode()
    assert designer_client.get(f"{address}?size=none").status_code == 200
    assert stranger_client.get(address).status_code == 302
    assert seller_client.get(address).status_code == 403
    assert designer_client.post(address).status_code == 405
