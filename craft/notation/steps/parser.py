"""The parser: which layer reads which word, printed counts, and what was not understood."""

from __future__ import annotations

from collections.abc import Callable

from craft.notation.steps.cursor import SENTENCE, Frame
from craft.notation.steps.stars import StarReader
from craft.notation.stitches import unknown
from craft.notation.tree import (
    AsRound,
    Chain,
    Evenly,
    FastenOff,
    Group,
    Join,
    Marker,
    Remark,
    Repeat,
    Span,
    StatedCount,
    Step,
    Turn,
    Unread,
    Unworked,
    Work,
)
from craft.notation.words import wordset

__all__ = ["Parser"]

_PASSES = frozenset(
    (
        ",",
        ".",
        ";",
        ":",
        "-",
        "--",
        "and",
        "then",
        "=",
        "|",
        "/",
        '"',
        "+",
        "&",
        "work",
        "here",
        "only",
        "close",
    )
)
_BEFORE_COUNTS = frozenset((".", ";", "-", "--", "="))
_DASHES = frozenset(("-", "--", "="))
_BEHIND_A_DASH = frozenset((".", ";", "", ",", "("))
_MEANS_WORK = frozenset(("stitch", "ch", "increase", "decrease", "skip", "in pattern", "pattern", "rep"))
# a phrase that begins so tells more of the place before it
_TELLS_WHERE = wordset("of after before to behind from for as by")
_STILL_TO_WORK = wordset("stitch ch sl skip increase decrease rep")
_CONTINUE = wordset("cont continue continuing keeping keep proceed")
_COUNT_WORDS = wordset("you giving makes there should now leaving having has")
_HOLDING = wordset("hold holding fold folding being taking having using matching noting keeping careful")
_REMARK_WORDS = wordset(
    "sew stuff weave attach insert embroider see pull tie thread pin secure note when if "
    "block cut wind trim glue adjust repeat use put alternating consisting forming "
    "reversing allowing adjusting ensuring accommodating maintaining maintain without "
    "align sewing stuffing lightly tightly whip wrap fill divide knot"
)
_PLACED = frozenset(["next", "each", "first", "last", "same"]) | {"back loop", "front loop", "every other"}


class Parser(StarReader):
    """Reads the steps, the printed counts and the remarks of one statement."""

    __slots__ = ()

    def steps(self) -> tuple[Step, ...]:
        """All steps from here to the end of the statement."""
        self.run(self.end)
        self.close_open_star()
        return tuple(self.out)

    def run(self, stop: int) -> None:
        kinds = self.kinds
        handlers = _HANDLERS
        while self.i < stop:
            before = self.i
            kind = kinds[before]
            if kind in _PASSES:
                if kind not in _BEFORE_COUNTS or self.depth or not self._count_behind(kind):
                    self.i += 1
                continue
            handler = handlers.get(kind)
            if handler is not None:
                handler(self)
            if self.i <= before:
                self._not_understood(before)

    def inside(self, stop: int) -> list[Step]:
        outer, frame, loops = self.out, self.frame, self.loops
        self.out, self.frame = [], Frame()
        self.depth += 1
        if self.depth < _DEEPEST:
            self.run(stop)
        else:
            self.i = max(self.i, stop)
        self.depth -= 1
        inner, self.out = self.out, outer
        self.inner, self.frame = self.frame, frame
        self.loops = loops
        return inner

    def starts_work(self, at: int) -> bool:
        kind = self.kinds[at]
        return kind in _HANDLERS or kind in {"and", "then", "work"}

    # ------------------------------------------------------------------ not understood

    def _not_understood(self, first: int) -> None:
        """Pass over a phrase; it is a remark unless its words could change the count."""
        kinds = self.kinds
        close = self.match.get(first, -1) if kinds[first] == "(" else -1
        stop = close + 1 if close > 0 else self._phrase_end(first)
        self.i = stop
        span = self.span(first)
        inside = kinds[first:stop]
        matters = not _MEANS_WORK.isdisjoint(inside)
        if close > 0:
            matters = matters and "num" in inside
        elif inside[0] in _TELLS_WHERE and self.out:
            matters = False
        self.out.append(Unread(span) if matters else Remark(span))

    def _phrase_end(self, first: int) -> int:
        """Where a phrase that is not understood ends."""
        kinds = self.kinds
        i = first + 1
        while i < self.end:
            kind = kinds[i]
            if kind == "(":
                i = self.match.get(i, i)  # one that is never closed is passed over
            elif kind in {")", "*"} or kind in SENTENCE or (kind == "," and self.starts_work(i + 1)):
                break
            i += 1
        return i

    # ------------------------------------------------------------------ counts

    def _count_behind(self, mark: str) -> bool:
        """A count after a full stop, a dash or an equals sign; moves past it."""
        start = self.i
        if self.kinds[start + 1] not in {"num", "total", "for"}:
            return False
        self.i += 1
        dash = mark in _DASHES
        found = self.count(stops=_BEHIND_A_DASH if dash else SENTENCE, need_unit=not dash)
        if found is None or not (dash or self._may_end_here(found)):
            self.i = start
            return False
        self._add_count(found)
        return True

    def _add_count(self, found: StatedCount) -> None:
        """Keep a count; "32 sc. 64 hdc and 96 dc." is one count of three kinds."""
        if self.counts:
            before, steps = self.counts[-1]
            kinds_before = {item.what for item in before.items}
            gap = self.text[before.span.end : found.span.start].strip(" .;\n")
            if (
                steps == len(self.out)
                and not gap
                and kinds_before.isdisjoint(item.what for item in found.items)
            ):
                span = Span(before.span.start, found.span.end)
                found = StatedCount(
                    before.items + found.items,
                    span,
                    found.chain_included if found.chain_included is not None else before.chain_included,
                    found.change or before.change,
                    found.round_number or before.round_number,
                )
                self.counts.pop()
        self.counts.append((found, len(self.out)))

    def _may_end_here(self, found: StatedCount) -> bool:
        """A bare "24 sc." is a count only after work, and not where more stitches follow."""
        if not any(isinstance(step, _WORKED) for step in self.out):
            return False
        if isinstance(self.last_step(Remark, Marker), _CLOSING):
            return True
        if len(found.items) > 1 or found.items[0].what == "total":
            return True
        return _STILL_TO_WORK.isdisjoint(self.kinds[self.i : self.end])

    # ------------------------------------------------------------------ words

    def on_word(self) -> None:
        """A word that the lexicon does not know."""
        first = self.i
        word = str(self.values[first])
        if self.names_what_was_made():
            return
        if word in _CONTINUE:
            self.on_continue(first)
        elif word in _HOLDING:
            self.up_to_work(first)
        elif word in _REMARK_WORDS:
            self.rest_of_sentence(first)
        elif word not in _COUNT_WORDS or not self._count_in_words():
            self._unknown_stitch(first, word)

    def _count_in_words(self) -> bool:
        found = self.words_count() if not self.depth else None
        if found is not None:
            self.counts.append((found, len(self.out)))
        return found is not None

    def _unknown_stitch(self, first: int, word: str) -> None:
        """Such as "nupp in next st" or "crab bloom in next st": a stitch whose name nobody defines."""
        kinds = self.kinds
        at = first + 1
        if kinds[at] == "word":
            word, at = f"{word} {self.values[at]}", at + 1
        following, then = kinds[at], kinds[at + 1]
        if (following == "in" and then in _PLACED) or (following == "over" and then == "next"):
            self.i = at
            self.work(first, unknown(word), None)
        elif following == "num" and then == "tog" and self.starts[at] == self.ends[first]:
            self.i = at + 2  # a slip such as "dct2tog"
            self.work(first, unknown(self.words(first, self.i)), None)


