"""Facts, headings, notes and wrapped lines told from the work (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from craft.notation.tree import Prose
from tests.craft.notation.describe import lines, sections, steps


def test_facts_stand_above_the_work() -> None:
    draft = read("Gauge: 18 sc = 10 cm\nHook: 3.5 mm\nTerms: US\n\nRow 1: sc in each st.")
    assert [(fact.name, fact.value) for fact in draft.facts] == [
        ("gauge", "18 sc = 10 cm"),
        ("hook", "3.5 mm"),
        ("terms", "US"),
    ]
    assert len(lines(draft)) == 1


def test_abbreviations_are_listed() -> None:
    draft = read(
        "Abbreviations: ch = chain; sc = single crochet; st(s) = stitch(es)\n\nRow 1: sc in each st."
    )
    assert [entry.short for entry in draft.abbreviations] == ["ch", "sc", "st(s)"]


@pytest.mark.parametrize(
    ("heading", "title", "make"),
    [
        ("Head", "Head", (1,)),
        ("EDGING", "EDGING", (1,)),
        ("Ears (make 2):", "Ears (make 2)", (2,)),
        ("Leg (Make 4)", "Leg (Make 4)", (4,)),
        ("Body:", "Body", (1,)),
    ],
)
def test_headings_open_sections(heading: str, title: str, make: tuple[int]) -> None:
    draft = read(f"Tail\nRnd 1: 6 sc in ring.\n{heading}\nRnd 1: 6 sc in ring.")
    last = sections(draft)[-1]
    assert (last.title, last.make) == (title, make)


def test_a_heading_may_stand_before_the_work_on_its_line() -> None:
    draft = read("Head: With MC, ch 2.\nRnd 1: 6 sc in 2nd ch from hook.")
    assert [(s.title, len(s.lines)) for s in sections(draft)] == [("Head", 2)]


def test_shaping_headings_go_on_with_the_piece() -> None:
    draft = read("Body\nRow 1: sc in each st.\nShape top: Next row: sc in each st.")
    assert [s.continues for s in sections(draft)] == [False, True]


def test_wrapped_lines_are_joined() -> None:
    text = (
        "2nd row: Ch 3 (counts as dc). Miss first st. 1 dc in\n"
        "each of next 4 dc. *Ch 1. Miss next dc. 1 dc in next\n"
        "dc. Rep from * to last 5 sts. 1 dc in each of last 5\n"
        "sts. Turn.\n"
        "3rd row: Ch 1. 1 sc in each st to end of row. Turn.\n"
    )
    first, second = lines(read(text))
    assert steps(first.steps) == [
        "ch 3 counts 1 dc",
        "skip first 1 st",
        "1 dc @ next 4 dc",
        "*[ch 1, skip next 1 dc, 1 dc @ next 1 dc] to last 5",
        "1 dc @ last 5 st",
        "turn",
    ]
    assert second.line_number == 5


def test_a_note_among_the_rows_is_no_work() -> None:
    draft = read("Rnd 1: 6 sc in ring.\nNote: Move marker up each round.\nRnd 2: 2 sc in each st (12)")
    assert len(lines(draft)) == 2
    assert any(isinstance(line, Prose) for line in sections(draft)[0].lines)


def test_work_may_begin_right_below_a_note() -> None:
    draft = read("Note: Ch 3 at beg of row counts as dc.\nWith B, ch 15.\n1st row: 1 sc in 2nd ch from hook.")
    assert steps(lines(draft)[0].steps) == ["with B", "ch 15"]


def test_a_hash_line_near_the_top_is_passed_over() -> None:
    draft = read("# kept by the shop\nRow 1: sc in each st.")
    assert [line.line_number for line in lines(draft)] == [2]


def test_the_text_keeps_its_words_with_plain_line_ends() -> None:
    draft = read("Row 1: sc in each st.\r\nRow 2: sc in each st.\r")
    assert draft.text == "Row 1: sc in each st.\nRow 2: sc in each st.\n"


@pytest.mark.parametrize(
    "text",
    [
        "Row 4: 1\u00a0sc in each of next\u00a05 sc.",
        "Row 4\u2013 1 sc in each of next 5 sc.",
        "Row 4: 1 s\u0441 in each of next 5 sc.",  # a Cyrillic letter that looks like c
        "\u2022 Row 4: 1 sc in each of next 5 sc.",
    ],
)
def test_look_alikes_are_folded(text: str) -> None:
    (line,) = lines(read(text))
    assert steps(line.steps) == ["1 sc @ next 5 sc"]


def test_ligatures_of_printed_books() -> None:
    (line,) = lines(read("Row 4: 1 sc in \ufb01rst sc. Fasten o\ufb00."))
    assert steps(line.steps) == ["1 sc @ first 1 sc", "fasten off"]
