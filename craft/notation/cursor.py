"""What every part of the step parser shares: a place in the tokens, spans, and small look-aheads."""

from __future__ import annotations

from craft.notation.tokens import Tokens
from craft.notation.tree import Loops, Numbers, Span, StatedCount, Step

__all__ = ["Cursor"]


class Cursor:
    """A position in the tokens of one statement, and the steps read so far."""

    __slots__ = (
        "kinds",
        "values",
        "starts",
        "ends",
        "match",
        "text",
        "end",
        "i",
        "out",
        "loops",
        "counts",
        "default",
    )

    def __init__(self, tokens: Tokens) -> None:
        self.kinds = tokens.kinds
        self.values = tokens.values
        self.starts = tokens.starts
        self.ends = tokens.ends
        self.match = tokens.match
        self.text = tokens.text
        self.end = len(tokens.starts)
        self.i = 0
        self.out: list[Step] = []
        self.loops = Loops.BOTH
        self.counts: list[tuple[StatedCount, int]] = []
        self.default: Span = Span(0, 0)

    def span(self, first: int) -> Span:
        """The span of the tokens from `first` to the one just read."""
        last = self.i - 1
        if last < first:
            last = first
        return Span(self.starts[first], self.ends[last])

    def number(self, at: int) -> Numbers:
        """The value of the number token at `at`."""
        value = self.values[at]
        assert isinstance(value, tuple)
        return value

    def ordinal(self, at: int) -> int:
        value = self.values[at]
        assert isinstance(value, int)
        return value

    def skip_dash(self) -> None:
        if self.kinds[self.i] == "-":
            self.i += 1

    def small(self, at: int) -> bool:
        """Whether the word at `at` begins with a small letter in the text."""
        return at < self.end and self.text[self.starts[at]].islower()
