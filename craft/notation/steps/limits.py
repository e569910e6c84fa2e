"""How far: "around", "across to last 3 sts", "to end of row", "to next corner", "to 1 st before marker"."""

from __future__ import annotations

from craft.notation.steps.determiners import DeterminerReader
from craft.notation.tree import ONE, How, Numbers, Place
from craft.notation.words import wordset

__all__ = ["LimitReader"]

_LIMIT_WORDS = frozenset(("to", "until", "within", "before"))
_BEHIND_A_LIMIT = wordset("rem of end before row rnd ending from left skipped unworked")
_LANDMARKS = wordset(
    "next marked marker corner beg turning top center first noun ch other prev stitch row rnd same ord side"
)
_NO_MORE = frozenset((".", ",", ";", "", ")", "--"))


class LimitReader(DeterminerReader):
    """Reads how far a stitch or a repeat goes."""

    __slots__ = ()

    def limit(self) -> tuple[Numbers | None, str | None]:
        """Such as "around", "across to last 3 sts", "to end of row", "to 1 st before marker".

        Returns (places kept, landmark); (None, None), with the position moved, when it says "to the end".
        """
        kinds = self.kinds
        while kinds[self.i] in {"around", "across"}:
            self.i += 2 if kinds[self.i + 1] == "side" else 1
            if kinds[self.i] in {"row", "rnd"}:
                self.i += 2 if kinds[self.i + 1] == "num" else 1  # "across row 66"
        if kinds[self.i] == "," and kinds[self.i + 1] in {"to", "until"}:
            self.i += 1
        start = self.i
        if kinds[start] not in _LIMIT_WORDS:
            return None, None
        self.i += 1
        kind = kinds[self.i]
        if kind == "end" or (kind == "ending" and self.values[self.i] in {"end", "ends"}):
            self.i += 1
            self.of_what()
            return None, None
        if kind == "within":
            self.i += 1
        found = self._kept() or self._to_landmark()
        if found is None:
            self.i = start
            return None, None
        return found

    def _kept(self) -> tuple[Numbers | None, str | None] | None:
        """Such as "(to) last 3 sts", "(until) 2 sts remain", "(to) last st", "(to) 1 st before marker"."""
        kinds = self.kinds
        start = self.i
        last = kinds[self.i] == "last"
        if last:
            self.i += 1
        if kinds[self.i] == "num":
            number = self.number(self.i)
            self.i += 1
            what, _ = self.noun()
            if what is None and not last:
                self.i = start
                return None
            if kinds[self.i] == "before" and not last:
                self.i += 1
                return number, self._landmark()
            while kinds[self.i] in _BEHIND_A_LIMIT:
                self.i += 1
            return self._and_more(number), None
        if last:
            what, _ = self.noun()
            self.of_what()
            if what is not None:
                return (self._and_more(ONE), None) if what != "edge" else (None, "edge")
        self.i = start
        return None

    def _and_more(self, number: Numbers) -> Numbers:
        """Such as "(to last V-st) and 2 dc", "(to last sc) and dc": the sum."""
        kinds = self.kinds
        while kinds[self.i] == "and":
            start = self.i
            self.i += 1
            more = ONE
            if kinds[self.i] == "num" and kinds[self.i + 1] not in {"-", "times"}:
                more = self.number(self.i)
                self.i += 1
            what, _ = self.noun()
            if what is None or kinds[self.i] not in _NO_MORE:
                self.i = start
                break
            first, second = (number, more) if len(number) >= len(more) else (more, number)
            second = second * len(first) if len(second) == 1 else second
            number = tuple(a and b and a + b for a, b in zip(first, second, strict=False))
        return number

    def _to_landmark(self) -> tuple[Numbers | None, str | None] | None:
        return (None, self._landmark()) if self.kinds[self.i] in _LANDMARKS else None

    def _landmark(self) -> str:
        """Such as "next corner", "marked sc", "marker": where to stop."""
        kinds = self.kinds
        place = self.core(self.i)
        if place is None:
            while kinds[self.i] in {"marker", "marked", "next", "beg", "center", "ord", "first", "last"}:
                self.i += 1
            return "marker"
        if place.how is How.SAME:
            return "same"
        if place.of in {"marked", "corner"}:
            return "marker" if place.of == "marked" else "corner"
        return f"ch-{place.chains} sp" if place.what == "ch-sp" and place.chains else place.what

    def of_what(self) -> None:
        """Pass over "of row", "of previous rnd", "of foundation ch"."""
        kinds = self.kinds
        while kinds[self.i] == "of":
            j = self.i + 1
            while kinds[j] in {"this", "prev", "last", "beg", "each", "ord"}:
                j += 1
            if kinds[j] not in {"row", "rnd", "ch", "side", "pattern"}:
                return
            if kinds[j] == "ch" and (kinds[j - 1] == "beg" or kinds[j + 1] in {"-", "num"}):
                return  # "3rd ch of beg ch-5" names a place
            self.i = j + (2 if kinds[j + 1] == "num" else 1)

    def core(self, start: int) -> Place | None:
        """Declared here, read by the layer above: a place without its preposition."""
        raise NotImplementedError
