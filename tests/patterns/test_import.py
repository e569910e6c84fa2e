"""/desk/patterns/import/: files and pasted words, a preview, then patterns."""

import re
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client

from patterns.models import Pattern
from tests.patterns.test_intake import OLD, word_file

ADDRESS = "/desk/patterns/import/"


def fields(number: int = 0, **changed: object) -> dict[str, object]:
    """What the preview of one text sends."""
    plain = {
        "keep": "on", "title": "Harbour Mat", "terms": "us", "kind": "kitchen", "sizes": "S, M, L",
        "hook": "5", "gauge_stitches": "14", "gauge_rows": "16", "gauge_over_cm": "10", "notes": "½ × “n”",
        "text": "Mat\r\nRnd 1: 6 sc in a magic ring. (6)",
    }  # fmt: skip
    return {f"p{number}-{name}": value for name, value in {**plain, **changed}.items() if value is not None}


def make(client: Client, number: int = 1, **sent: object) -> HttpResponse:
    answer = client.post(ADDRESS, {"do": "make", "number": str(number), **(sent or fields())})
    assert isinstance(answer, HttpResponse)
    return answer


def test_files_are_shown_and_nothing_is_made(designer_client: Client, studio: object) -> None:
    files = [SimpleUploadedFile("old.txt", OLD.encode()), SimpleUploadedFile("mat.docx", word_file())]
    answer = designer_client.post(ADDRESS, {"do": "look", "files": files})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert 'value="Harbour Mat"' in page
    assert 'value="S, M, L"' in page
    assert "½ × “six”" in page
    assert 'name="p1-title"' in page
    assert not Pattern.objects.exists()


def test_a_pasted_text_is_shown(designer_client: Client, studio: object) -> None:
    page = designer_client.post(ADDRESS, {"do": "look", "pasted": OLD}).content.decode()
    assert "Blorb the flange." in page


def test_what_is_looked_at_becomes_a_pattern(designer_client: Client, studio: object) -> None:
    assert make(designer_client)["Location"] == "/desk/patterns/harbour-mat/"
    pattern = Pattern.objects.get()
    assert pattern.text == "Mat\nRnd 1: 6 sc in a magic ring. (6)"
    assert pattern.notes == "½ × “n”"
    assert (pattern.hook_um, pattern.gauge_stitches_tenths, pattern.gauge_over_mm) == (5000, 140, 100)
    assert [(size.key, size.label) for size in pattern.sizes.all()] == [("s", "S"), ("m", "M"), ("l", "L")]


def test_one_of_two_may_be_left_out(designer_client: Client, studio: object) -> None:
    left_out = fields(1, keep=None, title="")
    assert make(designer_client, 2, **fields(0), **left_out).status_code == 302
    assert Pattern.objects.count() == 1


def test_the_same_form_sent_twice_makes_its_patterns_once(designer_client: Client, studio: object) -> None:
    key = {"form_key": "9b2f6f0e-5d0a-4a76-9c36-2f1d3a5b7c90"}
    answers = [make(designer_client, 2, **fields(0), **fields(1), **key) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0]["Location"] == answers[1]["Location"]
    assert Pattern.objects.count() == 2
    other = {"form_key": "0d5f4f55-9f6e-4b7e-8f0c-6a0f4b1c2d3e"}
    make(designer_client, 2, **fields(0), **fields(1), **other)
    assert Pattern.objects.count() == 4


def test_a_text_left_out_the_first_time_still_comes_in(designer_client: Client, studio: object) -> None:
    key = {"form_key": "9b2f6f0e-5d0a-4a76-9c36-2f1d3a5b7c90"}
    make(designer_client, 2, **fields(0), **fields(1, keep=None), **key)
    make(designer_client, 2, **fields(0), **fields(1, title="Second Mat"), **key)
    assert sorted(Pattern.objects.values_list("title", flat=True)) == ["Harbour Mat", "Second Mat"]


def test_the_preview_keeps_the_key_of_its_form(designer_client: Client, studio: object) -> None:
    page = designer_client.post(
        ADDRESS, {"do": "look", "pasted": "Rnd 1: 6 sc in ring. (6)"}
    ).content.decode()
    (key,) = re.findall(r'name="form_key" value="([0-9a-f-]{36})"', page)
    refused = make(designer_client, 1, **fields(0, title=""), form_key=key)
    assert f'name="form_key" value="{key}"' in refused.content.decode()


def test_a_stranger_and_the_wrong_roles_get_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, studio: object
) -> None:
    assert make(stranger_client).status_code == 302
    for client in (seller_client, assistant_client):
        assert client.get(ADDRESS).status_code == 403
        assert make(client).status_code == 403
    assert not Pattern.objects.exists()


def test_other_methods_are_refused(designer_client: Client, studio: object) -> None:
    assert designer_client.get(ADDRESS).status_code == 200
    assert designer_client.delete(ADDRESS).status_code == 405


def test_nothing_chosen_and_too_many_files(designer_client: Client, studio: object) -> None:
    answer = designer_client.post(ADDRESS, {"do": "look"})
    assert answer.status_code == 422
    assert "Choose a file or paste a text first." in answer.content.decode()
    files = [SimpleUploadedFile(f"{number}.txt", b"x") for number in range(13)]
    answer = designer_client.post(ADDRESS, {"do": "look", "files": files, "pasted": "my words"})
    assert "Choose at most 12 files at a time." in answer.content.decode()
    assert "my words" in answer.content.decode()


def test_a_file_that_can_t_be_read_is_named(designer_client: Client, studio: object) -> None:
    bad = BytesIO(b"%PDF-1.7")
    bad.name = "scan.pdf"
    answer = designer_client.post(ADDRESS, {"do": "look", "files": [bad], "pasted": ""})
    assert answer.status_code == 422
    assert "scan.pdf: This is a pdf file." in answer.content.decode()


@pytest.mark.parametrize(
    "changed",
    [{"title": ""}, {"hook": "99"}, {"gauge_stitches": "many"}, {"sizes": "S, s"}, {"terms": "fr"},
     {"text": "x" * 200_001}],
)  # fmt: skip
def test_a_field_that_is_wrong_makes_nothing_and_keeps_the_words(
    designer_client: Client, studio: object, changed: dict[str, str]
) -> None:
    answer = make(designer_client, 2, **fields(0), **fields(1, **changed))
    assert answer.status_code == 422
    assert "½ × “n”" in answer.content.decode()
    assert not Pattern.objects.exists()


@pytest.mark.parametrize("number", ["", "0", "x", "999999999999"])
def test_nonsense_makes_nothing(designer_client: Client, studio: object, number: str) -> None:
    answer = designer_client.post(ADDRESS, {"do": "make", "number": number})
    assert answer.status_code == 422
    assert not Pattern.objects.exists()
