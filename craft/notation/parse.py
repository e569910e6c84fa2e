"""One statement's tokens to steps: recursive descent, one handler for each kind of word."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from craft.notation.places import PLACE_WORDS, PREPOSITIONS
from craft.notation.spelling import named_after, placed, read_movements
from craft.notation.stitches import IN_PATTERN, Named, increase, together
from craft.notation.times import TimesReader
from craft.notation.tokens import Tokens
from craft.notation.tree import (
    NONE_KEPT,
    ONE,
    AsRound,
    Chain,
    Colour,
    Counting,
    Evenly,
    FastenOff,
    Group,
    How,
    Join,
    Loops,
    Marker,
    Numbers,
    Place,
    Remark,
    Repeat,
    Ring,
    Rotate,
    Skip,
    Span,
    StatedCount,
    Step,
    Stitch,
    Times,
    Turn,
    Unread,
    Unworked,
    Work,
)

__all__ = ["Parser"]

_STOPS = frozenset((".", ";", ",", "", ")", "--"))
_SENTENCE = frozenset((".", ";", "", "--"))
# a phrase that begins so tells more of the place before it
_TELLS_WHERE = frozenset(("of", "after", "before", "to", "behind", "from", "for", "as", "by"))
_WORKING = frozenset(
    ("stitch", "ch", "sl", "num", "increase", "decrease", "skip", "(", "*", "in pattern", "make ring")
)
_MEANS_WORK = frozenset(("stitch", "ch", "increase", "decrease", "skip", "in pattern", "pattern", "rep"))
_PASSES = frozenset((",", ".", ";", ":", "-", "--", "and", "then", "=", "|", "/", '"', "+", "&", "work", "here", "only", "close"))


class _Frame:
    """Steps of one bracket level, with the stars opened in it."""

    __slots__ = ("again", "marks", "closed", "inside", "saved")

    def __init__(self) -> None:
        self.marks: dict[str, int] = {}
        self.closed: dict[str, int] = {}
        self.saved: dict[str, tuple[Step, ...]] = {}
        self.inside: dict[tuple[str, str], int] = {}
        self.again: dict[str, int] = {}


class Parser(TimesReader):
    """Reads the steps, the printed counts and the remarks of one statement."""

    __slots__ = ("frame", "depth", "made")

    def __init__(self, tokens: Tokens) -> None:
        super().__init__(tokens)
        self.frame = _Frame()
        self.depth = 0
        self.made: list[tuple[int, int, tuple[Step, ...]]] = []
        """Stitches named where they are made: (first token, end token, steps)."""

    # ------------------------------------------------------------------ running

    def steps(self) -> tuple[Step, ...]:
        """All steps from here to the end of the statement."""
        self._run(self.end)
        self._close_open_star()
        return tuple(self.out)

    def _run(self, stop: int) -> None:
        kinds = self.kinds
        handlers = _HANDLERS
        while self.i < stop:
            kind = kinds[self.i]
            if kind in _PASSES:
                if kind in {".", ";", "-", "--", "="} and not self.depth and self._sentence_count(kind):
                    continue
                self.i += 1
                continue
            before = self.i
            handler = handlers.get(kind)
            if handler is not None:
                handler(self)
            if self.i <= before:
                self._not_understood(before)

    def _close_open_star(self) -> None:
        """A star that was opened and never closed: the words of the repeat are missing."""
        begin = self.frame.marks.get("*")
        if begin is None or "*" in self.frame.closed or "*" in self.frame.saved:
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

    def _inside(self, stop: int) -> list[Step]:
        """The steps up to `stop`, a closing bracket, as a frame of their own."""
        outer, frame, loops = self.out, self.frame, self.loops
        self.out, self.frame = [], _Frame()
        self.depth += 1
        self._run(stop)
        self.depth -= 1
        inner, self.out, self.frame = self.out, outer, frame
        self.loops = loops
        return inner

    def _not_understood(self, first: int) -> None:
        """Pass over a phrase; it is a remark unless its words could change the count."""
        kinds = self.kinds
        self.i = first
        matters = False
        stop = self.match.get(first, -1) if kinds[first] == "(" else -1
        if stop > 0:
            matters = any(kind in _MEANS_WORK for kind in kinds[first + 1 : stop]) and "num" in kinds[first:stop]
            self.i = stop + 1
        else:
            depth = 0
            while self.i < self.end:
                kind = kinds[self.i]
                if kind == "(":
                    depth += 1
                elif kind == ")":
                    if depth == 0 and self.i > first:
                        break
                    depth -= 1
                elif kind in {".", ";", "--"} and depth <= 0 and self.i > first:
                    break
                elif kind == "," and depth <= 0 and self.i > first and self._starts_work(self.i + 1):
                    break
                elif kind == "*" and self.i > first:
                    break
                matters = matters or kind in _MEANS_WORK
                self.i += 1
            if self.i == first:
                self.i += 1
            if kinds[first] in _TELLS_WHERE and self.out:
                matters = False
        span = self.span(first)
        self.out.append(Unread(span) if matters else Remark(span))

    def _starts_work(self, at: int) -> bool:
        return self.kinds[at] in _HANDLERS or self.kinds[at] in {"and", "then", "work"}

    def _remark(self, first: int) -> None:
        """Pass over the rest of the sentence as a remark."""
        kinds = self.kinds
        self.i = max(self.i, first + 1)
        while self.i < self.end and kinds[self.i] not in {".", ";"} and not (kinds[self.i] == "--" and kinds[self.i + 1] == "num"):
            if kinds[self.i] == "(":
                self.i = self.match.get(self.i, self.i)
            self.i += 1
        self.out.append(Remark(self.span(first)))

    # ------------------------------------------------------------------ counts

    def _sentence_count(self, mark: str) -> bool:
        """A count after a full stop, a dash or an equals sign."""
        if self.kinds[self.i + 1] != "num" and self.kinds[self.i + 1] not in {"total", "for"}:
            return False
        start = self.i
        self.i += 1
        dash = mark in {"-", "--", "="}
        found = self.count(stops=_SENTENCE_OR_COMMA if dash else _SENTENCE, need_unit=not dash)
        if found is None or not (dash or self._may_end_here(found)):
            self.i = start
            return False
        self.counts.append((found, len(self.out)))
        return True

    def _may_end_here(self, found: StatedCount) -> bool:
        """A bare "24 sc." is a count only after work, and not where more stitches follow."""
        if not any(isinstance(step, Work | Repeat | Group | AsRound | Evenly | Chain) for step in self.out):
            return False
        last = next((step for step in reversed(self.out) if not isinstance(step, Remark | Marker)), None)
        if isinstance(last, Join | Turn | FastenOff | Repeat | AsRound | Unworked):
            return True
        if len(found.items) > 1 or found.items[0].what == "total":
            return True
        return self._only_remarks_follow()

    def _only_remarks_follow(self) -> bool:
        kinds = self.kinds
        for j in range(self.i, self.end):
            if kinds[j] in {"stitch", "ch", "sl", "skip", "increase", "decrease", "rep", "num"}:
                return False
        return True

    def on_number(self) -> None:
        """ "3 sc", "3 ch", "24 sc." at the end, "2 sc tog", "5 inc"."""
        kinds, values = self.kinds, self.values
        first = self.i
        number = self.number(first)
        nxt = kinds[first + 1]
        at = first + (2 if nxt == "-" else 1)
        if kinds[at] == "stitch":
            gathered = at + (2 if kinds[at + 1] == "-" else 1)
            inner = values[gathered]
            if kinds[gathered] == "stitch" and isinstance(inner, Named) and inner.stitch.name in _OF_SEVERAL:
                self.i = gathered  # "3-dc cluster": one cluster
                self._stitch(first, None)
                return
        if nxt in {"-", "x", "more"} and kinds[first + 2] in {"stitch", "ch", "increase", "decrease"}:
            self.i += 1
            nxt = kinds[self.i + 1]
        if nxt == "stitch":
            self.i += 1
            self._stitch(first, number)
        elif nxt == "ch":
            self.i += 2
            self._chain_done(first, number)
        elif nxt in {"increase", "decrease"}:
            self.i += 1
            self._shape(first, number)
        elif nxt == "sl":
            self.i += 1
            self._stitch(first, number)
        elif nxt == "noun" and values[first + 1] == "st" and kinds[first + 2] in PLACE_WORDS | {"evenly"}:
            self.i += 2
            self._work(first, Named(IN_PATTERN), number)
        elif nxt == "word" and kinds[first + 2] in PLACE_WORDS and self.depth < 9:
            name = str(values[first + 1])
            self.i += 2
            self._work(first, Named(Stitch(name, tally=((name, 1),), known=False)), number)
        elif nxt == "in pattern":
            self.i += 1
            self._stitch(first, number)
        elif nxt in {"row", "rnd"}:
            stop = first
            while kinds[stop] not in _STOPS:
                stop += 1
            if "stitch" not in kinds[first:stop]:
                self._remark_to(first, stop)

    # ------------------------------------------------------------------ stitches

    def on_stitch(self) -> None:
        self._stitch(self.i, None)

    def _names_what_was_made(self) -> bool:
        """ "- V-st made", "(shell made)": the name of the steps before, not a step."""
        kinds = self.kinds
        first = self.i
        if first == 0 or kinds[first - 1] not in {"-", "--", "(", ",", "."}:
            return False
        j = first
        while j < first + 4 and (kinds[j] in {"stitch", "word", "noun", "beg", "first", "-"}):
            j += 1
        if self.values[j] != "made" or not self.out:
            return False
        name = first
        while kinds[name] in {"first", "beg"} and name < j - 1:
            name += 1
        self.made.append((name, j, tuple(self.out)))
        self.i = j + 1
        self.out.append(Remark(self.span(first)))
        return True

    def _stitch(self, first: int, number: Numbers | None) -> None:
        """A stitch name at the position, `number` before it if any."""
        kinds = self.kinds
        if number is None and self._names_what_was_made():
            return
        named = self.values[self.i]
        if not isinstance(named, Named):
            named = _SLIP
        self.i += 1
        if kinds[self.i] == "noun" and self.values[self.i] == "st":
            self.i += 1
        if kinds[self.i] == "(" and kinds[self.i + 1] == "stitch" and kinds[self.i + 2] == ")" and isinstance(self.values[self.i + 1], Named):
            self.i += 3  # "2 SC [DC] in next stitch": both term systems at once
        if kinds[self.i] == "tog" and number is not None:  # "2 sc tog"
            self.i += 1
            named, number = together(named.stitch.name, min(number[0] or 2, 99)), None
        if kinds[self.i] == "x" and kinds[self.i + 1] == "num":
            self.i += 1
        if kinds[self.i] == "-" and kinds[self.i + 1] == "num" and number is None and kinds[self.i + 2] in _STOPS | {"in"} and self.starts[self.i] == self.ends[self.i - 1]:
            self.i += 1
        if kinds[self.i] == "num" and number is None:
            following = kinds[self.i + 1]
            if following == "tog":  # "sc 2 tog"
                named = together(named.stitch.name, min(self.number(self.i)[0] or 2, 99))
                self.i += 2
            elif following in {"times", "more"}:
                pass
            elif following not in {"ch", "stitch", "row", "rnd"} or following == "noun":
                number = self.number(self.i)
                self.i += 1
                ambiguous = kinds[self.i] in PREPOSITIONS
                if kinds[self.i] == "noun" and self.values[self.i] == "st":
                    self.i += 1
                    ambiguous = False
                if kinds[self.i] in {"rem"}:
                    self.i += 1
                self._work(first, named, number, ambiguous=ambiguous)
                return
        self._work(first, named, number)

    def _work(self, first: int, named: Named, number: Numbers | None, *, ambiguous: bool = False) -> None:
        """The stitch is read; now where it goes."""
        kinds = self.kinds
        if kinds[self.i] == "." and self.small(self.i + 1) and kinds[self.i + 1] in PREPOSITIONS:
            self.i += 1  # "1 sc. in next st"
        if kinds[self.i] == "only":
            self.i += 1
        if kinds[self.i] == "to" and kinds[self.i + 1] == "in":
            self.i += 1  # "hdc to in each st": a slip of the pen
        if kinds[self.i] == "evenly":
            self._evenly(first, named, number)
            return
        written = self.text[self.starts[first] : self.ends[self.i - 1]]
        loops = self.loops
        if named.loops is not Loops.BOTH:
            self.loops = named.loops
        places = self._where()
        self.loops = loops
        if not places:
            loops = named.loops if named.loops is not Loops.BOTH else self.loops
            if number is None or number == ONE:
                number = self._so_often() or number
            self._put_bare(named, number, loops, self.span(first), written)
            return
        if kinds[self.i] == "tog":
            self.i += 1
            if places[0].number and places[0].number[0] and named.stitch.uses == 1:
                named = together(named.stitch.name, min(places[0].number[0], 99))
        if kinds[self.i] == "evenly" and places[0].how is not How.ENDS:
            self.i += 1
            if number is not None and number != ONE:
                self.out.append(Evenly(None, self.span(first), number, named.stitch))
                return
        if number is not None and self._in_all(number, places[0], first):
            self.out.append(Evenly(None, self.span(first), number, named.stitch))
            return
        each = number if number is not None else ONE
        if len(places) > 1 and named.stitch.uses == len(places) and all(place.how is How.HOOK for place in places):
            places = [replace(places[0], number=(len(places),))]
        for place in places:
            self.out.append(Work(self._fit(named.stitch, place), each, place, self.span(first), written, ambiguous))
            if place.how is How.HOOK and place is places[0]:
                each = ONE  # "3 sc in 2nd ch from hook and in next 5 ch": three in the first alone

    def _in_all(self, number: Numbers, place: Place, first: int) -> bool:
        """ "Work 80 sc across the longer side": so many altogether; nobody works 80 into each stitch."""
        if place.how is not How.EACH or min((n for n in number if n is not None), default=0) < 5:
            return False
        return not {"each", "every other"} & set(self.kinds[first : self.i])

    def _so_often(self) -> Numbers | None:
        """ "Sc2tog 4 times", "inc twice"."""
        kinds = self.kinds
        if kinds[self.i] == "multi" and kinds[self.i + 1] not in {"more"}:
            self.i += 1
            return (self.ordinal(self.i - 1),)
        if kinds[self.i] == "num" and kinds[self.i + 1] == "times" and kinds[self.i + 2] != "more":
            self.i += 2
            return self.number(self.i - 2)
        return None

    def _fit(self, stitch: Stitch, place: Place) -> Stitch:
        """A cluster over 3 stitches uses 3; dc3tog in one stitch uses one."""
        if stitch.uses == 1 and place.how in {How.NEXT, How.FIRST, How.LAST} and stitch.name in _GATHERED and self._over(place):
            number = place.number[0] if place.number else None
            if number and number > 1:
                return replace(stitch, uses=number)
        if stitch.uses > 1 and place.number is not None and place.how in {How.NEXT, How.FIRST, How.LAST, How.SAME, How.RING}:
            number = max((n for n in place.number if n is not None), default=0)
            if 0 < number < stitch.uses:
                return replace(stitch, uses=number)
        return stitch

    def _over(self, place: Place) -> bool:
        return self.text[place.span.start : place.span.start + 4].lower() == "over"

    def _where(self) -> list[Place]:
        kinds = self.kinds
        kind = kinds[self.i]
        if kind in PREPOSITIONS or kind in PLACE_WORDS:
            if kind == "around" or kind == "across":
                if kinds[self.i + 1] == "," or kinds[self.i + 1] in _SENTENCE:
                    return self._each_to_end()
            return self.places()
        if kind == "to":
            following = kinds[self.i + 1]
            if following in {"end", "ending"} or following in {"last", "within", "marker", "marked", "corner", "rem", "next", "num"} or following == "side":
                return self._each_to_end()
            return self.places()
        if kind == "until":
            return self._each_to_end()
        if kind == "ord":
            return self.places()
        if kind == "num" and kinds[self.i + 1] in {"noun", "stitch"} and kinds[self.i - 1] not in {"num"}:
            return self.places()
        return []

    def _each_to_end(self) -> list[Place]:
        start = self.i
        keep, until = self.limit()
        if self.i == start:
            return []
        return [Place(How.EACH, None, keep or NONE_KEPT, until=until, loops=self.loops, span=self.span(start))]

    def _put_bare(self, named: Named, number: Numbers | None, loops: Loops, span: Span, written: str) -> None:
        place = Place(How.BARE, number or ONE, loops=loops, span=span)
        self.out.append(Work(named.stitch, ONE, place, span, written))

    def _evenly(self, first: int, named: Named, number: Numbers | None) -> None:
        """ "work 36 sc evenly around", "sc evenly along edge"."""
        kinds = self.kinds
        self.i += 1
        while kinds[self.i] in {"around", "across", "along", "in", "over", "from", "to", "up", "between", "down", "below", "side", "of", "each", "other", "first", "last", "next", "rem", "beg", "top", "word", "and", "both", "end", "skipped", "unworked", "marked", "marker", "row", "rnd", "ch", "tail", "rs", "same", "corner", "center", "ring"} or (kinds[self.i] == "noun"):
            if kinds[self.i] == "and" and kinds[self.i + 1] not in {"along", "across", "around", "word", "side", "other", "in", "down", "up"}:
                break
            self.i += 1
        span = self.span(first)
        if number is None:
            self.out.append(Evenly(None, span, None, named.stitch))
            return
        place = Place(How.ENDS, None, what="edge", loops=self.loops, span=span)
        self.out.append(Work(named.stitch, number, place, span))

    def on_increase(self) -> None:
        self._shape(self.i, None)

    def _shape(self, first: int, number: Numbers | None) -> None:
        """ "inc", "inc x 3", "3 inc", "dec 1 st each end", "inc 6 evenly", "dec over next 2 sts"."""
        kinds, values = self.kinds, self.values
        up = kinds[self.i] == "increase"
        self.i += 1
        named = increase("sc") if up else together("sc", 2)
        if kinds[self.i] == "stitch" and kinds[self.i + 1] not in {"stitch"}:
            inner = values[self.i]
            assert isinstance(inner, Named)
            named = increase(inner.stitch.name) if up else together(inner.stitch.name, 2)
            self.i += 1
        if kinds[self.i] in {"x", "-"} and kinds[self.i + 1] == "num":
            self.i += 1
        if kinds[self.i] == "num" and number is None:
            if kinds[self.i + 1] in {"times"}:
                number = self.number(self.i)
                self.i += 2
                self._work(first, named, number)
                return
            amount = self.number(self.i)
            self.i += 1
            if kinds[self.i] == "noun":
                self.i += 1
            if self._shaping_sentence(first, up, amount):
                return
            number = amount
        elif number is None and kinds[self.i] == "noun" and kinds[self.i + 1] != "in":
            self.i += 1
        elif number is not None and kinds[self.i] in {"evenly", "each", "noun", "around", "across", "per"} and self._shaping_sentence(first, up, number):
            return
        if kinds[self.i] in PREPOSITIONS and kinds[self.i + 1] in {"each", "next", "first", "last", "every other", "same", "ord", "num"} or kinds[self.i] in {"over"}:
            self._work(first, named, number)
        else:
            self._put_bare(named, number, self.loops, self.span(first), self.text[self.starts[first] : self.ends[self.i - 1]])

    def _shaping_sentence(self, first: int, up: bool, amount: Numbers) -> bool:
        """ "inc 6 evenly around", "dec 1 st at each end of row"."""
        kinds = self.kinds
        start = self.i
        sign = 1 if up else -1
        while kinds[self.i] in {"noun", "in", "row", "rnd", "this"}:
            self.i += 1
        if kinds[self.i] == "evenly":
            self.i += 1
            while kinds[self.i] in {"around", "across", "in", "over", "next", "row", "rnd", "this"}:
                self.i += 1
        elif kinds[self.i] in {"each", "both"} and kinds[self.i + 1] in {"end", "side", "ending"}:
            sign *= 2
            self.i += 2
        elif kinds[self.i] in {"around", "across"} and kinds[self.i + 1] in _STOPS:
            self.i += 1
        elif kinds[self.i] in {"per", "each"} and kinds[self.i + 1] in {"row", "rnd"}:
            self.i += 2
        else:
            self.i = start
            return False
        change = tuple(None if n is None else sign * n for n in amount)
        self.out.append(Evenly(change, self.span(first)))
        return True

    # ------------------------------------------------------------------ chains, slip stitches, joins

    def on_chain(self) -> None:
        """ "ch 3", "ch-3", "chain 3 (counts as dc)"."""
        first = self.i
        self.i += 1
        self.skip_dash()
        if self.kinds[self.i] == "x":
            self.i += 1
        number: Numbers = ONE
        if self.kinds[self.i] == "num":
            number = self.number(self.i)
            self.i += 1
        elif self.kinds[self.i - 1] == "-":
            self.i -= 1
        self._chain_done(first, number)

    def _chain_done(self, first: int, number: Numbers) -> None:
        kinds = self.kinds
        if self._measured():
            self._remark(first)
            return
        span = self.span(first)
        if kinds[self.i] in PREPOSITIONS and kinds[self.i + 1] in PLACE_WORDS:
            before = self.i
            if not self.places():
                self.i = before
        chain = Chain(number, span)
        if kinds[self.i] in {"counts", "counts not"}:
            chain = self._counts(chain, _STOPS)
        elif kinds[self.i] == "(" and kinds[self.i + 1] in {"counts", "counts not", "this"}:
            close = self.match.get(self.i, -1)
            if close > 0:
                self.i += 1
                if kinds[self.i] == "this":
                    self.i += 1
                chain = self._counts(chain, frozenset((")",)), close)
                self.i = close + 1
        elif kinds[self.i] == "(":
            chain = self._remark_on_chain(chain)
        self.out.append(chain)

    def _measured(self) -> bool:
        """ "make a chain 38 (40-42) ins long": a length, not a number of chains."""
        at = self.i + (1 if self.kinds[self.i] == "num" else 0)
        return self.kinds[at] == '"' or self.values[at] in {"ins", "inches", "inch", "cm"} or self.kinds[at] == "word" and self.values[at] == "½"

    def _remark_on_chain(self, chain: Chain) -> Chain:
        """ "ch 3 (first dc made)", "ch 2 (not counted as a st)"."""
        kinds = self.kinds
        close = self.match.get(self.i, -1)
        if close < 0 or close - self.i > 12:
            return chain
        inner = kinds[self.i + 1 : close]
        if "counts not" in inner:
            counts: bool | None = False
        elif "counts" in inner or (inner[:2] == ["first", "stitch"] and "total" in inner):
            counts = True
        else:
            return chain
        self.i = close + 1
        return replace(chain, counts=counts)

    def _counts(self, chain: Chain, stops: frozenset[str], close: int = -1) -> Chain:
        """After "counts as": what the chain counts for."""
        kinds, values = self.kinds, self.values
        yes = kinds[self.i] == "counts"
        self.i += 1
        as_what: list[tuple[str, int]] = []
        number = 1
        end = close if close > 0 else self.end
        while self.i < end and (close > 0 or kinds[self.i] not in stops):
            kind = kinds[self.i]
            if kind == "num":
                number = self.number(self.i)[0] or 1
            elif kind == "stitch":
                named = values[self.i]
                assert isinstance(named, Named)
                as_what.append((named.stitch.name, number))
                number = 1
            elif kind == "ch":
                if kinds[self.i + 1] in {"num", "-"}:
                    j = self.i + (2 if kinds[self.i + 1] == "-" else 1)
                    if kinds[j] == "num":
                        as_what.append(("ch-sp", self.number(j)[0] or 1))
                        self.i = j
                elif number > 1:
                    as_what.append(("ch-sp", number))
                number = 1
            elif kind == "noun" and values[self.i] == "st" and not as_what:
                as_what.append(("st", number))
            elif kind == "counts not":
                yes = False
            self.i += 1
        if not yes:
            return replace(chain, counts=False)
        return replace(chain, counts=True, counts_as=tuple(as_what))

    def on_slip(self) -> None:
        """ "sl st in first sc" (a join), "sl st in next 3 sts" (stitches)."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        if kinds[self.i] == "num":
            self.i = first
            self._stitch(first, None)
            return
        if kinds[self.i] == "to" and kinds[self.i + 1] in {"join", "close"}:
            self.i += 2
            place = self.place() if kinds[self.i] in PREPOSITIONS or kinds[self.i] == "to" else None
            self.out.append(Join(self.span(first), place))
            return
        places = self._where()
        if places and kinds[self.i] == "to" and kinds[self.i + 1] in {"join", "close", "make ring", "ring", "word"}:
            self._join_done(first, places[0])
            return
        if len(places) == 1 and self._joins(places[0]):
            self.out.append(Join(self.span(first), places[0]))
            return
        if not places:
            self._put_bare(_SLIP, None, self.loops, self.span(first), "sl st")
            return
        for place in places:
            self.out.append(Work(_SLIP.stitch, ONE, place, self.span(first), "sl st"))

    def _joins(self, place: Place) -> bool:
        """Whether a slip stitch into this place closes the round."""
        if self.depth or not self.out or place.number not in {ONE, None}:
            return False
        closing = place.how is How.FIRST or place.what == "turning ch"
        if not closing or "*" in self.kinds[self.i : self.i + 2]:
            return False
        if not any(isinstance(step, Work | Group | Repeat | Evenly | Chain) for step in self.out):
            return False
        worked = any(isinstance(step, Work | Group | Repeat | Evenly) for step in self.out)
        return worked or place.what == "ch"

    def on_join(self) -> None:
        """ "join", "join with sl st to first sc", "join A with sl st to any st", "join in top of ch"."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        colour: str | None = None
        if self.values[first] == "joining" and kinds[self.i] not in {"with", "sl"}:
            label = self._colour_name() or ""
            while kinds[self.i] not in _STOPS:
                self.i += 1
            self.out.append(Colour(label, "join", self.span(first)))
            return
        if kinds[self.i] not in {"with", "in", "to", ".", ",", ";", "", "sl", "(", ")", "make ring", "around"}:
            colour = self._colour_name()
        if kinds[self.i] == "in" and kinds[self.i + 1] in {"row", "rnd"}:
            self.i += 1
        if kinds[self.i] in {"row", "rnd"}:
            self.i += 1
        if colour is not None:
            self.out.append(Colour(colour, "join", self.span(first)))
        if kinds[self.i] == "with" and kinds[self.i + 1] == "stitch":
            self.i += 1
            self._stitch(first, None)
            return
        if kinds[self.i] == "with" and kinds[self.i + 1] == "sl":
            self.i += 2
        elif kinds[self.i] == "sl":
            self.i += 1
        elif kinds[self.i] == "with":
            self.i += 1
            label = self._colour_name()
            if label is None:
                self._remark(first)
                return
            self.out.append(Join(self.span(first)))
            self.out.append(Colour(label, "join", self.span(first)))
            return
        place: Place | None = None
        if kinds[self.i] in {"to", *PREPOSITIONS} and kinds[self.i + 1] not in {"make ring", "word"}:
            start = self.i
            if kinds[self.i] == "to":
                self.i += 1
            place = self.place()
            if place is None:
                self.i = start
        if colour is None or place is not None:
            self._join_done(first, place)

    def _join_done(self, first: int, place: Place | None) -> None:
        """Close a join; "to form a ring" after a chain makes a ring of it."""
        kinds = self.kinds
        ring = False
        if kinds[self.i] in {"to", "in", "and"} and kinds[self.i + 1] in {"join", "close", "make ring", "ring", "word"} and (kinds[self.i] == "to" or kinds[self.i + 2] in {"ring", "make ring"}):
            j = self.i + 1
            while kinds[j] in {"word", "work", "make ring", "ring", "join", "close"}:
                ring = ring or kinds[j] in {"make ring", "ring"}
                j += 1
            self.i = j
        elif kinds[self.i] in {"ring", "make ring"}:
            ring = True
            self.i += 1
        elif kinds[self.i : self.i + 2] in (["word", "ring"], ["word", "make ring"]):
            ring = True
            self.i += 2
        if not ring and place is not None and place.what == "ch" and self.out and isinstance(self.out[-1], Chain) and not any(isinstance(step, Work | Repeat | Group) for step in self.out):
            ring = place.how in {How.FIRST, How.HOOK, How.LAST}
        if ring and self.out and isinstance(self.out[-1], Chain) and not any(isinstance(s, Work | Repeat | Group) for s in self.out):
            chain = self.out[-1]
            assert isinstance(chain, Chain)
            self.out[-1] = Ring(Span(chain.span.start, self.ends[self.i - 1]), chain.number)
            return
        if ring and not self.out:
            self.out.append(Ring(self.span(first)))
            return
        self.out.append(Join(self.span(first), place))

    def on_ring(self) -> None:
        first = self.i
        self.i += 1
        self.out.append(Ring(self.span(first)))

    # ------------------------------------------------------------------ skips, turns, ends

    def on_skip(self) -> None:
        first = self.i
        if self.values[first] == "skipping":
            last = self.out[-1] if self.out else None
            if self.depth and last is None:
                return
            if isinstance(last, Work) and last.place.how is How.EACH:
                while self.kinds[self.i] not in _STOPS:
                    self.i += 1
                self.out.append(Remark(self.span(first)))
                return
        self.i += 1
        kinds = self.kinds
        if kinds[self.i] in PREPOSITIONS:
            self.i += 1
        if kinds[self.i] == "num" and kinds[self.i + 1] in _STOPS:
            number = self.number(self.i)
            self.i += 1
            self.out.append(Skip(Place(How.NEXT, number, span=self.span(self.i - 1)), self.span(first)))
            return
        place = self._core(self.i)
        if place is None and kinds[self.i] == "next" and kinds[self.i + 1] in {":", "("}:
            self.i += 1
        if place is None and kinds[self.i] == ":" and kinds[self.i + 1] == "(":
            self.i += 1
        if place is None and kinds[self.i] == "(" and self.i in self.match:
            self._skip_group(first)
            return
        while place is not None:
            self.out.append(Skip(place, self.span(first)))
            if kinds[self.i] == "and" and kinds[self.i + 1] in {"next", "first", "last", "num"} and kinds[self.i + 1] != "in":
                self.i += 1
                place = self._core(self.i)
            else:
                return
        if kinds[self.i] in _STOPS and self.i > first:
            self.out.append(Skip(Place(How.NEXT, ONE, span=self.span(first)), self.span(first)))

    def _skip_group(self, first: int) -> None:
        """ "Skip next (ch 3, dc, ch 3)": each of these is passed over."""
        close = self.match[self.i]
        self.i += 1
        inner = self._inside(close)
        self.i = close + 1
        span = self.span(first)
        for step in inner:
            if isinstance(step, Chain):
                chains = step.number[0] if step.number else None
                self.out.append(Skip(Place(How.NEXT, ONE, what="ch-sp", chains=chains, span=step.span), span))
            elif isinstance(step, Work):
                self.out.append(Skip(Place(How.NEXT, step.place.number, what=step.stitch.name, span=step.span), span))

    def on_turn(self) -> None:
        first = self.i
        self.i += 1
        if self.kinds[self.i] in {"to", "and"} and self.kinds[self.i + 1] in {"work", "working"}:
            self._remark(first)
            self.out[-1] = Rotate(self.out[-1].span)
            return
        self.out.append(Turn(self.span(first)))

    def on_not_turn(self) -> None:
        first = self.i
        self.i += 1
        self.out.append(Turn(self.span(first), turn=False))

    def on_fasten(self) -> None:
        first = self.i
        self.i += 1
        while self.kinds[self.i] not in {".", ";", ",", "", ")", "(", "-", "--", "num"}:
            self.i += 1
        self.out.append(FastenOff(self.span(first)))

    def on_leave(self) -> None:
        """ "leave last 4 sts unworked" changes the count; "leaving a long tail" does not."""
        kinds = self.kinds
        first = self.i
        stop = first
        while kinds[stop] not in _STOPS:
            stop += 1
        inside = kinds[first:stop]
        if "unworked" not in inside and "skipped" not in inside:
            self._remark_to(first, stop)
            return
        number: Numbers | None = None
        for j in range(first, stop):
            if kinds[j] == "num":
                number = self.number(j)
                break
        if number is None and "last" in inside and "noun" in inside and "rem" not in inside and self._singular(first, stop):
            number = ONE
        self.i = stop
        self.out.append(Unworked(number, self.span(first)))

    def _singular(self, first: int, stop: int) -> bool:
        words = self.text[self.starts[first] : self.ends[stop - 1]].lower().split()
        return any(word in {"st", "stitch", "sc", "dc", "hdc"} for word in words)

    def _remark_to(self, first: int, stop: int) -> None:
        self.i = max(stop, first + 1)
        self.out.append(Remark(self.span(first)))

    def on_marker(self) -> None:
        first = self.i
        self.i += 1
        kinds = self.kinds
        while self.i < self.end and kinds[self.i] not in {".", ";"}:
            if kinds[self.i] == "," and self._starts_work(self.i + 1):
                break
            if kinds[self.i] == "--" and kinds[self.i + 1] == "num" or (kinds[self.i] == ")" and self.depth):
                break
            self.i += 1
        self.out.append(Remark(self.span(first)))
        span = self.out[-1].span
        act = self.text[span.start : span.start + 2].lower()
        self.out[-1] = Marker(span, {"mo": "move", "re": "remove"}.get(act, "place"))

    def on_remark(self) -> None:
        self._remark(self.i)

    # ------------------------------------------------------------------ colours, loops, "working ..."

    def _colour_name(self) -> str | None:
        """Words up to the next comma, stop or "with": "A", "MC", "color 2", "2 strands of B"."""
        kinds = self.kinds
        first = self.i
        while kinds[self.i] not in {",", ".", ";", "", "with", "in", "to", ")", "(", "and", "-", "--", ":"} and self.i - first < 6:
            if kinds[self.i] in {"ch", "stitch"} and self.i > first:
                break
            self.i += 1
        if self.i == first:
            return None
        return self.text[self.starts[first] : self.ends[self.i - 1]]

    def on_with(self) -> None:
        """ "With A, ..." a colour; "with right side facing, ..." a remark."""
        kinds = self.kinds
        first = self.i
        stop = first + 1
        while stop < self.end and kinds[stop] not in {",", ".", ";", ":"} and stop - first < 14:
            if kinds[stop] in {"ch", "join", "make ring", "as", "rep"} and stop > first + 1:
                break
            stop += 1
        inside = kinds[first + 1 : stop]
        if kinds[first + 1] == "sl" or (kinds[first + 1] == "stitch" and kinds[first + 2] in PLACE_WORDS):
            self.i += 1
            return
        if kinds[stop] == "ch" and kinds[stop - 1] == "and":
            stop -= 1
        if "facing" in inside or "hook" in inside or "tail" in inside or "rs" in inside:
            self._remark_to(first, stop)
            return
        if stop - first > 7:
            self._remark_to(first, first + 1)
            return
        self.i = stop
        label = self.text[self.starts[first + 1] : self.ends[stop - 1]] if stop > first + 1 else ""
        self.out.append(Colour(label, "with", self.span(first)))

    def on_change(self) -> None:
        first = self.i
        self.i += 1
        kinds = self.kinds
        while kinds[self.i] in {"to", "in", "word"} and kinds[self.i] != "word":
            self.i += 1
        label = self._colour_name() or ""
        if kinds[self.i] == "in" or kinds[self.i] == "with":
            while kinds[self.i] not in _STOPS:
                self.i += 1
        self.out.append(Colour(label, "change", self.span(first)))

    def on_drop(self) -> None:
        """ "Break A.", "Drop MC.", "Carry yarn ..."."""
        first = self.i
        act = str(self.values[first]).split()[0]
        self.i += 1
        label = self._colour_name() or ""
        if len(label) > 20:
            self._remark(first)
            return
        self.out.append(Colour(label, act, self.span(first)))

    def on_working(self) -> None:
        """ "working in back loops only," sets the loops; other "working ..." phrases tell how."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        while kinds[self.i] in {"in", "through", "under"}:
            self.i += 1
        if kinds[self.i] in {"back loop", "front loop", "both loops"} and kinds[self.i + 1] in _STOPS | {"only", "around", "across"}:
            self.loops = self._loops_here()
            while kinds[self.i] in {"only", "around", "across", "here", "of"}:
                self.i += 1
            self._remark_to(first, self.i)
            return
        stop = first + 1
        while kinds[stop] not in {",", ".", ";", "", ":", ")", "--"}:
            stop += 1
        inside = kinds[first + 1 : stop]
        if "free loop" in inside and "ch" in inside or ("other" in inside and ("side" in inside or "ch" in inside)):
            self.i = stop
            self.out.append(Rotate(self.span(first)))
            return
        if kinds[first + 1] in {"stitch", "num", "increase", "decrease"}:
            self.i = first + 1
            return
        if "free loop" in inside:
            self.loops = Loops.UNWORKED
        self._remark_to(first, stop)

    def on_loops(self) -> None:
        """A loop code at the head: "BLO: sc in each st", "in back loops only, sc ..."."""
        first = self.i
        self.loops = self._loops_here()
        while self.kinds[self.i] in {"only", ":"}:
            self.i += 1
        self._remark_to(first, self.i)

    def on_place_first(self) -> None:
        """ "In next ch-2 sp work (2 dc, ch 2, 2 dc)", "In each st around, 2 dc"."""
        kinds = self.kinds
        first = self.i
        if kinds[first] == "in" and kinds[first + 1] in {"back loop", "front loop", "both loops"} and kinds[first + 2] in {",", "only", ":"}:
            self.i += 1
            self.on_loops()
            return
        places = self.places()
        if places and kinds[first - 1] in {"and", "then"} and first and self._same_again(first, places):
            return
        at = self.i
        while kinds[at] in {",", "work", ":"}:
            at += 1
        if not places or kinds[at] not in {"num", "stitch", "(", "ch", "increase", "decrease"}:
            self.i = first
            return
        self.i = at
        place = places[0]
        if kinds[self.i] == "(" and self.i in self.match:
            close = self.match[self.i]
            self.i += 1
            inner = self._inside(close)
            self.i = close + 1
            self.out.append(Group(tuple(inner), place, self.span(first)))
            return
        outer, self.out = self.out, []
        stop = self.i
        while kinds[stop] not in {".", ";", "", ")", "*"}:
            stop += 1
        self.depth += 1
        self._run(stop)
        self.depth -= 1
        inner, self.out = self.out, outer
        self._put_into(inner, place, first)

    def _same_again(self, first: int, places: list[Place]) -> bool:
        """ "dc in 4th ch from hook (counts as 2 dc) and in each ch across": the same stitch goes on."""
        last = next((step for step in reversed(self.out) if not isinstance(step, Remark | Counting | Marker | Colour)), None)
        if not isinstance(last, Work) or last.place.how is How.BARE:
            return False
        for place in places:
            self.out.append(replace(last, place=place, span=self.span(first)))
        return True

    def _put_into(self, inner: list[Step], place: Place, first: int) -> None:
        """Steps that follow a place named before them."""
        works = [step for step in inner if isinstance(step, Work | Chain)]
        bare = [step for step in works if not (isinstance(step, Work) and step.place.how is not How.BARE)]
        if len(works) == 1 and len(bare) == 1 and isinstance(bare[0], Work):
            only = bare[0]
            each = only.place.number or ONE
            self.out.append(Work(self._fit(only.stitch, place), each, place, self.span(first), only.written))
            self.out.extend(step for step in inner if step is not only)
        elif bare and len(bare) == len(works):
            self.out.append(Group(tuple(inner), place, self.span(first)))
        else:
            self.out.extend(inner)

    # ------------------------------------------------------------------ brackets

    def on_bracket(self) -> None:
        kinds = self.kinds
        first = self.i
        close = self.match.get(first)
        if close is None:
            self.i += 1  # never closed: read on as if it were not there
            return
        if close == first + 1:
            self.i = close + 1
            return
        after = kinds[close + 1]
        if kinds[first + 1] in {"yoh", "insert"} or (kinds[first + 1] == "draw" and kinds[first + 2] == "noun"):
            self.on_movements()
            if self.i > first:
                return
        if after not in {"times", "x"} and self._count_inside(first, close, after):
            return
        inside = kinds[first + 1 : close]
        if ("counts" in inside or "counts not" in inside) and after not in {"times", "num", "multi", "in"}:
            self._counting(first, close, inside)
            return
        self.i = first + 1
        if kinds[close - 1] == "total" and close - first <= 6 and self._names_what_was_made():
            self.i = close + 1
            return
        self.i = first
        if self._is_comment(first, close):
            self.i = close + 1
            self.out.append(Remark(self.span(first)))
            return
        self.i = first + 1
        inner = self._inside(close)
        self.i = close + 1
        self._after_bracket(first, inner)

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
            self.out[begin:] = [Repeat(body, times, Span(body[0].span.start, self.ends[self.i - 1]), "*")]
            self.frame.marks.clear()
        else:
            self._rep_words(first, times, "none")

    def _count_inside(self, first: int, close: int, after: str) -> bool:
        """ "(24 sc, 6 ch-1 sps)": a count, unless what follows makes it steps."""
        if after in PREPOSITIONS or after in {"num", "multi", "rep"} or (after == "*" and kinds_is_number(self.kinds, close + 2)):
            follows = self.kinds[close + 2]
            if not (after == "num" and follows not in {"times", "more", "x"}):
                return False
        if self.kinds[first + 1] not in {"num", "total", "+", "="}:
            return False
        self.i = first + 1
        found = self.count(stops=frozenset((")",)), need_unit=False)
        if found is None or self.i != close:
            self.i = first
            return False
        self.i = close + 1
        if self.depth and self.kinds[self.i] not in _STOPS:
            self.i = first
            return False
        self.counts.append((replace(found, span=self.span(first)), len(self.out)))
        return True

    def _counting(self, first: int, close: int, inside: list[str]) -> None:
        """ "(skipped 3 ch count as first dc)", "(does not count as st)"."""
        at = first + 1
        while self.kinds[at] not in {"counts", "counts not"}:
            at += 1
        self.i = at
        chain = self._counts(Chain(ONE, Span(0, 0)), frozenset((")",)), close)
        self.i = close + 1
        self.out.append(Counting(bool(chain.counts), self.span(first), chain.counts_as))

    def _is_comment(self, first: int, close: int) -> bool:
        """Words in brackets that are no steps."""
        kinds = self.kinds
        head = kinds[first + 1]
        after = kinds[close + 1]
        if after in {"num", "multi", "x"} and head not in {"counts", "note", "rs"}:
            return False
        if head == "word" and after in _STOPS and not kinds[first + 2] in PLACE_WORDS:
            return True
        if head in {"in", "of", "from", "to"} and after in _STOPS and kinds[first + 2] in {"word", "top", "beg"}:
            return True
        if head in {"counts", "counts not", "note", "rs", "this", "same", "facing", "as", "for"}:
            return True
        if head == "skip" and self.values[first + 1] in {"skipping", "missing"} and after in _STOPS:
            return True
        inside = kinds[first + 1 : close]
        if "total" in inside and close - first < 8 and after in _STOPS:
            return True
        return not any(kind in _STEP_KINDS for kind in inside)

    def _after_bracket(self, first: int, inner: list[Step]) -> None:
        """What follows a bracket of steps says what it means."""
        kinds = self.kinds
        if not inner:
            self.out.append(Remark(self.span(first)))
            return
        start = self.i
        if kinds[self.i] == "each" and kinds[self.i + 1] == "in":
            self.i += 1
        kind = kinds[self.i]
        if kind in PREPOSITIONS or (kind in {"to", "until"}) or (kind == "," and kinds[self.i + 1] in {"around", "across"}):
            if kind in {"around", "across", "to", "until", ","} and kinds[self.i + 1] not in {"post", "each", "next", "first"}:
                times = self.times(bracket=True)
                if times is not None:
                    self._repeat(first, inner, times)
                    return
            places = self.places()
            if len(places) == 1 and kind in {"across", "over"} and places[0].number and _placed(inner):
                self._repeat(first, inner, Times(places[0].number, more=False))
                return
            if places:
                for place in places:
                    self.out.append(Group(tuple(inner), place, self.span(first)))
                return
            self.i = start
        elif kind in PLACE_WORDS:
            places = self.places()
            if places:
                for place in places:
                    self.out.append(Group(tuple(inner), place, self.span(first)))
                return
        times = self.times(bracket=True)
        if times is not None:
            if kinds[self.i] in {"in"} and kinds[self.i + 1] in {"next", "same", "each", "ring", "first", "last"}:
                place = self.place()
                if place is not None:
                    repeat = Repeat(tuple(inner), times, self.span(first), self._fence(first))
                    self.out.append(Group((repeat,), place, self.span(first)))
                    return
            self._repeat(first, inner, times)
            return
        if kinds[self.i] == "rep" and kinds[self.i + 1] in {"from", "(", "this", "word", "between", "in"}:
            self._rep_bracket(first, inner)
            return
        self.out.extend(inner)

    def _rep_bracket(self, first: int, inner: list[Step]) -> None:
        j = self.i + 1
        while self.kinds[j] in {"from", "(", ")", "this", "word", "between", "in", "and", "*", "to"}:
            j += 1
        back = self.i
        self.i = j
        times = self.times(bracket=False)
        if times is None:
            self.i = back
            self.out.extend(inner)
            return
        self._repeat(first, inner, times)

    def _fence(self, first: int) -> str:
        mark = self.text[self.starts[first]]
        return mark if mark in "([{*" else "*"

    def _repeat(self, first: int, inner: list[Step], times: Times) -> None:
        ending, partial_stop = self._ending()
        self.out.append(Repeat(tuple(inner), times, self.span(first), self._fence(first), ending=ending))

    # ------------------------------------------------------------------ stars

    def on_star(self) -> None:
        kinds, values = self.kinds, self.values
        first = self.i
        name = str(values[first])
        marks = self.frame.marks
        if name in marks and name not in self.frame.closed:
            start = marks[name]
            self.i += 1
            times = self.times(bracket=True) if kinds[self.i] != "rep" or kinds[self.i + 1] in {"num", "multi", "around", "across", "to"} else None
            if times is not None:
                self._close_star(name, start, times, first)
                return
            if kinds[self.i] == "rep" or (kinds[self.i] in _STOPS and kinds[self.i + 1] == "rep") or self._rep_to_star(name):
                self.frame.closed[name] = len(self.out)
                return
            if kinds[self.i] == "(" and self._is_count_ahead():
                self._close_star(name, start, Times(to_end=True), first)
                return
        else:
            self.i += 1
            again = self.frame.again.get(name)
            if again is not None and (kinds[self.i] == "rep" or (kinds[self.i] in _STOPS and kinds[self.i + 1] == "rep")) and self._rep_to_star_here():
                marks[name], self.frame.closed[name] = again, len(self.out)
                return
        marks[name] = len(self.out)
        self.frame.closed.pop(name, None)
        self.frame.saved.pop(name, None)

    def _rep_to_star_here(self) -> bool:
        """Whether "rep from * to *" follows at once."""
        near = self.kinds[self.i : self.i + 7]
        return near.count("*") >= 2

    def _is_count_ahead(self) -> bool:
        close = self.match.get(self.i, -1)
        return close > 0 and self.kinds[self.i + 1] == "num" and self.kinds[close + 1] in {"", "."} and len(self.out) > 0

    def _rep_to_star(self, name: str) -> bool:
        """Whether a later "rep from * to *" makes this star a closing one."""
        kinds = self.kinds
        for j in range(self.i, min(self.end, self.i + 60)):
            if kinds[j] == "rep":
                near = kinds[j : j + 7]
                return near.count("*") >= 2 and self.values[j:j + 7].count(name) >= 2
            if kinds[j] == "*" and self.values[j] == name:
                return False
        return False

    def _close_star(self, name: str, start: int, times: Times, first: int) -> None:
        steps = tuple(self.out[start:])
        if not steps:
            return
        del self.out[start:]
        span = Span(steps[0].span.start, self.ends[self.i - 1])
        stop = self.frame.marks.get("**" if name == "*" else "***")
        stop_at = stop - start if stop is not None and start < stop < start + len(steps) else None
        self.out.append(Repeat(steps, times, span, name if name in {"*", "**"} else "*", stop=None if stop_at is None else None))
        self.frame.marks.pop(name, None)

    def on_rep(self) -> None:
        """ "rep from * ...", "rep row 2", "repeat around"."""
        kinds, values = self.kinds, self.values
        first = self.i
        j = first + 1
        while kinds[j] in {"from", "between", "work", "this", "in", "word"} and kinds[j + 1] != "":
            if kinds[j] == "word" and values[j] not in {"instructions", "directions", "section", "sequence", "steps", "pattern"}:
                break
            j += 1
        if kinds[j] == "*":
            self._rep_star(first, j)
        elif kinds[j] in {"row", "rnd", "ord", "last", "prev", "first"} or (kinds[j] == "each" and kinds[j + 1] in {"row", "rnd"}):
            self.i = j
            self._as_round(first)
        else:
            self.i = first + 1
            if kinds[self.i] == "pattern" or kinds[self.i] == "from":
                self.i += 1
                if kinds[self.i] == "from":
                    self.i += 1
            times = self.times(bracket=False)
            if times is None:
                self.i = first
                return
            self._rep_words(first, times)

    def on_from(self) -> None:
        """ "..., then from * to ** once more"."""
        if self.kinds[self.i + 1] == "*":
            self._rep_star(self.i, self.i + 1)

    def _given_for(self, first: int, at: int) -> bool:
        """ "Work from ** to ** as given for Back": another part's rounds."""
        kinds = self.kinds
        for j in range(at, min(self.end, at + 7)):
            if kinds[j] == "as" and kinds[j + 1] in {"word", "for"}:
                self.i = j
                self.on_as()
                last = self.out[-1] if self.out else None
                if self.i > j and isinstance(last, AsRound):
                    until = self.text[self.starts[first] : self.ends[j - 1]]
                    self.out[-1] = replace(last, span=self.span(first), until=until)
                    return True
                self.i = first
                return False
            if kinds[j] in _STOPS:
                return False
        return False

    def _rep_star(self, first: int, at: int) -> None:
        """ "rep from * (to **) (5 times | around | to last 3 sts) (, ending ...)"."""
        kinds, values = self.kinds, self.values
        if self._given_for(first, at):
            return
        name = str(values[at])
        self.i = at + 1
        until: str | None = None
        if kinds[self.i] in {"to", "and", "until", "-"} and kinds[self.i + 1] == "*":
            until = str(values[self.i + 1])
            self.i += 2
        elif kinds[self.i] == "*":
            until = str(values[self.i])
            self.i += 1
        start = self.i
        if kinds[self.i] == ",":
            self.i += 1
        times = self.times(bracket=False)
        if times is None:
            self.i = start
            times = Times(to_end=True) if until is None or until == name else Times(ONE, more=True)
        marks = self.frame.marks
        begin = marks.get(name)
        if begin is None:
            self._partial(first, until, times)
            return
        saved = self.frame.saved.get(name)
        if until is not None and until != name and self.out and isinstance(self.out[-1], Repeat):
            self._partial(first, until, times)
            return
        if saved is not None and until == name:
            ending, _ = self._ending()
            span = Span(self.starts[first], self.ends[self.i - 1])
            self.out.append(Repeat(saved, times, span, "*", ending=ending))
            return
        end = self.frame.closed.get(name, len(self.out))
        if until is not None and until != name and until in marks:
            end = marks[until]
        body = tuple(self.out[begin:end])
        tail = self.out[end:]
        ending, stops_at = self._ending()
        stop = marks[stops_at] - begin if stops_at is not None and stops_at in marks else None
        if not body:
            self._rep_words(first, times, "none", ending)
            return
        if until == name or name in self.frame.closed:
            self.frame.saved[name] = body
        span = Span(body[0].span.start, self.ends[self.i - 1])
        fence = name if name in {"*", "**"} else "*"
        repeat = Repeat(body, times, span, fence, stop=stop, ending=ending)
        if not tail or all(isinstance(step, Remark | Join | Turn | Colour) for step in tail):
            self.out[begin:] = [repeat, *tail]
        else:  # more work stands between the first pass and "rep from * to *"
            self.out.append(replace(repeat, span=Span(self.starts[first], self.ends[self.i - 1])))
        self._shift_marks(begin)
        if name not in self.frame.saved:
            self.frame.again[name] = begin
            marks.pop(name, None)

    def _shift_marks(self, begin: int) -> None:
        """After a repeat is closed, marks inside it point nowhere."""
        for other, at in list(self.frame.marks.items()):
            if at > begin:
                self.frame.inside["*", other] = at - begin
                del self.frame.marks[other]
                self.frame.closed.pop(other, None)

    def _partial(self, first: int, until: str | None, times: Times) -> None:
        """ "then from * to ** once more" behind the repeat itself; or a star that is missing."""
        last = self.out[-1] if self.out else None
        if until is not None and isinstance(last, Repeat) and last.fence in {"*", "**"}:
            number = times.number[0] if times.number else 1
            stop = last.stop if last.stop is not None else self.frame.inside.get((last.fence, until))
            last = replace(last, stop=stop)
            self.out[-1] = replace(last, partial=last.partial + (number or 1), span=Span(last.span.start, self.ends[self.i - 1]))
            return
        ending, _ = self._ending()
        self._rep_words(first, times, "none", ending)

    def _ending(self) -> tuple[tuple[Step, ...], str | None]:
        """ ", ending last rep at **", ", ending with 2 dc in last st", " working 5dcl over last 5 sts"."""
        kinds, values = self.kinds, self.values
        start = self.i
        j = self.i
        if kinds[j] == "," or kinds[j] == ";":
            j += 1
        if kinds[j] == "and":
            j += 1
        word = kinds[j]
        if word not in {"ending", "working"} and not (word == "end" and kinds[j + 1] in {"in", "with", "last"}):
            return (), None
        j += 1
        while kinds[j] in {"last", "rep", "in", "final", "at", "with", "on", "this", "first"} and kinds[j] not in {"stitch"}:
            if kinds[j] == "*":
                break
            if kinds[j] == "last" and kinds[j + 1] != "rep":
                break
            j += 1
        if kinds[j] == "*":
            self.i = j + 1
            return (), str(values[j])
        if kinds[j] in {"row", "rnd", "rs"}:
            self.i = start
            return (), None
        if word == "working" and kinds[j] not in {"num", "stitch", "sl", "ch", "("}:
            return (), None
        stop = j
        while kinds[stop] not in {".", ";", "", ")"}:
            if kinds[stop] == "(":
                stop = self.match.get(stop, stop)
            stop += 1
        self.i = j
        inner = self._inside(stop)
        self.i = stop
        return tuple(inner), None

    def _rep_words(self, first: int, times: Times, fence: str = "words", ending: tuple[Step, ...] = ()) -> None:
        """ "..., repeat around" with no mark: all since the starting chain."""
        begin = 0
        for index, step in enumerate(self.out):
            if isinstance(step, Chain | Colour | Join | Remark | Marker | Ring | Turn | FastenOff) and index == begin:
                begin = index + 1
            elif index >= begin:
                break
        body = tuple(self.out[begin:])
        if not body:
            self.out.append(Unread(self.span(first)))
            return
        self.out[begin:] = [Repeat(body, times, Span(body[0].span.start, self.ends[self.i - 1]), fence, ending=ending)]

    # ------------------------------------------------------------------ other rows

    def on_as(self) -> None:
        """ "As 2nd row", "as given for Back"."""
        first = self.i
        kinds = self.kinds
        self.i += 1
        while kinds[self.i] in {"for", "in", "of"} or (kinds[self.i] == "word" and self.values[self.i] in {"given", "same", "on"}):
            self.i += 1
        if kinds[self.i] in {"ord", "row", "rnd", "last", "first", "prev"}:
            self._as_round(first)
        elif kinds[self.i] not in _STOPS and self.i > first + 1:
            stop = self.i
            while kinds[stop] not in _STOPS:
                stop += 1
            part = self.text[self.starts[self.i] : self.ends[stop - 1]]
            self.i = stop
            self.out.append(AsRound((), self.span(first), 0, None, None, part))
        else:
            self.i = first

    def _as_round(self, first: int) -> None:
        """Round numbers, then how often or how long."""
        kinds = self.kinds
        numbers: list[int] = []
        last = 0
        joiner = ""
        unit = False
        by_size: Numbers | None = None
        while True:
            kind = kinds[self.i]
            if kind == "last" or kind == "prev":
                last = 1
            elif kind in {"row", "rnd"}:
                unit = True
            elif kind in {"ord", "num", "first"}:
                if kind == "num" and unit and numbers and kinds[self.i + 1] in {"times", "more", "x"} and joiner == "":
                    break
                value = 1 if kind == "first" else self.ordinal(self.i) if kind == "ord" else self.number(self.i)[0]
                if kind == "num" and last and not numbers:
                    if unit:
                        break
                    last = value or 1
                    by_size = self.number(self.i) if len(self.number(self.i)) > 1 else None
                    self.i += 1
                    continue
                if kind == "num" and numbers and joiner == "":
                    break
                if kind == "num" and joiner == "--" and kinds[self.i + 1] in _UNITS:
                    break
                value = value or 0
                if joiner in {"to", "-", "--", "through"} and numbers and numbers[-1] < value < numbers[-1] + 2000:
                    numbers.extend(range(numbers[-1] + 1, value + 1))
                else:
                    numbers.append(value)
                joiner = ""
            elif kind in {"-", "--"} and kinds[self.i + 1] == "num" and kinds[self.i + 2] in _UNITS:
                break  # "Repeat Row 2 - 47 sts"
            elif kind in {"to", "-", "--", "through", "and", ","} and (numbers or last) and kinds[self.i + 1] in {"ord", "num", "row", "rnd", "and", "last", "first"}:
                joiner = kind
                if kind == "," and kinds[self.i + 1] not in {"ord", "num", "and"}:
                    break
                if kind == "and" and last:
                    break
            else:
                break
            self.i += 1
        self._as_round_end(first, numbers, last, by_size)

    def _as_round_end(
        self, first: int, numbers: list[int], last: int, by_size: Numbers | None
    ) -> None:
        kinds = self.kinds
        part: str | None = None
        while kinds[self.i] in {"of", "for", "in", "as"} and kinds[self.i + 1] not in {"num", "end"}:
            start = self.i
            self.i += 1
            while kinds[self.i] in {"pattern", "word", "this", "last", "first", "prev"} and self.i - start < 5:
                part = self.text[self.starts[start + 1] : self.ends[self.i]]
                self.i += 1
            if self.i == start + 1:
                self.i = start
                break
        times = self.times(bracket=False)
        until: str | None = None
        if times is None and kinds[self.i] not in _STOPS and kinds[self.i] not in {"until", "for", "to", ":", "("}:
            stop = self.i
            while kinds[stop] not in _STOPS and kinds[stop] not in {"until"}:
                stop += 1
            if kinds[stop] == "until" or "for" in kinds[self.i : stop]:
                self.i = stop if kinds[stop] == "until" else kinds.index("for", self.i)
            elif "stitch" not in kinds[self.i : stop] and "ch" not in kinds[self.i : stop]:
                self.i = stop
        if kinds[self.i] in {"until", "for", "to"} and times is None or (times is not None and times.until_what is not None):
            start = self.i
            stop = self.i
            while kinds[stop] not in {".", ";", ""}:
                stop += 1
            if stop > start:
                until = self.text[self.starts[start] : self.ends[stop - 1]]
                self.i = stop
        elif kinds[self.i] == "," and kinds[self.i + 1] in {"until", "ending"}:
            stop = self.i + 1
            while kinds[stop] not in {".", ";", ""}:
                stop += 1
            until = self.text[self.starts[self.i + 1] : self.ends[stop - 1]]
            self.i = stop
        if not numbers and not last:
            self.i = first
            return
        self.out.append(AsRound(tuple(numbers), self.span(first), last, times, until, part, by_size))

    def on_pattern(self) -> None:
        """ "in pattern to last 5 sts", "cont in pat until ..."."""
        first = self.i
        kinds = self.kinds
        named = self.values[first]
        self.i += 1
        places = self._where()
        if places:
            named = named if isinstance(named, Named) else Named(IN_PATTERN)
            for place in places:
                self.out.append(Work(named.stitch, ONE, place, self.span(first), "in pattern"))
            return
        until: str | None = None
        if kinds[self.i] in {"until", "for", "to"}:
            start = self.i
            while kinds[self.i] not in {".", ";", ""}:
                self.i += 1
            until = self.text[self.starts[start] : self.ends[self.i - 1]]
        if until is None and kinds[self.i] in _STOPS and not any(isinstance(step, Work | Repeat | Group) for step in self.out) and self.values[first - 1] in {"work", "even", "in"} and first:
            place = Place(How.EACH, None, loops=self.loops, span=self.span(first))
            self.out.append(Work(IN_PATTERN, ONE, place, self.span(first), "in pattern"))
            return
        self.out.append(AsRound((), self.span(first), 0, None, until))

    def on_word(self) -> None:
        """A word that the lexicon does not know."""
        kinds, values = self.kinds, self.values
        first = self.i
        word = str(values[first])
        if self._names_what_was_made():
            return
        if word in {"cont", "continue", "continuing", "keeping", "keep", "proceed"}:
            self._continue(first)
            return
        if word in _COUNT_WORDS and not self.depth:
            found = self.words_count()
            if found is not None:
                self.counts.append((found, len(self.out)))
                return
        if word in _HOLDING:
            while kinds[self.i] not in {".", ";", ""} and not (kinds[self.i] == "," and self._starts_work(self.i + 1)):
                self.i += 1
            self.out.append(Remark(self.span(first)))
            return
        if word in _REMARK_WORDS:
            self._remark(first)
            return
        following = kinds[first + 1]
        if (following == "in" and kinds[first + 2] in {"next", "each", "first", "last", "same", "back loop", "front loop", "every other"}) or (following == "over" and kinds[first + 2] == "next"):
            self.i += 1
            self._work(first, Named(Stitch(word, tally=((word, 1),), known=False)), None)

    def _continue(self, first: int) -> None:
        kinds = self.kinds
        for j in range(first + 1, min(self.end, first + 6)):
            if kinds[j] in {"pattern", "in pattern"}:
                self.i = j
                self.on_pattern()
                return
            if kinds[j] in _STOPS:
                break
        self._remark(first)

    def on_movements(self) -> None:
        """How a stitch is made, spelled out: one stitch over the places where the hook goes in."""
        first = self.i
        found = read_movements(self)
        if found is None:
            self.i = first
            return
        if not found.closed and not found.partial and not found.overs:
            self._drawn_up(first)
            return
        named = named_after(self)
        stitch, place = placed(found, named.stitch if named is not None else found.stitch())
        span = self.span(first)
        self.out.append(Work(stitch, ONE, place, span, self.text[span.start : span.end]))

    def _drawn_up(self, first: int) -> None:
        """ "Draw up a loop of D in first sp": yarn joined, no stitch."""
        self.i = first + 1
        while self.kinds[self.i] not in PREPOSITIONS and self.kinds[self.i] not in _STOPS:
            self.i += 1
        place = self.place()
        while self.kinds[self.i] not in _STOPS:
            self.i += 1
        self.out.append(Join(self.span(first), place))

    def on_even(self) -> None:
        """ "work even", "even in pat to marker"."""
        first = self.i
        self.i += 1
        kinds = self.kinds
        if kinds[self.i] in {"in pattern", "pattern"}:
            self.on_pattern()
            return
        if kinds[self.i] in {"until", "for"} or kinds[self.i] == "in":
            self._until_measured(first)
            return
        place = Place(How.EACH, None, loops=self.loops, span=self.span(first))
        self.out.append(Work(IN_PATTERN, ONE, place, self.span(first), "even"))

    def _until_measured(self, first: int) -> None:
        start = self.i
        while self.kinds[self.i] not in {".", ";", ""}:
            self.i += 1
        until = self.text[self.starts[start] : self.ends[self.i - 1]]
        self.out.append(AsRound((), self.span(first), 0, None, until))

    def on_ending(self) -> None:
        """ "Ending with sc in last st" as a phrase of its own; "ending with a 3rd row of pat"."""
        first = self.i
        stop = first
        while self.kinds[stop] not in _STOPS:
            stop += 1
        inside = self.kinds[first:stop]
        if "row" in inside or "rnd" in inside or "rs" in inside or not ({"stitch", "ch", "sl"} & set(inside)):
            self._remark_to(first, stop)
            return
        ending, _ = self._ending()
        last = self.out[-1] if self.out else None
        if ending and isinstance(last, Repeat) and not last.ending:
            self.out[-1] = replace(last, ending=ending, span=Span(last.span.start, self.ends[self.i - 1]))
        elif ending:
            self.out.extend(ending)

    def on_rotate(self) -> None:
        first = self.i
        while self.kinds[self.i] not in _STOPS:
            self.i += 1
        self.out.append(Rotate(self.span(first)))

    def on_do_not(self) -> None:
        first = self.i
        while self.kinds[self.i] not in _STOPS:
            self.i += 1
        self.out.append(Remark(self.span(first)))

    def on_beginning(self) -> None:
        """ "beginning in same st as join, ..." says where the line starts."""
        first = self.i
        at = first + (2 if self.kinds[first + 1] == "-" else 1)
        if self.kinds[at] == "stitch" and self.values[first] in {"beg", "beginning"}:
            self.i = at  # "beg-Cl"
            self._stitch(first, None)
            return
        if self.kinds[first + 1] in {"in", "with", "from"} or self.values[first] in {"beginning", "begin", "starting"}:
            while self.kinds[self.i] not in _STOPS:
                self.i += 1
            self.out.append(Remark(self.span(first)))

    def on_row(self) -> None:
        """ "Work Row 1 of Griddle st pattern", "Work 3rd row of pat"."""
        first = self.i
        if self.kinds[first] == "ord" and self.kinds[first + 1] not in {"row", "rnd"}:
            return
        if self.kinds[first] != "ord" and self.kinds[first + 1] != "num":
            self._remark(first)
            return
        self._as_round(first)

    def on_this_row(self) -> None:
        """ "row" or "rnd" met where a step is due: words about rows."""
        self._remark(self.i)


