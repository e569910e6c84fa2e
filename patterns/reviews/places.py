"""Where the lines of an older draft stand in the text of today."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher

__all__ = ["LinePlace", "line_places", "place_of"]


@dataclass(frozen=True, slots=True)
class LinePlace:
    """`line` from 1 in the text of today, None where it is gone; `words` as they are now."""

    line: int | None
    words: str
    same: bool


def line_places(before: str, after: str) -> dict[int, LinePlace]:
    """Every line of `before`, by its number from 1, with its place in `after`.

    A line that was rewritten is taken to stand where the lines around it put it.
    """
    old, new = before.split("\n"), after.split("\n")
    places: dict[int, LinePlace] = {}
    matcher = SequenceMatcher(None, old, new, autojunk=False)
    for tag, left, left_end, right, right_end in matcher.get_opcodes():
        for step, index in enumerate(range(left, left_end)):
            now = right + step
            if now < right_end:
                places[index + 1] = LinePlace(now + 1, new[now], same=tag == "equal")
            else:
                places[index + 1] = LinePlace(None, "", same=False)
    return places


def place_of(before: str, after: str, line: int) -> LinePlace:
    """The place of one line."""
    return line_places(before, after).get(line, LinePlace(None, "", same=False))
