"""Counts that a line prints: `(24 sc, 6 ch-1 sps)`, `24 sts.`, `= 24`, `- 45 (48, 51) sc`."""

from __future__ import annotations

from collections.abc import Callable

from craft.notation.steps.places import PlaceReader
from craft.notation.tree import ONE, Counted, Span, StatedCount

__all__ = ["CountReader"]

_END = frozenset((".", ";", "", ")", ":", ",", "--", "("))
_LINK = frozenset((",", "and", "+", "-", "--", "/", "|", "or", "="))
_AFTER = frozenset(("total", "rem", "around", "across", "here", "left"))
_BEFORE = frozenset(("for", "of", "="))
_NO_KIND = _END | _LINK | _AFTER | {"counts", "counts not", "in", "on", "after"}
_AFTER_COMMA = frozenset(("num", "and", "+", "counts", "counts not", "ch"))
_ENDS_A_COUNT_IN_WORDS = frozenset((".", ";", "", ",", ")"))
_END_WORDS = frozenset(("of", "row", "rnd", "num", "ord", "last", "this", "each"))
_PLAIN_KINDS = {
    "sl": "sl st",
    "pattern": "pattern",
    "in pattern": "pattern",
    "side": "pattern",
    "increase": "inc",
    "decrease": "dec",
}


class _Tally:
    """A printed count while it is being read."""

    __slots__ = ("change", "included", "items", "round_number")

    def __init__(self) -> None:
        self.items: list[Counted] = []
        self.included: bool | None = None
        self.change: int | None = None
        self.round_number: int | None = None


def _one_list(items: list[Counted]) -> list[Counted]:
    """Such as "(40, 45, 50 sc)" in three sizes: one count, not three."""
    if any(item.what != "total" for item in items[:-1]) or any(len(item.number) != 1 for item in items):
        return items
    number = tuple(item.number[0] for item in items)
    return [Counted(items[-1].what, number, Span(items[0].span.start, items[-1].span.end))]


