"""Two versions side by side."""

from hypothesis import given
from hypothesis import strategies as st

from patterns.differences import DiffRow, side_by_side

LINES = st.lists(st.sampled_from(["a", "b", "c", "d", ""]), max_size=30).map("\n".join)


def test_a_changed_an_added_and_a_missing_line() -> None:
    assert side_by_side("one\ntwo\nthree", "one\n2\nthree\nfour").rows == (
        DiffRow("same", 1, "one", 1, "one"),
        DiffRow("changed", 2, "two", 2, "2"),
        DiffRow("same", 3, "three", 3, "three"),
        DiffRow("added", None, "", 4, "four"),
    )
    assert side_by_side("one\ntwo", "one").rows[1] == DiffRow("gone", 2, "two", None, "")


def test_long_equal_stretches_are_left_out_and_counted() -> None:
    same = "\n".join(str(number) for number in range(20))
    rows = side_by_side(f"x\n{same}", f"y\n{same}").rows
    assert [row.kind for row in rows] == ["changed", "same", "same", "skipped", "same", "same"]
    assert rows[3].left == "16"


def test_texts_alike_differ_in_nothing() -> None:
    assert side_by_side("a\nb", "a\nb").differing == 0


@given(LINES, LINES)
def test_no_line_of_either_is_lost(left: str, right: str) -> None:
    rows = side_by_side(left, right).rows
    skipped = sum(int(row.left) for row in rows if row.kind == "skipped")
    lefts = sum(row.left_line is not None for row in rows) + skipped
    rights = sum(row.right_line is not None for row in rows) + skipped
    assert (lefts, rights) == (left.count("\n") + 1, right.count("\n") + 1)
