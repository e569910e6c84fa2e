"""Where the hook goes: "in each of next 5 sts", "in 2nd ch from hook", "to last 3 sts"."""

from __future__ import annotations

from dataclasses import replace

from craft.notation.cursor import Cursor
from craft.notation.stitches import Named
from craft.notation.tree import NONE_KEPT, ONE, How, Loops, Numbers, Place, Span

__all__ = ["PLACE_WORDS", "PREPOSITIONS", "PlaceReader"]

PREPOSITIONS = frozenset(("in", "over", "around", "across", "through", "along", "between", "under"))
_DETERMINERS = frozenset(
    ("next", "each", "every other", "first", "last", "same", "rem", "any", "center", "marked", "skipped", "unworked", "this", "both", "other", "top", "corner", "beg", "turning", "ring", "make ring")
)
PLACE_WORDS = PREPOSITIONS | _DETERMINERS | {"back loop", "front loop", "both loops", "free loop", "post"}
_NOUN_KINDS = frozenset(("noun", "stitch", "ch", "ring", "make ring", "side", "sl", "marker", "row", "rnd", "increase", "decrease", "in pattern", "post", "pattern", "free loop"))
_MARKED_OUT = frozenset(("skipped", "marked", "center", "corner", "any"))
_TRAILING = frozenset(("of", "below", "around", "across", "to", "until", "from", "only", "along", "as", "prev", "back loop", "front loop", "both loops", "behind"))