def _placed(steps: list[Step]) -> bool:
    """Whether the steps name places of their own, so that a bracket of them is a repeat."""
    return any(isinstance(step, Work) and step.place.how is How.NEXT for step in steps)


def kinds_is_number(kinds: list[str], at: int) -> bool:
    return kinds[at] == "num"


_SLIP = Named(Stitch("sl st", tally=(("sl st", 1),)))
_OF_SEVERAL = frozenset(("cluster", "bobble", "popcorn", "puff st", "shell", "fan"))
_GATHERED = frozenset(("cluster", "bobble", "puff st", "popcorn", "sc2tog"))
_UNITS = frozenset(("stitch", "noun", "ch", "sl", "total", "in pattern"))
_SENTENCE_OR_COMMA = frozenset((".", ";", "", ",", "("))
_COUNT_WORDS = frozenset("you giving makes there should now leaving having has".split())
_REMARK_WORDS = frozenset(
    "sew stuff weave attach insert embroider see pull tie thread fold pin secure note when if block cut wind "
    "trim glue continue adjust repeat use put using being taking alternating consisting forming reversing "
    "matching noting having allowing adjusting ensuring accommodating maintaining maintain without align "
    "careful sewing stuffing lightly tightly thread whip wrap fill divide hold fold knot".split()
)
_HOLDING = frozenset("hold holding fold folding being taking having using matching noting keeping careful".split())
_STEP_KINDS = frozenset(
    ("stitch", "ch", "sl", "increase", "decrease", "skip", "in pattern", "pattern", "join", "*", "make ring", "rep", "turn")
)

_HANDLERS: dict[str, Callable[[Parser], None]] = {
    "num": Parser.on_number,
    "stitch": Parser.on_stitch,
    "ch": Parser.on_chain,
    "sl": Parser.on_slip,
    "join": Parser.on_join,
    "make ring": Parser.on_ring,
    "increase": Parser.on_increase,
    "decrease": Parser.on_increase,
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
    "even": Parser.on_even,
    "rotate": Parser.on_rotate,
    "do not": Parser.on_do_not,
    "beg": Parser.on_beginning,
    "row": Parser.on_row,
    "rnd": Parser.on_row,
    "ord": Parser.on_row,
    "other": Parser.on_beginning,
}
