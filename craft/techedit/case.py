"""What a check looks at: the draft, the fabric, the facts, and views of them made once.

Every view is made on first use and shared by all checks, so that a hundred checks cost little more
than one walk through the text and the tree.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar, cast

from craft.fabric.model import Fabric, Verdict, WorkedRound, WorkedSection
from craft.notation.tree import (
    Draft,
    Fact,
    Group,
    Kind,
    Line,
    OnlySizes,
    Prose,
    Repeat,
    Section,
    Span,
    Step,
    Unread,
    Work,
)
from craft.techedit.facts import Facts
from craft.techedit.places import Places
from craft.techedit.quantities import CM_PER_UNIT, Amount, amounts, pairs
from craft.techedit.rework import Reworker

__all__ = ["Case", "Spot"]

Made = TypeVar("Made")

_UNIT_WORDS = (
    "cm", "cms", "mm", "ins", "inch", "inches", "m", "metre", "metres", "meter", "meters", "yd",
    "yds", "yard", "yards", "g", "gr", "gram", "grams", "oz", "ozs", "ounce", "ounces", "ft", "feet",
)  # fmt: skip
_BARE_INCH = re.compile(r"\d ?in\b")
_INCH_MARKS = ('"', "”", "″", "''", "’’")
_ROUNDED_CM = 0.8
_ROUNDED_PART = 0.045
_NOT_FABRIC = frozenset({"ch", "sl st"})
_SOME_SIZES = re.compile(
    r"\bsizes?\b[^.\n:]{0,40}\bonly\b|^[ \t]*(?:for )?sizes?\b[^.\n]{0,40}(?::|$)",
    re.IGNORECASE | re.MULTILINE,
)
_ALL_SIZES = re.compile(r"\b(?:all|both) sizes\b", re.IGNORECASE)

_WORD = re.compile(r"[a-z][a-z0-9]*(?:['’-][a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Spot:
    """One step in its line; `depth` counts the repeats and groups around it."""

    section_index: int
    line: Line
    step: Step
    depth: int


class Case:
    """One pattern under the editor's lamp."""

    def __init__(self, draft: Draft, fabric: Fabric, facts: Facts) -> None:
        self.draft = draft
        self.fabric = fabric
        self.facts = facts
        self.text = draft.text
        self._kept: dict[str, Any] = {}
        self._spans: dict[str, tuple[Span, ...]] = {}

    def once(self, name: str, make: Callable[[Case], Made]) -> Made:
        """A view that a group of checks shares, made on first use."""
        if name not in self._kept:
            self._kept[name] = make(self)
        return cast("Made", self._kept[name])

    @cached_property
    def reworker(self) -> Reworker:
        """Works changed texts, a limited number of times."""
        return Reworker(self.draft)

    @cached_property
    def places(self) -> Places:
        return Places(self.text)

    def words_at(self, span: Span) -> str:
        """The text of a span."""
        return self.text[span.start : span.end]

    # ------------------------------------------------------------------------------- words

    @cached_property
    def lowered(self) -> str:
        """The text in lower case, letter for letter (one code point stays one)."""
        lowered = self.text.lower()
        return lowered if len(lowered) == len(self.text) else _lower_by_letter(self.text)

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word of the text in lower case."""
        return frozenset(_WORD.findall(self.lowered))

    def says_any(self, *words: str) -> bool:
        """Whether any of these single lower-case words stands in the text."""
        return not self.words.isdisjoint(words)

    def spans_of(self, word: str) -> tuple[Span, ...]:
        """Every place of a lower-case word, in order."""
        if word not in self.words:
            return ()
        if word not in self._spans:
            found = re.finditer(rf"(?<![a-z0-9]){re.escape(word)}(?![a-z0-9])", self.lowered)
            self._spans[word] = tuple(Span(match.start(), match.end()) for match in found)
        return self._spans[word]

    @cached_property
    def amounts(self) -> tuple[Amount, ...]:
        """Every number with a unit, in the order of the text."""
        return tuple(amounts(self.text)) if self._says_units else ()

    @property
    def _says_units(self) -> bool:
        marked = any(mark in self.text for mark in _INCH_MARKS)
        return marked or self.says_any(*_UNIT_WORDS) or _BARE_INCH.search(self.lowered) is not None

    @cached_property
    def amount_pairs(self) -> tuple[tuple[Amount, Amount], ...]:
        """The amounts that say the same in two units, side by side."""
        return tuple(pairs(self.amounts, self.text))

    def lengths_differ(self, first: Amount, second: Amount) -> bool:
        """Whether two lengths printed as one differ by more than rounding: 0.8 cm and 4.5 %."""
        if not first.cm or len(first.cm) != len(second.cm):
            return False
        both = zip(first.cm, second.cm, strict=True)
        return any(abs(a - b) > max(_ROUNDED_CM, _ROUNDED_PART * max(a, b)) for a, b in both)

    def lengths_compared(self, first: Amount, second: Amount) -> dict[str, str]:
        """The values of a sentence about two lengths: what the first is in the unit of the second."""
        at = max(range(len(first.cm)), key=lambda i: abs(first.cm[i] - second.cm[i]))
        right = f"{first.cm[at] / CM_PER_UNIT[second.unit]:.3g}"
        return {
            "first": f"{first.values[at]:g} {first.unit}",
            "second": f"{second.values[at]:g} {second.unit}",
            "right": f"{right} {second.unit}",
        }

    def closed(self, span: Span) -> Span:
        """A span with the bracket that closes right after it taken in."""
        return Span(span.start, span.end + (self.text[span.end : span.end + 1] in {")", "]"}))

    def in_fact(self, offset: int) -> bool:
        """Whether a place stands in a fact line."""
        return any(fact.span.start <= offset < fact.span.end for fact in self.draft.facts)

    def line_at(self, offset: int) -> Line | None:
        """The line of work that a place stands in."""
        at = bisect_right(self._line_starts, offset) - 1
        return self.lines[at] if at >= 0 and offset < self.lines[at].span.end else None

    def in_work(self, offset: int) -> bool:
        """Whether a place stands in a line of work, behind its label."""
        at = bisect_right(self._line_starts, offset) - 1
        return at >= 0 and self.lines[at].label.span.end <= offset < self.lines[at].span.end

    @cached_property
    def _line_starts(self) -> list[int]:
        return [line.span.start for line in self.lines]

    @cached_property
    def some_sizes_stretches(self) -> tuple[tuple[int, int], ...]:
        """Stretches under "size M only", up to "all sizes" or the end of the part."""
        if not self.says_any("size", "sizes"):
            return ()
        ends = sorted([section.span.end for section in self.sections])
        ends += [match.start() for match in _ALL_SIZES.finditer(self.text)]
        starts = [m.start() for m in _SOME_SIZES.finditer(self.text) if not self.in_fact(m.start())]
        after = len(self.text)
        return tuple((at, min((end for end in ends if end > at), default=after)) for at in starts)

    def for_some_sizes(self, line: Line) -> bool:
        """Whether a "size M only" stands above the line in its part, with no "all sizes" after it."""
        return any(start <= line.span.start < end for start, end in self.some_sizes_stretches)

    # ------------------------------------------------------------------------------- lines

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        return self.draft.sections

    @cached_property
    def lines_by_section(self) -> tuple[tuple[Line, ...], ...]:
        """The lines of work of each section."""
        return tuple(
            tuple(line for line in section.lines if isinstance(line, Line)) for section in self.draft.sections
        )

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """All lines of work in the order of the text."""
        return tuple(line for lines in self.lines_by_section for line in lines)

    @cached_property
    def prose(self) -> tuple[Prose, ...]:
        """All prose between the lines of work."""
        return tuple(item for section in self.sections for item in section.lines if isinstance(item, Prose))

    @cached_property
    def note_facts(self) -> tuple[Fact, ...]:
        return tuple(fact for fact in self.draft.facts if fact.name.startswith("note"))

    @cached_property
    def note_spans(self) -> tuple[Span, ...]:
        """Notes wherever they stand: fact lines and prose."""
        spans = [fact.span for fact in self.note_facts] + [item.span for item in self.prose]
        return tuple(sorted(spans))

    # ------------------------------------------------------------------------------- steps

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        """Every step of every line, nested ones too, in the order of the text."""
        return tuple(
            spot
            for index, lines in enumerate(self.lines_by_section)
            for line in lines
            for spot in _walk(index, line, line.steps, 0)
        )

    @cached_property
    def works(self) -> tuple[tuple[Spot, Work], ...]:
        """Every `Work` step with its spot."""
        return tuple((spot, spot.step) for spot in self.spots if isinstance(spot.step, Work))

    @cached_property
    def stitches(self) -> dict[str, Span]:
        """US names of the stitches worked, with the place of the first."""
        first: dict[str, Span] = {}
        for _, work in self.works:
            first.setdefault(work.stitch.name, work.span)
        return first

    # ------------------------------------------------------------------------------ rounds

    @cached_property
    def rounds_by_line(self) -> dict[int, tuple[WorkedRound, ...]]:
        """The worked rounds of each line, keyed by `id(line)`."""
        found: dict[int, list[WorkedRound]] = {}
        for worked in self.fabric.rounds:
            found.setdefault(id(worked.line), []).append(worked)
        return {key: tuple(rounds) for key, rounds in found.items()}

    @cached_property
    def pairs(self) -> tuple[tuple[WorkedRound | None, WorkedRound], ...]:
        """Each worked round with the one before it in its section, None for the first."""
        return tuple(
            (section.rounds[index - 1] if index else None, worked)
            for section in self.fabric.sections
            for index, worked in enumerate(section.rounds)
        )

    def understood(self, worked: WorkedRound) -> bool:
        """Whether a round and all before it in its part were read and worked with nothing left open.

        Only then do its numbers contradict each other for certain.
        """
        return worked.key in self._understood

    def trusted(self, worked: WorkedRound) -> bool:
        """Whether a fault of a round is the text's for certain and not the reader's.

        Besides being understood, its part has to come out in at least as many lines as it fails in.
        """
        fine, faulty = self._fine_and_faulty[worked.section_index]
        return self.understood(worked) and faulty <= max(1, fine)

    def comes_out(self, section: WorkedSection) -> bool:
        """Whether no line of a part differs from its print or fails to fit."""
        return self._fine_and_faulty[section.index][1] == 0

    @cached_property
    def _fine_and_faulty(self) -> dict[int, tuple[int, int]]:
        """Lines that agree with their print, and lines that differ or do not fit, of each part."""
        tallies: dict[int, tuple[int, int]] = {}
        for section in self.fabric.sections:
            lines = {id(r.line): r.verdict is Verdict.DIFFERS or bool(r.misfits) for r in section.rounds}
            agreeing = {id(r.line) for r in section.rounds if r.verdict is Verdict.AGREES}
            faulty = sum(lines.values())
            tallies[section.index] = (len(agreeing) or len(lines) - faulty, faulty)
        return tallies

    @cached_property
    def _understood(self) -> frozenset[str]:
        keys: list[str] = []
        for section in self.fabric.sections:
            for worked in section.rounds:
                if worked.why is not None or worked.restarted or _has_unread(worked.line.steps):
                    break
                keys.append(worked.key)
        return frozenset(keys)

    @cached_property
    def stitch_shares(self) -> dict[str, float]:
        """The share of each stitch in all stitches of the first size; chains and slip stitches apart."""
        tally = (
            {name: n for name, n in self.fabric.tally[0] if name not in _NOT_FABRIC}
            if self.fabric.tally
            else {}
        )
        total = sum(tally.values())
        return {name: n / total for name, n in tally.items()} if total else {}

    @cached_property
    def main_stitches(self) -> tuple[str, ...]:
        """The stitches that make up a tenth of the fabric or more."""
        return tuple(name for name, share in self.stitch_shares.items() if share >= 0.1)

    @cached_property
    def widest_round(self) -> WorkedRound | None:
        """The round of the first part with rounds that has the most stitches in the first size."""
        for section in self.fabric.sections:
            sized = [(r.per_size[0].total, r) for r in section.rounds if r.per_size and r.per_size[0]]
            if len(sized) > 1:
                return max(sized, key=lambda pair: pair[0])[1]
        return None

    @cached_property
    def straight_piece(self) -> tuple[int, int] | None:
        """(stitches, rows) of a pattern of one size that is one piece worked straight, else None."""
        parts = [section for section in self.fabric.sections if section.rounds]
        if len(parts) != 1 or len(self.draft.sizes) > 1:
            return None
        rounds = parts[0].rounds
        totals = {r.per_size[0].total if r.per_size and r.per_size[0] else None for r in rounds}
        rows = all(r.kind == Kind.ROW and r.repeats == 1 for r in rounds)
        only = totals.pop() if len(totals) == 1 else None
        return (only, len(rounds)) if only and rows and len(self.main_stitches) == 1 else None

    @cached_property
    def size_count(self) -> int:
        return max(1, len(self.draft.sizes))


def _lower_by_letter(text: str) -> str:
    return "".join(low if len(low := letter.lower()) == 1 else letter for letter in text)


def _has_unread(steps: Sequence[Step]) -> bool:
    return any(
        isinstance(step, Unread) or (isinstance(step, (Repeat, Group)) and _has_unread(step.steps))
        for step in steps
    )


def _walk(section_index: int, line: Line, steps: Sequence[Step], depth: int) -> Iterator[Spot]:
    for step in steps:
        yield Spot(section_index, line, step, depth)
        if isinstance(step, Repeat):
            yield from _walk(section_index, line, step.steps, depth + 1)
            yield from _walk(section_index, line, step.ending, depth + 1)
        elif isinstance(step, (Group, OnlySizes)):
            yield from _walk(section_index, line, step.steps, depth + 1)
