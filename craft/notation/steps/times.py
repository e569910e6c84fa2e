"""How a repeat ends: "5 times", "4 times more", "x 6", "around", "to last 3 sts"."""

from __future__ import annotations

from craft.notation.steps.counting import CountReader
from craft.notation.tree import Numbers, Times

__all__ = ["TimesReader"]


def _one(value: object) -> Numbers:
    assert isinstance(value, int)
    return (value,)


class TimesReader(CountReader):
    """Reads the end of a repeat; never moves when there is none."""

    __slots__ = ()

    def times(self, *, bracket: bool) -> Times | None:
        """`bracket`: after a bracket "5 times" means 5 in all; after a star it is not said."""
        kinds = self.kinds
        start = self.i
        if kinds[self.i] == "," and kinds[self.i + 1] in {"around", "across", "to", "until", "rep"}:
            self.i += 1
        if kinds[self.i] == "rep" and kinds[self.i + 1] in {"num", "multi", "around", "across", "to"}:
            self.i += 1
        kind = kinds[self.i]
        unsaid = False if bracket else None
        if kind == "num":
            found = self._number(unsaid)
        elif kind == "multi":
            number = _one(self.values[self.i])
            self.i += 1
            found = Times(number, more=self._more(unsaid))
        elif kind in {"x", "times"} and kinds[self.i + 1] == "num":
            self.i += 2
            found = Times(self.number(self.i - 1), more=self._more(False))
            if kinds[self.i] in {"times", "x"}:
                self.i += 1
        elif kind == "*" and kinds[self.i + 1] == "num" and bracket:
            self.i += 2
            found = Times(self.number(self.i - 1), more=False)
        elif kind == "total" and kinds[self.i + 1] == "num":
            self.i += 1
            found = self._number(False)
            if found is not None:
                found = Times(found.number, more=False)
        elif kind in {"around", "across", "to", "until"}:
            found = self._limits()
        else:
            found = None
        if found is None:
            self.i = start
        return found

    def _number(self, unsaid: bool | None) -> Times | None:
        """Such as "5 times", "4 more times", "4 times more", "6 x"."""
        kinds = self.kinds
        number = self.number(self.i)
        self.i += 1
        more = unsaid
        if kinds[self.i] == "more":
            more = True
            self.i += 1
            if kinds[self.i] == "times":
                self.i += 1
            return Times(number, more=more)
        if kinds[self.i] not in {"times", "x"}:
            return None
        text = self.values[self.i]
        self.i += 1
        if isinstance(text, str) and ("all" in text or "total" in text):
            return Times(number, more=False)
        return Times(number, more=self._more(more))

    def _more(self, more: bool | None) -> bool | None:
        if self.kinds[self.i] == "more":
            self.i += 1
            return True
        if self.kinds[self.i] == "total":
            self.i += 1
            return False
        return more

    def _limits(self) -> Times | None:
        start = self.i
        if self.kinds[self.i] in {"to", "until"} and self.kinds[self.i + 1] == "*":
            return None
        keep, until = self.limit()
        if self.i == start:
            return None
        if keep is not None:
            return Times(until_left=keep)
        if until is not None:
            return Times(until_what=until)
        return Times(to_end=True)
