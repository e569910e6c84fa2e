"""/review/<n>/ and its remarks: what a reader sees, writes, changes and takes back."""

from collections.abc import Callable
from uuid import uuid4

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.reviews.answers import remark_answer
from patterns.reviews.asking import review_close, review_newest_draft
from patterns.reviews.models import ReaderRemark, Review
from patterns.services import text_save
from tests.patterns.reviews.conftest import Invited
from workroom.models import Person

SAYS = "I get 16, not 18."


def words(line: int, says: str = SAYS, **more: str) -> dict[str, str]:
    form = {"form_key": str(uuid4()), "kind": "count", "says": says, **more}
    return {f"r{line}-{name}": value for name, value in form.items()}


def write(invited: Invited, line: int, says: str = SAYS, **more: str) -> ReaderRemark:
    answer = invited.browser.post(f"{invited.address}line/{line}/", words(line, says, **more))
    assert answer.status_code == 302
    return ReaderRemark.objects.latest("pk")


def test_the_draft_is_read_line_by_line_with_its_number(tester: Invited) -> None:
    page = tester.browser.get(tester.address).content.decode()
    assert "Net Band · draft 1.0 · for Nell" in page
    assert "You make size M." in page
    assert "Rnd 2: 2 sc in each st around. (12 (16, 20) sts)" in page
    assert "Sandpiper Mill Tideline Worsted" in page
    assert f"{tester.address}photo/" in page
    mine = tester.browser.get(tester.address, {"size": "mine"}).content.decode()
    assert "Rnd 2: 2 sc in each st around. (16 sts)" in mine


def test_the_copy_stays_as_it_was_when_the_designer_goes_on(
    tester: Invited, full_pattern: Pattern, designer: Person
) -> None:
    text_save(full_pattern, text="Rnd 1: all new. (6)\n", seen=1, by=designer)
    page = tester.browser.get(tester.address).content.decode()
    assert "all new" not in page
    assert "draft 1.0" in page


def test_a_newer_draft_comes_by_the_same_link_with_what_changed(
    tester: Invited, full_pattern: Pattern, designer: Person
) -> None:
    remark = write(tester, 3)
    text = full_pattern.text.replace("Band\n", "Band\nFor one head.\n").replace("20) sts", "20) stitches")
    assert not review_newest_draft(tester.review)
    text_save(full_pattern, text=text, seen=1, by=designer)
    assert review_newest_draft(tester.review)
    page = tester.browser.get(tester.address).content.decode()
    assert "draft 2.0" in page
    assert "2 lines have changed since draft 1.0" in page
    line = page[page.index('id="line-4"') : page.index("</ol>", page.index('id="line-4"'))]
    assert remark.says in line, "the remark has gone along with its line"
    assert "written on draft 1.0" in line


def test_a_remark_is_tied_to_its_line(tester: Invited) -> None:
    form = tester.browser.get(tester.address, {"line": 3}).content.decode()
    assert "How the line should read" in form
    remark = write(tester, 3, wording="Rnd 2:  2 sc in each st.\n (12)")
    assert (remark.line, remark.kind, remark.says) == (3, "count", SAYS)
    assert remark.words == "Rnd 2: 2 sc in each st around. (12 (16, 20) sts)"
    assert remark.wording == "Rnd 2: 2 sc in each st. (12)", "one line"
    page = tester.browser.get(tester.address).content.decode()
    assert SAYS in page
    assert "Not answered yet." in page


def test_a_remark_on_the_whole(tester: Invited) -> None:
    remark = write(tester, 0, "A lovely band.")
    assert (remark.line, remark.words) == (0, "")


def test_the_same_form_sent_twice_counts_once(tester: Invited) -> None:
    form = words(2)
    for _n in range(2):
        assert tester.browser.post(f"{tester.address}line/2/", form).status_code == 302
    assert tester.review.remarks.count() == 1


def test_htmx_gets_the_line_alone(tester: Invited) -> None:
    htmx = {"HX-Request": "true"}
    form = tester.browser.get(tester.address, {"line": 2}, headers=htmx).content.decode()
    assert form.startswith('<li id="line-2"')
    assert "<form" in form
    kept = tester.browser.post(f"{tester.address}line/2/", words(2), headers=htmx).content.decode()
    assert kept.startswith('<li id="line-2"')
    assert SAYS in kept


