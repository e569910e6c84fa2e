"""Stars and the words that repeat: "rep from *", "repeat from * to **", "ending last rep at **"."""

from __future__ import annotations

from dataclasses import replace

from craft.notation.steps.brackets import BracketReader
from craft.notation.steps.cursor import PHRASE
from craft.notation.tree import (
    ONE,
    AsRound,
    Chain,
    Colour,
    FastenOff,
    Group,
    Join,
    Marker,
    Remark,
    Repeat,
    Ring,
    Span,
    Step,
    Times,
    Turn,
    Unread,
    Work,
)
from craft.notation.words import wordset

__all__ = ["StarReader"]

_FENCES = frozenset(("*", "**"))
_ROW_HEADS = frozenset(("row", "rnd", "ord", "last", "prev", "first"))
_REP_FILLERS = frozenset(("from", "between", "work", "this", "in"))
_INSTRUCTIONS = wordset("instructions directions section sequence steps pattern")
_TIMES_HEADS = frozenset(("num", "multi", "around", "across", "to"))
_ENDING_WORDS = wordset("last rep in final at with on this first")
_BEFORE_THE_BODY = (Chain, Colour, Join, Remark, Marker, Ring, Turn, FastenOff)
_BEHIND_A_REPEAT = (Remark, Join, Turn, Colour)
_LONGEST_LOOK = 60