class PlaceReader(Cursor):
    """Reads places. Every method leaves the position unchanged when it finds nothing."""

    __slots__ = ()

    def places(self) -> list[Place]:
        """One place, or several joined by "and": "in 2nd ch from hook and in each ch across"."""
        earlier = self._ordinals_before()
        if earlier:
            last = self.place()
            if last is not None:
                return [replace(last, ordinal=ordinal) for ordinal in earlier] + [last]
        first = self.place()
        if first is None:
            return []
        found = [first]
        while self.i < self.end:
            start = self.i
            if self.kinds[start] == "," and self.kinds[start + 1] in {"and", "then"}:
                self.i += 1
            if self.kinds[self.i] not in {"and", "then"}:
                self.i = start
                break
            self.i += 1
            following = self.kinds[self.i]
            if following == "ch" and first.how is not How.EACH and self._space_ahead():
                pass  # "in next 2 dc and ch-1 sp"
            elif following not in PLACE_WORDS and following != "ord":
                self.i = start
                break
            place = self.place()
            if place is None:
                self.i = start
                break
            found.append(place)
        return found

    def _space_ahead(self) -> bool:
        """Whether a chain space is named here."""
        start = self.i
        what, _ = self._noun()
        self.i = start
        return what == "ch-sp"

    def _ordinals_before(self) -> list[int]:
        """ "in 4th and 5th ch from hook": the ordinals before the last one; moves to that."""
        kinds = self.kinds
        j = self.i
        while kinds[j] in PREPOSITIONS:
            j += 1
        found: list[int] = []
        while kinds[j] == "ord" and kinds[j + 1] in {"and", ","} and kinds[j + 2] in {"ord", "and"}:
            found.append(self.ordinal(j))
            j += 2 if kinds[j + 2] == "ord" else 3
        if found and kinds[j] == "ord" and kinds[j + 1] in {"ch", "noun", "stitch"}:
            self.i = j
            return found
        return []

    def place(self) -> Place | None:
        """One place, from its preposition (which may be missing) to its end."""
        kinds = self.kinds
        start = self.i
        preposition = ""
        while kinds[self.i] in PREPOSITIONS:
            preposition = kinds[self.i]
            self.i += 1
            if kinds[self.i] in {"of"}:
                self.i += 1
        if kinds[self.i] == "to" and kinds[self.i + 1] in _DETERMINERS and not preposition:
            self.i += 1  # "sl st to first sc"
            preposition = "to"
        if preposition == "between":
            return self._gap(start, None)
        place = self._core(start)
        if place is None and preposition in {"around", "across", "along"}:
            self.i = start + 1
            place = self._whole(start)
        if place is None:
            self.i = start
        return place

    def _gap(self, start: int, outer: tuple[How, Numbers | None] | None) -> Place:
        """ "between next 2 dc", "in next sp between 3-dc groups": the gap between two stitches."""
        kinds = self.kinds
        how, _, _, _, special = self._determiner()
        what, _ = self._noun()
        while kinds[self.i] == "and":
            back = self.i
            self.i += 1
            inner = self._determiner()
            noun, _ = self._noun()
            if noun is None and inner[0] is None:
                self.i = back
                break
        if outer is not None:
            how, number = outer
        else:
            number: Numbers | None = ONE
            if how not in {How.FIRST, How.LAST, How.SAME}:
                how = How.EACH if how is How.EACH or self.kinds[self.i] in {"around", "across", "to"} else How.NEXT
            if how is How.EACH:
                number = None
        return self._trail(start, how, number, 1, None, special, "gap", None, self.loops)

    def _whole(self, start: int) -> Place:
        """ "sc around", "sc across to last 3 sts", "sc to end"."""
        if self.kinds[self.i] == "side":
            self.i += 1
            return Place(How.ENDS, None, span=self.span(start), loops=self.loops, what="edge")
        keep, until = self.limit()
        return Place(
            How.EACH, None, keep=keep or NONE_KEPT, until=until, loops=self.loops, span=self.span(start)
        )

    def limit(self) -> tuple[Numbers | None, str | None]:
        """ "around", "across to last 3 sts", "to end of row", "to next corner", "until 2 sts remain".

        Returns (places kept, landmark); (None, None) with the position moved when it says "to the end".
        """
        kinds = self.kinds
        while kinds[self.i] in {"around", "across"}:
            self.i += 1
            if kinds[self.i] == "side":
                self.i += 1
        if kinds[self.i] == "," and kinds[self.i + 1] in {"to", "until"}:
            self.i += 1
        if kinds[self.i] not in {"to", "until", "within", "before"}:
            return None, None
        start = self.i
        self.i += 1
        if kinds[self.i] == "end" or (kinds[self.i] == "ending" and self.values[self.i] in {"end", "ends"}):
            self.i += 1
            self._of_what()
            return None, None
        if kinds[self.i] == "within":
            self.i += 1
        last = kinds[self.i] == "last"
        if last:
            self.i += 1
        if kinds[self.i] == "num":
            number = self.number(self.i)
            self.i += 1
            what, _ = self._noun()
            if last or what is not None:
                if kinds[self.i] == "before" and not last:
                    self.i += 1
                    return number, self._landmark()
                while kinds[self.i] in {"rem", "of", "end", "before", "row", "rnd", "ending", "from", "left", "skipped", "unworked"}:
                    self.i += 1
                return number, None
        elif last:
            what, _ = self._noun()
            self._of_what()
            if what is not None:
                return (ONE, None) if what not in {"side"} else (None, "edge")
        elif kinds[self.i] in {"next", "marked", "marker", "corner", "beg", "turning", "top", "center", "first", "noun", "ch", "other", "prev", "stitch", "row", "rnd", "same", "ord", "side"}:
            return None, self._landmark()
        self.i = start
        return None, None

    def _landmark(self) -> str:
        """ "next corner", "marked sc", "marker": where to stop."""
        kinds = self.kinds
        place = self._core(self.i)
        if place is not None:
            if place.how is How.SAME:
                return "same"
            if place.of in {"marked", "corner"}:
                return "marker" if place.of == "marked" else "corner"
            return place.what
        while kinds[self.i] in {"marker", "marked", "next", "beg", "center", "ord", "first", "last"}:
            self.i += 1
        return "marker"

    def _of_what(self) -> None:
        """Pass over "of row", "of previous rnd", "of foundation ch"."""
        kinds = self.kinds
        while kinds[self.i] == "of":
            j = self.i + 1
            while kinds[j] in {"this", "prev", "last", "beg", "each", "ord"}:
                j += 1
            if kinds[j] in {"row", "rnd", "ch", "side", "pattern"}:
                self.i = j + 1
                if kinds[self.i] == "num":
                    self.i += 1
            else:
                return

    # ------------------------------------------------------------------ the core

    def _core(self, start: int) -> Place | None:
        """Loops, determiner, noun and what trails behind."""
        kinds = self.kinds
        loops = self.loops
        if kinds[self.i] in {"back loop", "front loop", "both loops"}:
            loops = self._loops_here()
            while kinds[self.i] in {"only", "of", "in", "and"} and not (kinds[self.i] == "and"):
                self.i += 1
            if kinds[self.i] in {"around", "across", "to", "until"} and kinds[self.i + 1] not in _DETERMINERS - {"last", "next"}:
                keep, until = self.limit()
                return Place(How.EACH, None, keep=keep or NONE_KEPT, until=until, loops=loops, span=self.span(start))
        if kinds[self.i] == "post" and kinds[self.i + 1] != "noun":
            self.i += 1
            while kinds[self.i] == "of":
                self.i += 1
        how, number, every, ordinal, kept = self._determiner()
        what, chains = self._noun()
        if how is None:
            if what is None:
                return self._only_loops(start, loops)
            how, number = (How.RING, ONE) if what == "ring" else (How.NEXT, ONE)
        elif what is None and how in {How.FIRST, How.LAST, How.NAMED} and number == ONE and kept in {"top", "beg", "turning"}:
            return None
        return self._trail(start, how, number, every, ordinal, kept, what, chains, loops)

    def _only_loops(self, start: int, loops: Loops) -> Place | None:
        if loops is not self.loops:
            return Place(How.BARE, ONE, loops=loops, span=self.span(start))
        return None

    def _loops_here(self) -> Loops:
        loops = {"back loop": Loops.BACK, "front loop": Loops.FRONT, "both loops": Loops.BOTH}[
            self.kinds[self.i]
        ]
        self.i += 1
        return loops

    def _determiner(self) -> tuple[How | None, Numbers | None, int, int | None, str]:
        """(how, number, every, ordinal, special) where special is "top", "skipped", "center"..."""
        kinds = self.kinds
        how: How | None = None
        number: Numbers | None = ONE
        every = 1
        ordinal: int | None = None
        special = ""
        while True:
            kind = kinds[self.i]
            if kind == "each" or kind == "both":
                how = How.EACH if how is None or how is How.EACH else how
                if how is How.EACH:
                    number = None
                if kind == "both":
                    how, number = How.NEXT, (2,)
            elif kind == "every other":
                how, number, every = How.EACH, None, 2
            elif kind == "next":
                if how is not How.SAME:
                    how, number = How.NEXT, ONE
            elif kind == "first":
                how, number = How.FIRST, ONE
            elif kind == "last":
                how, number = How.LAST, ONE
            elif kind == "same":
                how, number = How.SAME, ONE
            elif kind == "this":
                how, number = How.SAME, ONE
            elif kind == "rem":
                if how is None:
                    how, number = How.EACH, None
            elif kind == "any":
                how, special = How.NAMED, "any"
            elif kind in {"marked", "skipped", "unworked", "center", "beg", "turning", "top", "other", "prev"}:
                special = special or kind
                if kind == "marked" and how is None:
                    how = How.NAMED
            elif kind == "of" and (how is not None or special):
                nxt = kinds[self.i + 1]
                if nxt not in {"next", "first", "last", "each", "num", "rem", "beg", "turning", "same", "ch", "this", "prev", "stitch"}:
                    break
            elif kind == "in" and how is None and special:
                pass
            elif kind == "ord":
                nxt = kinds[self.i + 1]
                if nxt in {"row", "rnd"}:
                    break
                ordinal = self.ordinal(self.i)
                if how is None:
                    how = How.NEXT
            elif kind == "num":
                if kinds[self.i + 1] == "-" and kinds[self.i + 2] in {"ch", "stitch"}:
                    break
                if kinds[self.i + 1] in {"ch", "stitch"} and kinds[self.i + 2] == "noun" and how is not None and self.values[self.i + 2] in {"group", "sp", "loop"} and how is not How.NEXT:
                    break
                if how is None and kinds[self.i + 1] not in _NOUN_KINDS | {"next", "rem", "center", "marked", "skipped", "unworked"}:
                    if self.i + 1 < self.end and kinds[self.i + 1] == "word":
                        break
                number = self.number(self.i)
                if how is None or how is How.EACH:
                    how = How.NEXT
            elif kind == "corner":
                special = special or "corner"
            else:
                break
            self.i += 1
        if how is None and special:
            how = How.NAMED if special not in {"top"} else None
        return how, number, every, ordinal, special

    def _noun(self) -> tuple[str | None, int | None]:
        """The kind of place named, and the length of its chain."""
        kinds, values = self.kinds, self.values
        kind = kinds[self.i]
        if kind == "num" and kinds[self.i + 1] in {"-", "ch", "stitch"}:
            return self._number_noun()
        if kind == "ch":
            self.i += 1
            return self._chain_noun()
        if kind in {"stitch", "in pattern"}:
            named = values[self.i]
            assert isinstance(named, Named)
            self.i += 1
            what = named.stitch.name
            while kinds[self.i] == "noun" or (kinds[self.i] == "-" and kinds[self.i + 1] == "noun"):
                self.i += 1 if kinds[self.i] == "noun" else 2
                if values[self.i - 1] in {"sp", "group", "loop"}:
                    what = str(values[self.i - 1]) if values[self.i - 1] != "group" else "group"
            return what, None
        if kind == "noun":
            what = str(values[self.i])
            self.i += 1
            if what == "corner" and kinds[self.i] in {"noun", "stitch", "ch"}:
                inner, chains = self._noun()
                return inner or what, chains
            if kinds[self.i] == "between":
                return "sp", None
            return what, None
        if kind == "ring" or kind == "make ring":
            self.i += 1
            if kinds[self.i] == "noun" and values[self.i] == "loop":
                self.i += 1
            return "ring", None
        if kind == "side":
            self.i += 1
            return "edge", None
        if kind == "free loop":
            self.i += 1
            return "free loop", None
        if kind in {"row", "rnd"}:
            self.i += 1
            return "row", None
        if kind == "sl":
            self.i += 1
            return "sl st", None
        if kind in {"increase", "decrease"}:
            self.i += 1
            return "inc" if kind == "increase" else "dec", None
        if kind == "marker":
            self.i += 1
            return "marker", None
        return None, None

    def _number_noun(self) -> tuple[str | None, int | None]:
        """ "3-ch loop", "5-dc group", "3 ch sp"."""
        kinds, values = self.kinds, self.values
        start = self.i
        number = self.number(start)[0]
        self.i += 1
        self.skip_dash()
        if kinds[self.i] == "ch":
            self.i += 1
            self.skip_dash()
            if kinds[self.i] == "noun" and values[self.i] in {"sp", "loop"}:
                self.i += 1
                return "ch-sp", number
            return "ch", None
        if kinds[self.i] == "stitch":
            named = values[self.i]
            assert isinstance(named, Named)
            self.i += 1
            self.skip_dash()
            if kinds[self.i] == "noun" and values[self.i] == "group":
                self.i += 1
                return "group", None
            if kinds[self.i] in {"noun", "stitch"}:
                self.i += 1
                return "group", None
            return named.stitch.name, None
        self.i = start
        return None, None

    def _chain_noun(self) -> tuple[str | None, int | None]:
        """After "ch": "-2 sp", " 3 loop", " sp", "-2 corner sp", "-3" (the turning chain), or a ch."""
        kinds, values = self.kinds, self.values
        start = self.i
        chains: int | None = None
        self.skip_dash()
        if kinds[self.i] == "num" and len(self.number(self.i)) == 1:
            chains = self.number(self.i)[0]
            self.i += 1
            if kinds[self.i] == "-" and kinds[self.i + 1] in {"noun", "corner"}:
                self.i += 1
        while kinds[self.i] in {"corner", "noun"}:
            noun = values[self.i]
            self.i += 1
            if noun in {"sp", "loop"}:
                return "ch-sp", chains
            if noun not in {"corner"}:
                break
        if chains is not None and start < self.i:
            return "turning ch", chains
        self.i = start
        return "ch", None

    def _noun_follows(self, at: int) -> bool:
        """Whether "and" goes on with a further kind of place: "each dc and ch-1 sp", "each dc and each sp"."""
        kinds = self.kinds
        if kinds[at] == "each":
            at += 1
        start, self.i = self.i, at
        what, _ = self._noun()
        follows = kinds[self.i]
        self.i = start
        return what is not None and follows in {"around", "across", "to", "until", ".", ",", ";", "", ")", "and", "--", "("} and not (what == "ch" and follows in {",", "."})

    def _trail(
        self,
        start: int,
        how: How,
        number: Numbers | None,
        every: int,
        ordinal: int | None,
        special: str,
        what: str | None,
        chains: int | None,
        loops: Loops,
    ) -> Place:
        """Read what stands behind the noun, and build the place."""
        kinds = self.kinds
        of: str | None = None
        below = 0
        round_number: int | None = None
        keep: Numbers = NONE_KEPT
        until: str | None = None
        if what == "turning ch" and special == "top" and how in {How.NEXT, How.NAMED}:
            how = How.NAMED
        if special in {"beg", "turning"} and what in {"ch", "turning ch"}:
            what = "turning ch"
            how = How.NAMED
        if special in _MARKED_OUT and what not in {"turning ch"}:
            of = special
        while True:
            kind = kinds[self.i]
            if kind == "from" and kinds[self.i + 1] == "hook":
                self.i += 2
                how = How.HOOK
                ordinal = ordinal or (number[0] if number else None)
                number = ONE
            elif kind == "of":
                before = self.i
                self._of_what()
                if self.i > before:
                    continue
                if kinds[self.i + 1] in {"next", "each", "first", "last", "same", "prev", "num", "corner", "noun", "stitch", "this", "ch", "ring"}:
                    self.i += 1
                    inner = self._determiner()
                    noun, inner_chains = self._noun()
                    of = noun or of
                    if what in {None, "top"}:
                        what, chains, of = noun, inner_chains, None
                    if noun == "turning ch" or (noun == "ch" and inner[4] in {"beg", "turning"}):
                        what, chains, how, of = "turning ch", inner_chains, How.NAMED, None
                        continue
                    if inner[0] is not None and how in {How.NEXT, How.NAMED} and number == ONE:
                        how, number = inner[0], inner[1]
                    if noun is None:
                        break
                else:
                    break
            elif kind in {"around", "across", "to", "until"} and how is How.EACH:
                before = self.i
                keep_found, until_found = self.limit()
                keep = keep_found or keep
                until = until_found or until
                if self.i == before:
                    break
            elif kind in {"around", "across"} and how is How.NEXT and number == ONE and ordinal is None and kinds[self.i + 1] in {".", ",", ";", "", "to"}:
                how, number = How.EACH, None
            elif kind in {"around", "across"} and kinds[self.i + 1] in {".", ",", ";", "", ")", "--"}:
                self.i += 1
            elif kind == "to" and how is How.NEXT and kinds[self.i + 1] == "last" and kinds[self.i + 2] in {"ch", "noun", "stitch", "num"}:
                self.limit()
            elif kind in {"in", "along"} and kinds[self.i + 1] == "other" and kinds[self.i + 2] == "side":
                loops = Loops.OTHER_SIDE
                self.i += 3
            elif kind == "only" or kind == "marked":
                self.i += 1
            elif how is How.LAST and number == ONE and (kind == "total" or (kind == "word" and self.values[self.i] == "worked")):
                how = How.SAME
                self.i += 1
            elif kind in {"back loop", "front loop", "both loops"}:
                loops = self._loops_here()
            elif kind == "in" and kinds[self.i + 1] in {"back loop", "front loop", "both loops"}:
                self.i += 1
            elif kind in {"between", "before"} and what in {"sp", "gap", "ch-sp", "loop"}:
                self.i += 1
                gap = self._gap(start, (how, number))
                return gap
            elif kind == "or" and kinds[self.i + 1] in {"ch", "noun", "stitch"}:
                self.i += 1
                noun, inner_chains = self._noun()
                chains = chains or inner_chains
                what = f"{what}|{noun}"
            elif kind == "and" and how is How.EACH and kinds[self.i + 1] in {"ch", "noun", "stitch", "each"} and self._noun_follows(self.i + 1):
                self.i += 2 if kinds[self.i + 1] == "each" else 1
                noun, inner_chains = self._noun()
                chains = chains or inner_chains
                what = f"{what}|{noun}"
            elif kind == "prev" and kinds[self.i + 1] in {"row", "rnd"}:
                self.i += 2
            elif kind == "below":
                self.i += 1
                below = below or 1
            elif kind == "num" and kinds[self.i + 1] in {"row", "rnd"} and kinds[self.i + 2] in {"below", "prev"}:
                below = self.number(self.i)[0] or 1
                self.i += 3
            elif kind in {"row", "rnd"} and kinds[self.i + 1] == "below":
                self.i += 2
                below = below or 1
            elif kind == "in" and kinds[self.i + 1] in {"row", "rnd", "prev", "ord"} :
                j = self.i + 1
                while kinds[j] in {"prev", "ord", "row", "rnd", "num", "below"}:
                    if kinds[j] == "ord":
                        round_number = self.ordinal(j)
                    elif kinds[j] == "num":
                        round_number = self.number(j)[0]
                    elif kinds[j] == "below":
                        below = below or 1
                    j += 1
                if j == self.i + 1:
                    break
                self.i = j
            elif kind == "as" and how is How.SAME:
                self.i += 1
                while kinds[self.i] in {"last", "prev", "first", "beg", "join", "stitch", "sl", "noun", "ch", "num", "of", "row", "rnd", "rep", "-", "turning", "before", "group", "this", "skipped"}:
                    self.i += 1
            else:
                break
        if what == "ring":
            how = How.RING
        elif what == "edge" or what == "row":
            how = How.ENDS if how is not How.SAME else how
        elif what == "free loop":
            loops = Loops.UNWORKED
        elif what == "corner" and how is How.NEXT:
            how = How.NAMED if number == ONE else how
        if what == "ch" and special == "top":
            what, how = "turning ch", How.NAMED
        return Place(
            how,
            number,
            keep,
            what or "st",
            chains,
            ordinal,
            of,
            loops,
            below,
            round_number,
            until,
            every,
            Span(self.starts[start], self.ends[max(start, self.i - 1)]),
        )
