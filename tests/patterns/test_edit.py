"""/desk/patterns/<slug>/: the editor. Whatever is sent, the words come back in their field."""

import json
from collections.abc import Callable
from html import escape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client

from patterns.checking import check
from patterns.models import Pattern
from patterns.selectors import source_of
from patterns.services import text_save
from patterns.source import LARGEST_TEXT
from tests.patterns.examples import DISC, DISC_WRONG
from workroom.models import Person

ADDRESS = "/desk/patterns/small-disc/"


def send(client: Client, do: str, text: str, seen: int = 1, **more: object) -> HttpResponse:
    answer = client.post(ADDRESS, {"do": do, "text": text, "seen": str(seen), **more})
    assert isinstance(answer, HttpResponse)
    return answer


def field(answer: HttpResponse) -> str:
    """What stands in the field of the page."""
    page = answer.content.decode()
    start = page.index('id="text"')
    start = page.index(">", start) + 2
    return page[start : page.index("</textarea>", start)]


def wrong_remark(pattern: Pattern) -> str:
    checked = check(source_of(pattern, DISC_WRONG), pattern.terms)
    return checked.blocking[0].key


def test_it_shows_the_text_its_counts_and_its_remarks(designer_client: Client, pattern: Pattern) -> None:
    page = designer_client.get(ADDRESS).content.decode()
    assert escape(DISC) in page
    assert "3 lines of work; 3 printed counts agree." in " ".join(page.split())
    assert 'data-line="4"' in page


def test_a_text_is_saved(designer_client: Client, pattern: Pattern) -> None:
    answer = send(designer_client, "save", "Rnd 1: 6 sc in ring.\r\nRnd 2\r\n")
    assert answer.status_code == 302
    pattern.refresh_from_db()
    assert pattern.text == "Rnd 1: 6 sc in ring.\nRnd 2\n"
    assert pattern.text_edit == 2


def test_a_stranger_and_the_wrong_roles_get_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, pattern: Pattern
) -> None:
    assert send(stranger_client, "save", "x").status_code == 302
    for client in (seller_client, assistant_client):
        assert client.get(ADDRESS).status_code == 403
        assert send(client, "save", "x").status_code == 403
    pattern.refresh_from_db()
    assert pattern.text == DISC


def test_a_pattern_that_is_not_there(designer_client: Client, studio: object) -> None:
    assert designer_client.get("/desk/patterns/none/").status_code == 404


def test_other_methods_are_refused(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.delete(ADDRESS).status_code == 405


def test_check_saves_nothing_and_keeps_the_words(designer_client: Client, pattern: Pattern) -> None:
    answer = send(designer_client, "check", DISC_WRONG)
    assert answer.status_code == 200
    assert field(answer) == escape(DISC_WRONG)
    assert "must mend" in answer.content.decode()
    pattern.refresh_from_db()
    assert pattern.text == DISC


def test_the_later_of_two_sees_both_versions(
    designer_client: Client, pattern: Pattern, owner: Person
) -> None:
    text_save(pattern, text=DISC.replace("6 sc", "8 sc"), seen=1, by=owner)
    mine = DISC.replace("Disc", "My disc")
    answer = send(designer_client, "save", mine, seen=1)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert field(answer) == escape(mine)
    assert "Somebody saved while you were writing" in page
    assert "<del>Rnd 1: 8 sc in a magic ring. (6 sts)</del>" in page
    assert "<ins>My disc</ins>" in page
    pattern.refresh_from_db()
    assert "8 sc" in pattern.text, "theirs is still what is saved"
    assert send(designer_client, "save", mine, seen=2).status_code == 302
    pattern.refresh_from_db()
    assert pattern.text == mine
    assert any("8 sc" in kept.text for kept in pattern.saved_texts.all()), "and theirs is kept"


def test_a_suggestion_is_put_in_and_taken_out_again(designer_client: Client, pattern: Pattern) -> None:
    answer = send(designer_client, "apply:" + wrong_remark(pattern), DISC_WRONG)
    assert field(answer) == escape(DISC)
    undo = json.dumps([DISC_WRONG.index("19"), "18", "19"])
    assert escape(undo) in answer.content.decode()
    assert field(send(designer_client, "undo", DISC, undo=undo)) == escape(DISC_WRONG)
    pattern.refresh_from_db()
    assert pattern.text == DISC, "nothing is saved by either"


@pytest.mark.parametrize("undo", ["", "nonsense", "[1]", '["a", 1, 2]', '[999, "x", "y"]', "{}", "null"])
def test_nonsense_to_undo_changes_nothing(designer_client: Client, pattern: Pattern, undo: str) -> None:
    assert field(send(designer_client, "undo", DISC, undo=undo)) == escape(DISC)


def test_a_suggestion_whose_line_has_changed_is_not_put_in(designer_client: Client, pattern: Pattern) -> None:
    answer = send(designer_client, "apply:" + wrong_remark(pattern), DISC)
    assert answer.status_code == 422
    assert "That line has changed since" in answer.content.decode()
    assert field(answer) == escape(DISC)


def test_a_remark_is_set_aside_with_a_reason_and_counts_again(
    designer_client: Client, pattern: Pattern
) -> None:
    key = wrong_remark(pattern)
    answer = send(designer_client, f"aside:{key}", DISC_WRONG, **{f"reason-{key}": "the join makes one"})
    page = answer.content.decode()
    assert "Stays because: the join makes one" in page
    assert field(answer) == escape(DISC_WRONG)
    assert pattern.set_aside.get().reason == "the join makes one"
    send(designer_client, f"back:{key}", DISC_WRONG)
    assert not pattern.set_aside.exists()


def test_without_a_reason_nothing_is_set_aside(designer_client: Client, pattern: Pattern) -> None:
    key = wrong_remark(pattern)
    answer = send(designer_client, f"aside:{key}", DISC_WRONG, **{f"reason-{key}": "  "})
    assert answer.status_code == 422
    assert "Say in a few words why" in answer.content.decode()
    assert not pattern.set_aside.exists()


def test_a_text_is_read_from_a_file_into_the_field(designer_client: Client, pattern: Pattern) -> None:
    file = SimpleUploadedFile("disc.txt", DISC_WRONG.encode())
    answer = send(designer_client, "import", "old words", file=file)
    assert field(answer) == escape(DISC_WRONG)
    assert "Read from the file, not yet saved." in answer.content.decode()
    pattern.refresh_from_db()
    assert pattern.text == DISC


def test_a_file_in_an_old_code_is_said(designer_client: Client, pattern: Pattern) -> None:
    file = SimpleUploadedFile("disc.txt", "Rnd 1 – naïve".encode("cp1252"))
    answer = send(designer_client, "import", "old words", file=file)
    assert field(answer) == "Rnd 1 – naïve"
    assert "It was not UTF-8" in answer.content.decode()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "Choose a file first."),
        (b"\x89PNG\r\n\x1a\n\0\0", "This file is not plain text."),
        (b"PK\x03\x04", "This file is damaged or locked."),
        (b"x" * (LARGEST_TEXT + 1), "This file is too large for one pattern."),
    ],
)
def test_a_file_that_can_t_be_read_leaves_the_words(
    designer_client: Client, pattern: Pattern, content: bytes | None, says: str
) -> None:
    more = {} if content is None else {"file": SimpleUploadedFile("f.txt", content)}
    answer = send(designer_client, "import", "my words", **more)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert field(answer) == "my words"


