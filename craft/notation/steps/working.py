"""Stitches: "3 sc", "sc in next 5", "sc2tog over next 2 sts", "inc x 3", "dec 1 st each end"."""

from __future__ import annotations

from dataclasses import replace

from craft.notation.steps.cursor import PHRASE, SENTENCE
from craft.notation.steps.places import PLACE_WORDS, PREPOSITIONS
from craft.notation.steps.times import TimesReader
from craft.notation.stitches import IN_PATTERN, Named, increase, together, unknown
from craft.notation.tree import ONE, AsRound, Evenly, How, Loops, Numbers, Place, Remark, Stitch, Unread, Work
from craft.notation.words import wordset

__all__ = ["SLIP", "WorkReader"]

_ROWS = frozenset(("row", "rnd"))
_MADE_OF_MOST = 16
"""A stitch named where it is made has at most this many steps."""
SLIP = Named(Stitch("sl st", tally=(("sl st", 1),)))
_OF_SEVERAL = frozenset(("cluster", "bobble", "popcorn", "puff st", "shell", "fan"))
_GATHERED = frozenset(("cluster", "bobble", "puff st", "popcorn", "sc2tog"))
_COUNTED_PLACES = frozenset((How.NEXT, How.FIRST, How.LAST))
_ONE_PLACE = _COUNTED_PLACES | {How.SAME, How.RING}
_TO_WHERE = wordset("end ending last within marker marked corner rem next num side")
_EVENLY_ALONG = wordset(
    "around across along in over from to up between down below side of each other first "
    "last next rem beg top word and both end skipped unworked marked marker row rnd ch "
    "tail rs same corner center ring noun"
)
_STILL_ALONG = wordset("along across around word side other in down up")
_SHAPED_IN = frozenset(["each", "next", "first", "last", "same", "ord", "num"]) | {"every other"}


