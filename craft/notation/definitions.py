"""Special stitches as the pattern defines them: what each uses, makes and is made of.

Read before any line of work: abbreviation lists ("4dcl = (Yoh. Draw up a loop ...)"), special-stitch
sections ("Shell: 5 dc in one st") and notes. A definition is believed over the usual width of a name.
"""

from __future__ import annotations

from dataclasses import dataclass

from craft.notation.bodies import bare, is_picot, makes_of, tally_of, uses_of
from craft.notation.entries import Entry, spellings
from craft.notation.steps import Parser
from craft.notation.steps.spelling import Movements, read_movements
from craft.notation.stitches import PLAIN, Named, together
from craft.notation.tagging import tag
from craft.notation.tokens import Lexicon, Raw, Tokens, words_of
from craft.notation.tree import (
    Abbreviation,
    Definition,
    Group,
    How,
    Loops,
    Remark,
    Span,
    Step,
    Stitch,
    Unread,
    Work,
)
from craft.notation.words import wordset

__all__ = ["learn", "learn_made"]

_NEVER_FIRST = wordset(
    "note notes join fasten do with when if ch row rnd round rows rounds size sizes to in for a an the "
    "gauge hook yarn finished round work working begin place"
)
_STITCHY = wordset("st sts stitch cluster cl shell fan bobble popcorn puff block mesh group motif v-st")
_FREE_KINDS = frozenset(("word", "noun", "any", "marked"))
_MOVES = frozenset(("yoh", "draw", "insert"))
_ALIAS_FILLERS = frozenset(("in", "only", ".", "through", "(", ")", "noun", ","))
_BEFORE_THE_STEPS = frozenset(("work", "word", "over", "num", "noun", ":", "-", "st"))
_MOST_WORDS = 7
_SHORT = 8
_PLAINLY_SAID = 40
_MOST_TOGETHER = 99


def learn(
    raw: Raw, listed: list[Entry], lexicon: Lexicon, sizes: int
) -> tuple[list[Abbreviation], list[Definition]]:
    """Read the entries; stitch names that they define go into the lexicon."""
    shorts: list[Abbreviation] = []
    definitions: list[Definition] = []
    text = raw.text
    for entry in listed:
        if entry.sep + 1 >= entry.end or entry.start >= entry.sep:
            continue
        span = Span(raw.starts[entry.start], raw.ends[entry.end - 1])
        name = text[raw.starts[entry.start] : raw.ends[entry.sep - 1]]
        meaning = text[raw.starts[entry.sep + 1] : raw.ends[entry.end - 1]]
        if entry.strict:
            shorts.append(Abbreviation(name, meaning, span))
        if not _may_define(raw, entry, lexicon):
            continue
        named = _Meaning(raw, entry, lexicon, sizes).named()
        if named is None:
            continue
        for spelling in spellings(name):
            if _free(lexicon, spelling):
                lexicon.add(spelling, "stitch", named)
        if named.stitch.body or named.stitch.uses != 1 or len(meaning) > _PLAINLY_SAID:
            definitions.append(Definition(named.stitch.name, named.stitch, span, name))
    return shorts, definitions


def _is_plain(value: object) -> bool:
    """Whether a meaning is a plain stitch of the trade, which no pattern redefines."""
    return isinstance(value, Named) and value.stitch.name in PLAIN and value.loops is Loops.BOTH


def _may_define(raw: Raw, entry: Entry, lexicon: Lexicon) -> bool:
    """Whether the name can be that of a stitch of its own."""
    words = raw.words[entry.start : entry.sep]
    if words[0] in _NEVER_FIRST or len(words) > _MOST_WORDS:
        return False
    if "tog" in words and "(" in words and any(word.isdecimal() for word in words):
        return False  # "Dc2(3-4)tog": several names at once, each known by its number
    meaning, size = lexicon.look_up(raw.words, entry.start)
    if meaning is None or size < len(words):
        return True
    kind, value = meaning
    return not _is_plain(value) if kind == "stitch" else kind in _FREE_KINDS


def _free(lexicon: Lexicon, spelling: str) -> bool:
    """A spelling may be taken unless it already is another part of speech."""
    words = words_of(spelling)
    if not words or words == ("st",):
        return False
    meaning, size = lexicon.look_up(list(words), 0)
    if meaning is None or size < len(words):
        return True
    kind, value = meaning
    return not _is_plain(value) if kind == "stitch" else kind in {"word", "noun"}


