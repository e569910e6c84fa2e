"""Group I: the numbers of rounds and rows."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from craft.notation.tree import AsRound, FastenOff, Kind, Line, Prose, Repeat, Span, Step, Turn, Unread
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted
from craft.techedit.finding import Level, Suggestion
from craft.techedit.quantities import amounts
from craft.techedit.registry import Hit, check

_DIGITS = re.compile(r"\d+")


# ------------------------------------------------------------------------------- I1, I3, I7


@dataclass(frozen=True, slots=True)
class _Step:
    """A numbered line with the number that the one before it leads to; None where nothing leads."""

    line: Line
    before: Line | None
    expected: int | None
    after: int | None

    @property
    def first(self) -> int:
        return self.line.label.numbers[0]


def _unsure(line: Line) -> bool:
    """Whether a line stands for a number of rounds that its label does not tell."""
    label = line.label
    if label.per_size_last or label.open_ended:
        return True
    if label.numbers:
        return any(isinstance(step, AsRound) and step.until for step in line.steps)
    return True


def _passed_over(case: Case, line: Line) -> bool:
    """Whether a line has a numbering of its own: for some sizes, or named ("Decrease Row 1")."""
    head = case.text[max(line.span.start, line.label.span.start - 40) : line.label.span.start]
    before = case.text[max(0, line.span.start - 60) : line.span.start].rsplit("\n", 1)[-1]
    own = line.label.sizes or line.label.word or "size" in (before + head).lower()
    return bool(own) or case.for_some_sizes(line)


_MORE_ROUNDS = re.compile(
    r"\b(?:rep|repeat|cont|continue|more|even|rows?|rnds?|rounds?|until)\b", re.IGNORECASE
)


def _sequence(case: Case) -> tuple[_Step, ...]:
    return case.once("sequence", lambda each: tuple(_numbered(each)))


def _numbered(case: Case) -> Iterator[_Step]:
    """The numbered lines of each section with what their numbers should be.

    A rule is dropped where rounds without a number, an unread stretch, words about more rounds or a
    size of its own comes between, for those may or may not take a number.
    """
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        loose = [
            item.span.start
            for item in section.lines
            if isinstance(item, Unread)
            or (isinstance(item, Prose) and _MORE_ROUNDS.search(case.words_at(item.span)))
        ]
        yield from _followed(case, lines, loose, tuple(_rules(lines)))


def _rules(lines: Sequence[Line]) -> Iterator[tuple[int, int]]:
    """Rows that a line speaks for beyond its own number: "2nd and every alt row" -> (2, 2)."""
    return (line.label.every for line in lines if line.label.every)


def _followed(
    case: Case, lines: Sequence[Line], loose: Sequence[int], rules: tuple[tuple[int, int], ...]
) -> Iterator[_Step]:
    reached: int | None = None
    before: Line | None = None
    for at, line in enumerate(lines):
        numbers = line.label.numbers
        if _passed_over(case, line):
            reached, before = None, None
            continue
        if before is not None and (
            any(before.span.start < gap < line.span.start for gap in loose)
            or before.label.kind is not line.label.kind
        ):
            reached = None
        if numbers:
            after = next((n.label.numbers[0] for n in lines[at + 1 :] if n.label.numbers), None)
            while reached is not None and reached + 1 < numbers[0] and _ruled(reached + 1, rules):
                reached += 1
            step = _Step(line, before, None if reached is None else reached + 1, after)
            yield step
            reached = step.expected if _is_odd(step) and step.expected else max(numbers)
        if _unsure(line):
            reached = None
        before = line


def _ruled(number: int, rules: tuple[tuple[int, int], ...]) -> bool:
    return any(number >= start and (number - start) % step == 0 for start, step in rules)


def _is_odd(step: _Step) -> bool:
    """One wrong label among good neighbours: the next goes on as if it were right."""
    expected = step.expected
    return (
        expected is not None
        and len(step.line.label.numbers) == 1
        and step.first != expected
        and step.after == expected + 1
    )


@check("number-out-of-order", "I1", Level.ERROR)
def number_out_of_order(case: Case) -> Iterator[Hit]:
    """The numbers of rounds or rows run on without a gap and without a number twice.

    Why: a maker who finds Rnd 8 after Rnd 6 does not know whether a round got lost. One wrong label
    between good neighbours is reported once, on itself.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 4: (sc, inc) x 6 (18)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)

    Limits: nothing is said after rounds without a number, "repeat Rows 2-5" or a stretch that was
    not understood, nor where sizes have rounds of their own: those may have taken the numbers.

    Trade checks: I1.
    """
    steps = [step for step in _sequence(case) if step.before and step.expected not in {None, step.first}]
    every_other = [s for s in steps if s.first == (s.expected or 0) + 1]
    for step in steps:
        expected, first = step.expected or 0, step.first
        before = step.before or step.line
        here = {"here": line_name(step.line), "before": line_name(before), "expected": expected}
        if _is_odd(step):
            mend = _renumbered(case, step.line, expected)
            yield Hit(step.line.label.span, here, "odd", round_number=first, suggestion=mend)
        elif first > expected and (len(every_other) < 2 or step not in every_other):
            missing = f"{expected}" if first == expected + 1 else f"{expected} to {first - 1}"
            level = None if first <= expected + 2 else Level.WARNING
            values = {**here, "missing": missing}
            yield Hit(step.line.label.span, values, "gap", level, round_number=first)
        elif first == before.label.numbers[-1] > 1 and len(before.label.numbers) == 1:
            yield Hit(step.line.label.span, here, "twice", round_number=first)
        elif 1 < first < expected and not _overlaps(step):
            yield Hit(step.line.label.span, here, "back", Level.WARNING, round_number=first)


def _renumbered(case: Case, line: Line, number: int) -> Suggestion | None:
    match = _DIGITS.search(case.text, line.label.span.start, line.label.span.end)
    return Suggestion(Span(match.start(), match.end()), str(number)) if match else None


def _overlaps(step: _Step) -> bool:
    before = step.before.label.numbers if step.before else ()
    return len(before) > 1 and before[0] <= step.first <= before[-1]


@check("range-overlaps", "I3", Level.ERROR)
def range_overlaps(case: Case) -> Iterator[Hit]:
    """A range of rounds ends before the next heading begins.

    Why: with "Rows 5-9" followed by "Row 9" one row is given twice, and nobody can tell which
    holds.

    Wrong:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Rows 2-5: Ch 1, sc in each st across, turn (10)
        Row 5: Ch 1, sc in each st across, fasten off (10)
    Right:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Rows 2-5: Ch 1, sc in each st across, turn (10)
        Row 6: Ch 1, sc in each st across, fasten off (10)

    Trade checks: I3.
    """
    for step in _sequence(case):
        if step.before and step.expected not in {None, step.first} and _overlaps(step):
            values = {
                "here": line_name(step.line),
                "before": line_name(step.before),
                "expected": step.expected,
            }
            yield Hit(step.line.label.span, values, round_number=step.first)


@check("numbering-restarts", "I7", Level.WARNING)
def numbering_restarts(case: Case) -> Iterator[Hit]:
    """Numbering that starts again at 1 is announced by a heading.

    Why: without a heading the maker cannot tell a new part from a slip, nor what the new Row 1 is
    worked on.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
    Right:
        HEAD
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)

        EARS (make 2)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)

    Limits: prose between the two parts counts as an announcement.

    Trade checks: I7.
    """
    previous: Line | None = None
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        for line in lines:
            announced = bool(section.title) and line is lines[0]
            own_line = not case.text[case.text.rfind("\n", 0, line.span.start) + 1 : line.span.start].strip()
            if previous is not None and not announced and own_line and _starts_again(previous, line):
                between = case.text[previous.span.end : line.span.start]
                if not between.strip(" \n\t.*-–—_=~"):
                    values = {"here": line_name(line), "before": line_name(previous)}
                    yield Hit(line.label.span, values, round_number=1)
            previous = line


def _starts_again(previous: Line, line: Line) -> bool:
    numbers = line.label.numbers
    return (
        bool(numbers) and numbers[0] == 1 and bool(previous.label.numbers) and previous.label.numbers[-1] > 2
    )


# ----------------------------------------------------------------------------------- I2, I6


@check("row-or-round", "I2", Level.WARNING)
def row_or_round(case: Case) -> Iterator[Hit]:
    """A line is called a row where the work goes to and fro, a round where it goes round.

    Why: "Row 4" in the middle of rounds makes a maker turn the work.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Row 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)

    Limits: only one odd word among neighbours that go on with the numbers is reported. A pattern
    that calls its rounds rows throughout is left alone, as is a row that says "turn".

    Trade checks: I2.
    """
    for lines in case.lines_by_section:
        for before, line, after in zip(lines, lines[1:], lines[2:], strict=False):
            kinds = (before.label.kind, line.label.kind, after.label.kind)
            if kinds[0] == kinds[2] != kinds[1] and _runs_on(before, line, after) and not _turns(line):
                values = {"here": line_name(line), "word": kinds[0].value, "found": kinds[1].value}
                yield Hit(line.label.span, values, round_number=line.label.numbers[0])


def _runs_on(*lines: Line) -> bool:
    numbers = [line.label.numbers for line in lines]
    return all(numbers) and all(a[-1] + 1 == b[0] for a, b in itertools.pairwise(numbers))


def _turns(line: Line) -> bool:
    return any(isinstance(step, Turn) and step.turn for step in line.steps)


@check("face-does-not-alternate", "I6", Level.ERROR)
def face_does_not_alternate(case: Case) -> Iterator[Hit]:
    """RS and WS labels follow the turns: in rows they take turns, in rounds they stay.

    Why: a pattern that marks Row 2 and Row 4 as WS and Row 5 as WS too sends the maker to the wrong
    face.

    Wrong:
        Row 1 (RS): Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2 (WS): Ch 1, sc in each st across, turn (10)
        Row 3 (WS): Ch 1, sc in each st across, turn (10)
        Row 4 (WS): Ch 1, sc in each st across, turn (10)
    Right:
        Row 1 (RS): Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2 (WS): Ch 1, sc in each st across, turn (10)
        Row 3 (RS): Ch 1, sc in each st across, turn (10)
        Row 4 (WS): Ch 1, sc in each st across, turn (10)

    Limits: only rows that all say "turn" are followed, and never across a cut or a yarn joined
    anew.

    Trade checks: I6.
    """
    for lines in case.lines_by_section:
        stretch: list[Line] = []
        for line in lines:
            if stretch and not _leads_to(stretch[-1], line):
                yield from _odd_faces(stretch)
                stretch = []
            stretch.append(line)
        yield from _odd_faces(stretch)


def _leads_to(before: Line, line: Line) -> bool:
    """Whether one row is followed by the next with the work turned between them."""
    rows = before.label.kind is line.label.kind is Kind.ROW
    cut = any(isinstance(step, FastenOff) for step in before.steps)
    return rows and _runs_on(before, line) and (_turns(before) or _turns_first(line)) and not cut


def _turns_first(line: Line) -> bool:
    return any(isinstance(step, Turn) and step.turn for step in line.steps[:2])


def _odd_faces(stretch: Sequence[Line]) -> Iterator[Hit]:
    sided = [line for line in stretch if line.label.side and len(line.label.numbers) == 1]
    if len(sided) < 2:
        return
    parities = [(line.label.numbers[0] % 2 == 1) == (line.label.side == "RS") for line in sided]
    tally = Counter(parities)
    if len(tally) < 2:
        return
    usual = tally[True] >= tally[False]
    odd = [line for line, parity in zip(sided, parities, strict=True) if parity != usual]
    if len(odd) == 1 or len(odd) * 3 <= len(sided):
        for line in odd:
            other = "WS" if line.label.side == "RS" else "RS"
            values = {"here": line_name(line), "side": line.label.side, "other": other}
            yield Hit(line.label.span, values, round_number=line.label.numbers[0])


# ----------------------------------------------------------------------------------- I4, I5


@check("range-states-other-number", "I4", Level.ERROR)
def range_states_other_number(case: Case) -> Iterator[Hit]:
    """The number of rounds said in a label is the number that its range covers.

    Why: with "Rnds 5-9 (4 rnds)" one maker works four rounds and the next works five.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnds 2-6 (4 rnds): sc in each st around (6)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnds 2-6 (5 rnds): sc in each st around (6)

    Trade checks: I4.
    """
    for line in case.lines:
        said, numbers = line.label.stated_number_of_rounds, line.label.numbers
        if not said or len(numbers) < 2 or line.label.per_size_last or line.label.sizes:
            continue
        wrong = [value for value in said if value is not None and value != len(numbers)]
        if wrong and len(said) == 1:
            kind = "rounds" if line.label.kind is Kind.ROUND else "rows"
            values = {"here": line_name(line), "said": wrong[0], "covers": len(numbers), "kind": kind}
            yield Hit(
                line.label.span, values, round_number=numbers[0], suggestion=_said_again(case, line, wrong[0])
            )


def _said_again(case: Case, line: Line, said: int) -> Suggestion | None:
    """The number in the label rewritten, where it stands there once."""
    covers = len(line.label.numbers)
    found = [m for m in _DIGITS.finditer(case.text, *line.label.span) if m[0] == str(said)]
    if not found or (len(found) > 1 and said in {line.label.numbers[0], line.label.numbers[-1]}):
        found = found[-1:]
    return Suggestion(Span(found[-1].start(), found[-1].end()), str(covers)) if found else None


@check("repeats-do-not-fill-range", "I5", Level.ERROR)
def repeats_do_not_fill_range(case: Case) -> Iterator[Hit]:
    """A block of rows repeated fills exactly the rows that the label gives it.

    Why: "Rows 6-33: repeat Rows 2-5 six times" leaves four rows without an instruction.

    Wrong:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Ch 3 (counts as dc), dc in next 9 sts, turn (10)
        Rows 4-11: Repeat Rows 2 and 3 six times.
    Right:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Ch 1, sc in each st across, turn (10)
        Row 3: Ch 3 (counts as dc), dc in next 9 sts, turn (10)
        Rows 4-11: Repeat Rows 2 and 3 four times.

    Limits: "N times" may be N in all or N more; only a number that fits neither way is reported.

    Trade checks: I5.
    """
    for line in case.lines:
        covers = len(line.label.numbers)
        again = [step for step in _flat(line.steps) if isinstance(step, AsRound)]
        further = " then " in case.words_at(line.span)  # "once more, then Rows 2 and 3 once"
        by_size = line.label.per_size_last or line.label.sizes
        if covers < 2 or len(again) != 1 or by_size or further:
            continue
        step = again[0]
        block = len(step.numbers) or step.last
        times = step.times.number if step.times else None
        if not block or not times or len(times) != 1 or times[0] is None or step.until:
            continue
        if covers not in {block * times[0], block * (times[0] + 1)}:
            values = {
                "here": line_name(line),
                "covers": covers,
                "block": block,
                "times": times[0],
                "filled": block * times[0],
            }
            yield Hit(step.span, values, round_number=line.label.numbers[0])


def _flat(steps: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        if isinstance(step, Repeat):
            yield from _flat(step.steps)
        else:
            yield step


# --------------------------------------------------------------------------------------- I8


@check("length-and-rows-disagree", "I8", Level.WARNING, needs="gauges")
def length_and_rows_disagree(case: Case) -> Iterator[Hit]:
    """A length and a number of rows given for the same stretch agree by the row gauge.

    Why: "until it measures 15 cm (24 rows)" at 20 rows to 10 cm gives either 30 rows or 12 cm.

    Wrong:
        Gauge: 16 sc and 20 rows = 10 cm
        Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn (16)
        Rows 2-24: Repeat Row 1 until piece measures 15 cm.
    Right:
        Gauge: 16 sc and 20 rows = 10 cm
        Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn (16)
        Rows 2-30: Repeat Row 1 until piece measures 15 cm.

    Limits: needs a row gauge; a difference of one row in ten, or of two rows, is let pass.

    Trade checks: I8.
    """
    rate = next((g.rows_per_10_cm for g in case.facts.gauges if g.rows_per_10_cm), None)
    if rate is None:
        return
    for spot in case.spots:
        if not isinstance(spot.step, AsRound) or not spot.step.until or len(spot.line.label.numbers) < 2:
            continue
        lengths = [amount.cm[0] for amount in amounts(spot.step.until) if amount.cm]
        rows = spot.line.label.numbers[-1]
        if lengths and abs(lengths[0] * rate / 10 - rows) > max(2, rows / 10):
            values = {
                "here": line_name(spot.line),
                "length": quoted(case, *spot.step.span),
                "rows": rows,
                "by_gauge": round(lengths[0] * rate / 10),
            }
            yield Hit(spot.step.span, values, round_number=spot.line.label.numbers[0])
