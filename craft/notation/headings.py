"""Headings of parts, and marks such as "Sizes M and L only:". Works on raw tokens."""

from __future__ import annotations

from craft.notation.tokens import Raw
from craft.notation.words import wordset

__all__ = ["OPENERS", "heading_end", "opens_work", "sizes_mark_end"]

OPENERS = wordset(
    "ch chain with using make magic join fsc fhdc fdc rep repeat work hold begin beg beginning cont "
    "continue proceed starting working next draw mr"
)
"""Words that may begin the work of a piece."""
_FOUNDATIONS = wordset("ch chain fsc fhdc fdc")
_AFTER_FIRST_CHAIN = wordset(". , ; : loosely join turn ( and for with to - sl ) making being or")
_RINGS = wordset("ring mr loop circle")
_KINDS_OF_RING = wordset("magic adjustable sliding slip")
_RING_OPENERS = wordset("make magic begin start using")
_VERBS = wordset(
    "ch chain sc hdc dc tr htr dtr sl slip ss inc dec turn join rep repeat work skip sk miss fasten sew "
    "stuff place cut with using make cont continue weave attach leave in hold proceed beginning beg "
    "break change"
)
_NEVER_FIRST = wordset("rep repeat ch turn fasten join weave stuff sew")
_NOT_IN_HEADING = wordset("ch sc hdc dc htr dtr st sts stitch stitches turn until = measures sp sps rnds")
_STITCH_WORDS = wordset("stitch stitches st sts")
_NAMES_A_STITCH = _STITCH_WORDS | {"pattern", "pat"}  # "Moss Stitch Pattern"
_SMALL_WORDS = wordset("and of for the in to with or")
_HOW_MANY = wordset("two three four both")
_NO_SIZES = wordset(". ; ch sc dc hdc row rnd round rows st sts")
_CLOSE = {"(": ")", "[": "]"}
_MOST_WORDS = 9
_LONGEST_LINE = 16
_LONGEST_REMARK = 40
_LONGEST_MARK = 24


def remark_end(raw: Raw, i: int, b: int) -> int | None:
    """The index behind the bracket that opens at `i`, if it closes soon."""
    close = _CLOSE[raw.words[i]]
    for j in range(i + 1, min(b, i + _LONGEST_REMARK)):
        if raw.words[j] == close:
            return j + 1
    return None


def opens_work(raw: Raw, a: int, b: int) -> bool:
    """Whether work begins at `a`, in a place where notes stood before: "Ch 22.", "With MC, ch 12"."""
    words = raw.words
    for i in range(a, min(b, a + _LONGEST_LINE)):
        word = words[i]
        if word in _FOUNDATIONS:
            return _first_chain(raw, i, b)
        if word in {".", ";", ":"} and i > a and words[i - 1] not in {"u", "s"}:
            return False
        if word in _RINGS and i > a and (words[i - 1] in _KINDS_OF_RING or words[a] in _RING_OPENERS):
            return True
    return False


def _first_chain(raw: Raw, i: int, b: int) -> bool:
    """Whether a foundation is made at `i`: a number of chains, and then the end of the phrase."""
    words = raw.words
    if words[i] == "chain" and i + 1 < b and words[i + 1] == "(":
        i += 3  # "chain (ch) 4"
    i += 1
    if i < b and words[i] in {"-", "loosely"}:
        i += 1
    if i >= b or not words[i].isdecimal():
        return False
    i += 1
    if i + 1 < b and words[i] in _CLOSE and words[i + 1].isdecimal():
        i = remark_end(raw, i, b) or i
    return i >= b or words[i] in _AFTER_FIRST_CHAIN


def sizes_mark_end(raw: Raw, i: int, b: int) -> int | None:
    """The index behind "Sizes M and L only:", "All sizes:"; None where there is no such mark."""
    words = raw.words
    limit = min(b, i + _LONGEST_MARK)
    size = only = False
    for j in range(i, limit):
        word = words[j]
        if word == ":":
            return j + 1 if size or only else None
        if word in {"size", "sizes"}:
            size = True
        elif word == "only":
            only = True
            if size and (j + 1 >= b or words[j + 1] not in {":", "-", ")"}):
                return j + 1
        elif word in _NO_SIZES:
            return None
    return limit if limit == b and size and (only or words[i] in {"all", "both"}) else None


