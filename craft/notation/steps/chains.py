"""Chains, slip stitches, joins and rings."""

from __future__ import annotations

from craft.notation.steps.cursor import PHRASE
from craft.notation.steps.places import PLACE_WORDS, PREPOSITIONS
from craft.notation.steps.working import SLIP, WorkReader
from craft.notation.tree import (
    ONE,
    Chain,
    Colour,
    Evenly,
    Group,
    How,
    Join,
    Numbers,
    Place,
    Repeat,
    Ring,
    Span,
    Work,
)

__all__ = ["ChainReader"]

_LENGTHS = frozenset(("ins", "inches", "inch", "cm", "\u00bd"))
_NO_COLOUR = frozenset(("with", "in", "to", ".", ",", ";", "", "sl", "(", ")", "make ring", "around"))
_ENDS_A_COLOUR = frozenset((",", ".", ";", "", "with", "in", "to", ")", "(", "and", "-", "--", ":"))
_TO_A_RING = frozenset(("join", "close", "make ring", "ring", "word"))
_RING_WORDS = frozenset(("word", "work", "make ring", "ring", "join", "close"))


class ChainReader(WorkReader):
    """Reads chains and all that is joined with a slip stitch."""

    __slots__ = ()

    # ------------------------------------------------------------------ chains

    def on_number(self) -> None:
        """Such as "3 ch"; any other number is for the layer below."""
        first = self.i
        at = first + (2 if self.kinds[first + 1] in {"-", "x", "more"} else 1)
        if self.kinds[at] == "ch":
            self.i = at + 1
            self._chain_done(first, self.number(first))
        else:
            super().on_number()

    def on_chain(self) -> None:
        """Such as "ch 3", "ch-3", "chain 3 (counts as dc)"."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        self.skip_dash()
        if kinds[self.i] == "x":
            self.i += 1
        number: Numbers = ONE
        if kinds[self.i] == "num":
            number = self.number(self.i)
            self.i += 1
        elif kinds[self.i - 1] == "-":
            self.i -= 1
        self._chain_done(first, number)

    def _chain_done(self, first: int, number: Numbers) -> None:
        """The chain is read; now its place, if any, and what it counts for."""
        kinds = self.kinds
        if self._measured():
            self.rest_of_sentence(first)
            return
        span = self.span(first)
        if kinds[self.i] in PREPOSITIONS and kinds[self.i + 1] in PLACE_WORDS:
            self.places()
        counts, counts_as = self._said_of_chain()
        self.out.append(Chain(number, span, counts, counts_as))

    def _measured(self) -> bool:
        """Such as "make a chain 38 (40-42) ins long": a length, not a number of chains."""
        at = self.i + (1 if self.kinds[self.i] == "num" else 0)
        return self.kinds[at] == '"' or (self.kinds[at] == "word" and self.values[at] in _LENGTHS)

    def _said_of_chain(self) -> tuple[bool | None, tuple[tuple[str, int], ...]]:
        """What stands right behind a chain about its counting; (None, ()) when nothing does."""
        kinds = self.kinds
        kind = kinds[self.i]
        if kind in {"counts", "counts not"}:
            return self.counts_as(self.stop_from(self.i))
        close = self.match.get(self.i, -1) if kind == "(" else -1
        if close < 0:
            return None, ()
        inner = kinds[self.i + 1 : close]
        if inner and inner[0] in {"counts", "counts not", "this"}:
            self.i += 2 if inner[0] == "this" else 1
            said = self.counts_as(close)
        elif close - self.i > 12:
            return None, ()
        elif "counts not" in inner:
            said = (False, ())
        elif "counts" in inner or (inner[:2] == ["first", "stitch"] and "total" in inner):
            said = (True, ())
        else:
            return None, ()
        self.i = close + 1
        return said

    def counts_as(self, stop: int) -> tuple[bool, tuple[tuple[str, int], ...]]:
        """From "counts (as)" to `stop`: whether the chain counts, and for what."""
        kinds = self.kinds
        yes = kinds[self.i] == "counts"
        self.i += 1
        as_what: list[tuple[str, int]] = []
        number = 1
        while self.i < stop:
            kind = kinds[self.i]
            if kind == "num":
                number = self.number(self.i)[0] or 1
            elif kind == "stitch":
                as_what.append((self.named(self.i).stitch.name, number))
                number = 1
            elif kind == "ch":
                self._chain_counted(as_what, number)
                number = 1
            elif kind == "noun" and self.values[self.i] == "st" and not as_what:
                as_what.append(("st", number))
            elif kind == "counts not":
                yes = False
            self.i += 1
        return (True, tuple(as_what)) if yes else (False, ())

    def _chain_counted(self, as_what: list[tuple[str, int]], number: int) -> None:
        """Such as "(counts as dc and) ch 2", "ch-2 sp", "2 ch"."""
        at = self.i + (2 if self.kinds[self.i + 1] == "-" else 1)
        if self.kinds[at] == "num":
            as_what.append(("ch-sp", self.number(at)[0] or 1))
            self.i = at
        elif number > 1:
            as_what.append(("ch-sp", number))

    # ------------------------------------------------------------------ slip stitches

    def on_slip(self) -> None:
        """Such as "sl st in first sc" (a join), "sl st in next 3 sts" (stitches)."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        if kinds[self.i] == "num":
            self.i = first
            self.stitch_here(first, None)
            return
        if kinds[self.i] == "to" and kinds[self.i + 1] in {"join", "close"}:
            self.i += 2
            place = self.place() if kinds[self.i] in PREPOSITIONS or kinds[self.i] == "to" else None
            self.out.append(Join(self.span(first), place))
            return
        places = self.where()
        if places and kinds[self.i] == "to" and kinds[self.i + 1] in _TO_A_RING:
            self._join_done(first, places[0])
        elif not places:
            self.put_bare(first, first + 1, SLIP, None)
        elif len(places) == 1 and self._joins(places[0]):
            self.out.append(Join(self.span(first), places[0]))
        else:
            span = self.span(first)
            self.out.extend(Work(SLIP.stitch, ONE, place, span, "sl st") for place in places)

    def _joins(self, place: Place) -> bool:
        """Whether a slip stitch into this place closes the round."""
        if self.depth or place.number not in {ONE, None}:
            return False
        closing = place.how is How.FIRST or place.what == "turning ch"
        if not closing or "*" in self.kinds[self.i : self.i + 2]:
            return False
        if any(isinstance(step, Work | Group | Repeat | Evenly) for step in self.out):
            return True
        return place.what == "ch" and any(isinstance(step, Chain) for step in self.out)

    # ------------------------------------------------------------------ joins

    def colour_name(self) -> str | None:
        """Words up to the next comma, stop or "with": "A", "MC", "color 2", "2 strands of B"."""
        kinds = self.kinds
        first = self.i
        while kinds[self.i] not in _ENDS_A_COLOUR and self.i - first < 6:
            if kinds[self.i] in {"ch", "stitch"} and self.i > first:
                break
            self.i += 1
        return self.words(first, self.i) if self.i > first else None

    def on_join(self) -> None:
        """Such as "join", "join with sl st to first sc", "join A with sl st to any st"."""
        kinds = self.kinds
        first = self.i
        self.i += 1
        if self.values[first] == "joining" and kinds[self.i] not in {"with", "sl"}:
            label = self.colour_name() or ""
            self.i = self.stop_from(self.i)
            self.out.append(Colour(label, "join", self.span(first)))
            return
        colour = None if kinds[self.i] in _NO_COLOUR else self.colour_name()
        if kinds[self.i] == "in" and kinds[self.i + 1] in {"row", "rnd"}:
            self.i += 2
        elif kinds[self.i] in {"row", "rnd"}:
            self.i += 1
        if colour is not None:
            self.out.append(Colour(colour, "join", self.span(first)))
        in_a_stitch = kinds[self.i : self.i + 2] == ["in", "stitch"] and kinds[self.i + 2] in PREPOSITIONS
        if kinds[self.i] == "with" or in_a_stitch:  # "join B in sc at the edge"
            self.i += 1
            if kinds[self.i] != "sl":
                self._join_with(first)
                return
        if kinds[self.i] == "sl":
            self.i += 1
        place = self._joined_to()
        if place is not None and kinds[self.i : self.i + 2] == ["with", "sl"]:
            self.i += 2  # "join yarn in next st with a slip st"
        if colour is None or place is not None:
            self._join_done(first, place)

    def _join_with(self, first: int) -> None:
        """Such as "join with sc in first st" makes the stitch; "join with B" takes up a colour."""
        if self.kinds[self.i] == "stitch":
            self.stitch_here(first, None)
            return
        label = self.colour_name()
        if label is None:
            self.rest_of_sentence(first)
            return
        span = self.span(first)
        self.out += (Join(span), Colour(label, "join", span))

    def _joined_to(self) -> Place | None:
        kinds = self.kinds
        start = self.i
        if kinds[start] != "to" and kinds[start] not in PREPOSITIONS:
            return None
        if kinds[start + 1] in {"make ring", "word"}:
            return None
        if kinds[start] == "to":
            self.i += 1
        place = self.place()
        if place is None:
            self.i = start
        return place

    def _join_done(self, first: int, place: Place | None) -> None:
        """Close a join; "to form a ring" after a chain makes a ring of it."""
        ring = self._says_ring()
        worked = any(isinstance(step, Work | Repeat | Group) for step in self.out)
        last = self.out[-1] if self.out else None
        if isinstance(last, Chain) and not worked:
            into_chain = place is not None and place.what == "ch" and place.how in _RING_PLACES
            if ring or into_chain:
                self.out[-1] = Ring(Span(last.span.start, self.ends[self.i - 1]), last.number)
                return
        if ring and last is None:
            self.out.append(Ring(self.span(first)))
            return
        self.out.append(Join(self.span(first), place))

    def _says_ring(self) -> bool:
        """Such as "to form a ring", "to join", "form ring"; moves past it."""
        kinds = self.kinds
        kind, following = kinds[self.i], kinds[self.i + 1]
        if following in _TO_A_RING and (
            kind == "to" or (kind in {"in", "and"} and kinds[self.i + 2] in {"ring", "make ring"})
        ):
            j = self.i + 1
            while kinds[j] in _RING_WORDS:
                j += 1
            said = kinds[self.i + 1 : j]
            self.i = j
            return "ring" in said or "make ring" in said
        if kind in {"ring", "make ring"}:
            self.i += 1
            return True
        if kind == "word" and following in {"ring", "make ring"}:
            self.i += 2
            return True
        return False

    def on_ring(self) -> None:
        self.i += 1
        self.out.append(Ring(self.span(self.i - 1)))

    def on_drawn_up(self, first: int) -> None:
        """Such as "Draw up a loop of D in first sp": yarn joined, no stitch."""
        self.i = self.stop_from(first + 1, PHRASE | PREPOSITIONS)
        place = self.place()
        self.i = self.stop_from(self.i)
        self.out.append(Join(self.span(first), place))


_RING_PLACES = frozenset((How.FIRST, How.HOOK, How.LAST))
