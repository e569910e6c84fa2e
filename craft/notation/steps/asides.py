"""Skips, turns and endings, and all that changes no count: colours, markers, how the hook is held."""

from __future__ import annotations

from craft.notation.steps.chains import ChainReader
from craft.notation.steps.cursor import PHRASE
from craft.notation.steps.places import PLACE_WORDS, PREPOSITIONS
from craft.notation.tree import (
    ONE,
    Chain,
    Colour,
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
    Rotate,
    Skip,
    Turn,
    Unworked,
    Work,
)

__all__ = ["AsideReader"]

_LOOPS = frozenset(("back loop", "front loop", "both loops"))
_FASTENED = PHRASE | {"(", "-", "num"}
_WITH_STOPS = frozenset((",", ".", ";", ":", "--"))
_WORKS = frozenset(("ch", "join", "make ring", "as", "rep", "stitch", "working"))
_NO_YARN = frozenset(("facing", "hook", "tail", "rs"))
_ACTS = {"mo": "move", "re": "remove"}
_ONE_STITCH = frozenset(("st", "stitch", "sc", "dc", "hdc", "tr", "htr"))


class AsideReader(ChainReader):
    """Reads what stands between the stitches."""

    __slots__ = ()

    # ------------------------------------------------------------------ skips

    def on_skip(self) -> None:
        """Such as "skip next 2 dc", "miss 2", "sk next (ch 3, dc)"."""
        kinds = self.kinds
        first = self.i
        if self.values[first] == "skipping" and self._skips_on_the_way(first):
            return
        self.i += 1
        if kinds[self.i] in PREPOSITIONS:
            self.i += 1
        if kinds[self.i] == "num" and kinds[self.i + 1] in PHRASE:
            self.i += 1
            number = self.number(self.i - 1)
            counted = Place(How.NEXT, number, loops=self.loops, span=self.span(self.i - 1))
            self.out.append(Skip(counted, self.span(first)))
            return
        place = self.core(self.i)
        if place is None and self._skip_bracket(first):
            return
        if place is None and kinds[self.i] in PHRASE:
            place = Place(How.NEXT, ONE, span=self.span(first))
        while place is not None:
            self.out.append(Skip(place, self.span(first)))
            if kinds[self.i] != "and" or kinds[self.i + 1] not in {"next", "first", "last", "num"}:
                return
            self.i += 1
            place = self.core(self.i)

    def _skips_on_the_way(self, first: int) -> bool:
        """Such as "sc in each sc around, skipping all ch-1 sps": no skip of its own."""
        last = self.out[-1] if self.out else None
        if self.depth and last is None:
            self.aside(first, self.stop_from(first))
            return True
        if isinstance(last, Work) and last.place.how is How.EACH:
            self.aside(first, self.stop_from(first))
            return True
        return False

    def _skip_bracket(self, first: int) -> bool:
        """Such as "Skip next (ch 3, dc, ch 3)": each of these is passed over."""
        kinds = self.kinds
        at = self.i
        while kinds[at] in {"next", ":"}:
            at += 1
        close = self.match.get(at, -1) if kinds[at] == "(" else -1
        if close < 0:
            return False
        self.i = at + 1
        inner = self.inside(close)
        self.i = close + 1
        span = self.span(first)
        for step in inner:
            if isinstance(step, Chain):
                place = Place(How.NEXT, ONE, what="ch-sp", chains=step.number[0], span=step.span)
            elif isinstance(step, Work):
                place = Place(How.NEXT, step.place.number, what=step.stitch.name, span=step.span)
            else:
                continue
            self.out.append(Skip(place, span))
        return True

    def on_leave(self) -> None:
        """Such as "leave last 4 sts unworked" changes the count; "leaving a long tail" does not."""
        kinds = self.kinds
        first = self.i
        stop = self.stop_from(first)
        inside = kinds[first:stop]
        if "unworked" not in inside and "skipped" not in inside:
            self.aside(first, stop)
            return
        number: Numbers | None = None
        if "num" in inside:
            number = self.number(first + inside.index("num"))
        elif "last" in inside and "rem" not in inside and self._says_one_stitch(first, stop):
            number = ONE
        self.i = stop
        self.out.append(Unworked(number, self.span(first)))

    def _says_one_stitch(self, first: int, stop: int) -> bool:
        return not _ONE_STITCH.isdisjoint(self.words(first, stop).lower().split())

    # ------------------------------------------------------------------ turns and endings

    def on_turn(self) -> None:
        first = self.i
        self.i += 1
        if self.kinds[self.i] in {"to", "and"} and self.kinds[self.i + 1] in {"work", "working"}:
            self.i = self.stop_from(self.i)
            self.out.append(Rotate(self.span(first)))
            return
        self.out.append(Turn(self.span(first)))

    def on_not_turn(self) -> None:
        self.i += 1
        self.out.append(Turn(self.span(self.i - 1), turn=False))

    def on_fasten(self) -> None:
        first = self.i
        self.i = self.stop_from(first + 1, _FASTENED)
        self.out.append(FastenOff(self.span(first)))

    def on_rotate(self) -> None:
        first = self.i
        self.i = self.stop_from(first + 1)
        self.out.append(Rotate(self.span(first)))

    # ------------------------------------------------------------------ remarks

    def on_remark(self) -> None:
        self.rest_of_sentence(self.i)

    def on_phrase_remark(self) -> None:
        self.aside(self.i, self.stop_from(self.i + 1))

    def up_to_work(self, first: int) -> None:
        """A remark up to where a phrase of work begins, or to the end of the sentence."""
        kinds = self.kinds
        i = first + 1
        while i < self.end and kinds[i] not in {".", ";"}:
            if (
                (kinds[i] == "," and self.starts_work(i + 1))
                or (kinds[i] == "--" and kinds[i + 1] == "num")
                or (kinds[i] == ")" and self.depth)
            ):
                break
            i += 1
        self.aside(first, i)

    def on_marker(self) -> None:
        """Such as "Place marker in first st", "move marker up"."""
        first = self.i
        self.up_to_work(first)
        span = self.out[-1].span
        act = self.text[span.start : span.start + 2].lower()
        self.out[-1] = Marker(span, _ACTS.get(act, "place"))

    def on_beginning(self) -> None:
        """Such as "beginning in same st as join, ..." says where the line starts; "beg-Cl" is a cluster."""
        first = self.i
        value = self.values[first]
        at = first + (2 if self.kinds[first + 1] == "-" else 1)
        if self.kinds[at] == "stitch" and value in {"beg", "beginning"}:
            self.i = at
            self.stitch_here(first, None)
        elif self.kinds[first + 1 : first + 3] == ["in", "same"] and not any(
            isinstance(step, Work | Group | Repeat) for step in self.out
        ):
            self.i = self.stop_from(first + 1)
            self.out.append(Join(self.span(first), Place(How.SAME, span=self.span(first))))
        elif self.kinds[first + 1] in {"in", "with", "from"} or value in {"beginning", "begin", "starting"}:
            self.aside(first, self.stop_from(first + 1))

    # ------------------------------------------------------------------ colours

    def on_with(self) -> None:
        """Such as "With A, ..." a colour; "with right side facing, ..." a remark."""
        kinds = self.kinds
        first = self.i
        if kinds[first + 1] == "sl" or (kinds[first + 1] == "stitch" and kinds[first + 2] in PLACE_WORDS):
            self.i += 1
            return
        stop = self._with_what(first)
        inside = kinds[first + 1 : stop]
        if not _NO_YARN.isdisjoint(inside):
            self.aside(first, stop)
        elif stop - first > 7:
            self.aside(first, first + 1)
        else:
            self.i = stop
            self.out.append(Colour(self.words(first + 1, stop), "with", self.span(first)))

    def _with_what(self, first: int) -> int:
        """Where the words behind "with" end."""
        kinds = self.kinds
        stop = first + 1
        while stop < self.end and kinds[stop] not in _WITH_STOPS and stop - first < 14:
            if kinds[stop] in _WORKS and stop > first + 1:
                break
            stop += 1
        return stop - 1 if kinds[stop - 1] == "and" else stop

    def on_change(self) -> None:
        """Such as "change to white", "changing to B in last st"."""
        first = self.i
        self.i += 1
        while self.kinds[self.i] in {"to", "in"}:
            self.i += 1
        label = self.colour_name() or ""
        if self.kinds[self.i] in {"in", "with"}:
            self.i = self.stop_from(self.i)
        self.out.append(Colour(label, "change", self.span(first)))

    def on_drop(self) -> None:
        """Such as "Break A.", "Drop MC.", "Carry yarn ..."."""
        first = self.i
        act = str(self.values[first]).split()[0]
        self.i += 1
        label = self.colour_name() or ""
        if len(label) > 20:
            self.rest_of_sentence(first)
        else:
            self.out.append(Colour(label, act, self.span(first)))

    # ------------------------------------------------------------------ "working ..."

    def on_working(self) -> None:
        """Such as "working in back loops only," sets the loops; other "working ..." phrases tell how."""
        kinds = self.kinds
        first = self.i
        i = first + 1
        while kinds[i] in {"in", "through", "under"}:
            i += 1
        after = kinds[i + 1]
        if kinds[i] in _LOOPS and (after in PHRASE or after in {"only", "around", "across"}):
            self.i = i
            self.loops = self.loops_here()
            while kinds[self.i] in {"only", "around", "across", "here", "of"}:
                self.i += 1
            self.aside(first, self.i)
            return
        stop = self.stop_from(first + 1, PHRASE | {":"})
        inside = kinds[first + 1 : stop]
        if kinds[i] in {"rem", "unworked"} and after in _LOOPS:
            self.loops = Loops.UNWORKED
            self.aside(first, stop)
        elif self._other_side(inside):
            self.i = stop
            self.out.append(Rotate(self.span(first)))
        elif inside and inside[0] in {"stitch", "num", "increase", "decrease"}:
            self.i = first + 1
        else:
            if "free loop" in inside:
                self.loops = Loops.UNWORKED
            self.aside(first, stop)

    def _other_side(self, inside: list[str]) -> bool:
        """Such as "working in rem loops of foundation ch", "along other side of chain"."""
        if "free loop" in inside and "ch" in inside:
            return True
        return "other" in inside and ("side" in inside or "ch" in inside)

    def on_loops(self) -> None:
        """A loop code at the head: "BLO: sc in each st", "in back loops only, sc ..."."""
        first = self.i
        self.loops = self.loops_here()
        while self.kinds[self.i] in {"only", ":"}:
            self.i += 1
        self.out.append(Remark(self.span(first)))
