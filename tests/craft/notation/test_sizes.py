"""Several sizes in one text (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from craft.notation.sizes import positions_named, size_names
from tests.craft.notation.describe import lines, steps


@pytest.mark.parametrize(
    ("printed", "names"),
    [
        ("S (M, L, XL)", ("S", "M", "L", "XL")),
        ("XS (S-M-L-XL)", ("XS", "S", "M", "L", "XL")),
        ("S, M, L", ("S", "M", "L")),
        ("Small (Medium, Large)", ("Small", "Medium", "Large")),
        ("XS/S (M-L/XL-2/3XL)", ("XS/S", "M", "L/XL", "2/3XL")),
        ("S (M) L", ("S", "M", "L")),
        ("0-3 months (3-6 months, 6-12 months)", ("0-3 months", "3-6 months", "6-12 months")),
        ("One size", ()),
    ],
)
def test_size_names(printed: str, names: tuple[str, ...]) -> None:
    assert size_names(printed) == names


HEAD = "Sizes: S (M, L, XL)\nCh 20.\n"


@pytest.mark.parametrize(
    ("printed", "reads"),
    [
        ("sc in next 5 (6, 7, 8) sts.", "1 sc @ next 5/6/7/8 st"),
        ("sc in next 5 (6-7-8) sts.", "1 sc @ next 5/6/7/8 st"),
        ("sc in next 5 [6, 7, 8] sts.", "1 sc @ next 5/6/7/8 st"),
        ("sc in next (5-6-7-8) sts.", "1 sc @ next 5/6/7/8 st"),
        ("sc in next 5 (6, 7) (8) sts.", "1 sc @ next 5/6/7/8 st"),
        ("sc in next 5 (-, 7, 8) sts.", "1 sc @ next 5/-/7/8 st"),
        ("sc in next 0 (2-4-6) sts.", "1 sc @ next 0/2/4/6 st"),
        ("sc in next 5 sts.", "1 sc @ next 5 st"),
    ],
)
def test_lists_of_numbers(printed: str, reads: str) -> None:
    assert steps(lines(read(f"{HEAD}Row 2: {printed}"))[1].steps) == [reads]


def test_sizes_are_found_without_a_sizes_line() -> None:
    text = (
        "Ch 41 (46, 51).\nRow 1: Sc in 2nd ch from hook and in each ch across. 40 (45, 50) sc.\n"
        "Row 2: Sc in next 20 (25, 30) sts."
    )
    assert read(text).sizes == ("1", "2", "3")


def test_sizes_are_named_by_the_sentence_that_tells_how_they_are_written() -> None:
    text = (
        "The instructions are written for size S. Changes for larger sizes are given thus S (M, L).\n"
        "Ch 41 (46, 51)."
    )
    assert read(text).sizes == ("S", "M", "L")


def test_sizes_are_named_by_the_marks_that_speak_of_some_of_them() -> None:
    text = (
        "Ch 41 (46, 51).\nRow 1: Sc in each of next 3 (4, 5) ch. 3 (4, 5) sc.\n"
        "Sizes M and L only:\nRow 2: Sc in next 4 (5) sts.\nSize S only:\nRow 2: Sc in next 3 sts."
    )
    assert read(text).sizes == ("S", "M", "L")


def test_lines_for_some_sizes_only() -> None:
    text = (
        HEAD + "Sizes L and XL only: Next row: Sc in next 7 (8) sts.\n"
        "All sizes: Next row: Sc in next 5 (6, 7, 8) sts."
    )
    _, some, every = lines(read(text))
    assert some.label.sizes == (2, 3)
    assert steps(some.steps) == ["1 sc @ next -/-/7/8 st"]
    assert every.label.sizes == ()


@pytest.mark.parametrize(
    ("mark", "positions"),
    [
        ("Size L only:", (2,)),
        ("Sizes M and L only:", (1, 2)),
        ("For sizes S, M and L only", (0, 1, 2)),
        ("Sizes M-XL only:", (1, 2, 3)),
        ("1st and 2nd sizes only:", (0, 1)),
        ("All sizes:", ()),
        ("Large size only:", (2,)),
    ],
)
def test_marks(mark: str, positions: tuple[int, ...]) -> None:
    assert positions_named(mark, ("S", "M", "L", "XL")) == positions


def test_one_size_keeps_its_brackets_as_counts() -> None:
    draft = read("Rnd 2: sc in next 5 (30)\nRnd 3: sc in each st (30)")
    assert draft.sizes == ()
    assert steps(lines(draft)[0].steps) == ["1 sc @ next 5 st"]
