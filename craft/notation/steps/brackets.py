"""Brackets: a group in one place, a repeat, a count, or a comment. What follows says which."""

from __future__ import annotations

from dataclasses import replace

from craft.notation.steps.cursor import PHRASE
from craft.notation.steps.places import PLACE_WORDS, PREPOSITIONS
from craft.notation.steps.rows import RowReader
from craft.notation.steps.spelling import named_after, placed, read_movements
from craft.notation.tree import (
    ONE,
    Chain,
    Colour,
    Counting,
    Group,
    How,
    Marker,
    Place,
    Remark,
    Repeat,
    Step,
    Times,
    Work,
)
from craft.notation.words import wordset

__all__ = ["BracketReader"]

_CLOSE = frozenset((")",))
_STEP_KINDS = frozenset(
    (
        "stitch",
        "ch",
        "sl",
        "increase",
        "decrease",
        "skip",
        "in pattern",
        "pattern",
        "join",
        "*",
        "make ring",
        "rep",
        "turn",
    )
)
_COMMENT_HEADS = frozenset(["counts", "note", "rs", "this", "same", "facing", "as", "for"]) | {"counts not"}
_REP_WORDS = wordset("from ( ) this word between in and * to")
_LIMITS = frozenset(("around", "across", "to", "until", ","))
_MULTIPLES = frozenset(("num", "multi", "x"))


