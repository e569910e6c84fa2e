"""The designer's acts on a remark: answer, set aside, take in, undo."""

from collections.abc import Callable

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.reviews.answers import AnswerError, LineChangedError, remark_take_in, remark_undo
from patterns.reviews.models import ReaderRemark
from patterns.reviews.places import line_places
from patterns.reviews.reading import remark_withdraw
from patterns.services import StaleEditError, text_save
from tests.patterns.reviews.conftest import Invited
from tests.patterns.reviews.test_remarks import SAYS, write
from workroom.models import Person

BETTER = "Rnd 2: 2 sc in each st around. (12 (16, 20) stitches)"
ADDRESS = "/desk/patterns/net-band/reviews/remark/"


@pytest.fixture
def remark(tester: Invited) -> ReaderRemark:
    return write(tester, 3, wording=BETTER)


def act(client: Client, remark: ReaderRemark, do: str, **more: str) -> int:
    status = client.post(f"{ADDRESS}{remark.pk}/", {"do": do, **more}).status_code
    remark.refresh_from_db()
    return status


def lines(pattern: Pattern) -> list[str]:
    pattern.refresh_from_db()
    return pattern.text.split("\n")


def test_one_press_takes_the_wording_in_and_one_takes_it_out(
    designer_client: Client, remark: ReaderRemark, full_pattern: Pattern, tester: Invited
) -> None:
    before = lines(full_pattern)
    assert act(designer_client, remark, "take", wording=BETTER, seen="1") == 302
    assert remark.state == "taken"
    assert lines(full_pattern) == [*before[:2], BETTER, *before[3:]]
    assert full_pattern.saved_texts.count() == 3, "saved as every text is"
    assert "Taken into the pattern." in tester.browser.get(tester.address).content.decode()
    assert act(designer_client, remark, "undo", seen="2") == 302
    assert (remark.state, lines(full_pattern)) == ("open", before)


def test_a_line_that_moved_is_found(remark: ReaderRemark, full_pattern: Pattern, designer: Person) -> None:
    text_save(full_pattern, text="A band for one head.\n\n" + full_pattern.text, seen=1, by=designer)
    saved = remark_take_in(remark, wording=BETTER, seen=2, by=designer)
    assert saved.text.split("\n")[4] == BETTER


def test_a_line_that_changed_is_refused_with_both(
    designer_client: Client, remark: ReaderRemark, full_pattern: Pattern, designer: Person
) -> None:
    now = full_pattern.text.replace("2 sc in each st", "inc in each st")
    text_save(full_pattern, text=now, seen=1, by=designer)
    answer = designer_client.post(
        f"{ADDRESS}{remark.pk}/", {"do": "take", "wording": "My own words.", "seen": "2"}
    )
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "This line has changed since the remark was written" in page
    assert "<q>Rnd 2: 2 sc in each st around. (12 (16, 20) sts)</q>" in page
    assert "<q>Rnd 2: inc in each st around. (12 (16, 20) sts)</q>" in page
    assert "My own words." in page
    remark.refresh_from_db()
    assert (remark.state, lines(full_pattern)) == ("open", now.split("\n"))


