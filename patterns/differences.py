"""Two versions of a text side by side, line by line."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher

__all__ = ["DiffRow", "SideBySide", "side_by_side"]

LONG_TEXT = 8000
"""Lines of both from which frequent lines are left out of the search, so that it stays quick."""

AROUND = 2
"""Equal lines shown before and after a difference."""


@dataclass(frozen=True, slots=True)
class DiffRow:
    """One line of both. `kind`: "same", "changed", "added", "gone" or "skipped" (equal lines left out).

    `left_line`, `right_line` from 1, None where that side has no such line.
    """

    kind: str
    left_line: int | None
    left: str
    right_line: int | None
    right: str


@dataclass(frozen=True, slots=True)
class SideBySide:
    """The saved text on the left, one's own on the right."""

    rows: tuple[DiffRow, ...]

    @property
    def differing(self) -> int:
        return sum(row.kind not in {"same", "skipped"} for row in self.rows)


def side_by_side(left: str, right: str) -> SideBySide:
    """Compare two texts; long equal stretches are left out."""
    before, after = left.split("\n"), right.split("\n")
    rows: list[DiffRow] = []
    long = len(before) + len(after) > LONG_TEXT
    matcher = SequenceMatcher(None, before, after, autojunk=long)
    for tag, left_start, left_end, right_start, right_end in matcher.get_opcodes():
        pairs = _pairs(range(left_start, left_end), range(right_start, right_end))
        block = [_row(tag, pair, before, after) for pair in pairs]
        rows.extend(_shortened(block) if tag == "equal" else block)
    return SideBySide(tuple(rows))


def _pairs(left: range, right: range) -> list[tuple[int | None, int | None]]:
    longest = max(len(left), len(right))
    return [
        (left[i] if i < len(left) else None, right[i] if i < len(right) else None) for i in range(longest)
    ]


def _row(tag: str, pair: tuple[int | None, int | None], before: list[str], after: list[str]) -> DiffRow:
    left, right = pair
    kind = "same" if tag == "equal" else "changed"
    if left is None:
        kind = "added"
    elif right is None:
        kind = "gone"
    return DiffRow(
        kind,
        None if left is None else left + 1,
        "" if left is None else before[left],
        None if right is None else right + 1,
        "" if right is None else after[right],
    )


def _shortened(block: list[DiffRow]) -> list[DiffRow]:
    if len(block) <= 2 * AROUND + 1:
        return block
    gap = DiffRow("skipped", None, str(len(block) - 2 * AROUND), None, "")
    return [*block[:AROUND], gap, *block[-AROUND:]]
