"""Offsets of a text as lines and columns."""

from __future__ import annotations

from bisect import bisect_right

from craft.notation.tree import Span


class Places:
    """Turns offsets of a text into lines and columns, both from 1."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._starts = [0]
        at = text.find("\n")
        while at >= 0:
            self._starts.append(at + 1)
            at = text.find("\n", at + 1)

    def line(self, offset: int) -> int:
        return bisect_right(self._starts, offset)

    def line_and_column(self, offset: int) -> tuple[int, int]:
        line = self.line(offset)
        return line, offset - self._starts[line - 1] + 1

    def line_text(self, line: int) -> str:
        """The text of one line without its end."""
        end = self._starts[line] - 1 if line < len(self._starts) else len(self.text)
        return self.text[self._starts[line - 1] : end]

    def span(self, span: Span) -> dict[str, int]:
        line, column = self.line_and_column(span.start)
        return {"line": line, "column": column, "length": span.end - span.start}
