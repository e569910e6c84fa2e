"""Line labels in every style of the survey of written patterns (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from craft.notation.tree import Kind, Label
from tests.craft.notation.describe import lines, one

WORK = "1 sc in each st around."


@pytest.mark.parametrize(
    ("printed", "kind", "numbers"),
    [
        ("Row 5:", Kind.ROW, (5,)),
        ("rw5:", Kind.ROW, (5,)),
        ("Round 5:", Kind.ROUND, (5,)),
        ("Rnd 5:", Kind.ROUND, (5,)),
        ("RND 5:", Kind.ROUND, (5,)),
        ("Rnd5:", Kind.ROUND, (5,)),
        ("5th row:", Kind.ROW, (5,)),
        ("5th Rnd:", Kind.ROUND, (5,)),
        ("2d row.", Kind.ROW, (2,)),
        ("R5:", Kind.ROUND, (5,)),
        ("R5)", Kind.ROUND, (5,)),
        ("5.", Kind.ROUND, (5,)),
        ("5)", Kind.ROUND, (5,)),
        ("5:", Kind.ROUND, (5,)),
        ("Ninth round:", Kind.ROUND, (9,)),
        ("Row 5 –", Kind.ROW, (5,)),
        ("Rnd 5.", Kind.ROUND, (5,)),
        ("Row 5", Kind.ROW, (5,)),
        ("Row #5:", Kind.ROW, (5,)),
        ("3. Row 2:", Kind.ROW, (2,)),
    ],
)
def test_label_styles(printed: str, kind: Kind, numbers: tuple[int, ...]) -> None:
    label = one(f"{printed} {WORK}").label
    assert (label.kind, label.numbers) == (kind, numbers)


@pytest.mark.parametrize(
    ("printed", "numbers"),
    [
        ("Rnds 5-9:", (5, 6, 7, 8, 9)),
        ("Rnd 5 to Rnd 9:", (5, 6, 7, 8, 9)),
        ("R16 to R18:", (16, 17, 18)),
        ("Rows 5 – 9:", (5, 6, 7, 8, 9)),
        ("5-9 rows:", (5, 6, 7, 8, 9)),
        ("5th to 9th rnds:", (5, 6, 7, 8, 9)),
        ("Rows 5 and 6:", (5, 6)),
        ("5th and 6th rnds:", (5, 6)),
        ("R5 & R6:", (5, 6)),
        ("Rows 3, 5 and 7:", (3, 5, 7)),
        ("5-8)", (5, 6, 7, 8)),
        ("Rounds 4 through 6:", (4, 5, 6)),
    ],
)
def test_labels_for_several_rounds(printed: str, numbers: tuple[int, ...]) -> None:
    assert one(f"{printed} {WORK}").label.numbers == numbers


def _label(printed: str) -> Label:
    return one(f"{printed} {WORK}").label


def test_the_number_of_rounds_may_be_printed_beside_a_range() -> None:
    assert _label("Rnds 5-9 (5 rnds):").stated_number_of_rounds == (5,)
    assert _label("Rnds 5-9 (4 rnds):").stated_number_of_rounds == (4,)


@pytest.mark.parametrize("printed", ["Row 1 (RS):", "Row 1 (right side):", "1st row: (RS)."])
def test_the_right_side_is_part_of_the_label(printed: str) -> None:
    assert _label(printed).side == "RS"


def test_the_wrong_side() -> None:
    assert _label("1st row (wrong side):").side == "WS"


@pytest.mark.parametrize(
    ("printed", "every"),
    [
        ("2nd and alt rows:", (2, 2)),
        ("2nd row and every alt row:", (2, 2)),
        ("2nd and every foll 4th row:", (2, 4)),
    ],
)
def test_rows_that_stand_for_every_other(printed: str, every: tuple[int, int]) -> None:
    assert _label(printed).every == every


@pytest.mark.parametrize("printed", ["Rounds 9+:", "Rows 4 and up:"])
def test_open_ranges(printed: str) -> None:
    assert _label(printed).open_ended


@pytest.mark.parametrize(
    ("printed", "word", "numbers"),
    [
        ("Next row:", "next", ()),
        ("Next rnd:", "next", ()),
        ("Last row:", "last", ()),
        ("Final round:", "last", ()),
        ("Set-up rnd:", "set - up", ()),
        ("Foundation row:", "foundation", ()),
        ("Decrease Row 2:", "decrease", (2,)),
    ],
)
def test_labels_in_words(printed: str, word: str, numbers: tuple[int, ...]) -> None:
    label = _label(printed)
    assert (label.word, label.numbers) == (word, numbers)


def test_next_rows_say_how_many() -> None:
    assert _label("Next 4 rows:").stated_number_of_rounds == (4,)


def test_a_range_that_depends_on_the_size() -> None:
    text = "Sizes: S (M, L)\nCh 20.\nRows 2-4 (6, 9): 1 sc in each st across."
    label = lines(read(text))[1].label
    assert (label.numbers, label.per_size_last) == ((2, 3, 4), (4, 6, 9))


@pytest.mark.parametrize(
    "text",
    [
        "Row 1: 1 dc in 4th ch from hook and in each ch across.\n2nd ch from hook is skipped.",
        "Row 1: 1 sc in each st to\n3rd rnd below the marker.",
    ],
)
def test_a_line_that_begins_with_an_ordinal_is_no_label_without_its_mark(text: str) -> None:
    assert [line.label.numbers for line in lines(read(text)) if line.label.numbers] == [(1,)]


def test_labels_inside_a_paragraph_begin_lines_of_their_own() -> None:
    text = (
        "1st rnd: Ch 1. 6 sc in ring. Join. 2nd rnd: Ch 1. 2 sc in each sc around. Join. "
        "3rd rnd: Ch 1. 1 sc in each sc around. Join."
    )
    assert [line.label.numbers for line in lines(read(text))] == [(1,), (2,), (3,)]


def test_rows_that_are_repeated_stand_alone() -> None:
    text = "Row 2: Ch 1, sc in each st across, turn. Rep last row 4 times more."
    assert [line.label.numbers for line in lines(read(text))] == [(2,), ()]


def test_a_label_may_stand_alone_with_the_work_below() -> None:
    text = "Round 3:\n- Ch 2.\n- Hdc in each st around.\n- Join."
    (line,) = lines(read(text))
    assert line.label.numbers == (3,)
    assert len(line.steps) == 3


def test_the_span_of_a_label_is_its_words() -> None:
    draft = read("Crown\nRnds 5-9 (5 rnds): 1 sc in each st around.")
    label = lines(draft)[0].label
    assert draft.text[label.span.start : label.span.end] == "Rnds 5-9 (5 rnds):"