class BracketReader(RowReader):
    """Reads brackets, places named before their steps, and stitches spelled out."""

    __slots__ = ()

    def on_bracket(self) -> None:
        """One bracket and what follows it."""
        first = self.i
        close = self.match.get(first)
        if close is None or close == first + 1:
            self.i = first + 1 if close is None else close + 1
            return  # never closed: read on as if it were not there
        if self._spelled_out(first) or self._count_inside(first, close):
            return
        if self._says_more(first, close):
            return
        self.i = first + 1
        inner = self.inside(close)
        self.i = close + 1
        if not inner:
            self.out.append(Remark(self.span(first)))
        elif not self._placed(first, inner) and not self._repeated(first, inner):
            self.out.extend(inner)

    def _spelled_out(self, first: int) -> bool:
        kinds = self.kinds
        head = kinds[first + 1]
        if head in {"yoh", "insert"} or (head == "draw" and kinds[first + 2] == "noun"):
            self.on_movements()
        return self.i > first

    def _says_more(self, first: int, close: int) -> bool:
        """A remark in brackets: what a chain counts for, what was made, a comment."""
        inside = self.kinds[first + 1 : close]
        after = self.kinds[close + 1]
        if ("counts" in inside or "counts not" in inside) and after not in {"times", "num", "multi", "in"}:
            self._counting(first, close)
            return True
        if inside[-1] == "total" and close - first <= 6:
            self.i = first + 1
            named = self.names_what_was_made()
            self.i = close + 1 if named else first
            if named:
                return True
        shaping_row = bool({"increase", "decrease"} & set(inside)) and bool({"row", "rnd"} & set(inside))
        if (shaping_row and len(inside) <= 3) or self._is_comment(first, close, inside):
            self.aside(first, close + 1)
            return True
        return False

    def _count_inside(self, first: int, close: int) -> bool:
        """Such as "(24 sc, 6 ch-1 sps)": a count, unless what follows makes it steps."""
        kinds = self.kinds
        if kinds[first + 1] not in {"num", "total", "+", "="} or self._makes_steps(close):
            return False
        self.i = first + 1
        found = self.count(stops=_CLOSE, need_unit=False)
        whole = found is not None and self.i == close
        self.i = close + 1
        if found is None or not whole or (self.depth and kinds[self.i] not in PHRASE):
            self.i = first
            return False
        span = self.span(first)
        whole_count = type(found)(found.items, span, found.chain_included, found.change, found.round_number)
        self.counts.append((whole_count, len(self.out)))
        return True

    def _makes_steps(self, close: int) -> bool:
        """Whether the words behind a bracket make its contents steps."""
        kinds = self.kinds
        after, next_after = kinds[close + 1], kinds[close + 2]
        if after == "num":
            return next_after in {"times", "more", "x"}
        if after == "*":
            return next_after == "num"
        return after in PREPOSITIONS or after in {"multi", "rep", "times", "x"}

    def _counting(self, first: int, close: int) -> None:
        """Such as "(skipped 3 ch count as first dc)", "(does not count as st)"."""
        while self.kinds[self.i] not in {"counts", "counts not"}:
            self.i += 1
        counts, counts_as = self.counts_as(close)
        self.i = close + 1
        self.out.append(Counting(counts, self.span(first), counts_as))

    def _is_comment(self, first: int, close: int, inside: list[str]) -> bool:
        """Words in brackets that are no steps."""
        head, after = inside[0], self.kinds[close + 1]
        if after in _MULTIPLES and head not in {"counts", "note", "rs"}:
            return False
        if head in _COMMENT_HEADS:
            return True
        if after in PHRASE and self._is_aside(first, inside):
            return True
        return _STEP_KINDS.isdisjoint(inside)

    def _is_aside(self, first: int, inside: list[str]) -> bool:
        head = inside[0]
        second = inside[1] if len(inside) > 1 else ""
        if head == "word":
            return second not in PLACE_WORDS
        if head in {"in", "of", "from", "to"}:
            return second in {"word", "top", "beg"}
        if head == "skip" and self.values[first + 1] in {"skipping", "missing"}:
            return True
        return "total" in inside and len(inside) < 7

    # ------------------------------------------------------------------ what follows

    def _placed(self, first: int, inner: list[Step]) -> bool:
        """Such as "(3 dc, ch 2, 3 dc) in next ch-2 sp": a group; "(...) across next 5 dc": a repeat."""
        kinds = self.kinds
        start = self.i
        if kinds[start] == "each" and kinds[start + 1] == "in":
            self.i += 1
        kind, following = kinds[self.i], kinds[self.i + 1]
        if kind in _LIMITS:
            if following not in {"post", "each", "next", "first"}:
                return False
        elif kind not in PLACE_WORDS:
            return False
        places = self.places()
        if not places:
            self.i = start
            return False
        if len(places) == 1 and kind in {"across", "over"} and places[0].number and _has_places(inner):
            self._put_repeat(first, inner, Times(places[0].number))
            return True
        span = self.span(first)
        self.out.extend(Group(tuple(inner), place, span) for place in places)
        return True

    def _repeated(self, first: int, inner: list[Step]) -> bool:
        """Such as "(...) 5 times", "[...] around", "(...) repeat from ( to ) 3 times"."""
        kinds = self.kinds
        times = self.times(bracket=True)
        if times is None:
            if kinds[self.i] != "rep" or kinds[self.i + 1] not in _REP_WORDS:
                return False
            start = self.i
            self.i += 1
            while kinds[self.i] in _REP_WORDS:
                self.i += 1
            times = self.times(bracket=False)
            if times is None:
                self.i = start
                return False
        elif kinds[self.i] == "in" and kinds[self.i + 1] in _INTO:
            place = self.place()
            if place is not None:
                span = self.span(first)
                repeat = Repeat(tuple(inner), times, span, self._fence(first))
                self.out.append(Group((repeat,), place, span))
                return True
        self._put_repeat(first, inner, times)
        return True

    def _fence(self, first: int) -> str:
        mark = self.text[self.starts[first]]
        return mark if mark in "([{*" else "*"

    def _put_repeat(self, first: int, inner: list[Step], times: Times) -> None:
        ending, _ = self.ending()
        self.out.append(Repeat(tuple(inner), times, self.span(first), self._fence(first), ending=ending))

    def ending(self) -> tuple[tuple[Step, ...], str | None]:
        """Declared here, read by the layer above: how the last pass of a repeat ends."""
        raise NotImplementedError

    # ------------------------------------------------------------------ place first

    def on_place_first(self) -> None:
        """Such as "In next ch-2 sp work (2 dc, ch 2, 2 dc)", "In each st around, 2 dc"."""
        kinds = self.kinds
        first = self.i
        if kinds[first + 1] in _LOOPS and kinds[first + 2] in {",", "only", ":"}:
            self.i += 1
            self.on_loops()
            return
        places = self.places()
        if places and kinds[first - 1] in {"and", "then"} and self._same_again(first, places):
            return
        at = self.i
        while kinds[at] in {",", "work", ":"}:
            at += 1
        if not places or kinds[at] not in _WORK_HEADS:
            self.i = first
            return
        self.i = at
        close = self.match.get(at, -1) if kinds[at] == "(" else -1
        if close > 0:
            self.i += 1
            inner = self.inside(close)
            self.i = close + 1
            self.out.append(Group(tuple(inner), places[0], self.span(first)))
        else:
            inner = self.inside(self.stop_from(at, _CLAUSE))
            self._put_into(inner, places, first)

    def _same_again(self, first: int, places: list[Place]) -> bool:
        """Such as "dc in 4th ch from hook (counts as 2 dc) and in each ch across"."""
        last = self.last_step(Remark, Counting, Marker, Colour)
        if not isinstance(last, Work) or last.place.how is How.BARE:
            return False
        span = self.span(first)
        self.out.extend(replace(last, place=place, span=span) for place in places)
        return True

    def _put_into(self, inner: list[Step], places: list[Place], first: int) -> None:
        """Steps that follow a place named before them."""
        works = [step for step in inner if isinstance(step, Work | Chain)]
        bare = [s for s in works if isinstance(s, Chain) or s.place.how is How.BARE]
        span = self.span(first)
        only = works[0] if len(works) == 1 else None
        if isinstance(only, Work) and bare:
            each = only.place.number or ONE
            self.out.extend(
                Work(self.fit(only.stitch, place), each, place, span, only.written) for place in places
            )
            self.out.extend(step for step in inner if step is not only)
        elif bare and len(bare) == len(works):
            self.out.extend(Group(tuple(inner), place, span) for place in places)
        else:
            self.out.extend(inner)

    # ------------------------------------------------------------------ spelled out

    def on_movements(self) -> None:
        """How a stitch is made, spelled out: one stitch over the places where the hook goes in."""
        first = self.i
        found = read_movements(self)
        if found is None:
            self.i = first
            return
        if not found.closed and not found.partial and not found.overs:
            self.on_drawn_up(first)
            return
        named = named_after(self)
        stitch, place = placed(found, named.stitch if named is not None else found.stitch())
        span = self.span(first)
        self.out.append(Work(stitch, ONE, place, span, self.text[span.start : span.end]))


def _has_places(steps: list[Step]) -> bool:
    """Whether the steps name places of their own, so that a bracket of them is a repeat."""
    return any(isinstance(step, Work) and step.place.how is How.NEXT for step in steps)


_INTO = frozenset(("next", "same", "each", "ring", "first", "last"))
_LOOPS = frozenset(("back loop", "front loop", "both loops"))
_WORK_HEADS = frozenset(("num", "stitch", "(", "ch", "increase", "decrease"))
_CLAUSE = frozenset((".", ";", "", ")", "*"))
