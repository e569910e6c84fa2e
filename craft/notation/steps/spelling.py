"""Stitches spelled out as hand movements: "Draw up a loop in each of next 2 sc. Yoh and draw through ...".

This is how a stitch is made, not a run of stitches: brackets and "twice" repeat hand movements, and
"2 loops" are loops on the hook. What counts is where the hook goes in, and the closing draw-through.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from craft.notation.steps.cursor import Cursor
from craft.notation.steps.places import PREPOSITIONS, PlaceReader
from craft.notation.stitches import PLAIN, Named, post, together
from craft.notation.tree import ONE, How, Place, Stitch

__all__ = ["Movements", "named_after", "placed", "read_movements"]

_LINKS = frozenset(("and", ",", "then", ".", ";", "-", "--", "work", ":"))
_ENDS = frozenset((".", "-", "--", ";"))
_MOVES = frozenset(("yoh", "draw", "insert"))
_COUNTED = frozenset((How.NEXT, How.FIRST, How.LAST))
_SAME_PLACE = frozenset((How.SAME, How.BARE, How.RING))
_AFTER_PLACE = frozenset((".", ";", "", ",", "and", "-", "--", "(", ")")) | _MOVES
_LOOPS_ON_HOOK = frozenset(
    (
        "each",
        "rem",
        "last",
        "num",
        "both",
        "noun",
        "on hook",
        "of",
        "in",
        "hook",
        "word",
        "both loops",
        "free loop",
    )
)
_ALL_LOOPS = frozenset(("each", "rem", "free loop", "last", "both", "both loops"))
_MOST = 99
_DEEPEST = 6


@dataclass(slots=True)
class Movements:
    """What a run of hand movements comes to.

    `legs`: how often the hook goes in; `uses`: places that it goes into; `overs`: yarns over before the
    first leg; `partial`: a leg is drawn through 2 loops before the close; `closed`: the loops are all
    drawn together; `post`: "front", "back"; `place`: the first place that is named.
    """

    legs: int = 0
    uses: int = 0
    overs: int = 0
    partial: bool = False
    closed: bool = False
    post: str | None = None
    place: Place | None = None

    def base(self) -> str:
        """The plain stitch that each leg is: no yarn over sc, one hdc or dc, two tr ..."""
        if self.overs == 1:
            return "dc" if self.partial else "hdc"
        return PLAIN[min(self.overs + 1, len(PLAIN) - 1) if self.overs else 0]

    def stitch(self) -> Stitch:
        """The stitch that the movements make."""
        base = self.base()
        if self.post is not None and self.legs <= 1:
            return post(base, self.post).stitch
        if self.uses > 1:
            return together(base, self.uses).stitch
        if self.legs > 1:
            name = "puff st" if base == "hdc" else "cluster"
            return Stitch(name, tally=(("cluster", 1),))
        return Stitch(base, tally=((base, 1),))


def read_movements(cursor: PlaceReader) -> Movements | None:
    """Read hand movements from the cursor on; None (and no move) when there are none."""
    start = cursor.i
    reader = _Reader(cursor, cursor.end, Movements(), 0)
    reader.run()
    if not reader.found.legs:
        cursor.i = start
        return None
    return reader.found


class _Reader:
    """One run of movements, up to `stop`."""

    __slots__ = ("cursor", "depth", "found", "inserted", "kinds", "star", "stop")

    def __init__(self, cursor: PlaceReader, stop: int, found: Movements, depth: int) -> None:
        self.cursor = cursor
        self.kinds = cursor.kinds
        self.stop = stop
        self.found = found
        self.depth = depth
        self.inserted = False
        self.star: tuple[int, int] | None = None

    def run(self) -> None:
        cursor = self.cursor
        while cursor.i < self.stop:
            read = _READERS.get(self.kinds[cursor.i])
            if read is None or not read(self):
                return

    # each reader returns False, without moving, where the movements end

    def link(self) -> bool:
        """Commas and full stops between movements."""
        cursor, kinds = self.cursor, self.kinds
        start = cursor.i
        i = start
        while i < self.stop and kinds[i] in _LINKS:
            i += 1
        ended = self.found.closed and not _ENDS.isdisjoint(kinds[start:i])
        if ended or i >= self.stop or not _goes_on(kinds, i):
            return False
        cursor.i = i
        return True

    def over(self) -> bool:
        """Such as "yoh", "(yoh) twice": yarns over before the first leg tell the height."""
        self.cursor.i += 1
        times = _times(self.cursor) if _times_here(self.kinds, self.cursor.i) else 1
        if not self.found.legs:
            self.found.overs += times
        return True

    def insert(self) -> bool:
        cursor, kinds = self.cursor, self.kinds
        if kinds[cursor.i + 1] == "from" and self.found.legs:
            cursor.i = min(cursor.stop_from(cursor.i, frozenset((".", ";", ",", ""))), self.stop)
            return True  # "inserting hook from right to left"
        cursor.i += 1
        _leg(cursor, self.found)
        self.inserted = True
        return True

    def draw(self) -> bool:
        cursor, kinds = self.cursor, self.kinds
        start = cursor.i
        cursor.i += 1
        if _through(cursor, self.found):
            self.inserted = False
            return True
        if kinds[cursor.i] not in {"noun", "word"} and not str(cursor.values[start]).endswith("loop"):
            cursor.i = start
            return False
        while kinds[cursor.i] in {"noun", "to", "up", "tail", "word"}:
            cursor.i += 1
        if not self.inserted or kinds[cursor.i] in PREPOSITIONS:
            _leg(cursor, self.found)
        self.inserted = False
        return True

    def bracket(self) -> bool:
        """Movements in brackets, done several times or in each of several stitches."""
        cursor, kinds = self.cursor, self.kinds
        start = cursor.i
        close = cursor.match.get(start)
        if close is None or self.depth >= _DEEPEST:
            return False
        inner = _Reader(
            cursor, close, Movements(overs=self.found.overs, post=self.found.post), self.depth + 1
        )
        cursor.i += 1
        inner.run()
        if not inner.found.legs and kinds[start + 1] not in {"yoh", "draw"}:
            cursor.i = start
            return False
        cursor.i = close + 1
        self._take_in(inner.found, overs_only=kinds[start + 1] == "yoh")
        return True

    def _take_in(self, inner: Movements, *, overs_only: bool) -> None:
        """Add what a bracket comes to, as often as the words behind it say."""
        cursor, found = self.cursor, self.found
        times = _times(cursor) if _times_here(self.kinds, cursor.i) else 1
        uses = inner.uses * times
        if self.kinds[cursor.i] in PREPOSITIONS:
            place = cursor.place()
            if place is not None:
                found.place = found.place or place
                times, uses = _in_place(place, inner, times, uses)
        if inner.legs:
            if not found.legs:
                found.overs = max(found.overs, inner.overs)
        elif found.legs:
            found.partial = True
        elif overs_only:
            found.overs += times if inner.overs <= found.overs + 1 else inner.overs
        found.legs += inner.legs * times
        found.uses += uses
        found.partial = found.partial or inner.partial
        found.closed = found.closed or (inner.closed and times == 1)
        found.post = found.post or inner.post
        found.place = found.place or inner.place

    def open_star(self) -> bool:
        if self.star is not None or not _goes_on(self.kinds, self.cursor.i + 1):
            return False
        self.cursor.i += 1
        self.star = (self.found.legs, self.found.uses)
        return True

    def repeat(self) -> bool:
        """Such as "rep from * 2 more times" among hand movements."""
        if self.star is None:
            return False
        cursor, kinds = self.cursor, self.kinds
        cursor.i += 1
        while kinds[cursor.i] in {"from", "*"}:
            cursor.i += 1
        times = 1
        if kinds[cursor.i] in {"multi", "num"}:
            multi = kinds[cursor.i] == "multi"
            number = cursor.ordinal(cursor.i) if multi else (cursor.number(cursor.i)[0] or 1)
            times = min(number, _MOST)
            cursor.i += 1
            while kinds[cursor.i] in {"times", "more", "x"}:
                cursor.i += 1
        legs, uses = self.star
        self.found.legs += (self.found.legs - legs) * times
        self.found.uses += (self.found.uses - uses) * times
        self.star = None
        return True


_READERS: dict[str, Callable[[_Reader], bool]] = {
    **dict.fromkeys(_LINKS, _Reader.link),
    "yoh": _Reader.over,
    "insert": _Reader.insert,
    "draw": _Reader.draw,
    "(": _Reader.bracket,
    "*": _Reader.open_star,
    "rep": _Reader.repeat,
}


def _goes_on(kinds: list[str], at: int) -> bool:
    """Whether the token at `at` begins a further movement."""
    kind = kinds[at]
    if kind in _MOVES or kind == "*":
        return True
    if kind == "rep":
        return "*" in kinds[at : at + 3]
    if kind == "(":
        return kinds[at + 1] in _MOVES or (kinds[at + 1] == "*" and kinds[at + 2] in _MOVES)
    return False


def _in_place(place: Place, inner: Movements, times: int, uses: int) -> tuple[int, int]:
    """The place behind a bracket: (times, places used)."""
    several = place.how in _COUNTED and place.number is not None
    if several and inner.uses == 0 and times == 1:
        times = max((n for n in place.number or () if n is not None), default=1)
        return times, times
    if inner.uses == 0 or place.how in {How.SAME, How.RING} or place.number == ONE:
        return times, 1
    return times, uses


def _times_here(kinds: list[str], at: int) -> bool:
    return kinds[at] == "multi" or (kinds[at] == "num" and kinds[at + 1] in {"times", "more", "x"})


def _times(cursor: Cursor) -> int:
    """Such as "twice", "3 times", "2 more times"; moves past it."""
    kinds = cursor.kinds
    multi = kinds[cursor.i] == "multi"
    value = cursor.ordinal(cursor.i) if multi else (cursor.number(cursor.i)[0] or 1)
    cursor.i += 1
    while kinds[cursor.i] in {"times", "more", "x"}:
        value += kinds[cursor.i] == "more"
        cursor.i += 1
    return min(value, _MOST)


def _leg(cursor: PlaceReader, found: Movements) -> None:
    """The hook goes in: once, or in each of several places."""
    kinds = cursor.kinds
    number = 1
    fresh = True
    if kinds[cursor.i] in PREPOSITIONS:
        around = kinds[cursor.i] == "around" or kinds[cursor.i + 1] == "post"
        place = cursor.place()
        if place is not None:
            if place.number is not None and place.how in _COUNTED:
                number = max((n for n in place.number if n is not None), default=1)
            fresh = place.how not in _SAME_PLACE
            found.place = found.place or place
            if around:
                found.post = found.post or "front"
    while kinds[cursor.i] not in _AFTER_PLACE:
        if kinds[cursor.i] == "word" and cursor.values[cursor.i] == "back":
            found.post = "back" if found.post else None
        elif kinds[cursor.i] == "behind":
            found.post = "front" if cursor.values[cursor.i] == "in front of" else "back"
        cursor.i += 1
    found.legs += number
    found.uses += number if fresh else 0


def _through(cursor: Cursor, found: Movements) -> bool:
    """Such as "draw through 2 loops", "draw B through all loops on hook"."""
    kinds = cursor.kinds
    j = cursor.i
    while kinds[j] in {"word", "tail", "noun"} and j < cursor.i + 3:
        j += 1
    if kinds[j] == "both loops":  # "through both loops" is one word to the lexicon
        j -= 1
    elif kinds[j] != "through":
        return False
    start = j + 1
    j = start
    number = 0
    while kinds[j] in _LOOPS_ON_HOOK:
        if kinds[j] == "num":
            number = cursor.number(j)[0] or 0
        j += 1
    cursor.i = j
    if _times_here(kinds, j):
        _times(cursor)
        found.partial = found.partial or number == 2
    if number > 2 or not _ALL_LOOPS.isdisjoint(kinds[start:j]):
        found.closed = True
    elif found.legs:
        found.partial = True
    return True


def placed(found: Movements, stitch: Stitch) -> tuple[Stitch, Place]:
    """The stitch and the place it takes, for a stitch spelled out within a line."""
    uses = max(found.uses, 1)
    place = found.place or Place(How.NEXT)
    if place.how in _COUNTED:
        place = replace(place, number=(uses,))
    return (stitch if stitch.uses == uses else replace(stitch, uses=uses)), place


def named_after(cursor: Cursor) -> Named | None:
    """The name behind the movements: " - sc2tog made"."""
    kinds = cursor.kinds
    j = cursor.i + 1 if kinds[cursor.i] == "." else cursor.i
    if kinds[j] not in {"-", "--", ",", "("}:
        return None
    bracket = kinds[j] == "("
    name = j + 1
    after = name + (2 if bracket and kinds[name + 2] == ")" else 1)
    if kinds[name] == "stitch" and kinds[name + 1] in {"total", "word"}:
        cursor.i = after + 1
        return cursor.named(name)
    if kinds[name] == "decrease" and kinds[name + 1] == "total":
        cursor.i = after + 1
    return None
