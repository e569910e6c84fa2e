"""The whole text as the reader takes it, and the way back to the fields."""

import pytest

from craft.notation.tree import Span
from patterns.source import LARGEST_TEXT, Place, TextTooLongError, cleaned_text, compose


def test_a_pattern_of_one_size_without_notes_is_the_text_alone() -> None:
    source = compose("Rnd 1: 6 sc in ring.")
    assert source.whole == "Rnd 1: 6 sc in ring."
    assert source.head_lines == 0


def test_sizes_special_stitches_and_notes_stand_above() -> None:
    source = compose("Rnd 1", sizes=("S", "M", "L"), special_stitches="bo: 5 dc", notes="Do not turn.")
    assert source.whole == ("Sizes: S (M, L)\nSpecial stitches:\nbo: 5 dc\nNotes:\nDo not turn.\n\nRnd 1")
    assert source.head_lines == 6


@pytest.mark.parametrize("line", ["Sizes: 1 (2, 3)", "  size: S, M", "SIZES: x"])
def test_sizes_that_the_text_states_win(line: str) -> None:
    assert "Sizes: S (M" not in compose(f"{line}\nRnd 1", sizes=("S", "M")).whole


def test_a_span_goes_back_to_its_field() -> None:
    source = compose("Rnd 1: sc.", sizes=("S", "M"), notes="Do not turn.")
    start = source.whole.index("Rnd 1")
    assert source.place(Span(start, start + 5)) == Place("text", 0, 5)
    start = source.whole.index("turn")
    assert source.place(Span(start, start + 4)) == Place("notes", 7, 11)
    assert source.place(Span(0, 5)).field == "sizes"


def test_every_place_of_the_head_belongs_somewhere() -> None:
    source = compose("x", sizes=("S", "M"), special_stitches="a: b", notes="c")
    for start in range(len(source.whole)):
        assert source.place(Span(start, start + 1)).start >= 0


def test_line_ends_and_stray_marks_are_evened_out() -> None:
    assert cleaned_text("\ufeffa\r\nb\rc\0") == "a\nb\nc"


def test_a_text_that_is_too_long_is_refused_with_its_length() -> None:
    with pytest.raises(TextTooLongError) as refusal:
        cleaned_text("x" * (LARGEST_TEXT + 1))
    assert refusal.value.length == LARGEST_TEXT + 1
