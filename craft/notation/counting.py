"""Counts that a line prints: `(24 sc, 6 ch-1 sps)`, `24 sts.`, `= 24`, `- 45 (48, 51) sc`."""

from __future__ import annotations

from craft.notation.places import PlaceReader
from craft.notation.stitches import Named
from craft.notation.tree import ONE, Counted, Span, StatedCount

__all__ = ["CountReader"]

_END = frozenset((".", ";", "", ")", ":", ",", "--", "("))
_LINK = frozenset((",", "and", "+", "-", "--", "/", "|", "or", "="))
_AFTER = frozenset(("total", "rem", "around", "across", "here", "left"))


class CountReader(PlaceReader):
    """Reads printed counts; never moves when there is none."""

    __slots__ = ()

    def count(self, *, stops: frozenset[str], need_unit: bool) -> StatedCount | None:
        """A count from the present token to one of `stops`."""
        kinds = self.kinds
        start = self.i
        items: list[Counted] = []
        included: bool | None = None
        change: int | None = None
        while True:
            kind = kinds[self.i]
            if kind == "num":
                item = self._item()
                if item is None:
                    break
                items.append(item)
            elif kind == "ch" and items and kinds[self.i - 1] in {"and", ",", "+"} and self._space_ahead():
                items.append(self._one_space())
            elif kind in _LINK and items:
                if kind == "+" and kinds[self.i + 1] == "num" and kinds[self.i + 2] in {")", ""} and False:
                    break
                self.i += 1
                if kind == "," and kinds[self.i] not in {"num", "and", "+", "counts", "counts not", "ch"}:
                    self.i -= 1
                    break
            elif kind == "+" and kinds[self.i + 1] == "num" and not items:
                change = self.number(self.i + 1)[0]
                self.i += 2
            elif kind in {"total", "here"} or (kind in {"for", "of", "="} and not items):
                self.i += 1
            elif kind in _AFTER and items:
                self.i += 1
                if kind in {"around", "across"} and kinds[self.i] not in _END:
                    break
            elif kind in {"counts", "counts not"} and items:
                included = kind == "counts"
                while kinds[self.i] not in {")", ".", ""}:
                    self.i += 1
            else:
                break
        round_number = self._at_end_of() if items else None
        good = items and kinds[self.i] in stops
        if good and need_unit and all(item.what == "total" and item.span.end - item.span.start == self.ends[start] - self.starts[start] for item in items):
            good = False
        if not good:
            self.i = start
            return None
        return StatedCount(tuple(items), self.span(start), included, change, round_number)

    def _at_end_of(self) -> int | None:
        """ "25 sc at (the) end of Row 37": the round that the count is for."""
        kinds = self.kinds
        start = self.i
        if kinds[self.i] not in {"in", "on", "after"} or kinds[self.i + 1] not in {"end", "row", "rnd", "ending", "last"}:
            return None
        self.i += 1
        if kinds[self.i] in {"end", "ending"}:
            self.i += 1
        found: int | None = None
        while kinds[self.i] in {"of", "row", "rnd", "num", "ord", "last", "this", "each"}:
            if kinds[self.i] == "num":
                found = self.number(self.i)[0]
            elif kinds[self.i] == "ord":
                found = self.ordinal(self.i)
            elif kinds[self.i] == "last":
                found = 0
            self.i += 1
        if self.i == start + 1:
            self.i = start
        return found

    def _item(self) -> Counted | None:
        """One number and what it counts."""
        kinds, values = self.kinds, self.values
        first = self.i
        number = self.number(first)
        self.i += 1
        what = "total"
        kind = kinds[self.i]
        if kind == "rem":
            self.i += 1
            kind = kinds[self.i]
        if kind == "ch":
            what = self._chains()
        elif kind == "num" and kinds[self.i + 1] in {"-", "ch"}:
            what = "group" if kinds[self.i + 1] == "-" else "ch"
            self._number_noun()
        elif kind == "stitch":
            named = values[self.i]
            assert isinstance(named, Named)
            what = named.stitch.name
            self.i += 1
            if kinds[self.i] == "noun":
                what = str(values[self.i]) if values[self.i] not in {"st"} else what
                self.i += 1
        elif kind == "noun":
            what = str(values[self.i])
            what = "total" if what == "st" else what
            self.i += 1
            if what == "group":
                self._of_group()
        elif kind == "sl":
            what = "sl st"
            self.i += 1
        elif kind in {"pattern", "in pattern", "side"}:
            what = "pattern"
            self.i += 1
            if kinds[self.i] == "rep":
                self.i += 1
        elif kind == "word" and kinds[self.i + 1] in {")", ".", ",", "and", ""} and str(values[self.i]).isalpha() and len(str(values[self.i])) > 2:
            what = str(values[self.i])
            self.i += 1
        elif kind in {"increase", "decrease"}:
            what = "inc" if kind == "increase" else "dec"
            self.i += 1
        elif kind not in _END and kind not in _LINK and kind not in _AFTER and kind != "counts" and kind != "(":
            return None
        return Counted(what, number, self.span(first))

    def _one_space(self) -> Counted:
        """ "10 hdc and ch-3 sp": a space without its number is one."""
        first = self.i
        what = self._chains()
        return Counted(what, ONE, self.span(first))

    def _of_group(self) -> None:
        """ "51 groups of 4 trfp": the rest of the name."""
        kinds = self.kinds
        if kinds[self.i] == "of" and kinds[self.i + 1] == "num":
            self.i += 2
            if kinds[self.i] == "-":
                self.i += 1
            if kinds[self.i] in {"stitch", "noun"}:
                self.i += 1

    def _chains(self) -> str:
        """ "ch-2 sps" -> "ch-2 sp"; "ch" -> "ch"."""
        self.i += 1
        what, chains = self._chain_noun()
        if what == "ch-sp":
            return f"ch-{chains} sp" if chains is not None else "ch-sp"
        return "ch"

    def words_count(self) -> StatedCount | None:
        """ "You should have 45 stitches", "for a total of 45 sc", "makes 9 petals"."""
        start = self.i
        for j in range(self.i, min(self.end, self.i + 9)):
            if self.kinds[j] == "num":
                self.i = j
                found = self.count(stops=_SENTENCE, need_unit=False)
                if found is None:
                    self.i = start
                return found
            if self.kinds[j] in {".", ";", "(", ")"}:
                break
        return None


_SENTENCE = frozenset((".", ";", "", ",", ")"))
