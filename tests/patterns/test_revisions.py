"""What the rooms above read from a revision."""

import pytest

from patterns import revisions
from patterns.models import Notion, Pattern, Revision
from patterns.revisions import NotionNeed, SizeInfo, UnknownSizeError


def test_sizes(published: Revision) -> None:
    assert revisions.sizes(published)[1] == SizeInfo("m", "M", "", "2 cm")
    assert revisions.size_info(published, "l").label == "L"


def test_a_pattern_of_one_size_has_the_key_one(pattern: Pattern, publish: object) -> None:
    assert callable(publish)
    revision = publish(pattern)
    assert [size.key for size in revisions.sizes(revision)] == ["one"]


def test_materials_in_whole_metres_and_milligrams(published: Revision) -> None:
    (need,) = revisions.materials(published, "l")
    entry = published.estimate["yarn"]["l"][0]
    assert (need.key, need.balls, need.strands, need.colour) == ("A", 1, 1, "Harbour")
    assert need.likely_m - 1 < entry["likely_mm"] / 1000 <= need.likely_m
    assert need.safe_m - 1 < entry["safe_mm"] / 1000 <= need.safe_m
    assert need.likely_mg == entry["likely_mg"]
    assert need.label == "A: Sandpiper Mill Tideline Worsted, Harbour"
    assert need.yarn_id == published.facts["yarns"][0]["yarn_id"]
    assert need.known


def test_a_yarn_without_an_estimate_is_listed_and_not_known(pattern: Pattern, publish: object) -> None:
    pattern.yarns.create(key="A", description="any worsted")
    assert callable(publish)
    (need,) = revisions.materials(publish(pattern), "one")
    assert (need.known, need.likely_m, need.safe_mg, need.yarn_name) == (False, 0, None, "any worsted")


def test_notions(full_pattern: Pattern, publish: object) -> None:
    Notion.objects.create(pattern=full_pattern, text="buttons", quantity=2, price_minor=45)
    assert callable(publish)
    assert revisions.notions(publish(full_pattern)) == (NotionNeed("buttons", 2, 45, None),)


def test_stitches_and_time(published: Revision) -> None:
    assert revisions.tally(published, "m") == {"sc": 24}
    assert revisions.stitches(published, "m") == 24
    assert revisions.estimated_minutes(published, "m") == 2


@pytest.mark.parametrize(
    "read", [revisions.materials, revisions.tally, revisions.stitches, revisions.estimated_minutes]
)
def test_a_size_that_is_not_there_is_refused(published: Revision, read: object) -> None:
    assert callable(read)
    with pytest.raises(UnknownSizeError, match="There is no size “xl” in this pattern"):
        read(published, "xl")


def test_a_later_change_of_pattern_or_shelf_changes_nothing(published: Revision) -> None:
    before = revisions.materials(published, "s")
    Pattern.objects.update(text="", hook_um=9000)
    published.pattern.yarns.all().delete()
    published.refresh_from_db()
    assert revisions.materials(published, "s") == before