def test_two_people_at_once_are_told_apart(
    designer_client: Client, remark: ReaderRemark, full_pattern: Pattern, designer: Person
) -> None:
    text_save(full_pattern, text=full_pattern.text + "Fasten off.\n", seen=1, by=designer)
    answer = designer_client.post(f"{ADDRESS}{remark.pk}/", {"do": "take", "wording": BETTER, "seen": "1"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody saved the instructions since you looked." in page
    assert 'name="seen" value="2"' in page, "the next press is knowing"
    remark.refresh_from_db()
    assert remark.state == "open"
    assert act(designer_client, remark, "take", wording=BETTER, seen="2") == 302


def test_a_line_written_over_since_is_not_undone(
    remark: ReaderRemark, full_pattern: Pattern, designer: Person
) -> None:
    saved = remark_take_in(remark, wording=BETTER, seen=1, by=designer)
    remark.refresh_from_db()
    text_save(saved, text=saved.text.replace(BETTER, "Rnd 2: quite another."), seen=2, by=designer)
    with pytest.raises(LineChangedError) as refused:
        remark_undo(remark, seen=3, by=designer)
    assert (refused.value.then, refused.value.now) == (BETTER, "Rnd 2: quite another.")


def test_it_is_taken_in_once(remark: ReaderRemark, designer: Person) -> None:
    remark_take_in(remark, wording=BETTER, seen=1, by=designer)
    with pytest.raises(LineChangedError):
        remark_take_in(remark, wording="Another.", seen=2, by=designer)
    remark.refresh_from_db()
    remark_undo(remark, seen=2, by=designer)
    with pytest.raises(LineChangedError):
        remark_undo(remark, seen=3, by=designer)


def test_what_its_reader_took_back_can_t_be_taken_in(remark: ReaderRemark, designer: Person) -> None:
    remark_withdraw(remark)
    with pytest.raises(AnswerError, match="its reader has taken it back"):
        remark_take_in(remark, wording=BETTER, seen=1, by=designer)


def test_a_stale_save_marks_nothing(remark: ReaderRemark, designer: Person) -> None:
    with pytest.raises(StaleEditError):
        remark_take_in(remark, wording=BETTER, seen=0, by=designer)
    remark.refresh_from_db()
    assert remark.state == "open"


def test_a_remark_is_answered_set_aside_and_opened_again(
    designer_client: Client, remark: ReaderRemark
) -> None:
    assert act(designer_client, remark, "answer", words="Count again.") == 302
    assert (remark.state, remark.answer) == ("answered", "Count again.")
    assert act(designer_client, remark, "aside", words="House style.") == 302
    assert (remark.state, remark.answer) == ("aside", "House style.")
    assert act(designer_client, remark, "reopen") == 302
    assert (remark.state, remark.answer) == ("open", "")


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"do": "answer", "words": " "}, "Write the answer first."),
        ({"do": "aside", "words": ""}, "Say in a few words why the line stays."),
        ({"do": "take", "wording": " ", "seen": "1"}, "Write the line as it should read."),
    ],
)
def test_empty_words_are_refused(
    designer_client: Client, remark: ReaderRemark, full_pattern: Pattern, sent: dict[str, str], says: str
) -> None:
    answer = designer_client.post(f"{ADDRESS}{remark.pk}/", sent)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    remark.refresh_from_db()
    assert remark.state == "open"


def test_foreign_remarks_and_unknown_acts_are_not_found(
    designer_client: Client, remark: ReaderRemark, pattern: Pattern
) -> None:
    assert act(designer_client, remark, "praise") == 404
    foreign = f"/desk/patterns/small-disc/reviews/remark/{remark.pk}/"
    assert designer_client.post(foreign, {"do": "answer", "words": "x"}).status_code == 404
    assert remark.state == "open"


def test_a_remark_on_the_whole_has_no_line_to_take(tester: Invited, designer: Person) -> None:
    remark = write(tester, 0, SAYS)
    with pytest.raises(AnswerError, match="Write the line"):
        remark_take_in(remark, wording="x", seen=1, by=designer)


def test_the_editor_shows_where_readers_remarked(
    designer_client: Client, tester: Invited, make_pattern: Callable[..., Pattern]
) -> None:
    write(tester, 3)
    write(tester, 0, "Lovely.")
    page = " ".join(designer_client.get("/desk/patterns/net-band/").content.decode().split())
    assert 'href="/desk/patterns/net-band/reviews/#line-3">line 3</a>' in page
    assert "on the whole</a>" in page


def test_lines_find_their_places() -> None:
    places = line_places("a\nb\nc\nd", "x\na\nB\nc")
    assert [(places[n].line, places[n].same) for n in (1, 2, 3, 4)] == [
        (2, True), (3, False), (4, True), (None, False),
    ]  # fmt: skip
