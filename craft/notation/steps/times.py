"""How a repeat ends: "5 times", "4 times more", "x 6", "around", "to last 3 sts"."""

from __future__ import annotations

from craft.notation.steps.counting import CountReader
from craft.notation.tree import Numbers, Times

__all__ = ["TimesReader"]

_LIMITS = frozenset(("around", "across", "to", "until"))
_TO_THE_END = Times(to_end=True)


class TimesReader(CountReader):
    """Reads the end of a repeat; never moves when there is none."""

    __slots__ = ()

    def times(self, *, bracket: bool) -> Times | None:
        """How often. `bracket`: after a bracket "5 times" means 5 in all; after a star it is not said."""
        kinds = self.kinds
        start = self.i
        if kinds[start] == "," and (kinds[start + 1] in _LIMITS or kinds[start + 1] == "rep"):
            self.i += 1
        if kinds[self.i] == "rep" and kinds[self.i + 1] in {"num", "multi", "around", "across", "to"}:
            self.i += 1
        fenced = kinds[self.i : self.i + 3] == ["(", "num", ")"] and kinds[self.i + 3] in {"times", "more"}
        if fenced:  # "[5 (5, 7)] times more"
            return self._fenced(start, unsaid=False if bracket else None)
        kind = kinds[self.i]
        unsaid = False if bracket else None
        found: Times | None = None
        if kind in _LIMITS:
            found = self._limits()
        elif kind == "num":
            found = self._number(unsaid)
        elif kind == "multi":
            self.i += 1
            found = Times((self.ordinal(self.i - 1),), more=self._more(unsaid))
        else:
            found = self._multiple(kind, bracket=bracket)
        if found is None:
            self.i = start
        return found

    def _fenced(self, start: int, *, unsaid: bool | None) -> Times | None:
        number = self.number(self.i + 1)
        self.i += 2
        found = self._times_behind(number, unsaid)
        if found is None:
            self.i = start
        return found

    def _multiple(self, kind: str, *, bracket: bool) -> Times | None:
        """Such as "x 6", "times 6", "* 6" behind a bracket, "a total of 6 times"."""
        kinds = self.kinds
        if kinds[self.i + 1] != "num":
            return None
        if kind == "total":
            self.i += 1
            found = self._number(unsaid=False)
            return None if found is None else Times(found.number, more=False)
        if kind not in {"x", "times"} and not (kind == "*" and bracket):
            return None
        self.i += 2
        number = self.number(self.i - 1)
        if kind == "*":
            return Times(number, more=False)
        more = self._more(unsaid=False)
        if kinds[self.i] in {"times", "x"}:
            self.i += 1
        return Times(number, more=more)

    def _number(self, unsaid: bool | None) -> Times | None:
        """Such as "5 times", "4 more times", "4 times more", "6 x", "6 times in all"."""
        return self._times_behind(self.number(self.i), unsaid)

    def _times_behind(self, number: Numbers, unsaid: bool | None) -> Times | None:
        kinds = self.kinds
        self.i += 1
        if kinds[self.i] == "more":
            self.i += 2 if kinds[self.i + 1] == "times" else 1
            return Times(number, more=True)
        if kinds[self.i] not in {"times", "x"}:
            return None
        text = str(self.values[self.i])
        self.i += 1
        in_all = "all" in text or "total" in text
        return Times(number, more=False if in_all else self._more(unsaid))

    def _more(self, unsaid: bool | None) -> bool | None:
        kind = self.kinds[self.i]
        if kind == "more":
            self.i += 1
            return True
        if kind == "total":
            self.i += 1
            return False
        return unsaid

    def _limits(self) -> Times | None:
        start = self.i
        if self.kinds[start] in {"to", "until"} and self.kinds[start + 1] == "*":
            return None
        keep, until = self.limit()
        if self.i == start:
            return None
        if keep is not None:
            return Times(until_left=keep)
        return _TO_THE_END if until is None else Times(until_what=until)