class WorkReader(TimesReader):
    """Reads stitches and shaping."""

    __slots__ = ()

    # ------------------------------------------------------------------ number first

    def on_number(self) -> None:  # noqa: C901 - a list of cases
        """Such as "3 sc", "5-dc cluster", "2 sc tog", "5 inc", "4 reverse sts in next sp"."""
        kinds = self.kinds
        first = self.i
        number = self.number(first)
        following = kinds[first + 1]
        if self._some_counted(first):
            self.rest_of_sentence(first)
            return
        if self._cluster_of_several(first) or self._evenly_spaced(first):
            return
        if following in {"-", "x", "more"} and kinds[first + 2] in {"stitch", "increase", "decrease"}:
            self.i += 1
            following = kinds[first + 2]
        if following in {"stitch", "sl", "in pattern"}:
            self.i += 1
            self.stitch_here(first, number)
        elif following in {"increase", "decrease"}:
            self.i += 1
            self._shape(first, number)
        elif following == "noun" and self.values[first + 1] == "st":
            if kinds[first + 2] in PLACE_WORDS or kinds[first + 2] == "evenly":
                self.i += 2
                self.work(first, Named(IN_PATTERN), number)
        elif following == "word" and kinds[first + 2] in PLACE_WORDS:
            self.i += 2
            self.work(first, unknown(str(self.values[first + 1])), number)
        elif following in {"row", "rnd"}:
            stop = self.stop_from(first)
            if "stitch" not in kinds[first:stop]:
                self.aside(first, stop)

    def _some_counted(self, first: int) -> bool:
        """Behind a dash, such as "— 6 sts on each shoulder", "— 20 dc left for the neck": no work."""
        kinds = self.kinds
        if not first or kinds[first - 1] != "--" or not self.out:
            return False
        behind = first + 2
        into = kinds[behind] in {"in", "over"} and self.values[behind] != "on"
        return kinds[first + 1] in {"stitch", "noun"} and not into and kinds[behind] not in PHRASE

    def _evenly_spaced(self, first: int) -> bool:
        """Such as "(working) 14 evenly spaced increases"."""
        kind = self.kinds[first + 2]
        if self.kinds[first + 1] != "evenly" or kind not in {"increase", "decrease"}:
            return False
        self.i += 3
        sign = 1 if kind == "increase" else -1
        change = tuple(None if n is None else sign * n for n in self.number(first))
        self.out.append(Evenly(change, self.span(first)))
        return True

    def _cluster_of_several(self, first: int) -> bool:
        """Such as "3-dc cluster in next st": one cluster."""
        kinds = self.kinds
        at = first + (2 if kinds[first + 1] == "-" else 1)
        if kinds[at] != "stitch":
            return False
        gathered = at + (2 if kinds[at + 1] == "-" else 1)
        if kinds[gathered] != "stitch" or self.named(gathered).stitch.name not in _OF_SEVERAL:
            return False
        self.i = gathered
        self.stitch_here(first, None)
        return True

    # ------------------------------------------------------------------ stitch first

    def on_stitch(self) -> None:
        self.stitch_here(self.i, None)

    def stitch_here(self, first: int, number: Numbers | None) -> None:
        """A stitch name at the position, `number` before it if any."""
        kinds = self.kinds
        if number is None and kinds[first - 1] in _BEFORE_A_NAME and self.names_what_was_made():
            return
        value = self.values[self.i]
        named = value if isinstance(value, Named) else SLIP
        self.i += 1
        kind = kinds[self.i]
        if kind == "noun" and self.values[self.i] == "st":
            self.i += 1
        elif kind == "(" and kinds[self.i + 1 : self.i + 3] == ["stitch", ")"]:
            self.i += 3  # "2 SC [DC] in next stitch": both term systems at once
        if kinds[self.i] == "tog" and number is not None:  # "2 sc tog"
            self.i += 1
            named, number = together(named.stitch.name, min(number[0] or 2, 99)), None
        if number is None:
            self._number_behind(first, named)
        else:
            self.work(first, named, number)

    def _number_behind(self, first: int, named: Named) -> None:
        """Such as "sc 4", "dc 3 in next", "sc x 45", "sc 2 tog"."""
        kinds = self.kinds
        if kinds[self.i] == "x" and kinds[self.i + 1] == "num":
            self.i += 1
        elif (
            kinds[self.i] == "-"
            and kinds[self.i + 1] == "num"
            and (kinds[self.i + 2] in PHRASE or kinds[self.i + 2] == "in")
            and self.starts[self.i] == self.ends[self.i - 1]
        ):
            self.i += 1  # "fhdc-45"
        if kinds[self.i] != "num":
            self.work(first, named, None)
            return
        following = kinds[self.i + 1]
        if following == "tog":
            named = together(named.stitch.name, min(self.number(self.i)[0] or 2, 99))
            self.i += 2
        elif following not in {"times", "more", "ch", "stitch", "row", "rnd"}:
            self._swapped(first, named)
            return
        self.work(first, named, None)

    def _swapped(self, first: int, named: Named) -> None:
        """The number behind the stitch: "sc 4", "dc 3 in next"."""
        kinds = self.kinds
        number = self.number(self.i)
        self.i += 1
        ambiguous = kinds[self.i] in PREPOSITIONS
        if kinds[self.i] == "noun" and self.values[self.i] == "st":
            self.i += 1
            ambiguous = False
        if kinds[self.i] == "rem":
            self.i += 1
        self.work(first, named, number, ambiguous=ambiguous)

    def names_what_was_made(self) -> bool:
        """Such as "- V-st made", "(shell made)": the name of the steps before, not a step."""
        kinds = self.kinds
        first = self.i
        if first == 0 or not self.out or kinds[first - 1] not in _BEFORE_A_NAME:
            return False
        j = first
        while j < first + 4 and kinds[j] in _IN_A_NAME:
            j += 1
        if self.values[j] != "made":
            return False
        name = first
        while kinds[name] in {"first", "beg"} and name < j - 1:
            name += 1
        self.made.append((name, j, tuple(self.out[-_MADE_OF_MOST:])))
        self.i = j + 1
        self.out.append(Remark(self.span(first)))
        return True

    # ------------------------------------------------------------------ where it goes

    def work(self, first: int, named: Named, number: Numbers | None, *, ambiguous: bool = False) -> None:
        """The stitch is read; now where it goes."""
        self._slips_of_the_pen()
        if self.kinds[self.i] == "evenly":
            self._evenly(first, named, number)
            return
        stop = self.i
        loops = self.loops
        if named.loops is not Loops.BOTH:
            self.loops = named.loops
        places = self.where()
        self.loops = loops
        if not places:
            if number is None or number == ONE:
                number = self._so_often() or number
            self.put_bare(first, stop, named, number)
            return
        if self.kinds[self.i] in {"tog", "evenly"}:
            named, done = self._behind_the_place(first, named, number, places[0])
            if done:
                return
        self._put(first, self.words(first, stop), named, number or ONE, places, ambiguous=ambiguous)

    def _slips_of_the_pen(self) -> None:
        """Such as "1 sc. in next st", "sc only in", "hdc to in each st"."""
        kinds = self.kinds
        kind, following = kinds[self.i], kinds[self.i + 1]
        if (
            kind == "only"
            or (kind == "to" and following == "in")
            or (kind == "." and following in PREPOSITIONS and self.small(self.i + 1))
        ):
            self.i += 1

    def _behind_the_place(
        self, first: int, named: Named, number: Numbers | None, place: Place
    ) -> tuple[Named, bool]:
        """Such as "sc next 2 sts tog"; "2 sc in next 6 sts evenly"."""
        if self.kinds[self.i] == "tog":
            self.i += 1
            if place.number and place.number[0] and named.stitch.uses == 1:
                named = together(named.stitch.name, min(place.number[0], 99))
        elif place.how is not How.ENDS:
            self.i += 1
            if number is not None and number != ONE:
                self.out.append(Evenly(None, self.span(first), number, named.stitch))
                return named, True
        return named, False

    def _put(
        self,
        first: int,
        written: str,
        named: Named,
        each: Numbers,
        places: list[Place],
        *,
        ambiguous: bool,
    ) -> None:
        stitch = named.stitch
        span = self.span(first)
        if len(places) > 1 and stitch.uses == len(places) and places[0].how is places[-1].how is How.HOOK:
            places = [replace(places[0], number=(len(places),))]
        if _drawn_together(stitch, places):
            one = replace(stitch, uses=1)
            self.out.append(Work(one, each, places[0], span, written, ambiguous, tuple(places[1:])))
            return
        for index, place in enumerate(places):
            self.out.append(Work(self.fit(stitch, place), each, place, span, written, ambiguous))
            if index == 0 and place.how is How.HOOK:
                each = ONE  # "3 sc in 2nd ch from hook and in next 5 ch": three in the first alone

    def where(self) -> list[Place]:
        """The places named here, if any."""
        kinds = self.kinds
        kind, following = kinds[self.i], kinds[self.i + 1]
        if kind in PLACE_WORDS:
            if kind in {"around", "across"} and (following == "," or following in SENTENCE):
                return self._each_to_end()
            return self.places()
        if kind == "to":
            return self._each_to_end() if following in _TO_WHERE or self._to_space() else self.places()
        if kind == "until":
            return self._each_to_end()
        if kind == "ord" or (
            kind == "num" and following in {"noun", "stitch"} and kinds[self.i - 1] != "num"
        ):
            return self.places()
        return []

    def _to_space(self) -> bool:
        """Such as "(sl st) to ch-2 sp"."""
        start = self.i
        self.i += 1
        space = self.kinds[self.i] == "ch" and self.space_ahead()
        self.i = start
        return space

    def _each_to_end(self) -> list[Place]:
        start = self.i
        place = self._all_but(start, self.loops)
        return [place] if self.i > start else []

    def _so_often(self) -> Numbers | None:
        """Such as "Sc2tog 4 times", "inc twice"."""
        kinds = self.kinds
        if kinds[self.i] == "multi" and kinds[self.i + 1] != "more":
            self.i += 1
            return (self.ordinal(self.i - 1),)
        if kinds[self.i] == "num" and kinds[self.i + 1] == "times" and kinds[self.i + 2] != "more":
            self.i += 2
            return self.number(self.i - 2)
        return None

    def put_bare(self, first: int, stop: int, named: Named, number: Numbers | None) -> None:
        """A stitch with no place: one place each, nothing said. `stop` ends the words of the name."""
        loops = named.loops if named.loops is not Loops.BOTH else self.loops
        span = self.span(first)
        place = Place(How.BARE, number or ONE, loops=loops, span=span)
        self.out.append(Work(named.stitch, ONE, place, span, self.words(first, stop)))

    def fit(self, stitch: Stitch, place: Place) -> Stitch:
        """A cluster over 3 stitches uses 3; dc3tog in one stitch uses one."""
        if place.how not in _ONE_PLACE or place.number is None:
            return stitch
        if stitch.uses > 1:
            number = max((n for n in place.number if n is not None), default=0)
            return replace(stitch, uses=number) if 0 < number < stitch.uses else stitch
        number = place.number[0] or 0
        if number > 1 and stitch.name in _GATHERED and place.how in _COUNTED_PLACES:
            over = self.text[place.span.start : place.span.start + 4].lower() == "over"
            return replace(stitch, uses=number) if over else stitch
        return stitch

    def _evenly(self, first: int, named: Named, number: Numbers | None) -> None:
        """Such as "work 36 sc evenly around", "sc evenly along edge"."""
        kinds = self.kinds
        self.i += 1
        while kinds[self.i] in _EVENLY_ALONG:
            if kinds[self.i] == "and" and kinds[self.i + 1] not in _STILL_ALONG:
                break
            self.i += 1
        span = self.span(first)
        if number is None:
            self.out.append(Evenly(None, span, None, named.stitch))
            return
        place = Place(How.ENDS, None, what="edge", loops=self.loops, span=span)
        self.out.append(Work(named.stitch, number, place, span))

    # ------------------------------------------------------------------ shaping

    def on_shaping(self) -> None:
        self._shape(self.i, None)

    def _shape(self, first: int, number: Numbers | None) -> None:
        """Such as "inc", "inc x 3", "3 inc", "dec 1 st each end", "inc 6 evenly", "dec over next 2 sts"."""
        kinds = self.kinds
        up = kinds[self.i] == "increase"
        self.i += 1
        named = self._shaped(up=up)
        if kinds[self.i] in {"x", "-"} and kinds[self.i + 1] == "num":
            self.i += 1
        if kinds[self.i] == "num" and number is None:
            if kinds[self.i + 1] == "times":
                self.i += 2
                self.work(first, named, self.number(self.i - 2))
                return
            number = self.number(self.i)
            follows = kinds[self.i + 2]
            named_by = kinds[self.i + 1] == "stitch" and follows in {"each", "evenly", "per", "in"}
            self.i += 2 if kinds[self.i + 1] == "noun" or named_by else 1
            if self._shaping_sentence(first, number, up=up):
                return
        elif number is not None and self._shaping_sentence(first, number, up=up):
            return
        elif number is None and kinds[self.i] == "noun" and kinds[self.i + 1] != "in":
            self.i += 1
        kind = kinds[self.i]
        if kind == "over" or (kind in PREPOSITIONS and kinds[self.i + 1] in _SHAPED_IN):
            self.work(first, named, number)
        else:
            self.put_bare(first, self.i, named, number)

    def _shaped(self, *, up: bool) -> Named:
        """The stitch that "inc" or "dec" makes; "dec sc" names it."""
        name = "sc"
        if self.kinds[self.i] == "stitch" and self.kinds[self.i + 1] != "stitch":
            name = self.named(self.i).stitch.name
            self.i += 1
        return increase(name) if up else together(name, 2)

    def _every_row(self, start: int) -> Numbers | None:
        """Such as "(dec 1 st) at neck edge every row 4 times": how many rows; the plain ones between
        them change nothing.
        """
        stop = self.sentence_end(start)
        kinds = self.kinds[start:stop]
        if kinds[:1] == ["noun"]:
            kinds = kinds[1:]
        sided = kinds[:1] == ["in"] and "side" in kinds[:4]
        rows = next((i for i, kind in enumerate(kinds) if kind in _ROWS), None)
        if not sided or rows is None or "each" not in kinds[:rows] or kinds[rows + 1 : rows + 2] != ["num"]:
            return None
        at = start + (self.kinds[start] == "noun") + rows + 1
        behind = self.kinds[at + 1]
        if behind not in {"more", "times"}:
            return None
        self.i = at + 2
        while self.kinds[self.i] in {"more", "times"}:
            self.i += 1
        return self.number(at)

    def _over_several_rows(self, start: int) -> bool:
        """Such as "(dec 1 st) at neck edge on next row and foll 3 alt rows": rows of their own."""
        stop = self.stop_from(start)
        inside = self.kinds[start:stop]
        if inside[:1] != ["in"] or "side" not in inside or _ROWS.isdisjoint(inside):
            return False
        self.i = stop
        return True

    def _until_so_many(self, first: int) -> bool:
        """Such as "(inc 8 sc every rnd) until there are 96 sc": rows of an open number, up to a count."""
        kinds = self.kinds
        stop = self.stop_from(self.i, frozenset((".", ";", "", "--")))
        for at in range(self.i, stop):
            if kinds[at] != "until":
                continue
            for number in range(at + 1, min(at + 5, stop)):
                if kinds[number] == "num" and kinds[number + 1] in {"stitch", "noun"}:
                    self.i = stop
                    self.out.append(Evenly(None, self.span(first), self.number(number)))
                    self.out.append(AsRound((), self.span(at), until=self.words(at, stop)))
                    return True
        return False

    def _shaping_sentence(self, first: int, amount: Numbers, *, up: bool) -> bool:
        """Such as "inc 6 evenly around", "dec 1 st at each end of row"."""
        kinds = self.kinds
        start = self.i
        sign = 1 if up else -1
        every = self._every_row(start)
        if every is not None:
            self.rounds = every
            change = tuple(None if n is None else sign * n for n in amount)
            self.out.append(Evenly(change, self.span(first)))
            return True
        if self._over_several_rows(start):
            self.out.append(Unread(self.span(first)))
            return True
        while kinds[self.i] in {"noun", "in", "row", "rnd", "this"}:
            self.i += 1
        kind, following = kinds[self.i], kinds[self.i + 1]
        if kind == "evenly":
            self.i += 1
            while kinds[self.i] in {"around", "across", "in", "over", "next", "row", "rnd", "this"}:
                self.i += 1
        elif kind in {"each", "both"} and following in {"end", "side", "ending"}:
            sign *= 2
            self.i += 2
        elif kind in {"around", "across"} and following in PHRASE:
            self.i += 1
        elif kind in {"per", "each"} and following in {"row", "rnd"}:
            self.i += 2
            if self._until_so_many(first):
                return True
        else:
            self.i = start
            return False
        change = tuple(None if n is None else sign * n for n in amount)
        self.out.append(Evenly(change, self.span(first)))
        return True


def _drawn_together(stitch: Stitch, places: list[Place]) -> bool:
    """Whether the places are of one stitch: "dc2tog over next dc and next sp"."""
    return len(places) == stitch.uses > 1 and all(
        place.how in _ONE_PLACE and place.number == ONE for place in places
    )


_BEFORE_A_NAME = frozenset(("-", "--", "(", ",", "."))
_IN_A_NAME = frozenset(("stitch", "word", "noun", "beg", "first", "-"))
