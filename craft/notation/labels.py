"""Line labels: `Rnd 3:`, `R3`, `3.`, `3rd rnd:`, `Rows 5-9 (5 rows)`, `2nd and alt rows`, `Next row:`.

A label decides where a round ends; full stops do not. `2nd ch from hook` and `3rd rnd below` are no
labels: row or rnd and a mark after it are needed, except where a line of the text begins.
"""

from __future__ import annotations

from dataclasses import dataclass

from craft.notation.numbers import size_list
from craft.notation.tokens import Raw
from craft.notation.tree import Kind, Numbers
from craft.notation.vocabulary import NUMBER_WORDS, ORDINAL_WORDS
from craft.notation.words import wordset

__all__ = ["KIND_WORDS", "RawLabel", "match_label"]

KIND_WORDS: dict[str, Kind] = {
    **dict.fromkeys(("row", "rows", "rw", "rws"), Kind.ROW),
    **dict.fromkeys(("rnd", "rnds", "round", "rounds", "rd", "rds", "r", "rs"), Kind.ROUND),
}
_LONG_KIND = {word: kind for word, kind in KIND_WORDS.items() if len(word) > 2 or word in {"rw", "rd"}}
_ORDINALS = {"first": 1, **ORDINAL_WORDS}
_TO = frozenset(("-", "to", "through", "thru", "till", "until"))
_AND = frozenset((",", "and", "&", "+"))
_MARKS = frozenset((":", "-", ".", ";", ")", ",", "=", "]"))
_NAMED = wordset(
    "next last foundation set setup joining decrease increase dec inc edging eyelet final starting "
    "beginning pattern pat dividing turning base border ruffle picot shell first buttonhole ribbing "
    "rib ridge loop mesh cluster"
)
_NEVER_NAMED = wordset(
    "rep repeat note notes size sizes all both end work cont continue as these this each at for in to beg"
)
_WORK_STARTS = wordset(
    "ch chain sc hdc dc tr htr dtr sl slip ss inc dec mr mc ka work join with turn sk skip miss in "
    "using magic make begin beg ( [ { * ** repeat rep as fpdc bpdc blo flo working bo bob puff change "
    "same crochet fasten first knit hold holding invdec increase decrease single double half st sts"
)
_UNITS = wordset("sc hdc dc tr htr dtr ch st sts stitches sl ss inc dec single half double treble")
_VAGUE_STARTS = wordset("with work in make using join begin working same first hold holding")
_EVERY = wordset("every all each foll following other alt alternate even odd - numbered ws rs rem remaining")
_BY_TWO = wordset("alt alternate other even odd ws rs")
_SIDES = (("rs", "RS"), ("ws", "WS"), ("right side", "RS"), ("wrong side", "WS"))
_LONGEST_RANGE = 5000


@dataclass(frozen=True, slots=True)
class RawLabel:
    """A label as printed, before the sizes of the pattern are settled; `start`, `end` are raw indexes."""

    kind: Kind
    start: int
    end: int
    numbers: tuple[int, ...] = ()
    stated: Numbers | None = None
    side: str | None = None
    every: tuple[int, int] | None = None
    open_ended: bool = False
    last_by_size: Numbers | None = None
    word: str | None = None
    bare: bool = False


def match_label(raw: Raw, at: int, end: int, *, line_start: bool) -> RawLabel | None:
    """The label that begins at raw index `at`, if one does. `line_start`: a line of the text begins there."""
    word = raw.words[at]
    if not word[0].isalnum():
        return None
    reader = _LabelReader(raw, at, end, line_start=line_start)
    if word in KIND_WORDS:
        return reader.kind_first()
    if raw.ordinal[at] or word in _ORDINALS:
        found = reader.ordinal_first()
        if found is not None:
            return found
        reader = _LabelReader(raw, at, end, line_start=line_start)
    if word.isdecimal() and not raw.ordinal[at]:
        return reader.number_first()
    return reader.named() if word.isalpha() else None