@pytest.mark.parametrize("do", ["save", "check", "apply:x", "import", "aside:x"])
def test_two_megabytes_are_refused_and_stay_in_the_field(
    designer_client: Client, pattern: Pattern, do: str
) -> None:
    huge = "Rnd 1: 6 sc. " * 160_000
    answer = send(designer_client, do, huge)
    assert answer.status_code == 422
    assert "at most 200,000 are taken. Nothing was saved" in answer.content.decode()
    assert field(answer) == huge
    pattern.refresh_from_db()
    assert pattern.text == DISC


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "Nothing to check yet."),
        ("🧶🧶", "Not checked: no line of this text reads as a round or a row."),
        ("Fry the onions. Add 2 carrots.", "Not checked: no line of this text reads as a round or a row."),
        ("\0\0Rnd 1: 6 sc in ring.\0", "1 line of work"),
        ("مرحبا بالعالم", "Not checked: no line"),
    ],
)
def test_what_is_no_pattern_is_saved_and_honestly_not_checked(
    designer_client: Client, pattern: Pattern, text: str, says: str
) -> None:
    answer = send(designer_client, "check", text)
    assert answer.status_code == 200
    assert says in " ".join(answer.content.decode().split())
    assert send(designer_client, "save", text).status_code == 302
    pattern.refresh_from_db()
    assert pattern.text == text.replace("\0", "")


@pytest.mark.parametrize("seen", ["", "x", "-1", "99999999999999999999", "1.5"])
def test_a_save_that_does_not_say_what_it_saw_is_a_conflict(
    designer_client: Client, pattern: Pattern, seen: str
) -> None:
    answer = designer_client.post(ADDRESS, {"do": "save", "text": "mine", "seen": seen})
    assert answer.status_code == 409
    pattern.refresh_from_db()
    assert pattern.text == DISC


def test_counts_of_one_size(designer_client: Client, full_pattern: Pattern) -> None:
    answer = designer_client.post(
        "/desk/patterns/net-band/", {"do": "check", "text": full_pattern.text, "seen": "1", "size": "1"}
    )
    page = answer.content.decode()
    assert '<option value="1" selected>M</option>' in page
    assert '<td class="num">16</td>' in page


def test_marks_are_counted_as_the_browser_does(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text="🧶🧶\n" + DISC_WRONG)
    page = designer_client.get(ADDRESS).content.decode()
    place = ("🧶🧶\n" + DISC_WRONG).index("19") + 2
    assert f'data-from="{place}"' in page
