"""The whole text of a pattern as the reader sees it: the facts that change counts, then the instructions.

The designer keeps sizes, materials, notes and special stitches in fields of their own. The reader wants
them above the instructions, as a pattern is printed, and finishing and care below. `Source` puts them
there and takes every place in the whole text back to the field it came from.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, NamedTuple

from craft.notation.tree import Span
from craft.techedit.facts import Facts

__all__ = [
    "LARGEST_TEXT",
    "FieldLine",
    "Place",
    "Source",
    "TextTooLongError",
    "cleaned_text",
    "compose",
]

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
class FieldLine:
    """One of the pattern's own fields as the reader sees it: "Hook: " and "5 mm", of the field "hook"."""

    label: str
    value: str
    field: str


@dataclass(frozen=True, slots=True)
class Source:
    """`whole` is `head`, the instructions and `tail`. `fields`: (start, end, field, start in the field).

    `given`: what the fields know, as facts of the technical edit; None where there are none.
    """

    head: str
    text: str
    fields: tuple[tuple[int, int, str, int], ...] = ()
    tail: str = ""
    given: Facts | None = None

    @property
    def whole(self) -> str:
        return self.head + self.text + self.tail

    @property
    def head_lines(self) -> int:
        return self.head.count("\n")

    @property
    def text_end(self) -> int:
        """Where the instructions end in the whole text."""
        return len(self.head) + len(self.text)

    def place(self, span: Span) -> Place:
        """The field that a span of the whole text came from, and where in it."""
        offset = len(self.head)
        for start, end, field, inner in self.fields:
            if start <= span.start < end:
                shift = inner - start
                return Place(field, max(0, span.start + shift), max(0, min(span.end, end) + shift))
        length = len(self.text)
        start = min(max(0, span.start - offset), length)
        return Place("text", start, max(start, min(span.end - offset, length)))

    def field_span(self, field: str) -> Span:
        """Where the words of a field stand in the whole text; an empty span where there are none."""
        found = (Span(start - inner, end - 1) for start, end, name, inner in self.fields if name == field)
        return next(found, Span(0, 0))


def cleaned_text(text: str) -> str:
    """Every kind of line end as a line feed, no NUL and no byte order mark. Raises TextTooLongError.

    Word processors write line breaks within a paragraph as U+000B or U+2028.
    """
    clean = _LINE_ENDS.sub("\n", text).replace("\0", "").removeprefix("\ufeff")
    if len(clean) > LARGEST_TEXT:
        raise TextTooLongError(len(clean))
    return clean


def compose(
    text: str,
    *,
    sizes: tuple[str, ...] = (),
    lines: tuple[FieldLine, ...] = (),
    special_stitches: str = "",
    notes: str = "",
    after: tuple[FieldLine, ...] = (),
) -> Source:
    """Put the facts that the reader needs above the instructions, and what is printed behind them below.

    `lines` stand above, one line each; `after` below, each under its label as a heading. Sizes that the
    text states itself win.
    """
    head = _Gathered(0)
    if len(sizes) > 1 and not _SIZES_IN_TEXT.search(text):
        head.line("Sizes: ", f"{sizes[0]} ({', '.join(sizes[1:])})", "sizes")
    for line in lines:
        head.line(line.label, " ".join(line.value.split()), line.field)
    head.block("Special stitches:\n", special_stitches, "special_stitches")
    head.block("Notes:\n", notes, "notes")
    if head.parts:
        head.add("\n")
    tail = _Gathered(head.length + len(text))
    for line in after:
        tail.block(f"\n\n{line.label}\n", line.value, line.field)
    return Source("".join(head.parts), text, (*head.fields, *tail.fields), "".join(tail.parts))


class _Gathered:
    """Lines as they are gathered; `start`: where the first of them stands in the whole text."""

    def __init__(self, start: int) -> None:
        self.parts: list[str] = []
        self.fields: list[tuple[int, int, str, int]] = []
        self.length = start

    def add(self, part: str) -> None:
        self.parts.append(part)
        self.length += len(part)

    def line(self, label: str, value: str, field: str) -> None:
        self.fields.append((self.length, self.length + len(label) + len(value) + 1, field, -len(label)))
        self.add(f"{label}{value}\n")

    def block(self, heading: str, value: str, field: str) -> None:
        if not value.strip():
            return
        self.add(heading)
        self.fields.append((self.length, self.length + len(value) + 1, field, 0))
        self.add(value.rstrip("\n") + "\n")
