"""Stitches spelled out as hand movements: "Draw up a loop in each of next 2 sc. Yoh and draw through ...".

This is how a stitch is made, not a run of stitches: brackets and "twice" repeat hand movements, and
"2 loops" are loops on the hook. What counts is where the hook goes in, and the closing draw-through.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from craft.notation.steps.cursor import Cursor
from craft.notation.steps.places import PREPOSITIONS, PlaceReader
from craft.notation.stitches import PLAIN, Named, post, together
from craft.notation.tree import ONE, How, Numbers, Place, Stitch

__all__ = ["Movements", "read_movements"]

_LINKS = frozenset(("and", ",", "then", ".", ";", "-", "--", "work", ":"))
_MOVES = frozenset(("yoh", "draw", "insert"))


@dataclass(slots=True)
class Movements:
    """What a run of hand movements comes to.

    `legs`: how often the hook goes in; `uses`: places that it goes into; `overs`: yarns over before the
    first leg; `partial`: a leg is drawn through 2 loops before the close; `post`: "front", "back".
    """

    legs: int = 0
    uses: int = 0
    overs: int = 0
    partial: bool = False
    closed: bool = False
    post: str | None = None
    place: Place | None = None
    by_size: Numbers | None = None

    def base(self) -> str:
        """The plain stitch that each leg is: no yarn over sc, one hdc or dc, two tr ..."""
        if self.overs == 1:
            return "dc" if self.partial else "hdc"
        return PLAIN[0 if not self.overs else min(self.overs + 1, len(PLAIN) - 1)]

    def stitch(self) -> Stitch:
        """The stitch that the movements make."""
        base = self.base()
        if self.post is not None and self.legs <= 1:
            return post(base, self.post).stitch
        if self.uses > 1:
            return together(base, self.uses).stitch
        if self.legs > 1:
            return Stitch("cluster" if self.partial or base != "hdc" else "puff st", tally=(("cluster", 1),))
        return Stitch(base, tally=((base, 1),))


def read_movements(cursor: PlaceReader) -> Movements | None:
    """Read hand movements from the cursor on; None (and no move) when there are none."""
    start = cursor.i
    found = Movements()
    _run(cursor, cursor.end, found)
    if not found.legs:
        cursor.i = start
        return None
    return found


def _run(cursor: PlaceReader, stop: int, found: Movements) -> None:
    kinds = cursor.kinds
    star: tuple[int, int, int] | None = None
    inserted = False
    while cursor.i < stop:
        kind = kinds[cursor.i]
        good = cursor.i
        if kind in _LINKS:
            while cursor.i < stop and kinds[cursor.i] in _LINKS:
                cursor.i += 1
            if found.closed and any(kinds[j] in {".", "-", "--", ";"} for j in range(good, cursor.i)):
                cursor.i = good
                return
            if not (cursor.i < stop and _goes_on(cursor, cursor.i)):
                cursor.i = good
                return
            continue
        if kind == "yoh":
            cursor.i += 1
            times = 1
            if kinds[cursor.i] == "multi" or (kinds[cursor.i] == "num" and kinds[cursor.i + 1] == "times"):
                times = _times(cursor)
            if not found.legs:
                found.overs += times
        elif kind == "insert" and kinds[cursor.i + 1] == "from" and found.legs:
            while cursor.i < stop and kinds[cursor.i] not in {".", ";", ","}:
                cursor.i += 1  # "inserting hook from right to left"
        elif kind == "insert":
            cursor.i += 1
            _leg(cursor, found)
            inserted = True
        elif kind == "draw":
            cursor.i += 1
            if _through(cursor, found):
                inserted = False
            else:
                if kinds[cursor.i] not in {"noun", "word"} and not str(cursor.values[good]).endswith("loop"):
                    cursor.i = good
                    return
                while kinds[cursor.i] in {"noun", "to", "up", "tail", "word"} and kinds[cursor.i + 1] != "":
                    cursor.i += 1
                if not inserted or kinds[cursor.i] in PREPOSITIONS:
                    _leg(cursor, found)
                inserted = False
        elif kind == "(":
            if not _bracket(cursor, found):
                return
        elif kind == "*" and star is None and _goes_on(cursor, cursor.i + 1):
            cursor.i += 1
            star = (found.legs, found.uses, cursor.i)
        elif kind == "rep" and star is not None:
            _rep(cursor, found, star)
            star = None
        else:
            return


def _goes_on(cursor: Cursor, at: int) -> bool:
    kinds = cursor.kinds
    kind = kinds[at]
    if kind in _MOVES or kind == "*":
        return True
    if kind == "rep":
        return "*" in kinds[at : at + 3]
    if kind == "(":
        return kinds[at + 1] in _MOVES or (kinds[at + 1] == "*" and kinds[at + 2] in _MOVES)
    return False


def _times(cursor: Cursor) -> int:
    """Such as "twice", "3 times", "2 more times"; moves past it."""
    kinds = cursor.kinds
    if kinds[cursor.i] == "multi":
        value = cursor.ordinal(cursor.i)
        cursor.i += 1
    else:
        number = cursor.number(cursor.i)
        value = number[0] or 1
        cursor.i += 1
        more = False
        while kinds[cursor.i] in {"times", "more", "x"}:
            more = more or kinds[cursor.i] == "more"
            cursor.i += 1
        return min(value + (1 if more else 0), 99)
    if kinds[cursor.i] == "more":
        cursor.i += 1
        value += 1
    return min(value, 99)


def _leg(cursor: PlaceReader, found: Movements) -> None:
    """The hook goes in: once, or in each of several places."""
    kinds, values = cursor.kinds, cursor.values
    number = 1
    fresh = True
    if kinds[cursor.i] in PREPOSITIONS or kinds[cursor.i] in {"from"}:
        around = kinds[cursor.i] == "around" or kinds[cursor.i + 1] == "post"
        place = cursor.place()
        if place is not None:
            if place.number is not None and place.how in {How.NEXT, How.FIRST, How.LAST}:
                number = max((n for n in place.number if n is not None), default=1)
            fresh = place.how not in {How.SAME, How.BARE, How.RING}
            if found.place is None:
                found.place = place
            if around:
                found.post = found.post or "front"
    while (
        kinds[cursor.i] not in {".", ";", "", ",", "and", "-", "(", ")", "yoh"}
        and kinds[cursor.i] not in _MOVES
    ):
        if kinds[cursor.i] == "word" and values[cursor.i] == "back":
            found.post = "back" if found.post else None
        if kinds[cursor.i] == "behind":
            found.post = "front" if values[cursor.i] == "in front of" else "back"
        cursor.i += 1
    found.legs += number
    found.uses += number if fresh else 0


def _through(cursor: Cursor, found: Movements) -> bool:
    """Such as "draw through 2 loops", "draw B through all loops on hook"."""
    kinds = cursor.kinds
    j = cursor.i
    while kinds[j] in {"word", "tail", "noun"} and j < cursor.i + 3:
        j += 1
    if kinds[j] != "through":
        return False
    j += 1
    closing = False
    number = 0
    while kinds[j] in {
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
    }:
        if kinds[j] in {"each", "rem", "free loop"}:
            closing = True
        elif kinds[j] == "num":
            number = cursor.number(j)[0] or 0
        elif kinds[j] == "last":
            closing = True
        j += 1
    cursor.i = j
    if kinds[j] == "multi" or (kinds[j] == "num" and kinds[j + 1] == "times"):
        _times(cursor)
        found.partial = found.partial or number == 2
    if closing or number > 2:
        found.closed = True
    elif found.legs:
        found.partial = True
    return True


def _bracket(cursor: PlaceReader, found: Movements) -> bool:
    """Movements in brackets, done several times or in each of several stitches."""
    close = cursor.match.get(cursor.i)
    kinds = cursor.kinds
    if close is None:
        return False
    start = cursor.i
    inner = Movements(overs=found.overs, legs=0, post=found.post)
    cursor.i += 1
    _run(cursor, close, inner)
    if not inner.legs and not (kinds[start + 1] == "yoh" or kinds[start + 1] == "draw"):
        cursor.i = start
        return False
    cursor.i = close + 1
    times = 1
    if kinds[cursor.i] == "multi" or (
        kinds[cursor.i] == "num" and kinds[cursor.i + 1] in {"times", "more", "x"}
    ):
        times = _times(cursor)
    uses = inner.uses * times
    if kinds[cursor.i] in PREPOSITIONS:
        place = cursor.place()
        if place is not None:
            found.place = found.place or place
            if (
                place.how in {How.NEXT, How.FIRST, How.LAST}
                and place.number is not None
                and inner.uses == 0
                and times == 1
            ):
                times = max((n for n in place.number if n is not None), default=1)
                uses = times
            elif inner.uses == 0 or place.how in {How.SAME, How.RING} or place.number == ONE:
                uses = 1
    if not inner.legs and not found.legs and kinds[start + 1] == "yoh":
        found.overs += times if inner.overs <= found.overs + 1 else inner.overs
    elif not inner.legs and found.legs:
        found.partial = True
    if not found.legs and inner.legs:
        found.overs = max(found.overs, inner.overs)
    found.legs += inner.legs * times
    found.uses += uses
    found.partial = found.partial or inner.partial
    found.closed = found.closed or (inner.closed and times == 1)
    found.post = found.post or inner.post
    if found.place is None:
        found.place = inner.place
    return True


def _rep(cursor: Cursor, found: Movements, star: tuple[int, int, int]) -> None:
    """Such as "rep from * 2 more times" among hand movements."""
    kinds = cursor.kinds
    cursor.i += 1
    while kinds[cursor.i] in {"from", "*"}:
        cursor.i += 1
    times = 1
    if kinds[cursor.i] == "multi" or kinds[cursor.i] == "num":
        number = cursor.ordinal(cursor.i) if kinds[cursor.i] == "multi" else (cursor.number(cursor.i)[0] or 1)
        cursor.i += 1
        while kinds[cursor.i] in {"times", "more", "x"}:
            cursor.i += 1
        times = min(number, 99)
    legs, uses, _ = star
    found.legs += (found.legs - legs) * times
    found.uses += (found.uses - uses) * times


def placed(found: Movements, stitch: Stitch) -> tuple[Stitch, Place]:
    """The stitch and the place it takes, for a stitch spelled out within a line."""
    uses = max(found.uses, 1)
    place = found.place or Place(How.NEXT)
    if place.how in {How.NEXT, How.FIRST, How.LAST}:
        place = replace(place, number=(uses,))
    if (stitch.uses != uses and stitch.uses != 1) or (uses > 1 and stitch.uses == 1):
        stitch = replace(stitch, uses=uses)
    return stitch, place


def named_after(cursor: Cursor) -> Named | None:
    """Such as " - sc2tog made" behind the movements."""
    kinds = cursor.kinds
    j = cursor.i
    if kinds[j] == "." and kinds[j + 1] in {"-", "--"}:
        j += 1
    if kinds[j] in {"-", "--", ",", "("}:
        bracket = kinds[j] == "("
        j += 1
        if kinds[j] == "stitch":
            named = cursor.values[j]
            if kinds[j + 1] in {"total", "word"}:
                cursor.i = j + (3 if bracket and kinds[j + 2] == ")" else 2)
                return named if isinstance(named, Named) else None
        if kinds[j] in {"decrease"} and kinds[j + 1] == "total":
            cursor.i = j + (3 if bracket and kinds[j + 2] == ")" else 2)
    return None
