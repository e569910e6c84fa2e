"""One size out of the words for all."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.notation.writing.sizes_in_words import for_size, spans_of_sizes, words_for_size


@pytest.mark.parametrize(
    ("words", "sizes", "chosen"),
    [
        ("48 (56, 64) sts", 3, "56 sts"),
        ("48 [56, 64] sts", 3, "56 sts"),
        ("48 (56) (64) sts", 3, "56 sts"),
        ("48/56/64 sts", 3, "56 sts"),
        ("Hdc in next – (13, 6, 6, 6) sts", 5, "Hdc in next 13 sts"),
        ("(56 (60, 64, 68, 72) sts)", 5, "(60 sts)"),
        ("work 2.5 (3, 3.5) cm", 3, "work 3 cm"),
        ("repeat 4 (–, 6) times", 3, "repeat – times"),
        ("Rnds 10–15 (16, 17)", 3, "Rnds 10–16"),
        ("ch 41 (46-51)", 3, "ch 46"),
        ("(20-25-30) sts", 3, "25 sts"),
        ("around. (-, 20, 22)", 3, "around. (20)"),
        ("(24, 28, 32 sc)", 3, "(24, 28, 32 sc)"),
    ],
)
def test_a_group_with_one_number_a_size_is_reduced(words: str, sizes: int, chosen: str) -> None:
    assert for_size(words, 1, sizes) == chosen


@pytest.mark.parametrize(
    "words",
    [
        "2 sc in next st (12 sts)",
        "6 (7, 8, 9) sts",
        "(3 dc, ch 2, 3 dc) in corner",
        "5 (6) sts",
        "in 1/2 of the sts",
        "[sc, inc] 6 times",
    ],
)
def test_other_brackets_stay_as_written(words: str) -> None:
    assert for_size(words, 1, 3) == words


def test_a_pattern_of_one_size_is_never_touched() -> None:
    assert for_size("48 (56, 64)", 0, 1) == "48 (56, 64)"
    assert spans_of_sizes("48 (56, 64)", 1) == []


@given(st.lists(st.integers(0, 999), min_size=2, max_size=10), st.data())
def test_every_number_comes_out_at_its_place(numbers: list[int], data: st.DataObject) -> None:
    first, *others = (str(number) for number in numbers)
    words = f"sc in next {first} ({', '.join(others)}) sts"
    place = data.draw(st.integers(0, len(numbers) - 1))
    assert for_size(words, place, len(numbers)) == f"sc in next {numbers[place]} sts"
    assert spans_of_sizes(words, len(numbers)) == [(11, len(words) - 4)]


@given(st.text(max_size=200), st.integers(2, 10))
def test_no_words_break_it(words: str, sizes: int) -> None:
    assert isinstance(for_size(words, 0, sizes), str)


def test_lines_of_a_fact_for_other_sizes_go() -> None:
    words = (
        "Sizes: S (M, L)\nFinished size: S: 40 cm\nFinished size: M: 44 cm\nGauge: M: 3\nEase: 5 (6, 7) cm\n"
    )
    assert words_for_size(words, ("S", "M", "L"), 1) == (
        "Sizes: M\nFinished size: M: 44 cm\nGauge: M: 3\nEase: 6 cm\n"
    )
