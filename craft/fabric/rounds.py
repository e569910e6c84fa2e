"""From printed lines to rounds in the order worked: ranges, "rep rows 2-5", "alt rows", "as 2nd row"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from craft.fabric.line import joins_at_left
from craft.notation.tree import (
    AsRound,
    Evenly,
    FastenOff,
    Group,
    How,
    Kind,
    Line,
    Numbers,
    Place,
    Repeat,
    Skip,
    Step,
    Stitch,
    Work,
)

__all__ = ["Planned", "plan"]

MOST_ROUNDS = 2_000  # of one line; what lies beyond is one entry with its number of rounds
IN_PATTERN = Stitch("in pattern")
_ROUND_WORDS = frozenset(("row", "rows", "rnd", "rnds", "round", "rounds"))
_SHORT = {"inc": "increase", "dec": "decrease", "beg": "beginning"}


@dataclass(frozen=True, slots=True)
class Planned:
    """One round to be worked.

    `cycle`: the steps of the round; several where a set of rows stands for one entry ("until it measures").
    `source`: the line that they come from, if it is another. `repeats`: 1, None for an open number.
    `last`: the sizes whose last round of the line this is: the printed count is for it. `sizes`: positions
    that have the round, () for all. `target`: count at which an open repeat ends. `why`: what is missing.
    `at_left`: the line begins by joining yarn to stitches left unworked. `after_cut`: the yarn was cut
    before it.
    """

    line: Line
    kind: Kind
    number: int | None
    cycle: tuple[tuple[Step, ...], ...]
    source: Line | None = None
    repeats: int | None = 1
    last: tuple[int, ...] = ()
    sizes: tuple[int, ...] = ()
    target: Numbers | None = None
    why: str | None = None
    at_left: bool = False
    after_cut: bool = False


@dataclass(slots=True)
class _Plan:
    size_count: int
    parts: Mapping[str, Sequence[Line]]
    before: Sequence[Planned] = ()
    done: list[Planned] = field(default_factory=list)
    by_number: dict[int, list[Line]] = field(default_factory=dict)
    rules: list[Line] = field(default_factory=list)
    last_number: int = 0


def plan(
    lines: Sequence[Line],
    size_count: int,
    parts: Mapping[str, Sequence[Line]],
    before: Sequence[Planned] = (),
) -> list[Planned]:
    """The rounds of one section in the order worked. `parts`: lines of the sections read before, by
    title in small letters; `before`: the rounds planned in them.
    """
    state = _Plan(max(size_count, 1), parts, before)
    for line in lines:
        _line(state, line)
    _mark_left(state.done)
    return _with_last(state.done, state.size_count)


def _mark_left(done: list[Planned]) -> None:
    """A part, or a line with no label, that begins by joining yarn to the next stitch, begins on stitches
    left unworked; a "next row" that does so goes on where the work is.
    """
    for index, planned in enumerate(done):
        label = planned.line.label
        free = index == 0 or not (label.numbers or label.word)
        if planned.cycle and free and planned.source is None and joins_at_left(planned.cycle[0]):
            before = done[index - 1].line.steps if index else ()
            cut = any(isinstance(step, FastenOff) for step in before)
            done[index] = replace(planned, at_left=True, after_cut=cut)


def _with_last(done: list[Planned], size_count: int) -> list[Planned]:
    """Mark, size by size, the round that the printed count of each line is for: the one it names, else the
    last.
    """
    found: dict[tuple[int, int], int] = {}
    for index, planned in enumerate(done):
        stated = planned.line.stated
        if stated is None:
            continue
        for size in planned.sizes or range(size_count):
            named = stated.round_number or None
            if named is None or planned.number == named or (id(planned.line), size) not in found:
                found[id(planned.line), size] = index
    marked: dict[int, list[int]] = {}
    for (_, size), index in found.items():
        marked.setdefault(index, []).append(size)
    for index, sizes in marked.items():
        done[index] = replace(done[index], last=tuple(sizes))
    return done


def _line(state: _Plan, line: Line) -> None:
    label = line.label
    if label.every is not None:
        start, _step = label.every
        state.rules.append(line)
        for number in label.numbers or (start,):
            if number not in state.by_number:
                state.by_number[number] = [line]
        if start != state.last_number + 1:
            return
        _emit(state, line, list(label.numbers or (start,)))
        return
    if label.numbers:
        _fill_rules(state, label.numbers[0])
    as_round = _as_round(line.steps)
    if as_round is None:
        _emit(state, line, _numbers(state, line))
    else:
        _emit_as(state, line, as_round)


def _fill_rules(state: _Plan, number: int) -> None:
    """Rows that a rule ("2nd and alt rows") gives between the last row and this one."""
    if not state.rules or number - state.last_number > 400:
        return
    for between in range(state.last_number + 1, number):
        rule = next((r for r in reversed(state.rules) if _rules(r, between)), None)
        if rule is not None and between not in state.by_number:
            _emit(state, rule, [between])


def _rules(line: Line, number: int) -> bool:
    start, step = line.label.every or (0, 1)
    return number >= start and (number - start) % max(step, 1) == 0


def _numbers(state: _Plan, line: Line) -> list[int | None]:
    label = line.label
    if label.numbers:
        numbers: list[int | None] = list(label.numbers)
        if label.per_size_last is not None and len(label.numbers) > 1:
            longest = max((n for n in label.per_size_last if n is not None), default=0)
            last = label.numbers[-1]
            numbers += list(range(last + 1, min(longest, last + MOST_ROUNDS) + 1))
        return numbers
    if label.stated_number_of_rounds is not None:
        many = max((n for n in label.stated_number_of_rounds if n is not None), default=1)
        return [None] * min(many, MOST_ROUNDS)
    return [None]


def _sizes_of(state: _Plan, line: Line, number: int | None, index: int) -> tuple[int, ...]:
    """The sizes that have this round; () for all."""
    label = line.label
    sizes = label.sizes or tuple(range(state.size_count))
    limits = None
    if label.per_size_last is not None and len(label.numbers) > 1 and number is not None:
        limits = label.per_size_last
        sizes = tuple(s for s in sizes if (_of(limits, s) or 0) >= number)
    elif not label.numbers and label.stated_number_of_rounds is not None:
        limits = label.stated_number_of_rounds
        sizes = tuple(s for s in sizes if (_of(limits, s) or 0) > index)
    return () if len(sizes) == state.size_count else sizes


def _of(numbers: Numbers, size: int) -> int | None:
    return numbers[0] if len(numbers) == 1 else numbers[size] if size < len(numbers) else None


def _emit(state: _Plan, line: Line, numbers: Sequence[int | None], source: Line | None = None) -> None:
    steps = line.steps if source is None else source.steps
    for index, number in enumerate(numbers[:MOST_ROUNDS]):
        if number is not None:
            _remember(state, number, source or line)
            state.last_number = number
        last = index == len(numbers) - 1
        state.done.append(
            Planned(
                line,
                line.label.kind,
                number,
                (steps,),
                source,
                repeats=1 if not (line.label.open_ended and last) else None,
                sizes=_sizes_of(state, line, number, index),
            )
        )
    if len(numbers) > MOST_ROUNDS:
        _shorten(state, numbers)


def _shorten(state: _Plan, numbers: Sequence[int | None]) -> None:
    """Rounds beyond the most that are listed, as one entry."""
    last = state.done[-1]
    state.done[-1] = replace(last, number=numbers[-1], repeats=len(numbers) - MOST_ROUNDS + 1)


# ---------------------------------------------------------------------- rounds as other rounds


def _as_round(steps: Sequence[Step]) -> AsRound | None:
    """The reference of a line: to rows ("Keeping pat, rep last 2 rows"), else "in pattern"."""
    found = [one for step in steps if (one := _reference(step)) is not None]
    named = (one for one in found if one.numbers or one.last or one.part is not None)
    return next(named, found[0] if found else None)


def _reference(step: Step) -> AsRound | None:
    if isinstance(step, AsRound):
        return step
    if isinstance(step, Repeat) and len(step.steps) == 1 and isinstance(step.steps[0], AsRound):
        return replace(step.steps[0], times=step.times)  # "[rep rows 3-6] 5 times"
    return None


def _emit_as(state: _Plan, line: Line, as_round: AsRound) -> None:
    rest = tuple(step for step in line.steps if step is not as_round and _as_round((step,)) is None)
    works = [step for step in rest if isinstance(step, (Work, Group, Repeat, Skip, Evenly))]
    if not as_round.numbers and not as_round.last and as_round.part is None:
        _emit_in_pattern(state, line, as_round, rest, bool(works))
        return
    sources = _sources(state, as_round, line)
    if not sources:
        for number in _numbers(state, line):
            _missing(state, line, number, as_round)
        return
    if works:
        _emit_mixed(state, line, as_round, sources)
    elif as_round.until is not None and not line.label.numbers:
        _emit_until(state, line, as_round, sources)
    elif line.label.numbers or line.label.stated_number_of_rounds is not None:
        _emit_numbered(state, line, sources)
    else:
        _emit_times(state, line, as_round, sources)


def _sources(state: _Plan, as_round: AsRound, line: Line) -> list[Line]:
    """The lines whose steps are worked, one pass of them."""
    if as_round.last:
        done = [*state.before[-as_round.last :], *state.done][-as_round.last :]
        if len(done) < as_round.last:
            return []
        return [planned.source or planned.line for planned in done]
    known: Mapping[int, Line] = {}
    named = _named(state, as_round)
    if named is not None:
        return [named]
    if as_round.part is not None:
        other = _copied(state, as_round) or _part(state, as_round.part)
        if other:
            known = {number: one for one in other for number in one.label.numbers}
            if not as_round.numbers:
                same = [known[number] for number in line.label.numbers if number in known]
                return same or list(other)
    found = [
        known.get(number)
        or _recall(state, number, line.label.sizes)
        or _rule_for(state, number)
        or _earlier(state, number, line.label.sizes)
        for number in as_round.numbers
    ]
    return [one for one in found if one is not None] if all(found) else []


def _named(state: _Plan, as_round: AsRound) -> Line | None:
    """The last line labelled so: "Repeat Increase Row", "Rep Dec Row 2"."""
    words = (as_round.part or "").lower().split()
    if len(words) < 2 or words[-1] not in _ROUND_WORDS:
        return None
    name = _in_full(words[:-1])
    for planned in (*reversed(state.done), *reversed(state.before)):
        label = planned.line.label
        if label.word is None or planned.source is not None or _in_full(label.word.split()) != name:
            continue
        if not as_round.numbers or as_round.numbers[0] in label.numbers:
            return planned.line
    return None


def _in_full(words: Sequence[str]) -> list[str]:
    return [_SHORT.get(word, word) for word in words]


def _remember(state: _Plan, number: int, line: Line) -> None:
    """The latest line of a number comes first."""
    state.by_number.setdefault(number, []).insert(0, line)


def _recall(state: _Plan, number: int, sizes: tuple[int, ...]) -> Line | None:
    """The round of that number."""
    return _of_sizes(state.by_number.get(number, []), sizes)


def _of_sizes(lines: Sequence[Line], sizes: tuple[int, ...]) -> Line | None:
    """The first of the lines that is of the sizes asked for, where each size has one of its own."""
    for line in lines:
        if not sizes or not line.label.sizes or not set(sizes).isdisjoint(line.label.sizes):
            return line
    return lines[0] if lines else None


def _rule_for(state: _Plan, number: int) -> Line | None:
    return next((rule for rule in reversed(state.rules) if _rules(rule, number)), None)


def _earlier(state: _Plan, number: int, sizes: tuple[int, ...]) -> Line | None:
    """A round of that number in the part before."""
    found = [planned.source or planned.line for planned in reversed(state.before) if planned.number == number]
    return _of_sizes(found, sizes)


def _copied(state: _Plan, as_round: AsRound) -> Sequence[Line]:
    """The lines of earlier parts in the stretch of text that the reference stands for."""
    span = as_round.copies
    if span is None:
        return ()
    return [
        line for lines in state.parts.values() for line in lines if span.start <= line.span.start < span.end
    ]


_SAME_WORDS = {"stitch": "st", "stitches": "st", "sts": "st", "pat": "pattern", "patt": "pattern"}


def _plain_title(name: str) -> str:
    """A title in small letters, its words in their short form."""
    return " ".join(_SAME_WORDS.get(word, word) for word in name.lower().split())


def _part(state: _Plan, name: str) -> Sequence[Line]:
    wanted = _plain_title(name)
    for full, lines in reversed(list(state.parts.items())):
        title = _plain_title(full)
        if title and (wanted == title or wanted in title or title in wanted):
            return lines
    return ()


def _missing(state: _Plan, line: Line, number: int | None, as_round: AsRound) -> None:
    unit = "row" if line.label.kind is Kind.ROW else "round"
    named = ", ".join(map(str, as_round.numbers)) or (as_round.part or "")
    why = (
        f"the {unit} that it repeats ({named}) is not there"
        if named
        else f"the {unit} that it repeats is not there"
    )
    if number is not None:
        state.last_number = number
    state.done.append(Planned(line, line.label.kind, number, (), why=why, sizes=line.label.sizes))


def _emit_numbered(state: _Plan, line: Line, sources: Sequence[Line]) -> None:
    """As in "Rows 6-21: rep rows 2-5 four times": the numbers say how often."""
    numbers = _numbers(state, line)
    for index, number in enumerate(numbers[:MOST_ROUNDS]):
        source = _resolved(state, sources[index % len(sources)], 0)
        last = index == len(numbers) - 1
        state.done.append(
            Planned(
                line, line.label.kind, number, (source.steps,), source,
                repeats=None if line.label.open_ended and last else 1,
                sizes=_sizes_of(state, line, number, index),
            )
        )  # fmt: skip
        if number is not None:
            _remember(state, number, source)
            state.last_number = number
    if len(numbers) > MOST_ROUNDS:
        _shorten(state, numbers)


def _resolved(state: _Plan, line: Line, depth: int) -> Line:
    """A line that is itself "as row 2" leads to row 2."""
    as_round = _as_round(line.steps)
    if as_round is None or depth > 6 or len(as_round.numbers) != 1:
        return line
    found = _recall(state, as_round.numbers[0], line.label.sizes)
    return line if found is None or found is line else _resolved(state, found, depth + 1)


def _emit_times(state: _Plan, line: Line, as_round: AsRound, sources: Sequence[Line]) -> None:
    times = as_round.times
    number = times.number if times is not None and times.number is not None else (1,)
    most = max((n for n in number if n is not None), default=0)
    done = 0
    total = most * len(sources)
    for index in range(min(total, MOST_ROUNDS)):
        done = index // len(sources)
        sizes = tuple(s for s in line.label.sizes or range(state.size_count) if (_of(number, s) or 0) > done)
        source = _resolved(state, sources[index % len(sources)], 0)
        state.done.append(
            Planned(
                line, source.label.kind, None, (source.steps,), source,
                sizes=() if len(sizes) == state.size_count else sizes,
            )
        )  # fmt: skip


_TARGET = re.compile(
    r"(?<!\d)(\d{1,9}(?:\s{0,3}[(\[][\d\s,\-–]{1,99}[)\]])?)"
    r"\s{0,3}(?:sts?|sc|dc|hdc|tr|stitch(?:es)?|rem)\b",
    re.IGNORECASE,
)


def _emit_until(state: _Plan, line: Line, as_round: AsRound, sources: Sequence[Line]) -> None:
    """An open number of rows is one entry; a target count says how many there are."""
    resolved = [_resolved(state, source, 0) for source in sources]
    found = _TARGET.search(as_round.until or "")
    target = tuple(int(n) for n in re.findall(r"\d+", found.group(1))) if found else None
    state.done.append(
        Planned(
            line, line.label.kind, None, tuple(source.steps for source in resolved), resolved[-1],
            repeats=None, sizes=line.label.sizes, target=target,
        )
    )  # fmt: skip


def _emit_in_pattern(
    state: _Plan, line: Line, as_round: AsRound, rest: tuple[Step, ...], works: bool
) -> None:
    """As in "As established": one stitch in each, the number kept, but for the shaping named."""
    each = Work(IN_PATTERN, (1,), Place(How.EACH, None, span=as_round.span), as_round.span, "in pattern")
    told = [step for step in line.steps if not isinstance(step, AsRound) or step is as_round]
    target = next((step.total for step in told if isinstance(step, Evenly) and step.total is not None), None)
    if target is not None:
        steps = tuple(step for step in told if step is not as_round)  # worked until there are so many
    else:
        steps = tuple(each if step is as_round else step for step in told)
    until = any(isinstance(step, AsRound) and step.until is not None for step in line.steps)
    numbers = _numbers(state, line)
    for index, number in enumerate(numbers):
        if number is not None:
            state.last_number = number
        state.done.append(
            Planned(
                line, line.label.kind, number, (steps,),
                repeats=1 if line.label.numbers or not until else None,
                sizes=_sizes_of(state, line, number, index), target=target,
            )
        )  # fmt: skip


def _only_in_pattern(step: Step) -> bool:
    return isinstance(step, AsRound) and not (step.numbers or step.last or step.part)


def _emit_mixed(state: _Plan, line: Line, as_round: AsRound, sources: Sequence[Line]) -> None:
    """As in "As row 2 to last 3 sts, ...": the other row's steps, then those given."""
    source = _resolved(state, sources[-1], 0)
    told = [step for step in line.steps if step is as_round or not _only_in_pattern(step)]
    steps = tuple(inner for step in told for inner in (source.steps if step is as_round else (step,)))
    _emit(state, replace(line, steps=steps), _numbers(state, line))
    for index in range(len(state.done) - 1, -1, -1):
        if state.done[index].line.line_number != line.line_number:
            break
        state.done[index] = replace(state.done[index], line=line)
