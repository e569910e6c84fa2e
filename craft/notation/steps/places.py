"""Where the hook goes: "in each of next 5 sts", "in 2nd ch from hook", "to last 3 sts"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from craft.notation.steps.determiners import Found
from craft.notation.steps.limits import LimitReader
from craft.notation.tree import NONE_KEPT, ONE, How, Loops, Place, Span
from craft.notation.words import wordset

__all__ = ["PLACE_WORDS", "PREPOSITIONS", "PlaceReader"]

PREPOSITIONS = wordset("in over around across through along between under")
_DETERMINERS = frozenset(
    (
        "next",
        "each",
        "every other",
        "first",
        "last",
        "same",
        "rem",
        "any",
        "center",
        "marked",
        "skipped",
        "unworked",
        "this",
        "both",
        "other",
        "top",
        "corner",
        "beg",
        "turning",
        "ring",
        "make ring",
    )
)
_LOOP_WORDS = {"back loop": Loops.BACK, "front loop": Loops.FRONT, "both loops": Loops.BOTH}
PLACE_WORDS = PREPOSITIONS | _DETERMINERS | {"back loop", "front loop", "both loops", "free loop", "post"}
_NOUN_KINDS = frozenset(
    (
        "noun",
        "stitch",
        "ch",
        "ring",
        "make ring",
        "side",
        "sl",
        "marker",
        "row",
        "rnd",
        "increase",
        "decrease",
        "in pattern",
        "post",
        "pattern",
        "free loop",
    )
)
_MARKED_OUT = frozenset(("skipped", "marked", "center", "corner", "any"))
_AFTER_OF = wordset(
    "next each first last same prev num corner noun stitch this ch ring rem beg turning "
    "marked center skipped unworked"
)
_AS_WORDS = wordset(
    "last prev first beg join stitch sl noun ch num of row rnd rep - turning before group this skipped"
)
_NO_MORE = frozenset((".", ",", ";", "", ")", "--"))
_NOUN_ENDS = _NO_MORE | {"around", "across", "to", "until", "and", "("}


class PlaceReader(LimitReader):
    """Reads places. Every method leaves the position unchanged when it finds nothing."""

    __slots__ = ()

    def places(self) -> list[Place]:
        """One place, or several joined by "and": "in 2nd ch from hook and in each ch across"."""
        earlier = self._ordinals_before()
        first = self.place()
        if first is None:
            return []
        if earlier:
            return [replace(first, ordinal=ordinal) for ordinal in earlier] + [first]
        found = [first]
        while self.kinds[self.i] in {"and", "then", ","}:
            following = self._place_behind_and(first)
            if following is None:
                break
            found.append(following)
        return found

    def _place_behind_and(self, first: Place) -> Place | None:
        """The place behind "and", ", and"; None and no move when something else follows."""
        start = self.i
        if self.kinds[start] == ",":
            self.i += 1
        place: Place | None = None
        if self.kinds[self.i] in {"and", "then"}:
            self.i += 1
            kind = self.kinds[self.i]
            if kind in PLACE_WORDS or kind == "ord":
                place = self.place()
            elif kind == "ch" and first.how is not How.EACH and self.space_ahead():
                place = self.place()  # "in next 2 dc and ch-1 sp"
        if place is None:
            self.i = start
        return place

    def _ordinals_before(self) -> list[int]:
        """Such as "in 4th and 5th ch from hook": the ordinals before the last one; moves to that."""
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
            self.i += 2 if kinds[self.i + 1] == "of" else 1
        if not preposition and kinds[self.i] == "to" and kinds[self.i + 1] in _DETERMINERS:
            self.i += 1  # "sl st to first sc"
        if preposition == "between":
            return self._gap(start, None)
        place = self.core(start)
        if place is None and preposition in {"around", "across", "along"}:
            self.i = start + 1
            place = self._whole(start)
        if place is None:
            self.i = start
        return place

    def _whole(self, start: int) -> Place:
        """Such as "sc around", "sc across to last 3 sts", "sc to end"."""
        side = self._side_ahead()
        if side:
            self.i = side
            return Place(How.ENDS, None, span=self.span(start), loops=self.loops, what="edge")
        return self._all_but(start, self.loops)

    def _side_ahead(self) -> int:
        """Where the words of "(along) front edge", "(across) side" end; 0 where no side is named."""
        for i in range(self.i, self.i + 3):
            if self.kinds[i] == "side":
                return i + 1
            if self.kinds[i] not in {"word", "any", "other", "top", "each", "next"}:
                break
        return 0

    def _all_but(self, start: int, loops: Loops) -> Place:
        keep, until = self.limit()
        return Place(How.EACH, None, keep or NONE_KEPT, until=until, loops=loops, span=self.span(start))

    def _gap(self, start: int, outer: Found | None) -> Place:
        """Such as "between next 2 dc", "in next sp between 3-dc groups": the gap between two stitches."""
        kinds = self.kinds
        found = Found(self.loops)
        self.determiner(found)
        found.chains = self._group_size()
        while kinds[self.i] == "and":
            back = self.i
            self.i += 1
            second = Found(self.loops)
            self.determiner(second)
            if self.noun()[0] is None and second.how is None:
                self.i = back
                break
        if outer is not None and outer.how is How.NEXT and found.how in {How.FIRST, How.LAST}:
            found.number = ONE  # "in sp between first 2 dc"
        elif outer is not None:
            found.how, found.number = outer.how, outer.number
        elif found.how is How.EACH or (
            found.how not in {How.FIRST, How.LAST, How.SAME} and kinds[self.i] in {"around", "across", "to"}
        ):
            found.how, found.number = How.EACH, None
        else:
            if found.how not in {How.FIRST, How.LAST, How.SAME}:
                found.how = How.NEXT
            found.number = ONE
        found.what = "gap"
        return self._finish(start, found)

    def _group_size(self) -> int | None:
        """Moves past the noun here; the n of "3-dc groups"."""
        start = self.i
        what, _ = self.noun()
        return self.number(start)[0] if what == "group" and self.kinds[start] == "num" else None

    # ------------------------------------------------------------------ the core

    def core(self, start: int) -> Place | None:
        """Loops, determiner, noun and what trails behind; no preposition."""
        kinds = self.kinds
        found = Found(self.loops)
        if kinds[self.i] in _LOOP_WORDS:
            found.loops = self.loops_here()
            while kinds[self.i] in {"only", "of", "in"}:
                self.i += 1
            if kinds[self.i] in {"around", "across"} or (
                kinds[self.i] in {"to", "until"} and kinds[self.i + 1] not in {"first", "same"}
            ):
                return self._all_but(start, found.loops)
        if kinds[self.i] == "post" and kinds[self.i + 1] != "noun":
            self.i += 2 if kinds[self.i + 1] == "of" else 1
        self.determiner(found)
        found.what, found.chains = self.noun()
        if found.what is None and found.special == "corner":
            found.what, found.special = "corner", ""
        if found.how is None:
            if found.what is None:
                return self._only_loops(start, found.loops)
            along = found.what in {"edge", "row"}
            found.how, found.number = (How.ENDS, None) if along else (How.NEXT, ONE)
        elif found.what is None and found.special in {"top", "beg", "turning"} and found.number == ONE:
            return None
        return self._finish(start, found)

    def _only_loops(self, start: int, loops: Loops) -> Place | None:
        if loops is self.loops:
            return None
        return Place(How.BARE, ONE, loops=loops, span=self.span(start))

    def loops_here(self) -> Loops:
        """The loops that the word here names; moves past it."""
        loops = _LOOP_WORDS[self.kinds[self.i]]
        self.i += 1
        return loops

    # ------------------------------------------------------------------ what trails behind

    def _finish(self, start: int, found: Found) -> Place:
        """Read what stands behind the noun, and build the place."""
        if found.special:
            self._marked_out(found)
        kinds = self.kinds
        trails = _TRAILS
        while True:
            trail = trails.get(kinds[self.i])
            if trail is None:
                break
            before = self.i
            trail(self, found)
            if self.i == before:
                break
            if found.what in {"gap", "ch-sp"} and kinds[before] in {"between", "before"}:
                break
        self._settle(found)
        return Place(
            found.how or How.NEXT,
            found.number,
            found.keep,
            found.what or "st",
            found.chains,
            found.ordinal,
            found.of,
            found.loops,
            found.below,
            found.round_number,
            found.until,
            found.every,
            Span(self.starts[start], self.ends[max(start, self.i - 1)]),
        )

    def _marked_out(self, found: Found) -> None:
        special, what = found.special, found.what
        if special in {"beg", "turning"} and what in {"ch", "turning ch"}:
            found.what, found.how = "turning ch", How.NAMED
        elif special in _MARKED_OUT and what != "turning ch":
            found.of = special

    def _settle(self, found: Found) -> None:
        """What the noun says about how the place is named."""
        what = found.what
        if what == "ring":
            found.how = How.RING
        elif what in {"edge", "row"}:
            found.how = How.ENDS if found.how is not How.SAME else found.how
        elif what == "free loop":
            found.loops = Loops.UNWORKED
        elif what == "corner" and found.how is How.NEXT and found.number == ONE:
            found.how = How.NAMED
        elif found.special == "top" and what in {"ch", "turning ch"}:
            found.what, found.how = "turning ch", How.NAMED

    def trail_from(self, found: Found) -> None:
        """Such as "(2nd ch) from hook"."""
        if self.kinds[self.i + 1] == "hook":
            self.i += 2
            found.how = How.HOOK
            found.ordinal = found.ordinal or (found.number[0] if found.number else None)
            found.number = ONE

    def trail_of(self, found: Found) -> None:
        """Such as "(3rd dc) of next shell", "(top) of turning ch", "of previous row"."""
        start = self.i
        self.of_what()
        if self.i > start:
            return
        at = self.i + (2 if self.kinds[self.i + 1] == "in" else 1)
        if self.kinds[at] not in _AFTER_OF:
            return
        self.i = at
        inner = Found(found.loops)
        self.determiner(inner)
        noun, chains = self.noun()
        if noun is None and inner.how is not None:
            self.i = start  # "each rem hdc of First Leg"
            return
        found.of = noun or found.of
        if found.what in {None, "top", "bar"}:
            found.what, found.chains, found.of = noun, chains, None
        if noun == "turning ch" or (noun == "ch" and inner.special in {"beg", "turning"}):
            found.what, found.chains, found.how, found.of = "turning ch", chains, How.NAMED, None
        elif inner.how is not None and found.how in {How.NEXT, How.NAMED} and found.number == ONE:
            found.how, found.number = inner.how, inner.number
        elif found.how is How.EACH and inner.how in {How.NEXT, How.FIRST, How.LAST}:
            found.how, found.number = inner.how, inner.number  # "each rem loop of next 7 sts"

    def trail_limit(self, found: Found) -> None:
        """Such as "(each st) around", "(each st) to last 3 sts"; elsewhere words that say no more."""
        kinds = self.kinds
        kind, following = kinds[self.i], kinds[self.i + 1]
        if found.how is How.EACH:
            keep, until = self.limit()
            found.keep = keep or found.keep
            found.until = until or found.until
        elif kind in {"around", "across"}:
            alone = found.how is How.NEXT and found.number == ONE and found.ordinal is None
            if alone and (following in _NO_MORE - {")", "--"} or following == "to"):
                found.how, found.number = How.EACH, None  # "2 sc in next sc around"
            elif following in _NO_MORE:
                self.i += 1
        elif (
            kind == "to"
            and found.how is How.NEXT
            and following == "last"
            and kinds[self.i + 2] in {"ch", "noun", "stitch", "num"}
        ):
            self.limit()

    def trail_pass(self, found: Found) -> None:
        self.i += 1

    def trail_made(self, found: Found) -> None:
        """Such as "last dc worked", "last st made": the one just made."""
        if found.how is not How.LAST or found.number != ONE:
            return
        if self.kinds[self.i] == "total" or self.values[self.i] == "worked":
            found.how = How.SAME
            self.i += 1

    def trail_in(self, found: Found) -> None:
        """Such as "(next 3 sts) in back loop only", "in row below", "on other side of"."""
        kinds = self.kinds
        following = kinds[self.i + 1]
        if following == "other" and kinds[self.i + 2] == "side":
            found.loops = Loops.OTHER_SIDE
            self.i += 3
        elif kinds[self.i] == "along":
            return
        elif following in _LOOP_WORDS:
            self.i += 1
        elif following in {"row", "rnd", "prev", "ord"}:
            self._row_named(found)

    def _row_named(self, found: Found) -> None:
        kinds = self.kinds
        j = self.i + 1
        while kinds[j] in {"prev", "ord", "row", "rnd", "num", "below"}:
            if kinds[j] == "ord":
                found.round_number = self.ordinal(j)
            elif kinds[j] == "num":
                found.round_number = self.number(j)[0]
            elif kinds[j] == "below":
                found.below = found.below or 1
            j += 1
        self.i = j

    def trail_loops(self, found: Found) -> None:
        found.loops = self.loops_here()

    def trail_gap(self, found: Found) -> None:
        """Such as "(next sp) between 3-dc groups", "(sp) before last dc"."""
        if found.what not in {"sp", "ch-sp", "loop"}:
            return
        start = self.i
        self.i += 1
        inner = self._gap(start, found)
        if found.what == "ch-sp":
            return  # "in ch-2 sp between 2 dc" is that chain space
        found.what = "gap"
        found.keep, found.until, found.of = inner.keep, inner.until, inner.of
        found.number, found.how, found.chains = inner.number, inner.how, inner.chains

    def trail_or(self, found: Found) -> None:
        """Such as "(each sc) or ch-1 sp"."""
        if self.kinds[self.i + 1] in {"ch", "noun", "stitch"}:
            self.i += 1
            self._further_kind(found)

    def trail_and(self, found: Found) -> None:
        """Such as "(each dc) and ch-1 sp", "(each dc) and each sp": a further kind of place."""
        following = self.kinds[self.i + 1]
        if (
            found.how is How.EACH
            and following in {"ch", "noun", "stitch", "each"}
            and self._noun_follows(self.i + 1)
        ):
            self.i += 2 if following == "each" else 1
            self._further_kind(found)

    def _further_kind(self, found: Found) -> None:
        noun, chains = self.noun()
        found.chains = found.chains or chains
        found.what = f"{found.what}|{noun}"

    def _noun_follows(self, at: int) -> bool:
        start, self.i = self.i, at + (1 if self.kinds[at] == "each" else 0)
        what, _ = self.noun()
        follows = self.kinds[self.i]
        self.i = start
        return what is not None and follows in _NOUN_ENDS and not (what == "ch" and follows in {",", "."})

    def trail_prev(self, found: Found) -> None:
        if self.kinds[self.i + 1] in {"row", "rnd"}:
            self.i += 2

    def trail_below(self, found: Found) -> None:
        self.i += 1
        found.below = found.below or 1

    def trail_number(self, found: Found) -> None:
        """Such as "(next st) 2 rows below"."""
        kinds = self.kinds
        if kinds[self.i + 1] in {"row", "rnd"} and kinds[self.i + 2] in {"below", "prev"}:
            found.below = self.number(self.i)[0] or 1
            self.i += 3

    def trail_row(self, found: Found) -> None:
        if self.kinds[self.i + 1] == "below":
            self.i += 2
            found.below = found.below or 1

    def trail_as(self, found: Found) -> None:
        """Such as "(same st) as last sc"."""
        if found.how is How.SAME:
            self.i += 1
            while self.kinds[self.i] in _AS_WORDS:
                self.i += 1


_TRAILS: dict[str, Callable[[PlaceReader, Found], None]] = {
    "from": PlaceReader.trail_from,
    "of": PlaceReader.trail_of,
    "around": PlaceReader.trail_limit,
    "across": PlaceReader.trail_limit,
    "to": PlaceReader.trail_limit,
    "until": PlaceReader.trail_limit,
    "only": PlaceReader.trail_pass,
    "marked": PlaceReader.trail_pass,
    "total": PlaceReader.trail_made,
    "word": PlaceReader.trail_made,
    "in": PlaceReader.trail_in,
    "along": PlaceReader.trail_in,
    "back loop": PlaceReader.trail_loops,
    "front loop": PlaceReader.trail_loops,
    "both loops": PlaceReader.trail_loops,
    "between": PlaceReader.trail_gap,
    "before": PlaceReader.trail_gap,
    "or": PlaceReader.trail_or,
    "and": PlaceReader.trail_and,
    "prev": PlaceReader.trail_prev,
    "below": PlaceReader.trail_below,
    "num": PlaceReader.trail_number,
    "row": PlaceReader.trail_row,
    "rnd": PlaceReader.trail_row,
    "as": PlaceReader.trail_as,
}
