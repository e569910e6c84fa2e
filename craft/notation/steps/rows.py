"""References to other rounds: "As 2nd row", "Rep rows 2-5 four times more", "work even in pat"."""

from __future__ import annotations

from craft.notation.steps.asides import AsideReader
from craft.notation.steps.cursor import PHRASE
from craft.notation.stitches import IN_PATTERN, Named
from craft.notation.tree import (
    ONE,
    AsRound,
    Colour,
    Evenly,
    Group,
    How,
    Marker,
    Numbers,
    Place,
    Remark,
    Repeat,
    Step,
    Times,
    Work,
)

__all__ = ["RowReader"]

_UNITS = frozenset(("stitch", "noun", "ch", "sl", "total", "in pattern"))
_RANGE = frozenset(("to", "-", "--", "through"))
_JOINERS = _RANGE | {"and", ","}
_NUMBERED = frozenset(("ord", "num", "first"))
_AFTER_JOINER = frozenset(("ord", "num", "row", "rnd", "and", "last", "first"))
_PART_WORDS = frozenset(("pattern", "word", "this", "last", "first", "prev"))
_ALONG_AN_EDGE = frozenset(("evenly", "side"))
_AS_SET = frozenset(("established", "set", "est", "before"))
_NAME_KINDS = frozenset(("increase", "decrease", "word", "join", "picot", "-", "stitch"))
_LONGEST_RANGE = 2000


def _only_yarn(steps: list[Step]) -> bool:
    """Whether nothing but yarn and remarks stands before."""
    return all(isinstance(step, Colour | Remark | Marker) for step in steps)


class _Rows:
    """Round numbers while they are being read."""

    __slots__ = ("by_size", "joiner", "last", "numbers", "unit")

    def __init__(self) -> None:
        self.numbers: list[int] = []
        self.last = 0
        self.by_size: Numbers | None = None
        self.joiner = ""
        self.unit = False

    def add(self, value: int) -> None:
        numbers = self.numbers
        if self.joiner in _RANGE and numbers and numbers[-1] < value < numbers[-1] + _LONGEST_RANGE:
            numbers.extend(range(numbers[-1] + 1, value + 1))
        else:
            numbers.append(value)
        self.joiner = ""


