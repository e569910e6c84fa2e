"""Facts about a pattern: what its lines above the instructions say, or what the app knows.

`read_facts(draft)` takes the fact lines ("Gauge:", "Yarn:", "Sizes:"...) apart. The app passes its own
`Facts` instead, or `dataclasses.replace(read_facts(draft), needed_m=...)` to add what it worked out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from craft.notation.tree import Draft, Line, Span
from craft.techedit.facts.gauge import read_gauges
from craft.techedit.facts.merged import merged
from craft.techedit.facts.model import (
    Facts,
    Fibre,
    Gauge,
    Hook,
    Measure,
    Notion,
    YarnFact,
)
from craft.techedit.facts.things import kind_of, read_hooks, read_measures, read_notions
from craft.techedit.facts.yarn import WEIGHT_NAMES, read_yarns

__all__ = [
    "WEIGHT_NAMES",
    "Facts",
    "Fibre",
    "Gauge",
    "Hook",
    "Measure",
    "Notion",
    "YarnFact",
    "fact_slot",
    "merged",
    "read_facts",
]

_SLOTS: tuple[tuple[str, str], ...] = (
    ("gauge", r"gauge|tension"),
    ("hook", r"hooks?"),
    ("yarn", r"yarns?|colou?rs?"),
    (
        "measure",
        r"finished|measure(?:ments?)?|dimensions?|to fit|fits|ease|body|circumference|length|width|height",
    ),
    ("sizes", r"sizes?"),
    ("notions", r"notions?|extras|you will also need"),
    ("materials", r"materials?|supplies|you will need|needed"),
    ("abbreviations", r"abbrev|stitches used"),
    ("terms", r"terms?|terminology"),
    ("level", r"level|difficulty|skill"),
    ("title", r"title|name of pattern|pattern name"),
    ("kind", r"kind|item"),
    ("notes", r"notes?"),
    ("special", r"special"),
)
_KNOWN = frozenset(slot for slot, _ in _SLOTS)
_SLOT = re.compile("|".join(rf"(?P<{slot}>\b(?:{words})\b)" for slot, words in _SLOTS))


def fact_slot(name: str) -> str:
    """The kind of fact that a line's name speaks of: "Crochet hook" -> "hook"."""
    found = _SLOT.search(name.lower().replace("_", " "))
    return found.lastgroup or name if found else name.lower()


def read_facts(draft: Draft) -> Facts:
    """All facts that stand in the text."""
    by_slot: dict[str, list[_Line]] = {}
    for line in _fact_lines(draft):
        by_slot.setdefault(line.slot, []).append(line)
    text, terms = draft.text, draft.terms
    title = _value(by_slot, "title", text) or _first_line(draft)
    level, kind = _value(by_slot, "level", text), _value(by_slot, "kind", text)
    return Facts(
        title=title,
        kind=kind or kind_of(title or "") or _kind_of_headings(draft),
        level=level,
        terms=terms if draft.terms_from in {"stated", "asked"} else None,
        sizes=draft.sizes,
        gauges=tuple(g for span in _spans(by_slot, "gauge") for g in read_gauges(text, span, terms)),
        hooks=tuple(h for span in _spans(by_slot, "hook", "materials") for h in read_hooks(text, span)),
        yarns=tuple(yarn for span in _spans(by_slot, "yarn") for yarn in read_yarns(text, span)),
        notions=tuple(
            n for span in _spans(by_slot, "notions", "materials") for n in read_notions(text, span)
        ),
        measures=tuple(
            measure
            for slot in ("measure", "sizes")
            for line in by_slot.get(slot, ())
            for measure in read_measures(text, line.value, line.name.lower())
        ),
        abbreviations=draft.abbreviations,
        stated=tuple(by_slot),
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """A fact line: its own name as written, the kind of fact, and where its value stands."""

    name: str
    slot: str
    value: Span


_HEADER = re.compile(
    r"^[ \t]*(?P<name>title|kind|item|(?:intended |positive |negative )?ease|level|to fit[a-z ]{0,20}"
    r"|finished [a-z ]{3,25})[ \t]*:[ \t]*(?P<value>\S[^\n]*)$",
    re.IGNORECASE | re.MULTILINE,
)


def _fact_lines(draft: Draft) -> Iterator[_Line]:
    """The fact lines that the reader found, and further lines with a name above the first line of work."""
    text = draft.text
    seen: list[Span] = []
    for fact in draft.facts:
        value = Span(max(fact.span.start, fact.span.end - len(fact.value)), fact.span.end)
        own = text[fact.span.start : value.start].strip(" \t:-–—=") or fact.name
        slot = fact_slot(own) if fact_slot(own) in _KNOWN else fact_slot(fact.name)
        seen.append(fact.span)
        yield _Line(own, slot, value)
    first = next((i.span.start for s in draft.sections for i in s.lines if isinstance(i, Line)), len(text))
    for match in _HEADER.finditer(text, 0, first):
        if not any(span.start <= match.start("name") < span.end for span in seen):
            yield _Line(match["name"], fact_slot(match["name"]), Span(*match.span("value")))


def _spans(by_slot: dict[str, list[_Line]], *slots: str) -> Iterator[Span]:
    for slot in slots:
        for line in by_slot.get(slot, ()):
            yield line.value


def _value(by_slot: dict[str, list[_Line]], slot: str, text: str) -> str | None:
    lines = by_slot.get(slot)
    return text[lines[0].value.start : lines[0].value.end].strip() if lines else None


def _first_line(draft: Draft) -> str | None:
    """A short first line above everything else is the title."""
    line = draft.text.lstrip("\n").split("\n", 1)[0].strip()
    plain = 3 <= len(line) <= 60 and ":" not in line and not line.startswith("#")
    return line if plain and not line.endswith(".") else None


def _kind_of_headings(draft: Draft) -> str | None:
    kinds = {kind_of(section.title) for section in draft.sections} - {None}
    return kinds.pop() if len(kinds) == 1 else None
