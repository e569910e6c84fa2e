"""Text to tokens: one pass of one regular expression, then words to kinds by dictionary.

A token is a kind, a value and its place. Phrases ("single crochet", "fasten off", "sl st") become one
token; the lexicon that knows them can be widened by the pattern's own stitch names.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from craft.notation.normalise import fold

__all__ = ["Lexicon", "Raw", "Tokens", "raw_tokens", "words_of"]

# group 1 a measure ("20.5 cm"), 2 number, 3 its ordinal ending, 4 word, 5 stars, 6 line end, 7 other.
# No quantifier stands inside another, so the pass is linear in the text.
_RAW = re.compile(
    r"(\d{1,4}\.\d{1,2}(?=\s?(?:cm|mm|ins?\b|inch|m\b|yd|oz|g\b|[\"')\]-])))"
    r"|(\d{1,9}(?!\d)|\d{9})(?:(st|nd|rd|th|d)(?![^\W\d_]))?"
    r"|([^\W\d_]+(?:'[^\W\d_]+)?)"
    r"|(\*+)"
    r"|(\n)"
    r"|(\S)"
)

Meaning = tuple[str, object]

_LIGATURES = str.maketrans({"\ufb01": "fi", "\ufb02": "fl", "\ufb00": "ff", "\ufb03": "ffi", "\ufb04": "ffl"})


@dataclass(slots=True)
class Raw:
    """Tokens before their meaning is known, as parallel lists.

    `words`: folded text; a number keeps its digits, an ordinal gets a kind of its own in `ordinal`.
    """

    text: str
    folded: str
    words: list[str] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    ordinal: list[bool] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.words)


def raw_tokens(text: str, folded: str | None = None) -> Raw:
    """Cut the text into words, numbers, marks and line ends."""
    folded = fold(text) if folded is None else folded
    raw = Raw(text, folded)
    words, starts, ends, ordinal = raw.words, raw.starts, raw.ends, raw.ordinal
    for match in _RAW.finditer(folded):
        start, end = match.span()
        group = match.lastindex
        words.append(match[2] if group == 3 else match[0])
        starts.append(start)
        ends.append(end)
        ordinal.append(group == 3)
    if not folded.isascii() and not _LIGATURES.keys().isdisjoint(map(ord, folded)):
        raw.words = [word.translate(_LIGATURES) for word in words]
    return raw


def words_of(phrase: str) -> tuple[str, ...]:
    """A phrase as the raw words that it is made of."""
    return tuple(match[0] for match in _RAW.finditer(fold(phrase)))


class Lexicon:
    """Words and phrases and what they mean. A meaning is (kind, value)."""

    __slots__ = ("phrases", "singles")

    def __init__(self) -> None:
        self.singles: dict[str, Meaning] = {}
        self.phrases: dict[str, list[tuple[tuple[str, ...], Meaning]]] = {}
        """First word -> the rest of each phrase, longest first."""

    def copy(self) -> Lexicon:
        """A lexicon that can be widened without changing this one."""
        other = Lexicon()
        other.singles = dict(self.singles)
        other.phrases = dict(self.phrases)
        return other

    def add(self, phrase: str, kind: str, value: object = None) -> None:
        """Add a phrase; a later addition of the same phrase wins."""
        words = words_of(phrase)
        if len(words) == 1:
            self.singles[words[0]] = (kind, value)
        elif words:
            tails = [entry for entry in self.phrases.get(words[0], ()) if entry[0] != words[1:]]
            tails.append((words[1:], (kind, value)))
            tails.sort(key=lambda entry: -len(entry[0]))
            self.phrases[words[0]] = tails

    def add_all(self, phrases: Iterable[str], kind: str, value: object = None) -> None:
        for phrase in phrases:
            self.add(phrase, kind, value)

    def replace(self, old: object, meaning: Meaning) -> None:
        """Give every word and phrase whose value is `old` a new meaning."""
        for word, found in self.singles.items():
            if found[1] is old:
                self.singles[word] = meaning
        for head, tails in self.phrases.items():
            if any(found[1] is old for _, found in tails):
                self.phrases[head] = [(tail, meaning if found[1] is old else found) for tail, found in tails]

    def look_up(self, words: list[str], at: int) -> tuple[Meaning | None, int]:
        """The meaning of the longest phrase that starts at `at`, and how many words it takes."""
        tails = self.phrases.get(words[at])
        following = words[at + 1] if at + 1 < len(words) else ""
        if tails is not None:
            for tail, meaning in tails:
                if tail[0] == following:
                    size = len(tail)
                    if size == 1 or tuple(words[at + 1 : at + 1 + size]) == tail:
                        return meaning, size + 1
        return self.singles.get(words[at]), 1


@dataclass(slots=True)
class Tokens:
    """Tokens with their meaning, as parallel lists. Spans are offsets in `text`.

    `kinds` and `values` have some empty entries past the end, so that one may look ahead.
    """

    text: str
    kinds: list[str]
    values: list[object]
    starts: list[int]
    ends: list[int]
    match: dict[int, int]
    sizes: int = 1
    """index of an opening bracket -> index of its partner (only for balanced ones)"""