class CountReader(PlaceReader):
    """Reads printed counts; never moves when there is none."""

    __slots__ = ()

    def count(self, *, stops: frozenset[str], need_unit: bool) -> StatedCount | None:
        """A count from the present token to one of `stops`."""
        start = self.i
        tally = _Tally()
        while self._count_part(tally):
            pass
        items = tally.items
        if items:
            tally.round_number = self._at_end_of()
        alone = need_unit and len(items) == 1 and items[0].what == "total"
        if alone and items[0].span.end == self.ends[start]:
            items = []  # a number with no unit
        if self.sizes > 1 and len(items) == self.sizes:
            items = _one_list(items)
        if not items or self.kinds[self.i] not in stops:
            self.i = start
            return None
        return StatedCount(tuple(items), self.span(start), tally.included, tally.change, tally.round_number)

    def _change(self, at: int) -> int | None:
        """Six of "(12, +6)": as many more than before; "+½" is no number of stitches."""
        more = self.values[at]
        return more[0] if isinstance(more, tuple) else None

    def _count_part(self, tally: _Tally) -> bool:
        """Read one item, link or remark of a count; False at its end."""
        kind = self.kinds[self.i]
        if kind == "num":
            return self._item(tally)
        if not tally.items:
            return self._before_items(kind, tally)
        if kind == "ch" and self.kinds[self.i - 1] in {"and", ",", "+"} and self.space_ahead():
            first = self.i
            tally.items.append(Counted(self.counted_chains(), ONE, self.span(first)))
        elif kind == "+" and self.kinds[self.i - 1] == "," and self.kinds[self.i + 2] == ")":
            tally.change = self._change(self.i + 1)
            self.i += 2
        elif kind in _LINK:
            if kind == "," and self.kinds[self.i + 1] not in _AFTER_COMMA:
                return False
            self.i += 1
        elif kind in _AFTER:
            return self._after_items(kind, tally)
        elif kind in {"counts", "counts not"}:
            tally.included = kind == "counts"
            while self.kinds[self.i] not in {")", ".", ""}:
                self.i += 1
        else:
            return False
        return True

    def _after_items(self, kind: str, tally: _Tally) -> bool:
        if self.values[self.i] in {"increased", "decreased"}:
            tally.items.clear()  # "8 sts increased": a change, no count
        self.i += 1
        return kind not in {"around", "across"} or self.kinds[self.i] in _END

    def _before_items(self, kind: str, tally: _Tally) -> bool:
        if kind == "+" and self.kinds[self.i + 1] == "num":
            tally.change = self.number(self.i + 1)[0]
            self.i += 2
        elif kind in _BEFORE or kind in {"total", "here"}:
            self.i += 1
        else:
            return False
        return True

    def _at_end_of(self) -> int | None:
        """Such as "25 sc at (the) end of Row 37": the round that the count is for."""
        kinds = self.kinds
        start = self.i
        if kinds[start] not in {"in", "on", "after"}:
            return None
        if kinds[start + 1] not in {"end", "row", "rnd", "ending", "last", "working"}:
            return None
        self.i += 2 if kinds[start + 1] in {"end", "ending", "working"} else 1
        found: int | None = None
        while kinds[self.i] in _END_WORDS:
            if kinds[self.i] == "num":
                found = self.number(self.i)[0]
            elif kinds[self.i] == "ord":
                found = self.ordinal(self.i)
            elif kinds[self.i] == "last":
                found = 0
            self.i += 1
        if self.i > start + 1 and self.values[self.i] == "worked":
            self.i += 1  # "on last row worked"
        if self.i == start + 1:
            self.i = start
        return found

    def _item(self, tally: _Tally) -> bool:
        """One number and what it counts."""
        kinds = self.kinds
        first = self.i
        number = self.number(first)
        self.i += 2 if kinds[first + 1] == "rem" else 1
        what = self._counted_kind()
        if what is None:
            return False
        if kinds[self.i] == "each" and kinds[self.i + 1] == "side":
            self.i += 2
            what = f"{what} each side"
        tally.items.append(Counted(what, number, Span(self.starts[first], self.ends[self.i - 1])))
        return True

    def _counted_kind(self) -> str | None:
        """What a number counts; None when this can be no count."""
        kind = self.kinds[self.i]
        read = _COUNTED.get(kind)
        if read is not None:
            return read(self)
        if kind in _NO_KIND:
            return "total"
        what = _PLAIN_KINDS.get(kind)
        if what is not None:
            self.i += 1
            if what == "pattern" and self.kinds[self.i] == "rep":
                self.i += 1
        return what

    def counted_number(self) -> str | None:
        """Such as "(37) 5-dc groups", "(9) 3 ch loops"."""
        following = self.kinds[self.i + 1]
        if following not in {"-", "ch"}:
            return None
        self.number_noun()
        return "group" if following == "-" else "ch"

    def counted_stitch(self) -> str | None:
        what = self.named(self.i).stitch.name
        self.i += 1
        if self.kinds[self.i] == "noun":
            noun = str(self.values[self.i])
            self.i += 1
            return what if noun == "st" else noun
        return what

    def counted_noun(self) -> str | None:
        what = str(self.values[self.i])
        self.i += 1
        if what == "group":
            self._of_group()
        return "total" if what == "st" else what

    def counted_word(self) -> str | None:
        word = str(self.values[self.i])
        if self.kinds[self.i + 1] in {")", ".", ",", "and", ""} and word.isalpha() and len(word) > 2:
            self.i += 1
            return word
        return None

    def _of_group(self) -> None:
        """Such as "51 groups of 4 trfp": the rest of the name."""
        kinds = self.kinds
        if kinds[self.i] == "of" and kinds[self.i + 1] == "num":
            self.i += 3 if kinds[self.i + 2] == "-" else 2
            if kinds[self.i] in {"stitch", "noun"}:
                self.i += 1

    def counted_chains(self) -> str:
        """Such as "ch-2 sps" -> "ch-2 sp"; "ch" -> "ch"."""
        self.i += 1
        what, chains = self.chain_noun()
        if what != "ch-sp":
            return "ch"
        return "ch-sp" if chains is None else f"ch-{chains} sp"

    def words_count(self) -> StatedCount | None:
        """Such as "You should have 45 stitches", "for a total of 45 sc", "makes 9 petals"."""
        start = self.i
        for j in range(self.i, min(self.end, self.i + 9)):
            kind = self.kinds[j]
            if kind == "num":
                self.i = j
                found = self.count(stops=_ENDS_A_COUNT_IN_WORDS, need_unit=False)
                if found is None:
                    self.i = start
                return found
            if kind in {".", ";", "(", ")"}:
                break
        return None


_COUNTED: dict[str, Callable[[CountReader], str | None]] = {
    "stitch": CountReader.counted_stitch,
    "noun": CountReader.counted_noun,
    "corner": CountReader.counted_noun,
    "ch": CountReader.counted_chains,
    "num": CountReader.counted_number,
    "word": CountReader.counted_word,
}
