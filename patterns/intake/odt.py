"""The words of an .odt, behind odfpy. Notes and comments follow at the end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any, Final

from odf.opendocument import load

from patterns.intake.numbering import Level

__all__ = ["odt_text"]

_TEXT: Final = "urn:oasis:names:tc:opendocument:xmlns:text:1.0"
_TABLE: Final = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
_STYLE: Final = "urn:oasis:names:tc:opendocument:xmlns:style:1.0"
_OFFICE: Final = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
_PARAGRAPHS: Final = {(_TEXT, "p"), (_TEXT, "h")}
_ASIDES: Final = {(_TEXT, "note"), (_OFFICE, "annotation")}
_DROPPED: Final = {(_TEXT, "tracked-changes"), (_TEXT, "note-citation"), (_OFFICE, "forms")}


def odt_text(data: bytes) -> str:
    """The whole text of an .odt file."""
    document: Any = load(BytesIO(data))
    walk = _Walk(document)
    lines = list(walk.lines(document.text))
    while walk.asides:
        lines.extend(walk.lines(walk.asides.pop(0)))
    return "\n".join(lines) + "\n"


@dataclass
class _Walk:
    """Goes through the document in the order of reading."""

    document: Any
    asides: list[Any] = field(default_factory=list)

    def lines(self, element: Any, lists: tuple[str, ...] = ()) -> Iterator[str]:
        for child in element.childNodes:
            name = getattr(child, "qname", None)
            if name in _PARAGRAPHS:
                yield from self._words(child).split("\n")
            elif name == (_TABLE, "table-row"):
                yield "\t".join(" ".join(self.lines(cell)) for cell in child.childNodes)
            elif name == (_TEXT, "list"):
                yield from self._list(child, lists)
            elif name is not None and name not in _DROPPED:
                yield from self.lines(child, lists)

    def _list(self, element: Any, lists: tuple[str, ...]) -> Iterator[str]:
        style = element.getAttrNS(_TEXT, "style-name") or (lists[-1] if lists else "")
        lists = (*lists, style)
        level = self._level(style, len(lists))
        number = level.start - 1
        for item in element.childNodes:
            if getattr(item, "qname", None) != (_TEXT, "list-item"):
                yield from self.lines(item, lists)
                continue
            number = _whole(item.getAttrNS(_TEXT, "start-value"), number + 1)
            lines = list(self.lines(item, lists))
            if lines:
                yield level.shown({len(lists): number}) + lines[0]
                yield from lines[1:]

    def _level(self, style: str, depth: int) -> Level:
        """The level of a list style: a number with what stands around it, or a bullet."""
        for holder in (self.document.automaticstyles, self.document.styles):
            for definition in holder.childNodes:
                if getattr(definition, "qname", None) != (_TEXT, "list-style"):
                    continue
                if definition.getAttrNS(_STYLE, "name") == style:
                    return _level_of(definition, depth)
        return Level("none", "")

    def _words(self, element: Any) -> str:
        parts: list[str] = []
        for child in element.childNodes:
            name = getattr(child, "qname", None)
            if name is None or child.nodeType == child.TEXT_NODE:
                parts.append(getattr(child, "data", ""))
            elif name in _ASIDES:
                self.asides.append(child)
            elif name in _PARAGRAPHS:
                parts.append("\n" + self._words(child))
            elif name not in _DROPPED:
                parts.append(_space(child, name) or self._words(child))
        return "".join(parts)


def _space(element: Any, name: tuple[str, str]) -> str:
    if name == (_TEXT, "s"):
        return " " * min(_whole(element.getAttrNS(_TEXT, "c"), 1), 200)
    return {(_TEXT, "tab"): "\t", (_TEXT, "line-break"): "\n"}.get(name, "")


def _level_of(definition: Any, depth: int) -> Level:
    for level in definition.childNodes:
        if _whole(level.getAttrNS(_TEXT, "level"), 0) != depth:
            continue
        if level.qname == (_TEXT, "list-level-style-bullet"):
            return Level("bullet", "")
        prefix, suffix = (level.getAttrNS(_STYLE, f"num-{end}") or "" for end in ("prefix", "suffix"))
        kind = level.getAttrNS(_STYLE, "num-format") or "none"
        return Level(kind, f"{prefix}%{depth}{suffix}", _whole(level.getAttrNS(_TEXT, "start-value"), 1))
    return Level("none", "")


def _whole(value: Any, otherwise: int) -> int:
    text = str(value)
    return int(text) if text.isdecimal() and len(text) < 9 else otherwise
