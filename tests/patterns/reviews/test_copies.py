"""The frozen draft: the sheet that a reader sees is the one that the designer saw."""

from collections.abc import Callable

from django.template.loader import render_to_string

from patterns.models import Pattern
from patterns.reviews.copies import copy_now
from patterns.services import remark_set_aside
from patterns.sheet import sheet_of
from tests.patterns.examples import DISC_WRONG
from tests.patterns.reviews.conftest import Invited
from workroom.models import Person


def test_the_frozen_sheet_reads_as_the_live_one(
    make_pattern: Callable[..., Pattern], designer: Person
) -> None:
    """Found in the text and in a field, set aside, not understood and not made: all word for word."""
    pattern = make_pattern(
        text=DISC_WRONG.replace("(12 sts)", "(13 sts)") + "Rnd 4: Blorb the flange.\n",
        notes="Ch 3 counts as a dc. Ch 3 does not count as a stitch.", care="Wash at 95 degrees.",
    )  # fmt: skip
    live = sheet_of(pattern)
    remark = live.found[0].remark
    remark_set_aside(pattern, check=remark.check, line=remark.words, reason="so be it", by=designer)
    live = sheet_of(pattern)
    assert live.found
    assert live.aside
    assert live.unread
    copy = copy_now(pattern)
    draw = "patterns/_sheet_body.html"
    assert render_to_string(draw, {"sheet": copy.sheet}) == render_to_string(draw, {"sheet": live})
    copy.refresh_from_db()
    assert render_to_string(draw, {"sheet": copy.sheet}) == render_to_string(draw, {"sheet": live})


def test_a_size_that_a_newer_draft_has_no_more_is_read_with_all(tester: Invited) -> None:
    copy = tester.review.copy
    copy.facts["sizes"] = [size for size in copy.facts["sizes"] if size["key"] != "m"]
    copy.save()
    for page in ("?size=mine", "report/", "draft.pdf?size=mine"):
        assert tester.browser.get(f"{tester.address}{page}").status_code == 200


def test_what_has_not_changed_is_the_same_copy(full_pattern: Pattern) -> None:
    first = copy_now(full_pattern)
    assert copy_now(full_pattern) == first
    full_pattern.photos.update(alt="Another view.")
    second = copy_now(full_pattern)
    full_pattern.photos.update(alt="A third.")
    assert [first.number, second.number, copy_now(full_pattern).number] == ["1.0", "1.0b", "1.0c"]