def heading_end(raw: Raw, a: int, b: int, *, whole_line: bool) -> int | None:
    """The index behind a heading that starts at `a`, or None. `whole_line`: the line begins at `a`."""
    if not (raw.text[raw.starts[a]].isupper() or raw.words[a].isdecimal() or raw.words[a] in _CLOSE):
        return None
    return _Heading(raw, a, b, whole_line=whole_line).end()


class _Heading:
    """A heading while it is being looked at: how many of its words are capitals."""

    __slots__ = ("a", "b", "capitals", "letters", "raw", "whole_line", "words")

    def __init__(self, raw: Raw, a: int, b: int, *, whole_line: bool) -> None:
        self.raw = raw
        self.words = raw.words
        self.a = a
        self.b = b
        self.whole_line = whole_line
        self.capitals = 0
        self.letters = 0

    def end(self) -> int | None:
        words = self.words
        i = self.a
        limit = min(self.b, i + (_LONGEST_LINE if self.whole_line else _MOST_WORDS))
        while i < limit:
            word = words[i]
            if word == ":":
                return i + 1 if self.letters and self._names_a_part(i) else None
            if word in _CLOSE:
                close = remark_end(self.raw, i, self.b)
                if close is None:
                    return None
                found = self._behind_remark(close)
                if found is not None:
                    return found
                i = close
                continue
            if word in {".", ";", "!", "="} or word[0] == "*":
                return None
            if i > self.a and self._work_follows(i):
                return i
            self._count(i)
            i += 1
        return self._whole() if i >= self.b else None

    def _upper(self, i: int) -> bool:
        return self.raw.text[self.raw.starts[i]].isupper()

    def _count(self, i: int) -> None:
        word = self.words[i]
        if word.isalpha():
            self.letters += 1
            self.capitals += self._upper(i) or word in _SMALL_WORDS

    def _behind_remark(self, i: int) -> int | None:
        """The end of a heading whose remark ends at `i`: "Ear (make 2)", "Ear (left):"."""
        words = self.words
        if i < self.b and words[i] == ":":
            return i + 1
        inside = words[self.a : i]
        many = "make" in inside and any(word.isdecimal() or word in _HOW_MANY for word in inside)
        if not many or not self.letters or self.capitals * 2 < self.letters:
            return None
        if i >= self.b or words[i] in _VERBS or (self.whole_line and self._upper(i)):
            return i
        return i + 1 if words[i] == "." else None

    def _work_follows(self, i: int) -> bool:
        """Such as "PURSE Side Ch 42.": the work begins behind the capitals."""
        return (
            self.whole_line
            and self.words[i] in OPENERS
            and self.letters == self.capitals > 0
            and self._upper(i)
            and opens_work(self.raw, i, self.b)
        )

    def _whole(self) -> int | None:
        """A line that is nothing but a heading."""
        raw, a = self.raw, self.a
        if not self.whole_line or not self.letters:
            return None
        title = raw.text[raw.starts[a] : raw.ends[a]].istitle()
        if self.words[a] in _VERBS and title and self.capitals < self.letters > 1:
            return None
        return self.b if self.capitals * 2 > self.letters and self._names_a_part(self.b) else None

    def _names_a_part(self, end: int) -> bool:
        """Words that name a part of the work, not steps."""
        inside = self.words[self.a : end]
        named = self.capitals == self.letters > 1 and inside[-1] in _NAMES_A_STITCH
        barred = _NOT_IN_HEADING - _STITCH_WORDS if named else _NOT_IN_HEADING
        if not barred.isdisjoint(inside) or (inside[0] in _NEVER_FIRST and len(inside) > 1):
            return False
        if inside[0] in _VERBS and any(word.isdecimal() for word in inside):
            return False
        return self.capitals > 0 and self.letters <= _MOST_WORDS
