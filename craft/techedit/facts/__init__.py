"""Facts about a pattern: what its lines above the instructions say, or what the app knows.

`read_facts(draft)` takes the fact lines ("Gauge:", "Yarn:", "Sizes:"...) apart. The app passes its own
`Facts` instead, or `dataclasses.replace(read_facts(draft), needed_m=...)` to add what it worked out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Draft, Fact, Span
from craft.techedit.facts.gauge import read_gauges
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
    "read_facts",
]

_SLOTS: tuple[tuple[str, str], ...] = (
    ("gauge", r"gauge|tension"),
    ("hook", r"hooks?"),
    ("yarn", r"yarns?|colou?rs?"),
    ("measure", r"finished|measure|dimension|to fit|fits|ease|body|circumference|length|width|height"),
    ("sizes", r"sizes?"),
    ("notions", r"notions?|extras|you will also need"),
    ("materials", r"materials?|supplies|you will need|needed"),
    ("abbreviations", r"abbrev|stitches used"),
    ("terms", r"terms?|terminology"),
    ("level", r"level|difficulty|skill"),
    ("title", r"title|name|pattern name"),
    ("kind", r"kind|item"),
    ("notes", r"notes?"),
    ("special", r"special"),
)
_SLOT = re.compile("|".join(rf"(?P<{slot}>\b(?:{words})\b)" for slot, words in _SLOTS))


def fact_slot(name: str) -> str:
    """The kind of fact that a line's name speaks of: "Crochet hook" -> "hook"."""
    found = _SLOT.search(name.lower().replace("_", " "))
    return found.lastgroup or name if found else name.lower()


def read_facts(draft: Draft) -> Facts:
    """All facts that stand in the text."""
    by_slot: dict[str, list[Fact]] = {}
    for fact in draft.facts:
        by_slot.setdefault(fact_slot(fact.name), []).append(fact)
    text = draft.text
    gauges = [g for span in _spans(by_slot, "gauge") for g in read_gauges(text, span, draft.terms)]
    hooks = [hook for span in _spans(by_slot, "hook", "materials") for hook in read_hooks(text, span)]
    yarns = [yarn for span in _spans(by_slot, "yarn") for yarn in read_yarns(text, span)]
    notions = [n for span in _spans(by_slot, "notions", "materials") for n in read_notions(text, span)]
    measures = [
        measure
        for slot in ("measure", "sizes")
        for fact in by_slot.get(slot, ())
        for measure in read_measures(text, _value_span(fact), fact.name.lower())
    ]
    title = _value(by_slot, "title") or _first_prose(draft)
    return Facts(
        title=title,
        kind=_value(by_slot, "kind") or kind_of(title or "") or _kind_of_headings(draft),
        level=_value(by_slot, "level"),
        terms=draft.terms if draft.terms_from in {"stated", "asked"} else None,
        sizes=draft.sizes,
        gauges=tuple(gauges),
        hooks=tuple(hooks),
        yarns=tuple(yarns),
        notions=tuple(notions),
        measures=tuple(measures),
        abbreviations=draft.abbreviations,
        stated=tuple(by_slot),
    )


def _spans(by_slot: dict[str, list[Fact]], *slots: str) -> Iterator[Span]:
    for slot in slots:
        for fact in by_slot.get(slot, ()):
            yield _value_span(fact)


def _value_span(fact: Fact) -> Span:
    """The value's part of a fact line's span: it stands at the end."""
    return Span(max(fact.span.start, fact.span.end - len(fact.value)), fact.span.end)


def _value(by_slot: dict[str, list[Fact]], slot: str) -> str | None:
    facts = by_slot.get(slot)
    return facts[0].value.strip() if facts else None


def _first_prose(draft: Draft) -> str | None:
    """A short first line above everything else is the title."""
    line = draft.text.lstrip("\n").split("\n", 1)[0].strip()
    plain = 3 <= len(line) <= 60 and ":" not in line and not line.startswith("#")
    return line if plain and not line.endswith(".") else None


def _kind_of_headings(draft: Draft) -> str | None:
    kinds = {kind_of(section.title) for section in draft.sections} - {None}
    return kinds.pop() if len(kinds) == 1 else None
