"""The words of a .docx, behind python-docx.

Paragraphs, table rows (cells parted by tabs), text boxes, automatic numbers and bullets; struck-out
changes are left out. Footnotes, comments, headers and footers follow at the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from io import BytesIO
from typing import Any, Final

import docx
from docx.oxml import parse_xml

from patterns.intake.numbering import Level

__all__ = ["docx_text"]

_W: Final = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_FALLBACK: Final = "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback"
_BREAKS: Final = {_W + "tab": "\t", _W + "br": "\n", _W + "cr": "\n", _W + "noBreakHyphen": "‑"}
_ASIDES: Final = ("footnotes", "endnotes", "comments", "header", "footer")


def docx_text(data: bytes) -> str:
    """The whole text of a .docx file."""
    document: Any = docx.Document(BytesIO(data))
    walk = _Walk(_Numbers(document))
    lines = list(walk.lines(document.element.body))
    return "\n".join([*lines, *_asides(document, walk)]) + "\n"


def _asides(document: Any, walk: _Walk) -> Iterator[str]:
    """What stands outside the flow, each line once."""
    seen: set[str] = set()
    for part in document.part.package.iter_parts():
        name = str(part.partname).rpartition("/")[2]
        if not name.startswith(_ASIDES) or not name.endswith(".xml"):
            continue
        root = parse_xml(part.blob)
        for line in walk.lines(root):
            if line.strip() and line not in seen:
                seen.add(line)
                yield line


@dataclass
class _Numbers:
    """Automatic numbers and bullets as they would be printed."""

    document: Any
    counts: dict[tuple[str, int], int] = field(default_factory=dict)

    def before(self, paragraph: Any) -> str:
        """What is printed before a paragraph: "Rnd 3: ", "2. ", a bullet, or nothing."""
        mark = _numbered(paragraph) or self._by_style(paragraph)
        if mark is None:
            return ""
        number, depth = mark
        level = self._level(number, depth)
        if level is None:
            return ""
        key = (number, depth)
        self.counts[key] = self.counts.get(key, level.start - 1) + 1
        for other in [other for other in self.counts if other[0] == number and other[1] > depth]:
            del self.counts[other]
        return level.shown({place + 1: self.counts.get((number, place), 1) for place in range(depth + 1)})

    def _by_style(self, paragraph: Any) -> tuple[str, int] | None:
        name = paragraph.find(f"{_W}pPr/{_W}pStyle")
        if name is None:
            return None
        return self.styles.get(name.get(_W + "val"))

    @cached_property
    def styles(self) -> dict[str, tuple[str, int] | None]:
        every = self.document.styles.element.iter(_W + "style")
        return {style.get(_W + "styleId"): _numbered(style) for style in every}

    def _level(self, number: str, depth: int) -> Level | None:
        root = self._definitions()
        if root is None:
            return None
        for instance in root.iter(_W + "num"):
            if instance.get(_W + "numId") == number:
                abstract = instance.find(_W + "abstractNumId").get(_W + "val")
                return _abstract_level(root, abstract, depth)
        return None

    def _definitions(self) -> Any:
        for relation in self.document.part.rels.values():
            if relation.reltype.endswith("/numbering"):
                return relation.target_part.element
        return None


def _numbered(element: Any) -> tuple[str, int] | None:
    """Number list and depth that a paragraph or a style names."""
    number = element.find(f"{_W}pPr/{_W}numPr/{_W}numId")
    if number is None or number.get(_W + "val") == "0":
        return None
    depth = element.find(f"{_W}pPr/{_W}numPr/{_W}ilvl")
    return number.get(_W + "val"), int(depth.get(_W + "val")) if depth is not None else 0


def _abstract_level(root: Any, abstract: str, depth: int) -> Level | None:
    for definition in root.iter(_W + "abstractNum"):
        if definition.get(_W + "abstractNumId") != abstract:
            continue
        for level in definition.iter(_W + "lvl"):
            if level.get(_W + "ilvl") == str(depth):
                return Level(
                    kind=_value(level, "numFmt", "decimal"),
                    words=_value(level, "lvlText", f"%{depth + 1}."),
                    start=int(_value(level, "start", "1")),
                )
    return None


def _value(level: Any, name: str, otherwise: str) -> str:
    found = level.find(_W + name)
    return otherwise if found is None else str(found.get(_W + "val", otherwise))


@dataclass
class _Walk:
    """Goes through a part in the order of reading."""

    numbers: _Numbers

    def lines(self, element: Any) -> Iterator[str]:
        for child in element:
            if child.tag == _W + "p":
                yield from self._paragraph(child)
            elif child.tag == _W + "tr":
                yield "\t".join(" ".join(self.lines(cell)) for cell in _cells(child))
            elif child.tag != _FALLBACK and isinstance(child.tag, str):
                yield from self.lines(child)

    def _paragraph(self, paragraph: Any) -> Iterator[str]:
        parts: list[str] = []
        boxes: list[Any] = []
        _gather(paragraph, parts, boxes)
        yield from (self.numbers.before(paragraph) + "".join(parts)).split("\n")
        for box in boxes:
            yield from self.lines(box)


def _cells(row: Any) -> Iterator[Any]:
    """Cells of this row alone: a table within a cell has rows of its own."""
    return (cell for cell in row.iter(_W + "tc") if next(cell.iterancestors(_W + "tr")) is row)


def _gather(element: Any, parts: list[str], boxes: list[Any]) -> None:
    """Words of one paragraph; text boxes in it are put by."""
    for child in element:
        if child.tag == _W + "txbxContent":
            boxes.append(child)
        elif child.tag == _W + "t":
            parts.append(child.text or "")
        elif child.tag in _BREAKS:
            parts.append(_BREAKS[child.tag])
        elif child.tag not in {_FALLBACK, _W + "pPr", _W + "del", _W + "moveFrom"}:
            _gather(child, parts, boxes)
