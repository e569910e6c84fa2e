"""/desk/patterns/<slug>/text/ and its file: the words in other terms, in a style, for one size."""

import json
from collections.abc import Callable
from html import escape, unescape

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.written import LONGEST
from tests.patterns.examples import DISC

PAGE = "/desk/patterns/small-disc/text/"
FILE = "/desk/patterns/small-disc/text.txt"
BAND = "/desk/patterns/net-band/text/"


def shown(client: Client, address: str, **asked: str) -> str:
    """The words of the page's text."""
    page = client.get(address, asked).content.decode()
    return unescape(page.split('<pre class="printed"')[1].split(">", 1)[1].split("</pre>")[0])


# ------------------------------------------------------------------------------------ the page


def test_the_page_shows_the_words_in_the_form_asked_for(designer_client: Client, pattern: Pattern) -> None:
    assert "Rnd 3: [sc in next st, 2 sc in next st] x 6. (18)" in shown(designer_client, PAGE)
    words = shown(designer_client, PAGE, terms="uk", repeats="stars", counts="dash", round_word="Round")
    assert words.startswith("Terms: UK (set over from US)\n")
    assert "Round 3: *dc in next st, 2 dc in next st; rep from * 6 times in all. \u2014 18 sts." in words


def test_repeats_are_written_out(owner_client: Client, pattern: Pattern) -> None:
    words = shown(owner_client, PAGE, repeats="out", increases="inc")
    assert f"Rnd 3: {', '.join(['Sc in next st, inc'] + ['sc in next st, inc'] * 5)}. (18)" in words


def test_one_size_of_three(designer_client: Client, full_pattern: Pattern) -> None:
    words = shown(designer_client, BAND, size="1")
    assert "Rnd 1: 8 sc in magic ring. (8)" in words
    assert "10" not in words.split("Rnd 1")[1].split("Rnd 2")[0]
    assert 'name="size"' in designer_client.get(BAND).content.decode()
    assert 'name="do" value="written"' not in designer_client.get(BAND, {"size": "1"}).content.decode()


def test_the_page_is_not_for_strangers(client: Client, pattern: Pattern) -> None:
    assert client.get(PAGE).status_code == 302


def test_the_page_is_not_for_others(
    assistant_client: Client, seller_client: Client, pattern: Pattern
) -> None:
    assert assistant_client.get(PAGE).status_code == 403
    assert seller_client.get(PAGE).status_code == 403


def test_the_page_takes_no_post(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.post(PAGE).status_code == 405


@pytest.mark.parametrize(
    "asked", [{"terms": "fr"}, {"repeats": "often"}, {"size": "7"}, {"size": "x"}, {"counts": "<b>"}]
)
def test_what_cannot_be_asked_for_is_said(
    designer_client: Client, full_pattern: Pattern, asked: dict[str, str]
) -> None:
    answer = designer_client.get(BAND, asked)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Select a valid choice" in page
    assert '<pre class="printed"' not in page


def test_a_text_that_is_too_long_is_refused(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text="Rnd 1: 6 sc in ring.\n" * (LONGEST // 20))
    for address in (PAGE, FILE):
        answer = designer_client.get(address)
        assert answer.status_code == 422
        assert "too long to be written anew" in answer.content.decode()


def test_any_words_are_shown_as_words(designer_client: Client, make_pattern: Callable[..., Pattern]) -> None:
    make_pattern(text="<script>alert(1)</script>\nRnd 1: 6 sc in ring <b>\n")
    assert "<script>alert" not in designer_client.get(PAGE).content.decode()
    assert "<script>alert(1)</script>" in shown(designer_client, PAGE)


# ---------------------------------------------------------------------------- into the draft


def test_the_words_go_into_the_field_and_back(designer_client: Client, pattern: Pattern) -> None:
    page = designer_client.get(PAGE, {"increases": "inc"}).content.decode()
    assert 'name="do" value="written"' in page
    words = unescape(page.split('<textarea name="text" hidden>\n')[1].split("</textarea>")[0])
    undo = unescape(page.split('name="undo" value="')[1].split('"')[0])
    assert words == DISC.replace("6 sc in a magic ring. (6 sts)", "6 sc in magic ring. (6)").replace(
        "2 sc in each st around. (12 sts)", "Inc in each st around. (12)"
    ).replace("[Sc in next st, 2 sc in next st] 6 times. (18 sts)", "[sc in next st, inc] x 6. (18)")
    assert json.loads(undo) == [0, words, DISC]
    sent = {"text": words, "undo": undo, "seen": str(pattern.text_edit)}
    answer = designer_client.post("/desk/patterns/small-disc/", {**sent, "do": "written"})
    assert answer.status_code == 200
    assert "Written anew in the field, not yet saved." in answer.content.decode()
    assert 'name="do" value="undo"' in answer.content.decode()
    pattern.refresh_from_db()
    assert pattern.text == DISC
    answer = designer_client.post("/desk/patterns/small-disc/", {**sent, "do": "undo"})
    assert escape(DISC.strip()) in answer.content.decode()


def test_two_people_are_told_of_each_other(designer_client: Client, pattern: Pattern) -> None:
    sent = {"text": "Rnd 1: 6 sc in ring.", "undo": "", "seen": "0", "do": "save"}
    assert designer_client.post("/desk/patterns/small-disc/", sent).status_code == 409
    pattern.refresh_from_db()
    assert pattern.text == DISC


# ------------------------------------------------------------------------------------ the file


def test_the_file_is_plain_text(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.get(FILE, {"terms": "uk"})
    assert answer["Content-Type"] == "text/plain; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="small-disc-uk.txt"'
    assert answer["Cache-Control"] == "private, no-store"
    assert "Rnd 2: 2 dc in each st around. (12)" in answer.content.decode()


def test_the_file_is_not_for_strangers(client: Client, pattern: Pattern) -> None:
    assert client.get(FILE).status_code == 302


def test_the_file_is_not_for_others(assistant_client: Client, pattern: Pattern) -> None:
    assert assistant_client.get(FILE).status_code == 403


def test_the_file_takes_no_post(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.post(FILE).status_code == 405


def test_a_file_that_cannot_be_asked_for(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.get(FILE, {"terms": "fr"})
    assert answer.status_code == 422
    assert answer["Content-Type"].startswith("text/html")