def test_a_remark_is_changed_and_taken_back(tester: Invited) -> None:
    remark = write(tester, 3)
    address = f"{tester.address}remark/{remark.pk}/"
    form = {f"e{remark.pk}-3-{name}": value for name, value in
            {"form_key": str(remark.form_key), "kind": "words", "says": "Oh, I see."}.items()}  # fmt: skip
    assert "Change it" in tester.browser.get(tester.address, {"change": remark.pk}).content.decode()
    assert tester.browser.post(address, {**form, f"e{remark.pk}-3-says": ""}).status_code == 422
    assert tester.browser.post(address, form).status_code == 302
    remark.refresh_from_db()
    assert (remark.says, remark.kind) == ("Oh, I see.", "words")
    assert tester.browser.post(address, {"do": "withdraw"}).status_code == 302
    assert "Oh, I see." not in tester.browser.get(tester.address).content.decode()
    assert tester.browser.post(address, {"do": "withdraw"}).status_code == 404


def test_an_answer_is_seen_and_ends_changing(tester: Invited, designer: Person) -> None:
    remark = write(tester, 3)
    remark_answer(remark, answer="Count once more, please.", by=designer)
    page = tester.browser.get(tester.address).content.decode()
    assert "Count once more, please." in page
    answer = tester.browser.post(f"{tester.address}remark/{remark.pk}/", {"do": "withdraw"})
    assert answer.status_code == 409
    assert "has been answered in the meantime" in answer.content.decode()
    remark.refresh_from_db()
    assert remark.withdrawn_at is None


def test_readers_see_their_own_remarks_alone(tester: Invited, invite: Callable[..., Invited]) -> None:
    remark = write(tester, 3)
    bea = invite("Bea", size="l")
    assert SAYS not in bea.browser.get(bea.address).content.decode()
    assert bea.browser.post(f"{bea.address}remark/{remark.pk}/", {"do": "withdraw"}).status_code == 404
    assert tester.browser.post(f"{bea.address}line/3/", words(3)).status_code == 404
    assert bea.review.remarks.count() == 0


@pytest.mark.parametrize(
    ("line", "sent", "says"),
    [
        (3, {"says": "  ", "wording": "better so"}, "Write what you noticed before you send it."),
        (3, {"says": "x", "kind": "poem"}, "Select a valid choice."),
        (3, {"says": "y" * 4001, "wording": "better so"}, "at most 4000 characters"),
        (999, {"says": "far below"}, "This draft has no line 999. Choose the line again."),
    ],
)
def test_what_can_t_be_kept_is_refused_and_stays_in_its_field(
    tester: Invited, line: int, sent: dict[str, str], says: str
) -> None:
    answer = tester.browser.post(f"{tester.address}line/{line}/", words(line, **sent))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert sent.get("wording", sent["says"]) in page
    assert not tester.review.remarks.exists()


def test_a_closed_or_foreign_review_takes_no_remarks(tester: Invited, stranger_client: Client) -> None:
    assert stranger_client.post(f"{tester.address}line/3/", words(3)).status_code == 404
    review_close(tester.review)
    assert tester.browser.post(f"{tester.address}line/3/", words(3)).status_code == 410
    assert not ReaderRemark.objects.exists()


def test_remarks_take_posts_only(tester: Invited) -> None:
    assert tester.browser.get(f"{tester.address}line/3/").status_code == 405
    assert tester.browser.get(f"{tester.address}remark/1/").status_code == 405


def test_an_editor_is_through_and_has_no_report(editor: Invited) -> None:
    assert "I am through" in editor.browser.get(editor.address).content.decode()
    assert editor.browser.get(f"{editor.address}finish/").status_code == 405
    assert editor.browser.post(f"{editor.address}finish/").status_code == 302
    assert Review.objects.get(pk=editor.review.pk).finished_at is not None
    assert editor.browser.get(f"{editor.address}report/").status_code == 404
    assert editor.browser.post(f"{editor.address}report/photos/").status_code == 404
