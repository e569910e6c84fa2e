"""The whole text of a pattern as the reader sees it: the facts that change counts, then the instructions.

The designer keeps sizes, notes and special stitches in fields of their own. The reader wants them
above the instructions, as a pattern is printed. `Source` puts them there and takes every place in the
whole text back to the field it came from.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, NamedTuple

from craft.notation.tree import Span

__all__ = ["LARGEST_TEXT", "Place", "Source", "TextTooLongError", "cleaned_text", "compose"]

LARGEST_TEXT: Final = 200_000
"""Code points of instructions that are taken: ten times the longest pattern that we know of."""

_LINE_ENDS: Final = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_SIZES_IN_TEXT: Final = re.compile(r"^\s*sizes?\s*:", re.IGNORECASE | re.MULTILINE)


class TextTooLongError(ValueError):
    """Instructions longer than are taken."""

    def __init__(self, length: int) -> None:
        super().__init__(length)
        self.length = length


class Place(NamedTuple):
    """Where something stands: `field` "text" for the instructions; `start`, `end` in that field."""

    field: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Source:
    """`whole` is `head` and the instructions. `fields`: (start, end, field, start in the field)."""

    head: str
    text: str
    fields: tuple[tuple[int, int, str, int], ...] = ()

    @property
    def whole(self) -> str:
        return self.head + self.text

    @property
    def head_lines(self) -> int:
        return self.head.count("\n")

    def place(self, span: Span) -> Place:
        """The field that a span of the whole text came from, and where in it."""
        offset = len(self.head)
        if span.start >= offset:
            return Place("text", span.start - offset, max(span.end, span.start) - offset)
        for start, end, field, inner in self.fields:
            if start <= span.start < end:
                shift = inner - start
                return Place(field, span.start + shift, min(span.end, end) + shift)
        return Place("text", 0, max(0, span.end - offset))


def cleaned_text(text: str) -> str:
    """Every kind of line end as a line feed, no NUL and no byte order mark. Raises TextTooLongError.

    Word processors write line breaks within a paragraph as U+000B or U+2028.
    """
    clean = _LINE_ENDS.sub("\n", text).replace("\0", "").removeprefix("\ufeff")
    if len(clean) > LARGEST_TEXT:
        raise TextTooLongError(len(clean))
    return clean


def compose(text: str, *, sizes: tuple[str, ...] = (), special_stitches: str = "", notes: str = "") -> Source:
    """Put the facts that the reader needs above the instructions, unless the text states them."""
    head = _Head()
    if len(sizes) > 1 and not _SIZES_IN_TEXT.search(text):
        head.line("Sizes: ", f"{sizes[0]} ({', '.join(sizes[1:])})", "sizes")
    head.block("Special stitches", special_stitches, "special_stitches")
    head.block("Notes", notes, "notes")
    if head.parts:
        head.add("\n")
    return Source("".join(head.parts), text, tuple(head.fields))


class _Head:
    """The lines above the instructions as they are gathered."""

    def __init__(self) -> None:
        self.parts: list[str] = []
        self.fields: list[tuple[int, int, str, int]] = []
        self.length = 0

    def add(self, part: str) -> None:
        self.parts.append(part)
        self.length += len(part)

    def line(self, label: str, value: str, field: str) -> None:
        self.fields.append((self.length, self.length + len(label) + len(value) + 1, field, 0))
        self.add(f"{label}{value}\n")

    def block(self, heading: str, value: str, field: str) -> None:
        if not value.strip():
            return
        self.add(f"{heading}:\n")
        self.fields.append((self.length, self.length + len(value) + 1, field, 0))
        self.add(value.rstrip("\n") + "\n")