class _LabelReader:
    """Reads one label from `at` on; `i` moves along it."""

    __slots__ = (
        "at",
        "by_size",
        "end",
        "every",
        "i",
        "line_start",
        "numbers",
        "open_ended",
        "raw",
        "side",
        "stated",
        "word",
        "words",
    )

    def __init__(self, raw: Raw, at: int, end: int, *, line_start: bool) -> None:
        self.raw = raw
        self.words = raw.words
        self.at = self.i = at
        self.end = end
        self.line_start = line_start
        self.numbers: list[int] = []
        self.stated: Numbers | None = None
        self.side: str | None = None
        self.every: tuple[int, int] | None = None
        self.open_ended = False
        self.by_size: Numbers | None = None
        self.word: str | None = None

    def here(self, ahead: int = 0) -> str:
        """The word at the position, "" past the end of the line."""
        at = self.i + ahead
        return self.words[at] if at < self.end else ""

    def value(self) -> int | None:
        word = self.here()
        if word.isdecimal():
            return int(word)
        return _ORDINALS.get(word) or NUMBER_WORDS.get(word)

    # ------------------------------------------------------------------ forms

    def kind_first(self) -> RawLabel | None:
        """Such as "Rnd 3:", "R3", "Rows 5-9"."""
        raw = self.raw
        word = self.here()
        self.i += 1
        while self.here() in {".", "#"}:  # "Rnd. 3", "Row #3"
            self.i += 1
        if not self.here() or not self._is_number():
            return None
        if word == "rs" or (word == "r" and raw.starts[self.i] != raw.ends[self.at]):
            return None
        self.read_numbers()
        return self.finish(KIND_WORDS[word], strict=False)

    def _is_number(self) -> bool:
        word = self.here()
        return word.isdecimal() or (word in NUMBER_WORDS and word != "zero")

    def ordinal_first(self) -> RawLabel | None:
        """Such as "3rd rnd:", "5th to 9th rows:", "2nd and alt rows:", "2nd row and every foll 4th row:"."""
        self.read_numbers()
        if self.here() in _AND:
            self._read_every()
        kind = _LONG_KIND.get(self.here())
        if kind is None:
            return None
        self.i += 1
        if self.every is None and self.here() in _AND and self.here(1) in {"every", "all", "each"}:
            self._read_every()
            if self.here() in _LONG_KIND:
                self.i += 1
        return self.finish(kind, strict=False)

    def _read_every(self) -> None:
        """Such as "and alt (rows)", "and every foll 4th (row)", "and all even"."""
        start = self.i
        self.i += 1
        step = 0
        while self.here() in _EVERY:
            if self.here() in _BY_TWO:
                step = 2
            self.i += 1
        if self.i > start + 1 and self.here() and self.raw.ordinal[self.i]:
            step = int(self.here())
            self.i += 1
        if self.i == start + 1 or not step or not self.numbers:
            self.i = start
        else:
            self.every = (self.numbers[-1], step)

    def number_first(self) -> RawLabel | None:
        """Such as "5." "5)" "5-8)" at the start of a line with work behind it; "11 rnd:"."""
        raw = self.raw
        self.read_numbers()
        word = self.here()
        kind = _LONG_KIND.get(word)
        if kind is not None and (self.here(1) == ":" or (len(self.numbers) > 1 and word.endswith("s"))):
            self.i += 1
            return self.finish(kind, strict=not self.line_start)
        if not self.line_start or word not in {".", ":", ")"} or raw.starts[self.i] != raw.ends[self.i - 1]:
            return None
        self.i += 1
        following = self.here()
        inner = self._label_behind_list_number()
        if inner is not None or not following:
            return inner
        if following not in _WORK_STARTS and not following[0].isdigit() and following[0] != "*":
            return None
        near = self.words[self.i + 1 : min(self.end, self.i + 4)]
        if following in _VAGUE_STARTS and not any(word.isdecimal() for word in near):
            return None
        return RawLabel(Kind.ROUND, self.at, self.i, tuple(self.numbers), bare=True)

    def _label_behind_list_number(self) -> RawLabel | None:
        """Such as "3. Row 2 ...": the list number fights the label, and the label is right."""
        if self.here() in KIND_WORDS or (
            self.i < self.end and self.raw.ordinal[self.i] and self.here(1) in _LONG_KIND
        ):
            return match_label(self.raw, self.i, self.end, line_start=True)
        return None

    def named(self) -> RawLabel | None:
        """Such as "Next row:", "Set-up rnd:", "Joining Round 2:", "Center Back Joining Row:"."""
        first = self.here()
        if first in _NEVER_NAMED or (
            first not in _NAMED and not self.raw.text[self.raw.starts[self.at]].isupper()
        ):
            return None
        self.i += 1
        many = self._next_by_size() if first in {"next", "last"} else None
        while many is None and self.here() not in _LONG_KIND:
            word = self.here()
            if not (word.isalpha() or word == "-" or word.isdecimal()) or self.i > self.at + 5:
                return None
            self.i += 1
        kind = _LONG_KIND.get(self.here())
        if kind is None:
            return None
        name = self.words[self.at : self.i]
        if many is None and name[-1].isdecimal():  # "Next 4 rows"
            many = (int(name[-1]),)
        self.i += 1
        if self.here().isdecimal() and not self.raw.ordinal[self.i]:
            self.read_numbers()
        self.word = first if first in {"next", "last"} else "last" if first == "final" else " ".join(name)
        self.line_start = self.line_start and first in _NAMED
        self.stated = many
        return self.finish(kind, strict=True)

    def _next_by_size(self) -> Numbers | None:
        """Such as "Next 3 (3, 2, 2) rows:"."""
        if not self.here().isdecimal() or self.here(1) not in {"(", "["}:
            return None
        found = size_list(self.words, self.i, self.end)
        if found is None:
            return None
        self.i = found[1]
        return found[0]

    # ------------------------------------------------------------------ numbers

    def read_numbers(self) -> None:
        """Such as "5", "5-9", "5 to 9", "5, 7 and 9", "2-4 (6, 9)", "9+"."""
        joiner = ""
        while (value := self.value()) is not None:
            numbers = self.numbers
            if joiner in _TO and numbers and numbers[-1] < value <= numbers[-1] + _LONGEST_RANGE:
                numbers.extend(range(numbers[-1] + 1, value + 1))
            else:
                numbers.append(value)
            self.i += 1
            self._read_by_size()
            joiner = self._joiner()
            if not joiner:
                break
        if self.here() == "+":
            self.open_ended = True
            self.i += 1

    def _read_by_size(self) -> None:
        if self.here() not in {"(", "["} or self.raw.ordinal[self.i - 1]:
            return
        found = size_list(self.words, self.i - 1, self.end)
        if found is not None:
            self.by_size = _range_ends(self.numbers, found[0])
            self.i = found[1]

    def _joiner(self) -> str:
        """The word that leads to a further number; "" and no move where none follows."""
        start = self.i
        if len(self.here()) > 1 and self.here() in KIND_WORDS and self.here(1) in _TO | _AND:
            self.i += 1  # "Rnd 5 rnd to": the kind said twice
        joiner = self.here()
        if joiner in _TO or joiner in _AND:
            self.i += 1
            if joiner == "," and self.here() in {"and", "&"}:
                self.i += 1
            while self.here() in KIND_WORDS or self.here() == "#":
                self.i += 1
            value = self.value()
            if value is not None and self._joins(joiner, value):
                return joiner
        self.i = start
        return ""

    def _joins(self, joiner: str, value: int) -> bool:
        """Whether the number behind "," or "-" is a label number: "Row 5 - 1 sc" is not."""
        if joiner in _TO:
            return value > self.numbers[-1] and self.here(1) not in _UNITS
        return joiner != "," or self._list_goes_on()

    def _list_goes_on(self) -> bool:
        """After "Row 4, 19 ...": a further label number, or the work of row 4?"""
        if self.raw.ordinal[self.i - 2]:
            return True
        following = self.here(1)
        return following in _TO or following in _AND or following in {":", "."} or following in KIND_WORDS

    # ------------------------------------------------------------------ what follows

    def finish(self, kind: Kind, *, strict: bool) -> RawLabel | None:
        """Read side, remarks and mark after the numbers; None if this turns out to be no label."""
        self._read_brackets()
        if self.here() in {"rs", "ws"} and self.here(1):
            self.side = self.here().upper()
            self.i += 1
        if self.here() == "and" and self.here(1) in {"up", "on"}:
            self.open_ended = True
            self.i += 2
        mark = self.here()
        if not self._accepts(mark, strict=strict):
            return None
        if mark in _MARKS:
            self.i += 2 if self.here(1) in {"-", ":"} else 1
        self._side_sentence()
        return RawLabel(
            kind,
            self.at,
            self.i,
            tuple(self.numbers),
            self.stated,
            self.side,
            self.every,
            self.open_ended,
            self.by_size,
            self.word,
        )

    def _accepts(self, mark: str, *, strict: bool) -> bool:
        """Whether the word after the numbers lets this be a label."""
        if mark == ":":
            return True
        if mark not in _MARKS:
            return not strict and self.line_start and self._works(self.i)
        if strict:
            return mark in {"-", "="} and self.line_start
        if not self.line_start:
            return mark == "-" or (mark == "." and self._works(self.i + 1))
        if mark in {".", ","}:
            return self.i + 1 >= self.end or self._works(self.i + 1)
        return True

    def _works(self, at: int) -> bool:
        """Whether work begins at `at`."""
        word = self.words[at] if at < self.end else ""
        return bool(word) and (word in _WORK_STARTS or word[0].isdigit() or word[0] == "*")

    def _read_brackets(self) -> None:
        """Such as "(RS)", "(5 rnds)", "(decrease row)" behind the numbers."""
        for _ in range(3):
            close = self._close()
            if close is None:
                return
            inside = self.words[self.i + 1 : close]
            side = _side(inside)
            count = _rounds_stated(inside)
            marked = close + 1 < self.end and self.words[close + 1] in _MARKS
            if side is None and count is None and not marked and not _is_remark(inside):
                return
            self.side = self.side or side
            self.stated = count or self.stated
            self.i = close + 1

    def _close(self) -> int | None:
        """Where the bracket that opens here closes, if it is short."""
        close = {"(": ")", "[": "]"}.get(self.here())
        if close is None:
            return None
        for i in range(self.i + 1, min(self.end, self.i + 14)):
            if self.words[i] == close:
                return i
        return None

    def _side_sentence(self) -> None:
        """Such as "1st row: (RS). Ch 1": the side as a sentence of its own."""
        close = self._close() if self.here() == "(" else None
        if close is None or close - self.i > 8:
            return
        side = _side(self.words[self.i + 1 : close])
        if side is not None:
            self.side = self.side or side
            self.i = close + 1
            if self.here() in {".", ":", ","}:
                self.i += 1