class RowReader(AsideReader):
    """Reads what stands for other rounds."""

    __slots__ = ()

    def on_as(self) -> None:
        """Such as "As 2nd row", "as given for Back"."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        while kinds[self.i] in {"for", "in", "of"} or self.values[self.i] in {"given", "on"}:
            self.i += 1
        if kinds[self.i] in {"ord", "row", "rnd", "last", "first", "prev"}:
            self.as_round(first)
        elif kinds[self.i] not in PHRASE and self.i > first + 1:
            start = self.i
            stop = self.stop_from(start, PHRASE | {"until", "over", "to"})
            part = self.words(start, stop)
            self.i = self.stop_from(start)
            until = self.words(stop, self.i) or None
            self.out.append(AsRound((), self.span(first), until=until, part=part))
        else:
            self.i = first

    def on_same(self) -> None:
        """Such as "Same as rnd 3"."""
        if self.kinds[self.i + 1] == "as":
            self.i += 1
            self.on_as()

    def on_row(self) -> None:
        """Such as "Work Row 1 of Griddle st pattern", "Work 3rd row of pat"."""
        first = self.i
        kind, following = self.kinds[first], self.kinds[first + 1]
        if kind == "ord":
            if following in {"row", "rnd"}:
                self.as_round(first)
        elif following == "num":
            self.as_round(first)
        else:
            self.rest_of_sentence(first)

    def as_round(self, first: int) -> None:
        """Round numbers from the position on, then how often or how long."""
        rows = _Rows()
        while self._row_part(rows):
            self.i += 1
        if not rows.numbers and not rows.last:
            self.i = first
            return
        part = self._of_part()
        times = self._for_rows(rows) or self.times(bracket=False)
        if times is None:
            self._words_between()
        until = self._until_when(times)
        numbers = tuple(rows.numbers)
        self.out.append(AsRound(numbers, self.span(first), rows.last, times, until, part, rows.by_size))

    def named_round_at(self, at: int) -> int:
        """Where "row" stands in "Increase Row", "Picot Joining Rnd"; 0 where no such name stands here."""
        for i in range(at, at + 4):
            if self.kinds[i] in {"row", "rnd"}:
                return i if i > at else 0
            if self.kinds[i] not in _NAME_KINDS:
                return 0
        return 0

    def named_round(self, first: int, at: int) -> None:
        """Such as "Repeat Increase Row", "Rep Decrease Row 1 for 2 (3) more times"."""
        kinds = self.kinds
        end = self.named_round_at(at)
        part = self.words(at, end + 1)
        self.i = end + 1
        numbers: tuple[int, ...] = ()
        if kinds[self.i] == "num" and kinds[self.i + 1] not in {"times", "more"}:
            numbers = (self.number(self.i)[0] or 0,)
            self.i += 1
        if kinds[self.i] == "for" and kinds[self.i + 1] == "num":
            self.i += 1
        times = self.times(bracket=False)
        until = self._until_when(times)
        self.out.append(AsRound(numbers, self.span(first), 0, times, until, part))

    def _for_rows(self, rows: _Rows) -> Times | None:
        """Such as "for 9 more times", "for 9 rnds more" when one round is repeated."""
        kinds = self.kinds
        if kinds[self.i : self.i + 2] != ["for", "num"]:
            return None
        start = self.i
        number = self.number(start + 1)
        self.i += 1
        if kinds[start + 2] in {"more", "times"} and kinds[start + 3] not in {"row", "rnd"}:
            return self.times(bracket=False)
        single = len(rows.numbers) == 1 or (not rows.numbers and rows.last == 1)
        if not single or not {"row", "rnd"} & {kinds[start + 2], kinds[start + 3]}:
            self.i = start
            return None
        self.i += 1
        while kinds[self.i] in {"more", "row", "rnd"}:
            self.i += 1
        return Times(number, more=True)

    def _row_part(self, rows: _Rows) -> bool:
        """Take the token here into `rows`; False where the numbers end."""
        kind = self.kinds[self.i]
        if kind in _NUMBERED:
            return self._row_number(kind, rows)
        if kind in {"last", "prev"}:
            rows.last = 1
            return True
        if kind in {"row", "rnd"}:
            rows.unit = True
            return True
        if kind in _JOINERS and (rows.numbers or rows.last):
            return self._row_joiner(kind, rows)
        return False

    def _row_joiner(self, kind: str, rows: _Rows) -> bool:
        kinds = self.kinds
        following = kinds[self.i + 1]
        if kind in {"-", "--"} and following == "num" and kinds[self.i + 2] in _UNITS:
            return False  # "Repeat Row 2 - 47 sts"
        if following not in _AFTER_JOINER or (kind == "and" and rows.last):
            return False
        rows.joiner = kind
        return kind != "," or following in {"ord", "num", "and"}

    def _row_number(self, kind: str, rows: _Rows) -> bool:
        if kind == "first":
            rows.add(1)
            return True
        if kind == "ord":
            rows.add(self.ordinal(self.i))
            return True
        number = self.number(self.i)
        if rows.last and not rows.numbers:
            if rows.unit:
                return False
            rows.last = number[0] or 1
            rows.by_size = number if len(number) > 1 else None
            return True
        if rows.numbers and rows.joiner == "":
            return False
        rows.add(number[0] or 0)
        return True

    def _of_part(self) -> str | None:
        """Such as "(row 2) of Small Loop st", "for pat"."""
        kinds = self.kinds
        part: str | None = None
        while kinds[self.i] in {"of", "for", "in", "as"} and kinds[self.i + 1] not in {"num", "end"}:
            start = self.i
            self.i += 1
            while (
                kinds[self.i] in _PART_WORDS or (kinds[start] == "of" and kinds[self.i] in {"stitch", "noun"})
            ) and self.i - start < 5:
                self.i += 1
            if self.i == start + 1:
                self.i = start
                break
            part = self.words(start + 1, self.i)
        return part

    def _words_between(self) -> None:
        """Words between the numbers and "until ...", or before the end of the phrase."""
        kinds = self.kinds
        if kinds[self.i] in PHRASE or kinds[self.i] in {"until", "for", "to", ":", "("}:
            return
        stop = self.stop_from(self.i, PHRASE | {"until", "for"})
        if kinds[stop] in {"until", "for"} or (
            "stitch" not in kinds[self.i : stop] and "ch" not in kinds[self.i : stop]
        ):
            self.i = stop

    def _until_when(self, times: Times | None) -> str | None:
        """Such as "until work measures 10 cm", "for 3 more rows", ", ending with a WS row"."""
        kinds = self.kinds
        start = self.i
        if kinds[start] == "," and kinds[start + 1] in {"until", "ending"}:
            start += 1
        elif times is not None:
            if times.until_what is None:
                return None
        elif kinds[start] not in {"until", "for", "to"}:
            return None
        self.i = self.sentence_end(start)
        return self.words(start, self.i) or None

    # ------------------------------------------------------------------ in pattern

    def on_pattern(self) -> None:
        """Such as "in pattern to last 5 sts", "cont in pat until ..."."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        self._as_established()
        places = self.where()
        if places:
            self._work_in_pattern(first, places, "in pattern")
            return
        if kinds[self.i] in {"until", "for", "to"}:
            self.until_measured(first)
            return
        if kinds[self.i : self.i + 3] == [",", "work", "num"] and self._bare_stitches(self.i + 2):
            return  # "keeping in pattern, work 18 sts": the manner of what follows
        worked = any(isinstance(step, Work | Repeat | Group) for step in self.out)
        if (
            not worked
            and first
            and self.values[first - 1] in {"work", "even", "in"}
            and kinds[self.i] in PHRASE
        ):
            place = Place(How.EACH, None, loops=self.loops, span=self.span(first))
            self._work_in_pattern(first, [place], "in pattern")
            return
        self.out.append(AsRound((), self.span(first)))

    def _bare_stitches(self, number: int) -> bool:
        """Whether "18 sts" stands at the number, with no place behind it."""
        return self.values[number + 1] == "st" and self.kinds[number + 2] in PHRASE

    def _as_established(self) -> None:
        """Pass over "as established", "as set" behind the pattern."""
        if self.kinds[self.i] == "as" and self.values[self.i + 1] in _AS_SET:
            self.i += 2

    def _work_in_pattern(self, first: int, places: list[Place], written: str) -> None:
        span = self.span(first)
        self.out.extend(Work(IN_PATTERN, ONE, place, span, written) for place in places)

    def on_number(self) -> None:
        """Such as "(work) 6 rows even", "2 rows sc"; any other number is for the layers below."""
        first = self.i
        kinds = self.kinds
        before = self.values[first - 1] if first else ""
        if before == "work" and self._bare_stitches(first):
            self.i += 2
            self.work(first, Named(IN_PATTERN), self.number(first))
            return
        rows = kinds[first + 1] in {"row", "rnd"} and before == "work"
        if not rows or not _only_yarn(self.out):
            super().on_number()
            return
        self.rounds = self.number(first)
        self.i += 2
        while kinds[self.i] in {"more", "of", "in"}:
            self.i += 1
        start = self.i
        stitch = IN_PATTERN
        if kinds[start] == "stitch":
            stitch = self.named(start).stitch
        self.i = self.stop_from(start)
        if not _ALONG_AN_EDGE.isdisjoint(kinds[start : self.i]):
            self.out.append(Evenly(None, self.span(first), None, stitch))
            return
        place = Place(How.EACH, None, loops=self.loops, span=self.span(first))
        self.out.append(Work(stitch, ONE, place, self.span(first), self.words(start, self.i)))

    def on_even(self) -> None:
        """Such as "work even", "even in pat to marker"."""
        first = self.i
        self.i += 1
        kind = self.kinds[self.i]
        if kind in {"in pattern", "pattern"}:
            self.on_pattern()
        elif kind in {"until", "for", "in"}:
            self.until_measured(first)
        else:
            place = Place(How.EACH, None, loops=self.loops, span=self.span(first))
            self._work_in_pattern(first, [place], "even")

    def on_across(self) -> None:
        """Such as "(work) across in established pattern to last 3 sts"."""
        first = self.i
        if self.kinds[first + 1] not in {"in pattern", "pattern"}:
            return
        self.i += 2
        places = self.where()
        if not places:
            places = [Place(How.EACH, None, loops=self.loops, span=self.span(first))]
        self._work_in_pattern(first, places, "in pattern")

    def until_measured(self, first: int) -> None:
        """Rounds as established, up to a length or for as long as the words say."""
        start = self.i
        self.i = self.sentence_end(start)
        self.out.append(AsRound((), self.span(first), until=self.words(start, self.i)))

    def on_continue(self, first: int) -> None:
        """Such as "Cont in pat until ...", "Keeping cont of pat, ..."."""
        for j in range(first + 1, min(self.end, first + 6)):
            if self.kinds[j] in {"pattern", "in pattern"}:
                self.i = j
                self.on_pattern()
                return
            if self.kinds[j] in PHRASE:
                break
        if self.kinds[first + 1] in {"around", "across", "to"}:
            self.i = first + 1
            places = self.where()
            if places:  # "continue across to last 2 sts"
                self._work_in_pattern(first, places, "in pattern")
                return
        stop = self.stop_from(first + 1)
        if self.kinds[stop] == "," and self.kinds[stop + 1] in {"increase", "decrease"}:
            self.aside(first, stop)  # "Cont in rnds, inc 8 sc every rnd"
            return
        self.rest_of_sentence(first)