_DEEPEST = 40
_WORKED = (Work, Repeat, Group, AsRound, Evenly, Chain)
_CLOSING = (Join, Turn, FastenOff, Repeat, AsRound, Unworked)

_HANDLERS: dict[str, Callable[[Parser], None]] = {
    "num": Parser.on_number,
    "stitch": Parser.on_stitch,
    "ch": Parser.on_chain,
    "sl": Parser.on_slip,
    "join": Parser.on_join,
    "make ring": Parser.on_ring,
    "increase": Parser.on_shaping,
    "decrease": Parser.on_shaping,
    "skip": Parser.on_skip,
    "turn": Parser.on_turn,
    "not turn": Parser.on_not_turn,
    "not join": Parser.on_remark,
    "fasten": Parser.on_fasten,
    "leave": Parser.on_leave,
    "place": Parser.on_marker,
    "with": Parser.on_with,
    "change": Parser.on_change,
    "drop": Parser.on_drop,
    "working": Parser.on_working,
    "back loop": Parser.on_loops,
    "front loop": Parser.on_loops,
    "both loops": Parser.on_loops,
    "in": Parser.on_place_first,
    "over": Parser.on_place_first,
    "(": Parser.on_bracket,
    ")": Parser.on_close,
    "*": Parser.on_star,
    "rep": Parser.on_rep,
    "as": Parser.on_as,
    "same": Parser.on_same,
    "in pattern": Parser.on_pattern,
    "pattern": Parser.on_pattern,
    "word": Parser.on_word,
    "yoh": Parser.on_movements,
    "draw": Parser.on_movements,
    "insert": Parser.on_movements,
    "counts": Parser.on_remark,
    "counts not": Parser.on_remark,
    "note": Parser.on_remark,
    "rs": Parser.on_remark,
    "ending": Parser.on_ending,
    "end": Parser.on_ending,
    "from": Parser.on_from,
    "across": Parser.on_across,
    "even": Parser.on_even,
    "rotate": Parser.on_rotate,
    "do not": Parser.on_phrase_remark,
    "beg": Parser.on_beginning,
    "other": Parser.on_beginning,
    "row": Parser.on_row,
    "rnd": Parser.on_row,
    "ord": Parser.on_row,
}
