"""A maker's text to a draft. Nothing raises: what is not understood is kept with its place."""

from __future__ import annotations

from dataclasses import dataclass, field

from craft.notation.definitions import learn, learn_made
from craft.notation.dialect import find_terms
from craft.notation.entries import entries
from craft.notation.layout import Statement, lay_out
from craft.notation.lexicon import lexicon_for
from craft.notation.normalise import plain_line_ends
from craft.notation.references import resolve
from craft.notation.rules import merge, rules_in
from craft.notation.sizes import find_sizes, positions_named
from craft.notation.steps import Parser
from craft.notation.tagging import tag
from craft.notation.tokens import Lexicon, Raw, Tokens, raw_tokens
from craft.notation.tree import (
    ONE,
    Abbreviation,
    AsRound,
    Chain,
    Colour,
    Definition,
    Draft,
    Evenly,
    Fact,
    Group,
    HouseRules,
    Join,
    Kind,
    Label,
    Line,
    Marker,
    Numbers,
    Prose,
    Remark,
    Repeat,
    Ring,
    Section,
    Skip,
    Span,
    StatedCount,
    Step,
    Turn,
    Unread,
    Work,
)

__all__ = ["read"]


def read(text: str, *, terms: str | None = None) -> Draft:
    r"""Read a written pattern.

    `terms` is "us" or "uk" where the maker says so; None lets the text decide. Never raises on any
    text; `Draft.text` has "\n" line ends and all spans point into it.
    """
    text = plain_line_ends(text)
    raw = raw_tokens(text)
    statements = lay_out(raw)
    return _Reading(text, raw, statements, terms).draft()


@dataclass(slots=True)
class _Open:
    """A section being filled."""

    title: str
    span: Span
    line_number: int
    make: Numbers = ONE
    continues: bool = False
    rules: HouseRules = field(default_factory=HouseRules)
    lines: list[Line | Prose | Unread] = field(default_factory=list)


class _Reading:
    def __init__(self, text: str, raw: Raw, statements: list[Statement], terms: str | None) -> None:
        self.text = text
        self.raw = raw
        self.statements = statements
        self.terms, self.terms_from = find_terms(raw, terms)
        self.facts: list[Fact] = []
        for statement in statements:
            if statement.what == "fact":
                self._fact(statement)
        stated = next((fact.value for fact in self.facts if fact.name == "sizes"), None)
        self.sizes = find_sizes(raw, stated)
        self.size_count = max(1, len(self.sizes))
        self.lexicon: Lexicon = lexicon_for(self.terms or "us").copy()
        self.abbreviations: list[Abbreviation] = []
        self.definitions: list[Definition] = []
        self._learn()
        self.sections: list[_Open] = [_Open("", Span(0, 0), 1)]
        self.unread: list[Unread] = []
        self.only: tuple[int, ...] = ()
        self.kind = Kind.ROUND
        self.rules = HouseRules()
        self.worked = False

    def _learn(self) -> None:
        """Read definitions before any line of work; twice, as one may build on a later one."""
        self._learn_once()
        if self.definitions:
            self.abbreviations, self.definitions = [], []
            self._learn_once()

    def _learn_once(self) -> None:
        for statement in self.statements:
            strict = statement.name in {"abbreviations", "stitches"}
            if not strict and statement.name not in {"notes", "note"}:
                continue
            start = statement.rest if statement.what == "fact" else statement.start
            found = entries(self.raw, start, statement.end, strict=strict)
            shorts, definitions = learn(self.raw, found, self.lexicon, self.size_count)
            self.abbreviations += shorts
            self.definitions += definitions

    def draft(self) -> Draft:
        for statement in self.statements:
            if statement.what == "work":
                self._work(statement)
            elif statement.what == "heading":
                self._heading(statement)
            elif statement.what == "fact":
                continue
            elif statement.what == "sizes":
                self._sizes_mark(statement)
            else:
                self._prose(statement)
        sections = tuple(
            Section(s.title, s.span, s.line_number, tuple(s.lines), s.make, s.rules, s.continues)
            for s in self.sections
            if s.lines or s.title
        )
        sections = resolve(self.raw, sections)
        return Draft(
            self.text,
            self.sizes,
            self.terms,
            self.terms_from,
            tuple(self.facts),
            tuple(self.abbreviations),
            tuple(self.definitions),
            self.rules,
            sections,
            tuple(self.unread),
        )

    def _span(self, statement: Statement) -> Span:
        return Span(self.raw.starts[statement.start], self.raw.ends[statement.end - 1])

    def _heading(self, statement: Statement) -> None:
        span = self._span(statement)
        title = self.text[span.start : span.end].strip(" :.\n")
        self.only = ()
        section = _Open(title, span, statement.line, _make(self.raw, statement), _continues(title))
        section.rules = merge(self.rules, self.sections[-1].rules if section.continues else HouseRules())
        self.sections.append(section)

    def _fact(self, statement: Statement) -> None:
        span = self._span(statement)
        start = self.raw.starts[statement.rest] if statement.rest < statement.end else span.end
        self.facts.append(Fact(statement.name, self.text[start : span.end].strip(), span, statement.line))

    def _sizes_mark(self, statement: Statement) -> None:
        span = self._span(statement)
        self.only = positions_named(self.text[span.start : span.end], self.sizes)

    def _prose(self, statement: Statement) -> None:
        if statement.name != "comment":
            self.sections[-1].lines.append(Prose(self._span(statement), statement.line, statement.name))
            self._rules(statement)

    def _rules(self, statement: Statement) -> None:
        """Rules stated in a note hold for its section; before all work, and with "throughout", for all."""
        words = self.raw.words[statement.start : statement.end]
        found = rules_in(self.raw, statement.start, statement.end)
        if found == HouseRules():
            return
        if not self.worked or "throughout" in words:
            self.rules = merge(self.rules, found)
        self.sections[-1].rules = merge(self.sections[-1].rules, found)

    def _work(self, statement: Statement) -> None:
        label = statement.label
        start = label.end if label is not None else statement.start
        tokens = tag(self.raw, start, statement.end, self.lexicon, self.size_count, self.only)
        parser = Parser(tokens)
        steps = parser.steps()
        if parser.made and self._learn_made(parser, tokens):
            tokens = tag(self.raw, start, statement.end, self.lexicon, self.size_count, self.only)
            parser = Parser(tokens)
            steps = parser.steps()
        if label is None and not _is_work(steps):
            self.sections[-1].lines.append(Prose(self._span(statement), statement.line, "note"))
            return
        stated, inner = _counts(parser, steps)
        if label is not None and label.numbers:
            steps = _unread_if_idle(steps)
        self.worked = True
        if "throughout" in self.raw.words[start : statement.end]:
            self._rules(statement)
        self._keep_unread(steps)
        self.sections[-1].lines.append(
            Line(
                self._label(statement, parser.rounds),
                steps,
                self._span(statement),
                statement.line,
                stated,
                inner,
            )
        )

    def _keep_unread(self, steps: tuple[Step, ...]) -> None:
        for step in steps:
            if isinstance(step, Unread):
                self.unread.append(step)
            elif isinstance(step, _NESTED):
                self._keep_unread(step.steps)

    def _learn_made(self, parser: Parser, tokens: Tokens) -> bool:
        """Take in stitches that this line names where it makes them."""
        found = [learn_made(self.lexicon, made, tokens) for made in parser.made]
        self.definitions += [definition for definition in found if definition is not None]
        return any(definition is not None for definition in found)

    def _label(self, statement: Statement, rounds: Numbers | None) -> Label:
        raw = statement.label
        if raw is None:
            at = self.raw.starts[statement.start]
            return Label(self.kind, Span(at, at), stated_number_of_rounds=rounds, sizes=self.only)
        self.kind = raw.kind
        return Label(
            raw.kind,
            Span(self.raw.starts[raw.start], self.raw.ends[raw.end - 1]),
            raw.numbers,
            raw.stated or rounds,
            raw.side,
            raw.every,
            raw.open_ended,
            self.only,
            raw.last_by_size,
            raw.word,
        )


