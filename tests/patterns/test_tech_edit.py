"""`manage.py tech_edit`: what it prints, its exit status, and the files that it refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from patterns.management.commands.tech_edit import LARGEST_FILE_BYTES

CLEAN = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"
WRONG = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)\n"

Edit = Callable[..., tuple[int, str, str]]


@pytest.fixture
def edit() -> Edit:
    """Run the command; -> (exit status, what it printed, what it said of files)."""

    def run(*names: Path | str, **options: Any) -> tuple[int, str, str]:
        out, err = StringIO(), StringIO()
        try:
            call_command("tech_edit", *map(str, names), stdout=out, stderr=err, no_color=True, **options)
        except SystemExit as stopped:
            return int(stopped.code or 0), out.getvalue(), err.getvalue()
        return 0, out.getvalue(), err.getvalue()

    return run


def written(folder: Path, name: str, text: str | bytes) -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_it_works(edit: Edit, tmp_path: Path) -> None:
    status, out, err = edit(written(tmp_path, "disc.txt", CLEAN))
    assert (status, err) == (0, "")
    assert "round 2  12      12       agrees" in out


def test_an_error_makes_status_1(edit: Edit, tmp_path: Path) -> None:
    status, out, _ = edit(written(tmp_path, "disc.txt", WRONG))
    assert status == 1
    assert "disc.txt:2:16: must mend [count-differs]" in out


def test_json_gives_one_object_a_line_in_the_order_given(edit: Edit, tmp_path: Path) -> None:
    names = [written(tmp_path, "b.txt", WRONG), written(tmp_path, "a.txt", CLEAN)]
    status, out, _ = edit(*names, json=True)
    assert status == 1
    assert [json.loads(line)["file"] for line in out.splitlines()] == [str(name) for name in names]


def test_json_is_plain_ascii(edit: Edit, tmp_path: Path) -> None:
    _, out, _ = edit(written(tmp_path, "disc.txt", "CREPE É\n" + WRONG), json=True)
    assert out.isascii()


def test_terms_are_taken_where_the_text_does_not_say(edit: Edit, tmp_path: Path) -> None:
    text = "Row 1: Ch 12, dc in 2nd ch from hook and in each ch across, turn (11)\n"
    _, out, _ = edit(written(tmp_path, "uk.txt", text), json=True, terms="uk")
    found = json.loads(out)
    assert found["terms"] == "uk"
    assert found["rounds"][0]["worked"] == {"total": [11], "sc": [11]}


@pytest.mark.parametrize("ends", ["\r\n", "\r"])
def test_line_ends_of_all_systems_count_alike(edit: Edit, tmp_path: Path, ends: str) -> None:
    _, out, _ = edit(written(tmp_path, "disc.txt", WRONG.replace("\n", ends)), json=True)
    (found,) = [f for f in json.loads(out)["findings"] if f["level"] == "error"]
    assert (found["line"], found["column"]) == (2, 16)


def test_a_byte_order_mark_is_passed_over(edit: Edit, tmp_path: Path) -> None:
    status, out, _ = edit(written(tmp_path, "disc.txt", b"\xef\xbb\xbf" + CLEAN.encode()), json=True)
    assert status == 0
    assert json.loads(out)["rounds"][0]["line"] == 1


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty. Write the instructions into it and try again."),
        (b" \n\n", "is empty. Write the instructions into it and try again."),
        (b"Rnd 1: 6 sc\xff\n", "is not UTF-8 text (byte 12). Save it as plain text in UTF-8 and try again."),
        (
            "Rnd 1".encode("utf-16"),
            "is not UTF-8 text (byte 1). Save it as plain text in UTF-8 and try again.",
        ),
        (b"PK\x03\x04\0\0", "is not plain text. Save the pattern as plain text in UTF-8 and try again."),
        (
            b"x" * (LARGEST_FILE_BYTES + 1),
            "is larger than one megabyte. Split it into one file for each pattern.",
        ),
    ],
)
def test_error_of_a_file_that_cannot_be_used(edit: Edit, tmp_path: Path, content: bytes, says: str) -> None:
    path = written(tmp_path, "bad.txt", content)
    assert edit(path) == (2, "", f"{path} {says}\n")


def test_error_of_a_missing_file(edit: Edit, tmp_path: Path) -> None:
    path = tmp_path / "nowhere.txt"
    says = f"{path} was not found. Look at the spelling of the name and the folder.\n"
    assert edit(path) == (2, "", says)


def test_error_of_a_folder(edit: Edit, tmp_path: Path) -> None:
    says = f"{tmp_path} is a folder. Name the text files in it one by one.\n"
    assert edit(tmp_path) == (2, "", says)


def test_a_bad_file_does_not_keep_the_others_back(edit: Edit, tmp_path: Path) -> None:
    status, out, err = edit(tmp_path / "nowhere.txt", written(tmp_path, "disc.txt", CLEAN), json=True)
    assert status == 2
    assert json.loads(out)["rounds"]
    assert "was not found" in err


def test_error_of_no_file() -> None:
    with pytest.raises(CommandError, match="FILE"):
        call_command("tech_edit")


def test_error_of_unknown_terms(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="invalid choice"):
        call_command("tech_edit", str(written(tmp_path, "disc.txt", CLEAN)), "--terms", "fr")