@dataclass(slots=True)
class _Meaning:
    """One entry on its way to a stitch."""

    raw: Raw
    entry: Entry
    lexicon: Lexicon
    sizes: int

    def named(self) -> Named | None:
        """The stitch that the entry defines, or None when it defines none."""
        entry = self.entry
        known = self._known()
        numbered = self._numbered()
        if numbered:
            if known is not None and known.stitch.uses == numbered:
                return known
            return self._of_plain_ones(numbered) or self._stitch(uses=numbered)
        parser = Parser(tag(self.raw, entry.sep + 1, entry.end, self.lexicon, self.sizes))
        first = _restated(parser)
        movements = _movements(parser, first)
        if movements is not None:
            return self._from_movements(movements, known)
        if parser.end - first <= _SHORT:
            alias = self._alias(parser, first)
            if alias is not None:
                return alias
        if "num" not in parser.kinds[first:] and "stitch" not in parser.kinds[first:]:
            return None
        parser.i = first
        return self._from_steps(parser, known)

    def _stitch(self, *, uses: int = 1, post: str | None = None) -> Named:
        name = self._canonical()
        return Named(Stitch(name, uses=uses, tally=((name, 1),), post=post))

    def _canonical(self) -> str:
        """The name without what stands in brackets behind it."""
        raw, entry = self.raw, self.entry
        stop = entry.sep
        for i in range(entry.start + 1, entry.sep):
            if raw.words[i] == "(":
                stop = i
                break
        return " ".join(raw.folded[raw.starts[entry.start] : raw.ends[stop - 1]].split())

    def _known(self) -> Named | None:
        """What the trade knows by this name."""
        raw, entry = self.raw, self.entry
        meaning, size = self.lexicon.look_up(raw.words, entry.start)
        whole = size == entry.sep - entry.start or raw.words[entry.start + size] == "("
        value = meaning[1] if meaning is not None and meaning[0] == "stitch" and whole else None
        return value if isinstance(value, Named) else None

    def _numbered(self) -> int:
        """The number in a name such as "sc2togspl" or "dcfp3tog", 0 without one."""
        words = self.raw.words
        for i in range(self.entry.start, self.entry.sep - 1):
            if words[i].isdecimal() and words[i + 1].startswith("tog"):
                return min(int(words[i]), _MOST_TOGETHER)
        return 0

    def _of_plain_ones(self, number: int) -> Named | None:
        """Such as "Dc2tog" and nothing else: in UK terms that is sc2tog, as everywhere in the line."""
        entry = self.entry
        kind, value = self.lexicon.singles.get(self.raw.words[entry.start], ("", None))
        if entry.sep - entry.start != 3 or kind != "stitch" or not _is_plain(value):
            return None
        return together(value.stitch.name, number) if isinstance(value, Named) else None

    def _from_movements(self, found: Movements, known: Named | None) -> Named:
        uses = max(found.uses, 1)
        if known is not None and known.stitch.uses == uses:
            return known
        return self._stitch(uses=uses, post=found.stitch().post)

    def _alias(self, parser: Parser, first: int) -> Named | None:
        """Such as "Scbl = Single crochet in back loop only", "cl = cluster", "tr2tog = 2 tr together"."""
        kinds = parser.kinds
        at = first
        while kinds[at] == "work" or kinds[at : at + 2] == ["num", "num"]:
            at += 1
        if kinds[at] != "stitch":
            several = kinds[at : at + 2] == ["num", "stitch"] and kinds[at + 2] in {"stitch", "tog"}
            return self._stitch() if several else None
        named = parser.named(at)
        rest = [kind for kind in kinds[at + 1 : parser.end] if kind not in _ALIAS_FILLERS]
        if not rest:
            return named
        if rest in (["back loop"], ["front loop"]):
            parser.i = kinds.index(rest[0])
            return Named(named.stitch, parser.loops_here())
        numbers = [parser.number(j)[0] for j in range(at, parser.end) if kinds[j] == "num"]
        if "tog" in rest and numbers and numbers[0]:
            return together(named.stitch.name, min(numbers[0], _MOST_TOGETHER))
        return None

    def _from_steps(self, parser: Parser, known: Named | None) -> Named | None:
        """A shell, a V-stitch, a picot: steps worked into one place or over several."""
        width = _worked_over(parser)
        gathered = _gathered(parser)
        steps = tuple(step for step in parser.steps() if not isinstance(step, Remark))
        if not steps or any(isinstance(step, Unread) for step in steps):
            return None
        uses = width or uses_of(steps)
        if uses is None:
            return None
        if gathered:
            return self._stitch(uses=uses)
        return self._with_body(steps, uses, known)

    def _with_body(self, body: tuple[Step, ...], uses: int, known: Named | None) -> Named | None:
        only = body[0] if len(body) == 1 else None
        if isinstance(only, Group):
            body = only.steps
        elif isinstance(only, Work) and only.place.how is not How.BARE:
            if only.each == (1,) and only.stitch.makes == 1:
                return known or Named(only.stitch, only.place.loops)
            body = (bare(only),)
        makes = makes_of(body)
        if makes is None:
            return None
        if is_picot(body):
            uses = makes = 0
        return Named(Stitch(self._canonical(), uses=uses, makes=makes, tally=tally_of(body), body=body))


