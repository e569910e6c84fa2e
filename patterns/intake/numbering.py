"""Automatic numbers of word processors, as they are printed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["Level", "numeral"]


@dataclass(frozen=True, slots=True)
class Level:
    """One level of a list. `words`: what is printed, "%1" for the number of level 1."""

    kind: str
    words: str
    start: int = 1

    def shown(self, counts: Mapping[int, int]) -> str:
        """The mark of an item and the space after it."""
        if self.kind == "bullet":
            return "• "
        if self.kind == "none":
            return ""
        mark = re.sub(r"%(\d)", lambda place: numeral(counts.get(int(place[1]), 1), self.kind), self.words)
        return f"{mark} " if mark.strip() else ""


def numeral(number: int, kind: str) -> str:
    """A number as letters where the list says so; roman and other numerals as plain figures."""
    if kind in {"lowerLetter", "upperLetter", "a", "A"} and number >= 1:
        letter = chr(ord("a") + (number - 1) % 26) * ((number - 1) // 26 + 1)
        return letter.upper() if kind in {"upperLetter", "A"} else letter
    return str(number)