_NESTED = (Repeat, Group)
_IDLE = (Remark, Colour, Marker, Join, Turn)
_WORKED = (Work, Group, Repeat, Skip)
_REAL = (Chain, Ring, Group, AsRound, Evenly)


def _unread_if_idle(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """A numbered round that does nothing we know, and has words: those words are its work, not a remark."""
    if not any(isinstance(step, Remark) for step in steps) or not all(isinstance(s, _IDLE) for s in steps):
        return steps
    return tuple(Unread(step.span) if isinstance(step, Remark) else step for step in steps)


def _is_work(steps: tuple[Step, ...]) -> bool:
    """Whether a statement without a label is work, judged by what could be read of it."""
    real = unread = 0
    for step in steps:
        if isinstance(step, Repeat):
            real += _is_work(step.steps)
        elif isinstance(step, _REAL):
            real += 1
        elif isinstance(step, Work):
            real += step.stitch.known
        elif isinstance(step, Unread):
            unread += 1
    return real > 0 and real >= unread


def _counts(parser: Parser, steps: tuple[Step, ...]) -> tuple[StatedCount | None, tuple[StatedCount, ...]]:
    """The count at the end of a line, and those met before it."""
    if not parser.counts:
        return None, ()
    found, after = parser.counts[-1]
    rest = steps[after:]
    joined = bool(rest) and isinstance(rest[0], Join)
    if rest and not joined and any(isinstance(step, _WORKED) for step in rest):
        return None, tuple(count for count, _ in parser.counts)
    return found, tuple(count for count, _ in parser.counts[:-1])


def _make(raw: Raw, statement: Statement) -> Numbers:
    """Such as "(make 2)" in a heading."""
    words = raw.words[statement.start : statement.end]
    for i, word in enumerate(words[:-1]):
        if word in {"make", "x", "*"} and words[i + 1].isdecimal():
            return (int(words[i + 1]),)
        if word == "make" and words[i + 1] in {"two", "three", "four"}:
            return ({"two": 2, "three": 3, "four": 4}[words[i + 1]],)
    return ONE


_CONTINUING = ("shape", "shaping", "crown", "edging", "border", "neck", "brim", "divide", "begin", "for ")


def _continues(title: str) -> bool:
    return title.lower().startswith(_CONTINUING)