def _restated(parser: Parser) -> int:
    """Such as "inc-shell = increase shell: (shell, ...)": the meaning begins behind the colon."""
    for i in range(min(_SHORT, parser.end)):
        if parser.kinds[i] == ":" and i + 2 < parser.end and "over" not in parser.kinds[:i]:
            return i + 1
    return 0


def _movements(parser: Parser, first: int) -> Movements | None:
    """The hand movements that the meaning describes, if it does."""
    kinds = parser.kinds
    at = next((i for i in range(first, min(parser.end, first + 24)) if kinds[i] in _MOVES), None)
    if at is None:
        return None
    while at > first and kinds[at - 1] in {"(", "*"}:
        at -= 1
    if at > first + _SHORT and "stitch" in kinds[first:at]:
        return None
    parser.i = at
    return read_movements(parser)


def _worked_over(parser: Parser) -> int | None:
    """Such as "Worked over 3 sts: ..."; moves past it."""
    kinds = parser.kinds
    start = parser.i
    if "over" not in kinds[start : start + 4]:
        return None
    over = kinds.index("over", start)
    for j in range(over + 1, over + 4):
        if kinds[j] == "num":
            while kinds[parser.i] in _BEFORE_THE_STEPS and parser.i < start + 7:
                parser.i += 1
                if kinds[parser.i - 1] == ":":
                    break
            return parser.number(j)[0]
    return None


def _gathered(parser: Parser) -> bool:
    """A popcorn: stitches in one place, then "drop loop from hook ..."; reads no further than that."""
    for i in range(parser.i, parser.end):
        if parser.kinds[i] in {"drop", "word"} and parser.words(i, i + 1).lower() in {"drop", "remove"}:
            parser.end = i
            return True
    return False


def learn_made(
    lexicon: Lexicon, made: tuple[int, int, tuple[Step, ...]], tokens: Tokens
) -> Definition | None:
    """A stitch that a line names where it first makes it: "(1 dc. Ch 2. 1 dc - V-st made) in next st"."""
    first, end, steps = made
    span = Span(tokens.starts[first], tokens.ends[end - 1])
    name = " ".join(tokens.text[span.start : span.end].lower().split())
    words = words_of(name)
    meaning, size = lexicon.look_up(list(words), 0) if words else (None, 0)
    old = meaning[1] if meaning is not None and size == len(words) else None
    if old is not None or (meaning is not None and size == len(words)):
        if not isinstance(old, Named) or old.stitch.known:
            return None
        name = old.stitch.name
    elif not words or words[-1] not in _STITCHY:
        return None
    body = _last_made(steps)
    makes = makes_of(body) if body else None
    if not makes:
        return None
    named = Named(Stitch(name, makes=makes, tally=tally_of(body), body=body))
    for spelling in {*spellings(name), " ".join(words)}:
        lexicon.add(spelling, "stitch", named)
    if old is not None:
        lexicon.replace(old, ("stitch", named))
    return Definition(name, named.stitch, span, name)


def _last_made(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps that the name is for: a whole bracket, or the last group or stitches before it."""
    real = tuple(step for step in steps if not isinstance(step, Remark))
    last = real[-1] if real else None
    if isinstance(last, Group):
        return last.steps
    if isinstance(last, Work):
        return real if last.place.how is How.BARE else (bare(last),)
    return ()
