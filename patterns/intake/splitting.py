"""An old pattern's text taken apart into the fields of a pattern.

Every line goes to one field. A fact is taken out of the words only where a field says all that the
line says; otherwise the field is filled and the line stays in the notes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

import craft.notation
from craft.notation.tree import Draft, Fact, Line, Prose, Section
from craft.techedit.facts import Facts, Gauge, fact_slot, read_facts
from patterns.models import Kind

__all__ = ["Intake", "split"]

_LICENCE: Final = re.compile(r"©|\bcopyright\b|all rights reserved|\blicen[cs]ed?\b", re.IGNORECASE)
_FINISHING: Final = re.compile(r"^(finishing|to finish|making up|to make up|assembly)\b", re.IGNORECASE)
_NOTES: Final = re.compile(r"^(?:pattern |designer'?s? )?notes?\s*(?::|$)\s*", re.IGNORECASE)
_SPECIAL: Final = re.compile(
    r"^(?:special (?:stitch(?:es)?|abbreviations?|techniques?)|stitches used)\s*(?::|$)\s*", re.IGNORECASE
)
_HOOK: Final = re.compile(r"^(?:crochet )?hook(?: size)?\s*:\s*\d+(?:[.,]\d+)?\s*mm\.?$", re.IGNORECASE)
_GAUGE: Final = re.compile(
    r"^(?:gauge|tension)\s*:\s*\d+(?:\.\d+)? \w+ (?:and|by|x|×|,) \d+(?:\.\d+)? (?:rows|rnds|rounds) "
    r"(?:=|to|over|in) \d+ ?cm\.?$",
    re.IGNORECASE,
)
_KINDS: Final[Mapping[str, Kind]] = {
    **{kind.value: kind for kind in Kind}, "coaster": Kind.KITCHEN, "shawl": Kind.SCARF,
    "cowl": Kind.SCARF, "sock": Kind.FOOTWEAR, "slippers": Kind.FOOTWEAR, "basket": Kind.BAG,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Intake:
    """What was made of a text, one value per field. Hook in mm, gauge over `gauge_over_cm`."""

    title: str = ""
    terms: str = ""
    kind: str = Kind.OTHER.value
    introduction: str = ""
    sizes: tuple[str, ...] = ()
    hook_mm: float | None = None
    gauge_stitches: float | None = None
    gauge_rows: float | None = None
    gauge_over_cm: float | None = None
    gauge_stitch: str = ""
    special_stitches: str = ""
    notes: str = ""
    finishing: str = ""
    licence: str = ""
    text: str = ""


def split(text: str) -> Intake:
    """Take a text apart. Never raises on a maker's words; at worst all of them are instructions."""
    draft = craft.notation.read(text)
    facts = read_facts(draft)
    lines = text.split("\n")
    start = _start(draft, lines)
    shelves = _Shelves(_fields_that_say_it(facts))
    shelves.fill(lines, draft, start, _finishing(draft, lines, start))
    words = shelves.words()
    gauge = _square_gauge(facts)
    return Intake(
        title=shelves.title,
        terms=draft.terms if draft.terms and draft.terms_from != "default" else "",
        kind=_KINDS.get(facts.kind or "", Kind.OTHER).value,
        sizes=draft.sizes,
        hook_mm=facts.hooks[0].mm if _one_hook(facts) else None,
        gauge_stitches=gauge.stitches if gauge else None,
        gauge_rows=gauge.rows if gauge else None,
        gauge_over_cm=gauge.width_cm if gauge else None,
        gauge_stitch=(gauge.stitch or "")[:20] if gauge else "",
        **words,
    )


def _square_gauge(facts: Facts) -> Gauge | None:
    """The one gauge, if stitches and rows are counted over the same length, as the fields say it."""
    gauge = facts.gauge
    if gauge is None or len(facts.gauges) > 1 or gauge.height_cm not in {None, gauge.width_cm}:
        return None
    return gauge


def _one_hook(facts: Facts) -> bool:
    return len({hook.mm for hook in facts.hooks}) == 1 and facts.hooks[0].mm is not None


def _fields_that_say_it(facts: Facts) -> frozenset[str]:
    held = {"hook": _one_hook(facts), "gauge": _square_gauge(facts) is not None, "sizes": True}
    return frozenset(slot for slot, is_held in held.items() if is_held)


def _start(draft: Draft, lines: list[str]) -> int:
    """Index of the line with which the instructions begin; past the end where there is no work."""
    for section in draft.sections:
        first = next((item for item in section.lines if isinstance(item, Line)), None)
        if first is None:
            continue
        between = range(section.line_number + 1, first.line_number)
        stated = any(fact.line_number in between for fact in draft.facts)
        plain = sum(isinstance(item, Prose) and item.line_number in between for item in section.lines)
        return (first.line_number if stated or plain > 3 else section.line_number) - 1
    return len(lines)


