"""Writes: saved texts, two people at once, photos in order, publishing and its refusals."""

from collections.abc import Callable
from io import BytesIO

import pytest
from django.db.models import ProtectedError

from patterns import services
from patterns.checking import check
from patterns.freezing import freeze
from patterns.models import Notion, Pattern, PatternSize, Photo, Revision
from patterns.selectors import photo_is_public, published_patterns, source_of
from patterns.services import (
    NotReadyError,
    StaleEditError,
    facts_save,
    materials_save,
    pattern_create,
    pattern_unpublish,
    photo_add,
    photo_move,
    photo_remove,
    remark_set_aside,
    remark_take_back,
    revision_publish,
    text_save,
)
from tests.patterns.examples import DISC, picture
from workroom.media import store
from workroom.models import Person


def test_a_new_pattern_gets_an_address_of_its_own(designer: Person) -> None:
    titles = ["Tideline Beanie", "Tideline Beanie", "New", "קרושה", "🧶"]
    slugs = [pattern_create(title=title, by=designer).slug for title in titles]
    assert slugs == ["tideline-beanie", "tideline-beanie-2", "new-2", "pattern", "pattern-2"]


def test_a_save_keeps_the_text_and_who_saved(pattern: Pattern, designer: Person) -> None:
    saved = text_save(pattern, text="Rnd 1", seen=pattern.text_edit, by=designer)
    assert (saved.text, saved.text_edit) == ("Rnd 1", pattern.text_edit + 1)
    assert [kept.text for kept in saved.saved_texts.all()] == ["Rnd 1", DISC, ""]
    newest = saved.saved_texts.first()
    assert newest is not None
    assert newest.saved_by == designer


def test_the_later_of_two_saves_is_refused_and_nothing_is_lost(pattern: Pattern, designer: Person) -> None:
    seen = pattern.text_edit
    text_save(pattern, text="first", seen=seen, by=designer)
    with pytest.raises(StaleEditError) as refusal:
        text_save(pattern, text="second", seen=seen, by=designer)
    assert refusal.value.current.text == "first"
    pattern.refresh_from_db()
    assert pattern.text == "first"


def test_only_so_many_states_are_kept(
    pattern: Pattern, designer: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(services, "KEPT_TEXTS", 3)
    for number in range(6):
        pattern = text_save(pattern, text=str(number), seen=pattern.text_edit, by=designer)
    assert [kept.text for kept in pattern.saved_texts.all()] == ["5", "4", "3"]


def test_facts_and_sizes_are_saved_together_or_not_at_all(pattern: Pattern) -> None:
    sizes = [PatternSize(key="s", label="S"), PatternSize(key="m", label="M")]
    facts_save(pattern, seen=0, values={"title": "Wide Disc"}, sizes=sizes)
    pattern.refresh_from_db()
    assert (pattern.title, pattern.facts_edit) == ("Wide Disc", 1)
    assert list(pattern.sizes.values_list("key", "position")) == [("s", 0), ("m", 1)]
    with pytest.raises(StaleEditError):
        facts_save(pattern, seen=0, values={"title": "Narrow"}, sizes=[])
    pattern.refresh_from_db()
    assert (pattern.title, pattern.sizes.count()) == ("Wide Disc", 2)


def test_materials_are_replaced_in_their_order(full_pattern: Pattern) -> None:
    kept = list(full_pattern.yarns.all())
    materials_save(full_pattern, seen=0, yarns=kept, notions=[Notion(text="marker"), Notion(text="needle")])
    assert [yarn.key for yarn in full_pattern.yarns.all()] == ["A"]
    assert [notion.text for notion in full_pattern.notions.all()] == ["marker", "needle"]
    with pytest.raises(StaleEditError):
        materials_save(full_pattern, seen=0, yarns=[], notions=[])
    assert full_pattern.yarns.count() == 1


def test_a_remark_is_set_aside_once_with_the_newest_reason(pattern: Pattern, designer: Person) -> None:
    for reason in ("first", "second"):
        remark_set_aside(pattern, check="x", line="Rnd 1", reason=reason, by=designer)
    assert list(pattern.set_aside.values_list("reason", flat=True)) == ["second"]
    remark_take_back(pattern, check="x", line="Rnd 1")
    assert not pattern.set_aside.exists()


def test_photos_keep_their_order_and_come_once(pattern: Pattern) -> None:
    photos = [photo_add(pattern, store(BytesIO(picture(300 + n, 200))), alt=str(n)) for n in range(3)]
    photo_add(pattern, store(BytesIO(picture(300, 200))), alt="again")
    photo_move(photos[2], first=True)
    assert list(pattern.photos.values_list("alt", flat=True)) == ["2", "again", "1"]
    photo_move(Photo.objects.get(pk=photos[2].pk), first=False)
    assert list(pattern.photos.values_list("alt", flat=True)) == ["again", "2", "1"]
    photo_remove(photos[1])
    assert list(pattern.photos.values_list("alt", flat=True)) == ["again", "2"]


def test_publishing_keeps_a_revision_and_shows_its_photos(published: Revision) -> None:
    assert (published.number, published.version, published.title) == (1, "1.0.0", "Net Band")
    assert published_patterns().get().published == published
    assert photo_is_public(published.facts["photos"][0]["digest"])


def test_unpublishing_keeps_the_revision_and_hides_its_photos(published: Revision) -> None:
    pattern_unpublish(published.pattern)
    assert not published_patterns().exists()
    assert Revision.objects.get() == published
    assert not photo_is_public(published.facts["photos"][0]["digest"])


def test_a_revision_cannot_be_deleted_with_its_pattern(published: Revision) -> None:
    with pytest.raises(ProtectedError):
        published.pattern.delete()


def test_what_changed_since_it_was_looked_at_is_not_published(pattern: Pattern, designer: Person) -> None:
    checked = check(source_of(pattern), pattern.terms)
    revision = freeze(pattern, checked, version="1.0.0")
    text_save(pattern, text=DISC, seen=pattern.text_edit, by=designer)
    with pytest.raises(StaleEditError):
        revision_publish(pattern, revision, text_edit=pattern.text_edit, facts_edit=0, by=designer)
    assert not Revision.objects.exists()


def test_a_version_is_published_once(pattern: Pattern, publish: Callable[..., Revision]) -> None:
    publish(pattern)
    with pytest.raises(NotReadyError, match=r"There is a version 1\.0\.0 already\."):
        publish(pattern)
    assert publish(pattern, "1.0.1").number == 2
