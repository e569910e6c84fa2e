"""Special stitches as the pattern defines them: what each uses, makes and is made of.

Read before any line of work: abbreviation lists ("4dcl = (Yoh. Draw up a loop ...)"), special-stitch
sections ("Shell: 5 dc in one st") and notes. A definition is believed over the usual width of a name.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from craft.notation.steps import Parser
from craft.notation.steps.spelling import read_movements
from craft.notation.stitches import PLAIN, Named, together
from craft.notation.tagging import tag
from craft.notation.tokens import Lexicon, Raw, Tokens, words_of
from craft.notation.tree import (
    Abbreviation,
    Chain,
    Definition,
    Group,
    How,
    Join,
    Loops,
    Place,
    Remark,
    Repeat,
    Skip,
    Span,
    Step,
    Stitch,
    Unread,
    Work,
)
from craft.notation.words import wordset

__all__ = ["Entry", "entries", "learn", "learn_made"]

_LONGEST_NAME = 9


@dataclass(frozen=True, slots=True)
class Entry:
    """Such as "name = meaning" as raw ranges: name [start, sep), meaning (sep, end)."""

    start: int
    sep: int
    end: int
    strict: bool  # from a list of abbreviations, not from running text


def entries(raw: Raw, start: int, end: int, *, strict: bool) -> list[Entry]:
    """Cut a list of abbreviations or stitch explanations into its entries."""
    sign = _separator(raw, start, end)
    found: list[tuple[int, int]] = []
    fresh = True
    i = start
    while i < end:
        word = raw.words[i]
        if fresh and word not in {"\n", ";"}:
            sep = _entry(raw, i, end, sign)
            if sep is not None:
                found.append((i, sep))
                i = sep + 1
                fresh = False
                continue
        fresh = word in {"\n", ";", "\u2022"} or (strict and word in {",", "."} and sign == "=")
        i += 1
    out: list[Entry] = []
    for index, (a, sep) in enumerate(found):
        stop = found[index + 1][0] if index + 1 < len(found) else end
        while stop > sep + 1 and raw.words[stop - 1] in {"\n", ";", "\u2022", ","}:
            stop -= 1
        out.append(Entry(a, sep, stop, strict))
    return out


def _separator(raw: Raw, start: int, end: int) -> str:
    """The mark between names and meanings in this list."""
    tally = Counter(word for word in raw.words[start:end] if word in {"=", ":"})
    if tally["="]:
        return "="
    dashes = sum(
        1
        for i in range(start + 1, min(end, len(raw) - 1))
        if raw.words[i] == "-" and raw.starts[i] > raw.ends[i - 1]
    )
    return "-" if dashes > tally[":"] else ":"


def _entry(raw: Raw, at: int, end: int, sign: str) -> int | None:
    """The index of the separator if a name stands at `at`."""
    words = raw.words
    for i in range(at, min(end, at + _LONGEST_NAME + 1)):
        word = words[i]
        if i > at and (word == sign or (word in {":", "="} and sign != "=")):
            if word == "-" and raw.starts[i] == raw.ends[i - 1]:
                continue
            return i
        if not (word.isalnum() or word in "()-/,.*&" or "'" in word):
            return None
    return None


def learn(
    raw: Raw, listed: list[Entry], lexicon: Lexicon, sizes: int
) -> tuple[list[Abbreviation], list[Definition]]:
    """Read the entries; stitch names that they define go into the lexicon."""
    shorts: list[Abbreviation] = []
    definitions: list[Definition] = []
    text = raw.text
    for entry in listed:
        start = _name_start(raw, entry)
        if entry.sep + 1 >= entry.end or start >= entry.sep:
            continue
        span = Span(raw.starts[start], raw.ends[entry.end - 1])
        name = text[raw.starts[start] : raw.ends[entry.sep - 1]]
        meaning = text[raw.starts[entry.sep + 1] : raw.ends[entry.end - 1]]
        if entry.strict:
            shorts.append(Abbreviation(name, meaning, span))
        if not _may_define(raw, start, entry, lexicon):
            continue
        named = _meaning(raw, start, entry, lexicon, sizes)
        if named is None:
            continue
        for spelling in _spellings(name):
            if _free(lexicon, spelling, named):
                lexicon.add(spelling, "stitch", named)
        if named.stitch.body or named.stitch.uses != 1 or len(meaning) > 40:
            definitions.append(Definition(named.stitch.name, named.stitch, span, name))
    return shorts, definitions


def _name_start(raw: Raw, entry: Entry) -> int:
    """Past "Note:", bullets and the sentence before: "Fasten off. Dc2tog = ..."."""
    start = entry.start
    for i in range(entry.start, entry.sep):
        if (
            raw.words[i] in {".", "\u2022", "*", "-"}
            and i + 1 < entry.sep
            and raw.starts[i + 1] > raw.ends[i]
        ):
            start = i + 1
    return start


def _may_define(raw: Raw, start: int, entry: Entry, lexicon: Lexicon) -> bool:
    """Whether the name can be that of a stitch of its own."""
    words = raw.words[start : entry.sep]
    if words[0] in _NEVER_FIRST or len(words) > 7:
        return False
    if "tog" in words and "(" in words and any(word.isdecimal() for word in words):
        return False  # "Dc2(3-4)tog": several names at once, each known by its number
    meaning, size = lexicon.look_up(raw.words, start)
    if meaning is None or size < len(words):
        return True
    kind, value = meaning
    if kind != "stitch":
        return kind in {"word", "noun", "any", "marked"}
    return not (isinstance(value, Named) and value.stitch.name in PLAIN and value.loops is Loops.BOTH)


def _free(lexicon: Lexicon, spelling: str, named: Named) -> bool:
    """A spelling may be taken unless it already is another part of speech."""
    words = words_of(spelling)
    if not words:
        return False
    meaning, size = lexicon.look_up(list(words), 0)
    if meaning is None or size < len(words):
        return True
    kind, value = meaning
    if kind == "stitch":
        return not (isinstance(value, Named) and value.stitch.name in PLAIN and value.loops is Loops.BOTH)
    return kind in {"word", "noun"} and spelling not in {"st", "sts", "sp", "sps"}


_NEVER_FIRST = wordset(
    "note notes join fasten do with when if ch row rnd round rows rounds size sizes to in "
    "for a an the gauge hook yarn finished round work working begin place"
)


def _spellings(name: str) -> list[str]:
    """Such as "Shell (sh)" -> "shell", "sh"; "V-st(s)" -> "v-st", "v-sts"."""
    name = name.strip().strip(".,").lower()
    forms: list[str] = []
    head, _, tail = name.partition("(")
    if tail:
        inner = tail.split(")")[0].strip()
        if inner in {"s", "es"}:
            forms += [head.strip(), head.strip() + inner]
        else:
            forms += [head.strip(), inner]
    else:
        forms.append(name)
    more: list[str] = []
    for form in forms:
        if not form or len(form) > 40:
            continue
        more.append(form)
        if not form.endswith("s"):
            more.append(form + "s")
        if form.endswith(" st"):
            more += [form + "itch", form[:-3]]
        elif form.endswith(" stitch"):
            more += [form[:-7], form[:-4], form + "es"]
    return [form for form in more if not form.isdigit() and form not in _NEVER]


_NEVER = wordset("in and to st sts ch sp a b c d e f g the x rep beg rnd row rs ws mc cc m")


def _meaning(raw: Raw, start: int, entry: Entry, lexicon: Lexicon, sizes: int) -> Named | None:
    """The stitch that an entry defines, or None when it defines none."""
    tokens = tag(raw, entry.sep + 1, entry.end, lexicon, sizes)
    parser = Parser(tokens)
    kinds = tokens.kinds
    name = _canonical(raw, start, entry)
    known, size = lexicon.look_up(raw.words, start)
    known_name = (
        known[1]
        if known is not None
        and known[0] == "stitch"
        and (size == entry.sep - start or raw.words[start + size] == "(")
        else None
    )
    numbered = _numbered(raw, start, entry)
    if numbered:
        if isinstance(known_name, Named) and known_name.stitch.uses == numbered:
            return known_name
        return Named(Stitch(name, uses=numbered, tally=((name, 1),)))
    first = _restated(parser)
    width = _worked_over(parser) if kinds[first] in {"over", "word"} else None
    movements_at = _movements_start(kinds, first, parser.end)
    if movements_at is not None and (
        movements_at <= first + 8 or not any(k == "stitch" for k in kinds[first:movements_at])
    ):
        parser.i = movements_at
        found = read_movements(parser)
        if found is not None:
            return _from_movements(found.stitch(), name, known_name, found.uses, found.post)
    if parser.end - first <= 8:
        alias = _alias(parser, first, name)
        if alias is not None:
            return alias
    if not any(kind in {"num", "stitch"} for kind in kinds[first:]):
        return None
    parser.i = first
    return _from_steps(parser, name, known_name, width)


def _numbered(raw: Raw, start: int, entry: Entry) -> int:
    """The number in a name such as "sc2togspl" or "dcfp3tog", 0 without one."""
    words = raw.words
    for i in range(start, entry.sep - 1):
        if words[i].isdecimal() and words[i + 1].startswith("tog"):
            return min(int(words[i]), 99)
    return 0


def _restated(parser: Parser) -> int:
    """Such as "inc-shell = increase shell: (shell, ...)": the meaning begins behind the colon."""
    for i in range(min(8, parser.end)):
        if parser.kinds[i] == ":" and i + 2 < parser.end and "over" not in parser.kinds[:i]:
            return i + 1
    return 0


def learn_made(
    lexicon: Lexicon, text: str, made: tuple[int, int, tuple[Step, ...]], tokens: Tokens
) -> Definition | None:
    """A stitch that a line names where it first makes it: "(1 dc. Ch 2. 1 dc - V-st made) in next st"."""
    first, end, steps = made
    name = " ".join(text[tokens.starts[first] : tokens.ends[end - 1]].lower().split())
    words = words_of(name)
    meaning, size = lexicon.look_up(list(words), 0)
    if meaning is not None and size == len(words):
        value = meaning[1]
        if meaning[0] != "stitch" or not isinstance(value, Named) or value.stitch.known:
            return None
        name = value.stitch.name
    elif not words or words[-1] not in _STITCHY:
        return None
    body = _last_made(steps)
    if body is None:
        return None
    makes = _makes(body)
    if not makes:
        return None
    stitch = Stitch(name, makes=makes, tally=_tally(body), body=body)
    for spelling in {*_spellings(name), " ".join(words)}:
        lexicon.add(spelling, "stitch", Named(stitch))
    if meaning is not None:
        _rename(lexicon, meaning[1], Named(stitch))
    return Definition(name, stitch, Span(tokens.starts[first], tokens.ends[end - 1]), name)


_STITCHY = wordset("st sts stitch cluster cl shell fan bobble popcorn puff block mesh group motif v-st")


def _rename(lexicon: Lexicon, old: object, new: Named) -> None:
    """All spellings of a stitch now mean the stitch as defined."""
    lexicon.replace(old, ("stitch", new))


def _last_made(steps: tuple[Step, ...]) -> tuple[Step, ...] | None:
    """The steps that the name is for: a whole bracket, or the last group or stitches before it."""
    real = [step for step in steps if not isinstance(step, Remark)]
    if not real:
        return None
    last = real[-1]
    if isinstance(last, Group):
        return last.steps
    if isinstance(last, Work):
        if last.place.how is How.BARE:
            return tuple(real)
        place = Place(How.BARE, last.each, span=last.place.span)
        return (Work(last.stitch, (1,), place, last.span, last.written),)
    return None


def _canonical(raw: Raw, start: int, entry: Entry) -> str:
    stop = entry.sep
    for i in range(start, entry.sep):
        if raw.words[i] == "(" and i > start:
            stop = i
            break
    text = raw.folded[raw.starts[start] : raw.ends[stop - 1]]
    return " ".join(text.split())


def _movements_start(kinds: list[str], first: int, end: int) -> int | None:
    for i in range(first, min(end, first + 24)):
        if kinds[i] in {"yoh", "draw", "insert"}:
            while i > first and kinds[i - 1] in {"(", "*"}:
                i -= 1
            return i
    return None


def _worked_over(parser: Parser) -> int | None:
    """Such as "Worked over 3 sts: ..."."""
    kinds = parser.kinds
    for i in range(4):
        if kinds[i] == "over":
            for j in range(i + 1, i + 4):
                if kinds[j] == "num":
                    return parser.number(j)[0]
    return None


def _from_movements(made: Stitch, name: str, known: object, uses: int, post: str | None) -> Named:
    if isinstance(known, Named) and known.stitch.uses == max(uses, 1):
        return known
    return Named(
        Stitch(name, uses=max(uses, 1), makes=1, tally=((name, 1),), post=post if made.post else None)
    )


def _alias(parser: Parser, first: int, name: str) -> Named | None:
    """Such as "Scbl = Single crochet in back loop only", "Dc = Double crochet", "cl = cluster"."""
    kinds, values = parser.kinds, parser.values
    at = first
    while kinds[at] == "work" or (kinds[at] == "num" and kinds[at + 1] == "num"):
        at += 1
    if kinds[at] != "stitch" or not isinstance(values[at], Named):
        if kinds[at] == "num" and kinds[at + 1] == "stitch" and kinds[at + 2] in {"stitch", "tog"}:
            return _several(parser, at, name)
        return None
    named = values[at]
    assert isinstance(named, Named)
    rest = [
        kind
        for kind in kinds[at + 1 : parser.end]
        if kind not in {"in", "only", ".", "through", "(", ")", "noun", ","}
    ]
    if not rest:
        return named
    if rest in (["back loop"], ["front loop"]):
        parser.i = kinds.index(rest[0])
        return Named(named.stitch, parser.loops_here())
    if "tog" in rest:
        numbers = [parser.number(j)[0] for j in range(at, parser.end) if kinds[j] == "num"]
        if numbers and numbers[0]:
            return together(named.stitch.name, min(numbers[0], 99))
    return None


def _several(parser: Parser, at: int, name: str) -> Named | None:
    """Such as "3 treble crochet cluster": one stitch in one place."""
    return Named(Stitch(name, tally=((name, 1),)))


def _from_steps(parser: Parser, name: str, known: object, width: int | None) -> Named | None:
    """A shell, a V-stitch, a picot: steps worked into one place or over several."""
    while (
        parser.kinds[parser.i] in {"work", "word", "over", "num", "noun", ":", "-", "st"}
        and width is not None
        and parser.i < 7
    ):
        parser.i += 1
        if parser.kinds[parser.i - 1] == ":":
            break
    gathered = _gathered(parser)
    steps = [step for step in parser.steps() if not isinstance(step, Remark)]
    if not steps or any(isinstance(step, Unread) for step in steps):
        return None
    body = tuple(steps)
    uses = width if width is not None else _uses(body)
    if uses is None:
        return None
    if gathered:
        return Named(Stitch(name, uses=uses, tally=((name, 1),)))
    if len(body) == 1 and isinstance(body[0], Group):
        body = body[0].steps
    elif len(body) == 1 and isinstance(body[0], Work) and body[0].place.how is not How.BARE:
        only = body[0]
        each = only.each[0] or 1
        if each == 1 and only.stitch.makes == 1:
            if isinstance(known, Named):
                return known
            return Named(only.stitch, only.place.loops)
        body = (
            Work(
                only.stitch, (1,), Place(How.BARE, only.each, span=only.place.span), only.span, only.written
            ),
        )
    makes = _makes(body)
    if makes is None:
        return None
    if isinstance(body[0], Chain) and isinstance(body[-1], Join | Work) and makes <= 1 and _picot(body):
        return Named(Stitch(name, uses=0, makes=0, tally=_tally(body), body=body))
    return Named(Stitch(name, uses=uses, makes=makes, tally=_tally(body), body=body))


def _gathered(parser: Parser) -> bool:
    """A popcorn: stitches in one place, then "drop loop from hook ..."; reads no further than that."""
    text = parser.text
    for i in range(parser.i, parser.end):
        if parser.kinds[i] in {"drop", "word"} and text[parser.starts[i] : parser.ends[i]].lower() in {
            "drop",
            "remove",
        }:
            parser.end = i
            return True
    return False


def _picot(body: tuple[Step, ...]) -> bool:
    last = body[-1]
    if isinstance(last, Join):
        return True
    return (
        isinstance(last, Work)
        and last.stitch.name in {"sl st", "sc"}
        and (
            last.place.how in {How.HOOK, How.SAME}
            or last.place.what in {"ch", "turning ch"}
            or last.stitch.name == "sl st"
        )
        and len(body) <= 3
    )


def _uses(steps: tuple[Step, ...]) -> int | None:
    """Places of the edge below that the steps use up."""
    uses = 0
    for step in steps:
        if isinstance(step, Group):
            if step.place.how is How.EACH:
                return None
            uses += _width(step.place)
        elif isinstance(step, Work):
            if step.place.how is How.EACH:
                return None
            if step.place.of != "skipped":
                uses += _width(step.place) * (1 if step.place.how is not How.BARE else step.stitch.uses)
        elif isinstance(step, Skip):
            uses += _width(step.place)
        elif isinstance(step, Repeat):
            inner = _uses(step.steps)
            if inner is None or step.times.number is None:
                return None
            uses += inner * (step.times.number[0] or 1)
    return max(uses, 1)


def _width(place: Place) -> int:
    if place.how in {How.SAME, How.RING, How.HOOK} or place.number is None:
        return 0
    if place.how is How.BARE:
        return 0
    return place.number[0] or 0


def _makes(steps: tuple[Step, ...]) -> int | None:
    makes = 0
    for step in steps:
        if isinstance(step, Work):
            if step.stitch.name != "sl st":
                number = step.place.number[0] if step.place.number else 1
                makes += (step.each[0] or 0) * (number or 0) * step.stitch.makes
        elif isinstance(step, Group):
            inner = _makes(step.steps)
            makes += inner or 0
        elif isinstance(step, Repeat):
            inner = _makes(step.steps)
            if inner is None or step.times.number is None:
                return None
            makes += inner * (step.times.number[0] or 1)
    return makes


def _tally(steps: tuple[Step, ...]) -> tuple[tuple[str, int], ...]:
    tally: Counter[str] = Counter()
    for step in steps:
        if isinstance(step, Work):
            number = (step.place.number[0] if step.place.number else 1) or 0
            for name, count in step.stitch.tally:
                tally[name] += count * number * (step.each[0] or 0)
        elif isinstance(step, Chain):
            tally["ch"] += step.number[0] or 0
        elif isinstance(step, Group):
            tally.update(dict(_tally(step.steps)))
        elif isinstance(step, Repeat) and step.times.number is not None:
            for name, count in _tally(step.steps):
                tally[name] += count * (step.times.number[0] or 1)
        elif isinstance(step, Join):
            tally["sl st"] += 1
    return tuple(tally.items())
