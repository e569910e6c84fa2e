"""Words of a pattern for one size: "48 (56, 64)" becomes "56".

A group of numbers is taken for sizes only when it holds exactly one number, or dash, per size:
"6 (7, 8)", "6 [7-8]", "6/7/8", and from three sizes on "(6, 7, 8)"; "6 (7) 8" is not. Everything else stays
as written.
"""

from __future__ import annotations

import re
from functools import cache
from re import Match, Pattern
from typing import Final

__all__ = ["for_size", "spans_of_sizes", "without_size_marks", "words_for_size"]

_VALUE: Final = r"(?:\d+(?:[.,]\d+)?(?:\s?[½¼¾])?|[½¼¾]|[-–—])"
_BETWEEN_DIGITS: Final = re.compile(r"(?<=\d)\s*[-–]\s*(?=\d)")
_A_WORD: Final = re.compile(r"\s{0,4}[^\W\d]")
_SPLIT: Final = re.compile(r"[\s,;/()\[\]:]+")


@cache
def _group(sizes: int) -> Pattern[str]:
    """One value and then the others in one or more brackets, or all of them with slashes."""
    others = rf"{_VALUE}(?:\s*(?:[,;:]|(?<=\d)[-–](?=\d))\s*{_VALUE})*"
    bracketed = rf"{_VALUE}(?:\s*[(\[]\s*{others}\s*[)\]])+"
    slashed = rf"{_VALUE}(?:\s?/\s?{_VALUE}){{{sizes - 1}}}(?![\d/])"
    inside = rf"|[(\[]\s*{_VALUE}(?:\s*(?:,|[-–])\s*{_VALUE}){{{sizes - 1}}}\s*[)\]]" if sizes > 2 else ""
    return re.compile(rf"(?<![\w./,])(?:{bracketed}|{slashed}{inside})")


def for_size(words: str, position: int, sizes: int) -> str:
    """The words with every group of sizes reduced to the one at `position`, from 0."""
    if sizes < 2:
        return words

    def chosen(match: Match[str]) -> str:
        values = _values(match[0])
        if len(values) != sizes:
            return match[0]
        alone = match[0][0] in "([" and not _A_WORD.match(words, match.end())
        return f"({values[position]})" if alone else values[position]

    return _group(sizes).sub(chosen, words)


def spans_of_sizes(words: str, sizes: int) -> list[tuple[int, int]]:
    """Where groups of sizes stand, as (start, end)."""
    if sizes < 2:
        return []
    found = _group(sizes).finditer(words)
    return [match.span() for match in found if len(_values(match[0])) == sizes]


def _values(group: str) -> list[str]:
    return [value for value in _SPLIT.split(_BETWEEN_DIGITS.sub(",", group)) if value]


_MARK: Final = re.compile(
    r"^[ \t]*(?:for )?(?:(?:sizes?\b[^\n:.]{1,60}?|[^\n:.]{1,24} )\bonly\b|(?:all|both) sizes\b)"
    r"[ \t]*[:.]?[ \t]*-?[ \t]*\n?",
    re.IGNORECASE | re.MULTILINE,
)


def without_size_marks(words: str) -> str:
    """The words without marks such as "Sizes M and L only:", "All sizes:"."""
    return _MARK.sub("", words)


def words_for_size(words: str, names: tuple[str, ...], position: int) -> str:
    """As `for_size`; the list of all sizes' names gives way to the one, "S (M, L)" -> "M"; and lines such as
    "Finished size: L: 60 cm" for the other sizes go.
    """
    listed = _names(names).sub(lambda _: names[position], words)
    listed = _lines_for(names[:position] + names[position + 1 :]).sub("", listed)
    return for_size(listed, position, len(names))


@cache
def _names(names: tuple[str, ...]) -> Pattern[str]:
    between = r"(?:[\s,;/()\[\]–-]|and )+"
    return re.compile(rf"(?<!\w){between.join(map(re.escape, names))}(?!\w)\s?[)\]]*", re.IGNORECASE)


@cache
def _lines_for(names: tuple[str, ...]) -> Pattern[str]:
    """Lines of a fact for one size each."""
    return re.compile(rf"^[^:\n]{{1,40}}: (?:{'|'.join(map(re.escape, names))}): .*\n?", re.MULTILINE)