class StarReader(BracketReader):
    """Reads repeats that stars or words mark."""

    __slots__ = ()

    # ------------------------------------------------------------------ stars

    def on_star(self) -> None:
        """A star: it opens a repeat, closes one, or marks where the last pass stops."""
        name = str(self.values[self.i])
        frame = self.frame
        opened = name in frame.marks and name not in frame.closed
        self.i += 1
        if opened and self._closes(name):
            return
        again = frame.again.get(name)
        if not opened and again is not None and self._rep_at_once() and self._stars_ahead() >= 2:
            frame.marks[name], frame.closed[name] = again, len(self.out)
            return
        frame.marks[name] = len(self.out)
        frame.closed.pop(name, None)
        frame.saved.pop(name, None)

    def _rep_at_once(self) -> bool:
        kinds = self.kinds
        return kinds[self.i] == "rep" or (kinds[self.i] in PHRASE and kinds[self.i + 1] == "rep")

    def _stars_ahead(self) -> int:
        return self.kinds[self.i : self.i + 7].count("*")

    def _closes(self, name: str) -> bool:
        """Whether the second star of its name closes what the first one opened."""
        kinds = self.kinds
        begin = self.frame.marks[name]
        times: Times | None = None
        if kinds[self.i] != "rep" or kinds[self.i + 1] in _TIMES_HEADS:
            times = self.times(bracket=True)
        if times is not None:
            self._close_star(name, begin, times)
        elif self._rep_at_once() or self._rep_to_star(name):
            self.frame.closed[name] = len(self.out)
        elif self._count_ahead():
            self._close_star(name, begin, Times(to_end=True))
        else:
            return False
        return True

    def _count_ahead(self) -> bool:
        """Such as "*4 sc, inc* (30)": the count tells that the star is done."""
        if self.kinds[self.i] != "(" or not self.out:
            return False
        close = self.match.get(self.i, -1)
        return close > 0 and self.kinds[self.i + 1] == "num" and self.kinds[close + 1] in {"", "."}

    def _rep_to_star(self, name: str) -> bool:
        """Whether a later "rep from * to *" makes this star a closing one."""
        kinds, values = self.kinds, self.values
        for j in range(self.i, min(self.end, self.i + _LONGEST_LOOK)):
            if kinds[j] == "rep":
                return kinds[j : j + 7].count("*") >= 2 and values[j : j + 7].count(name) >= 2
            if kinds[j] == "*" and values[j] == name:
                return False
        return False

    def _close_star(self, name: str, begin: int, times: Times) -> None:
        steps = tuple(self.out[begin:])
        if not steps:
            return
        span = Span(steps[0].span.start, self.ends[self.i - 1])
        self.out[begin:] = [Repeat(steps, times, span, name if name in _FENCES else "*")]
        self.frame.marks.pop(name, None)

    def close_open_star(self) -> None:
        """A star that was opened and never closed: the words of the repeat are missing."""
        frame = self.frame
        begin = frame.marks.get("*")
        if begin is None or "*" in frame.closed or "*" in frame.saved:
            return
        end = begin
        for step in self.out[begin:]:
            if isinstance(step, Join | Turn | FastenOff | Repeat | AsRound):
                break
            end += 1
        body = tuple(self.out[begin:end])
        if any(isinstance(step, Work | Group) for step in body):
            span = Span(body[0].span.start, body[-1].span.end)
            self.out[begin:end] = [Repeat(body, Times(to_end=True), span, "open")]

    def on_close(self) -> None:
        """A bracket closed that was never opened: it may end what a star began."""
        first = self.i
        self.i += 1
        times = self.times(bracket=True)
        if times is None:
            return
        begin = max(self.frame.marks.values(), default=-1)
        if 0 <= begin < len(self.out):
            body = tuple(self.out[begin:])
            span = Span(body[0].span.start, self.ends[self.i - 1])
            self.out[begin:] = [Repeat(body, times, span, "*")]
            self.frame.marks.clear()
        else:
            self._rep_words(first, times, "none")

    # ------------------------------------------------------------------ "rep ..."

    def on_rep(self) -> None:
        """Such as "rep from * ...", "rep row 2", "repeat around"."""
        kinds, values = self.kinds, self.values
        first = self.i
        j = first + 1
        while kinds[j] in _REP_FILLERS or (kinds[j] == "word" and values[j] in _INSTRUCTIONS):
            j += 1
        if kinds[j] == "*":
            self._rep_star(first, j)
        elif kinds[j] in _ROW_HEADS or (kinds[j] == "each" and kinds[j + 1] in {"row", "rnd"}):
            self.i = j
            self.as_round(first)
        elif self.named_round_at(j):
            self.named_round(first, j)
        else:
            self.i = first + 1
            while kinds[self.i] in {"pattern", "from"}:
                self.i += 1
            times = self.times(bracket=False)
            if times is None:
                self.i = first
            else:
                self._rep_words(first, times, "words")

    def on_from(self) -> None:
        """Such as "..., then from * to ** once more"."""
        if self.kinds[self.i + 1] == "*":
            self._rep_star(self.i, self.i + 1)

    def _given_for(self, first: int, at: int) -> bool:
        """Such as "Work from ** to ** as given for Back": another part's rounds."""
        kinds = self.kinds
        for j in range(at, min(self.end, at + 7)):
            if kinds[j] == "as" and kinds[j + 1] in {"word", "for"}:
                self.i = j
                self.on_as()
                last = self.out[-1] if self.out else None
                if self.i > j and isinstance(last, AsRound):
                    until = self.words(first, j)
                    self.out[-1] = replace(last, span=self.span(first), until=until)
                    return True
                break
            if kinds[j] in PHRASE:
                break
        self.i = first
        return False

    def _rep_star(self, first: int, at: int) -> None:
        """Such as "rep from * (to **) (5 times | around | to last 3 sts) (, ending ...)"."""
        if self._given_for(first, at):
            return
        name = str(self.values[at])
        self.i = at + 1
        until = self._to_star()
        times = self._rep_times(name, until)
        frame = self.frame
        begin = frame.marks.get(name)
        last = self.out[-1] if self.out else None
        if begin is None or (until not in {None, name} and isinstance(last, Repeat)):
            self._partial(first, until, times)
            return
        saved = frame.saved.get(name)
        if saved is not None and until == name:
            ending, _ = self.ending()
            span = Span(self.starts[first], self.ends[self.i - 1])
            self.out.append(Repeat(saved, times, span, "*", ending=ending))
            return
        end = frame.closed.get(name, len(self.out))
        if until is not None and until != name:
            end = frame.marks.get(until, end)
        self._rep_body(first, name, begin, end, until, times)

    def _to_star(self) -> str | None:
        """Such as "(from *) to **": the second star's name; moves past it."""
        kinds = self.kinds
        if kinds[self.i] in {"to", "and", "until", "-"} and kinds[self.i + 1] == "*":
            self.i += 1
        if kinds[self.i] != "*":
            return None
        self.i += 1
        return str(self.values[self.i - 1])

    def _rep_times(self, name: str, until: str | None) -> Times:
        start = self.i
        if self.kinds[start] == ",":
            self.i += 1
        times = self.times(bracket=False)
        if times is not None:
            return times
        self.i = start
        return Times(to_end=True) if until is None or until == name else Times(ONE, more=True)

    def _rep_body(self, first: int, name: str, begin: int, end: int, until: str | None, times: Times) -> None:
        """Put the steps from `begin` to `end` into a repeat."""
        frame = self.frame
        body = tuple(self.out[begin:end])
        tail = self.out[end:]
        ending, stops_at = self.ending()
        stop = frame.marks[stops_at] - begin if stops_at in frame.marks else None
        if not body:
            self._rep_words(first, times, "none", ending)
            return
        if until == name or name in frame.closed:
            frame.saved[name] = body
        span = Span(body[0].span.start, self.ends[self.i - 1])
        fence = name if name in _FENCES else "*"
        if all(isinstance(step, _BEHIND_A_REPEAT) for step in tail):
            self.out[begin:] = [Repeat(body, times, span, fence, stop, ending=ending), *tail]
        else:  # more work stands between the first pass and "rep from * to *"
            span = Span(self.starts[first], self.ends[self.i - 1])
            self.out.append(Repeat(body, times, span, fence, stop, ending=ending))
        self._forget_marks(begin)
        if name not in frame.saved:
            frame.again[name] = begin
            frame.marks.pop(name, None)

    def _forget_marks(self, begin: int) -> None:
        """After a repeat is closed, marks inside it point nowhere."""
        frame = self.frame
        for other in [name for name, at in frame.marks.items() if at > begin]:
            frame.inside["*", other] = frame.marks.pop(other) - begin
            frame.closed.pop(other, None)

    def _partial(self, first: int, until: str | None, times: Times) -> None:
        """Such as "then from * to ** once more" behind the repeat itself; or a star that is missing."""
        last = self.out[-1] if self.out else None
        if until is not None and isinstance(last, Repeat) and last.fence in _FENCES:
            number = (times.number[0] if times.number else 1) or 1
            stop = last.stop if last.stop is not None else self.frame.inside.get((last.fence, until))
            span = Span(last.span.start, self.ends[self.i - 1])
            self.out[-1] = replace(last, stop=stop, partial=last.partial + number, span=span)
            return
        ending, _ = self.ending()
        self._rep_words(first, times, "none", ending)

    def _rep_words(self, first: int, times: Times, fence: str, ending: tuple[Step, ...] = ()) -> None:
        """Such as "..., repeat around" with no mark: all since the starting chain."""
        begin = 0
        for step in self.out:
            if not isinstance(step, _BEFORE_THE_BODY):
                break
            begin += 1
        body = tuple(self.out[begin:])
        if not body:
            self.out.append(Unread(self.span(first)))
            return
        span = Span(body[0].span.start, self.ends[self.i - 1])
        self.out[begin:] = [Repeat(body, times, span, fence, ending=ending)]

    # ------------------------------------------------------------------ endings

    def ending(self) -> tuple[tuple[Step, ...], str | None]:
        """Such as ", ending last rep at **", ", ending with 2 dc in last st".

        Returns (steps of the ending, star at which the last pass stops).
        """
        kinds = self.kinds
        start = self.i
        j = start + 1 if kinds[start] in {",", ";"} else start
        if kinds[j] == "and":
            j += 1
        word = kinds[j]
        if word not in {"ending", "working", "end"}:
            return (), None
        if word == "end" and kinds[j + 1] not in {"in", "with", "last", "ch", "num", "stitch"}:
            return (), None
        j += 1
        while kinds[j] in _ENDING_WORDS and (kinds[j] != "last" or kinds[j + 1] == "rep"):
            j += 1
        if kinds[j] == "*":
            self.i = j + 1
            return (), str(self.values[j])
        if kinds[j] in {"row", "rnd", "rs"}:
            return (), None
        if word == "working" and kinds[j] not in {"num", "stitch", "sl", "ch", "("}:
            return (), None
        stop = self._ending_stop(j)
        self.i = j
        inner = self.inside(stop)
        self.i = stop
        return tuple(inner), None

    def _ending_stop(self, at: int) -> int:
        kinds = self.kinds
        while kinds[at] not in {".", ";", "", ")"}:
            if kinds[at] == "," and kinds[at + 1] in _BEHIND_AN_ENDING:
                break
            if kinds[at] == "(":
                at = self.match.get(at, at)
            at += 1
        return at

    def on_ending(self) -> None:
        """Such as "Ending with sc in last st" as a phrase of its own; "ending with a 3rd row of pat"."""
        first = self.i
        stop = self.stop_from(first)
        inside = self.kinds[first:stop]
        about_rows = not _ABOUT_ROWS.isdisjoint(inside)
        if about_rows or _MAKES.isdisjoint(inside):
            self.aside(first, stop)
            return
        ending, _ = self.ending()
        last = self.out[-1] if self.out else None
        if ending and isinstance(last, Repeat) and not last.ending:
            span = Span(last.span.start, self.ends[self.i - 1])
            self.out[-1] = replace(last, ending=ending, span=span)
        else:
            self.out.extend(ending)


_BEHIND_AN_ENDING = frozenset(("join", "turn", "fasten"))
_ABOUT_ROWS = frozenset(("row", "rnd", "rs"))
_MAKES = frozenset(("stitch", "ch", "sl"))
