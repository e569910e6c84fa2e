"""What every layer of the step parser shares: a place in the tokens, spans, and small look-aheads."""

from __future__ import annotations

import re

from craft.notation.stitches import Named
from craft.notation.tokens import Tokens
from craft.notation.tree import Loops, Numbers, Remark, Span, StatedCount, Step, Unread

_CHARTED = re.compile(r"\b(?:work|working|worked|follow|following)\b[^.;]*\bchart\b", re.IGNORECASE)
__all__ = ["PHRASE", "SENTENCE", "Cursor", "Frame"]

SENTENCE = frozenset((".", ";", "", "--"))
"""Marks that end a sentence; "" stands past the last token."""
PHRASE = SENTENCE | {",", ")"}
"""Marks that end a phrase."""


class Frame:
    """The stars that are open in one bracket level.

    `marks`: star -> index in the steps where it stands. `closed`: where a closing star stands.
    `saved`: the steps between two stars, for a second "rep from * to *". `inside`: for a star that a
    repeat has swallowed, its index in that repeat. `again`: where a star stood that a repeat has used.
    """

    __slots__ = ("again", "closed", "inside", "marks", "saved")

    def __init__(self) -> None:
        self.marks: dict[str, int] = {}
        self.closed: dict[str, int] = {}
        self.saved: dict[str, tuple[Step, ...]] = {}
        self.inside: dict[tuple[str, str], int] = {}
        self.again: dict[str, int] = {}


class Cursor:
    """A position in the tokens of one statement, and the steps read so far."""

    __slots__ = (
        "counts",
        "depth",
        "end",
        "ends",
        "frame",
        "i",
        "inner",
        "kinds",
        "loops",
        "made",
        "match",
        "out",
        "rounds",
        "sizes",
        "starts",
        "text",
        "values",
    )

    def __init__(self, tokens: Tokens) -> None:
        self.kinds = tokens.kinds
        self.values = tokens.values
        self.starts = tokens.starts
        self.ends = tokens.ends
        self.match = tokens.match
        self.text = tokens.text
        self.sizes = tokens.sizes
        self.end = len(tokens.starts)
        self.i = 0
        self.out: list[Step] = []
        self.loops = Loops.BOTH
        self.depth = 0
        self.frame = Frame()
        self.inner = Frame()
        """The stars of the bracket read last."""
        self.rounds: Numbers | None = None
        """How many rounds the statement is for: "Work 6 rows even"."""
        self.counts: list[tuple[StatedCount, int]] = []
        """Printed counts, each with the number of steps before it."""
        self.made: list[tuple[int, int, tuple[Step, ...]]] = []
        """Stitches named where they are made: first token, end token, the steps before."""

    # ------------------------------------------------------------------ tokens

    def span(self, first: int) -> Span:
        """The span of the tokens from `first` to the one just read."""
        last = self.i - 1
        return Span(self.starts[first], self.ends[max(first, last)])

    def words(self, first: int, stop: int) -> str:
        """The text of the tokens from `first` up to `stop`, as the maker wrote it."""
        return self.text[self.starts[first] : self.ends[stop - 1]] if stop > first else ""

    def number(self, at: int) -> Numbers:
        """The value of the number token at `at`."""
        value = self.values[at]
        if not isinstance(value, tuple):
            raise TypeError(value)
        return value

    def ordinal(self, at: int) -> int:
        """The value of an ordinal, or of "once", "twice", at `at`."""
        value = self.values[at]
        if not isinstance(value, int):
            raise TypeError(value)
        return value

    def named(self, at: int) -> Named:
        """The stitch name at `at`."""
        value = self.values[at]
        if not isinstance(value, Named):
            raise TypeError(value)
        return value

    def skip_dash(self) -> None:
        if self.kinds[self.i] == "-":
            self.i += 1

    def small(self, at: int) -> bool:
        """Whether the word at `at` begins with a small letter in the text."""
        return at < self.end and self.text[self.starts[at]].islower()

    def stop_from(self, first: int, stops: frozenset[str] = PHRASE) -> int:
        """The index of the first token from `first` on whose kind is in `stops`."""
        kinds = self.kinds
        while kinds[first] not in stops:
            first += 1
        return min(first, self.end)

    def sentence_end(self, first: int) -> int:
        """The index of the mark that ends the sentence; marks in brackets ("(16.5, 18) cm") end none."""
        kinds = self.kinds
        while kinds[first] not in SENTENCE:
            first = self.match.get(first, first) + 1 if kinds[first] == "(" else first + 1
        return min(first, self.end)

    # ------------------------------------------------------------------ steps

    def aside(self, first: int, stop: int) -> None:
        """Keep the tokens from `first` to `stop` as a remark."""
        self.i = max(stop, first + 1)
        span = self.span(first)
        charted = _CHARTED.search(self.text, span.start, span.end) is not None
        self.out.append(Unread(span) if charted else Remark(span))

    def rest_of_sentence(self, first: int) -> None:
        """Keep the rest of the sentence as a remark; a count behind a dash is left."""
        kinds = self.kinds
        i = max(self.i, first + 1)
        while i < self.end and kinds[i] not in {".", ";"}:
            if kinds[i] == "--" and kinds[i + 1] == "num":
                break
            if kinds[i] == "(":
                i = self.match.get(i, i)
            i += 1
        self.aside(first, i)

    def last_step(self, *passed: type[object]) -> Step | None:
        """The last step so far that is of none of the kinds `passed`."""
        for step in reversed(self.out):
            if not isinstance(step, passed):
                return step
        return None

    # ------------------------------------------------------------------ declared for later layers

    def run(self, stop: int) -> None:
        """Read steps up to the token `stop`."""
        raise NotImplementedError

    def inside(self, stop: int) -> list[Step]:
        """The steps up to `stop` as a bracket level of their own."""
        raise NotImplementedError

    def starts_work(self, at: int) -> bool:
        """Whether the token at `at` may begin a step."""
        raise NotImplementedError