def _range_ends(values: list[int], listed: Numbers) -> Numbers:
    """Such as "Rows 2-12 (2-12, 2-16)": the ends alone, (12, 12, 16)."""
    starts, ends = listed[1::2], listed[0::2]
    if len(listed) > 2 and len(ends) == len(starts) + 1 and set(starts) == {values[0]}:
        return ends
    return listed


def _side(inside: list[str]) -> str | None:
    joined = " ".join(inside[:3]).replace(" - ", " ")
    for name, side in _SIDES:
        if joined == name or joined.startswith(name + " "):
            return side
    return _side(inside[-2:]) if len(inside) > 3 else None


def _rounds_stated(inside: list[str]) -> Numbers | None:
    """Such as "(5 rnds)", "(8 rounds total)"."""
    if len(inside) >= 2 and inside[0].isdecimal() and inside[1] in _LONG_KIND:
        return (int(inside[0]),)
    return None


def _is_remark(inside: list[str]) -> bool:
    """Such as "(decrease row)", "(cont'd)"."""
    words = all(word.isalpha() or word[0] in "-'," or "'" in word for word in inside)
    return (
        bool(inside)
        and words
        and (
            inside[-1] in _LONG_KIND or inside[0] in {"increase", "decrease", "inc", "dec", "cont", "cont'd"}
        )
    )