def _finishing(draft: Draft, lines: list[str], start: int) -> int:
    """Index of the line where finishing begins after the last line of work; past the end for none."""
    for section in reversed(draft.sections):
        if any(isinstance(item, Line) for item in section.lines):
            break
        if section.line_number - 1 > start and _FINISHING.match(section.title.strip()):
            return _only_after_it(draft, section, len(lines))
    return len(lines)


def _only_after_it(draft: Draft, section: Section, end: int) -> int:
    """The place of a heading, unless work comes after it."""
    later = (item for other in draft.sections for item in other.lines if isinstance(item, Line))
    return end if any(item.line_number >= section.line_number for item in later) else section.line_number - 1


@dataclass
class _Shelves:
    """Lines as they are put away, one field each. `said`: facts that a field holds."""

    said: frozenset[str]
    title: str = ""
    kept: dict[str, list[str]] = field(default_factory=dict)

    def fill(self, lines: list[str], draft: Draft, start: int, finishing: int) -> None:
        if start == len(lines):  # no work was found: all of it is left for the designer to sort
            start = 0
        shelf = "introduction"
        inside = _inside_facts(draft)
        for index, line in enumerate(lines[:start]):
            shelf = self._front(line, shelf, inside.get(index + 1), draft)
        self._title_from(lines[start:])
        for line in lines[start:finishing]:
            self.put("text", line)
        for line in lines[finishing:]:
            if not _FINISHING.fullmatch(line.strip().rstrip(":")):
                self.put("licence" if _LICENCE.search(line) else "finishing", line)

    def put(self, shelf: str, line: str) -> None:
        self.kept.setdefault(shelf, []).append(line.rstrip())

    def words(self) -> dict[str, str]:
        names = ("introduction", "special_stitches", "notes", "finishing", "licence", "text")
        return {name: _tidied(self.kept.get(name, ())) for name in names}

    def _front(self, line: str, shelf: str, fact: Fact | None, draft: Draft) -> str:
        """Put one line before the instructions away; the shelf that the next line goes to."""
        said = line.strip()
        if said and not self.title and fact is None and len(said) <= 200 and not self.kept.get(shelf):
            self.title = said
            return shelf
        if heading := _heading(said):
            shelf, rest = heading
            if rest:
                self.put(shelf, rest)
            return shelf
        if _LICENCE.search(said):
            self.put("licence", line)
            return shelf
        if fact is not None:
            shelf = "special_stitches" if fact_slot(fact.name) in {"special", "stitches"} else "notes"
        if not self._said_by_a_field(said, fact, draft):
            self.put(shelf, line)
        return shelf

    def _said_by_a_field(self, line: str, fact: Fact | None, draft: Draft) -> bool:
        """Whether hook, gauge or sizes say all that the line says."""
        slot = fact_slot(fact.name) if fact else ""
        if fact is None or slot not in self.said:
            return False
        if slot == "sizes" and "\n" not in draft.text[fact.span.start : fact.span.end].strip():
            return [word for word in re.split(r"[\s(),\[\]]+", fact.value) if word] == list(draft.sizes)
        return bool(_HOOK.match(line) if slot == "hook" else slot == "gauge" and _GAUGE.match(line))

    def _title_from(self, instructions: Iterable[str]) -> None:
        """A text that begins with its work may still name itself in its first line."""
        first = next((line.strip() for line in instructions if line.strip()), "")
        if not self.title and len(first) <= 80 and not re.search(r"[:=]|\d", first):
            self.title = first


def _heading(said: str) -> tuple[str, str] | None:
    """The shelf that a heading opens and what stands behind its colon."""
    for shelf, heading in (("notes", _NOTES), ("special_stitches", _SPECIAL)):
        if match := heading.match(said):
            return shelf, said[match.end() :]
    return None


def _inside_facts(draft: Draft) -> dict[int, Fact]:
    """Line number -> the fact that stands on it."""
    found: dict[int, Fact] = {}
    for fact in draft.facts:
        last = fact.line_number + draft.text.count("\n", *fact.span)
        found.update(dict.fromkeys(range(fact.line_number, last + 1), fact))
    return found


def _tidied(lines: Iterable[str]) -> str:
    """Lines as a text: no blank lines around it and no more than one within."""
    return re.sub(r"\n{3,}", "\n\n", "\n".join(lines)).strip("\n")
