"""The object of one file for machines, and the remarks for a person."""

from __future__ import annotations

import json
from typing import Any

import pytest

from craft import fabric, notation, techedit
from craft.notation.tree import Span
from craft.techedit.places import Places
from craft.techedit.report import as_object, as_text

TEXT = (
    "Sizes: S (M, L)\n"
    "CROWN\n"
    "Rnd 1: 6 sc in magic ring (6)\n"
    "Rnd 2: 2 sc in each st around (12)\n"
    "Rnd 3: (sc in next st, 2 sc in next st) 6 times (18 (18, 19))\n"
    "Rnds 4-5: sc in each st around\n"
)


def edited(text: str = TEXT) -> tuple[Any, ...]:
    draft = notation.read(text)
    worked = fabric.work(draft)
    return draft, worked, techedit.check(draft, worked)


@pytest.fixture
def crown() -> dict[str, Any]:
    return as_object("crown.txt", *edited())


def test_it_has_the_keys_of_the_contract(crown: dict[str, Any]) -> None:
    assert list(crown) == ["file", "terms", "sizes", "rounds", "tally", "findings", "unread"]
    assert set(crown["rounds"][0]) == {
        "line", "section", "kind", "number", "repeats", "worked", "stated", "verdict", "why", "reading",
    }  # fmt: skip
    assert set(crown["findings"][0]) == {
        "check", "ids", "level", "line", "column", "length", "round", "sizes", "says", "suggest",
    }  # fmt: skip


def test_it_can_be_written_as_json(crown: dict[str, Any]) -> None:
    assert json.loads(json.dumps(crown)) == crown


def test_file_terms_and_sizes(crown: dict[str, Any]) -> None:
    assert (crown["file"], crown["terms"], crown["sizes"]) == ("crown.txt", "us", ["S", "M", "L"])


def test_a_round_has_counts_by_size(crown: dict[str, Any]) -> None:
    third = crown["rounds"][2]
    assert (third["line"], third["section"], third["kind"], third["number"]) == (5, "CROWN", "round", 3)
    assert third["worked"] == {"total": [18, 18, 18], "sc": [18, 18, 18]}
    assert third["stated"] == {"total": [18, 18, 19]}
    assert third["verdict"] == "differs"


def test_a_line_for_two_rounds_gives_two_entries(crown: dict[str, Any]) -> None:
    assert [(r["line"], r["number"], r["verdict"], r["stated"]) for r in crown["rounds"][3:]] == [
        (6, 4, "unstated", None),
        (6, 5, "unstated", None),
    ]


def test_the_tally_is_by_stitch_and_size(crown: dict[str, Any]) -> None:
    total = 6 + 12 + 18 * 3
    assert crown["tally"]["sc"] == [total, total, total]


def test_a_finding_has_its_place_and_the_names_of_its_sizes(crown: dict[str, Any]) -> None:
    (found,) = [f for f in crown["findings"] if f["level"] == "error"]
    assert (found["check"], found["ids"], found["round"], found["sizes"]) == (
        "count-differs",
        ["J2"],
        3,
        ["L"],
    )
    line = TEXT.split("\n")[found["line"] - 1]
    place = line[found["column"] - 1 : found["column"] - 1 + found["length"]]
    assert place == "(18 (18, 19))"
    assert found["suggest"] == {"line": 5, "column": 58, "length": 2, "text": "18"}


def test_one_size_has_lists_of_one_and_no_names() -> None:
    found = as_object("one.txt", *edited("Rnd 1: 6 sc in magic ring (6)\n"))
    assert found["sizes"] == []
    assert found["rounds"][0]["worked"] == {"total": [6], "sc": [6]}


def test_what_was_not_worked_is_null() -> None:
    found = as_object(
        "gap.txt", *edited("Row 1: follow the chart.\nRow 2: sc in each st across, turn (10)\n")
    )
    assert found["rounds"][-1]["worked"] is None or found["rounds"][-1]["why"]


def test_the_remarks_point_at_the_place() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)\n"
    said = as_text("disc.txt", *edited(text))
    assert said.startswith(
        "disc.txt:2:16: must mend [count-differs]\n"
        "    Rnd 2: inc x 6 (13)\n"
        "                   ^^^^\n"
        "Rnd 2 makes 12, and 13 is printed. Print 12, or look at “inc x 6”.\n"
        "Write instead: 12\n"
    )
    assert said.endswith("disc.txt: 1 must mend, 0 look again, 0 good to know.\n")


def test_the_table_of_rounds() -> None:
    said = as_text("disc.txt", *edited("HEAD\nRnd 1: 6 sc in magic ring (6)\nNext rnd: inc x 6 (13)\n"))
    assert (
        "HEAD\n"
        "line  round       worked  printed  verdict\n"
        "2     round 1     6       6        agrees\n"
        "3     round next  12      13       differs\n"
    ) in said


def test_a_text_without_rounds_says_so() -> None:
    assert "No rounds or rows were found." in as_text("note.txt", *edited("Just a note about yarn.\n"))


@pytest.mark.parametrize(
    ("offset", "place"), [(0, (1, 1)), (2, (1, 3)), (3, (2, 1)), (4, (3, 1)), (7, (3, 4))]
)
def test_places(offset: int, place: tuple[int, int]) -> None:
    assert Places("ab\n\ncdé").line_and_column(offset) == place


def test_a_span_over_two_lines_keeps_its_length() -> None:
    assert Places("ab\ncd").span(Span(1, 5)) == {"line": 1, "column": 2, "length": 4}
