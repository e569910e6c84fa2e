"""Which places of a kind: "each of next 5", "first", "same", "2nd", "center", "top of"."""

from __future__ import annotations

from craft.notation.steps.nouns import NounReader
from craft.notation.tree import NONE_KEPT, ONE, How, Loops, Numbers
from craft.notation.words import wordset

__all__ = ["DeterminerReader", "Found"]

_SPECIAL = wordset("marked skipped unworked center beg turning top other prev corner")
_PLAIN: dict[str, tuple[How, Numbers | None, int]] = {
    "first": (How.FIRST, ONE, 1),
    "last": (How.LAST, ONE, 1),
    "same": (How.SAME, ONE, 1),
    "this": (How.SAME, ONE, 1),
    "every other": (How.EACH, None, 2),
    "both": (How.NEXT, (2,), 1),
}
_AFTER_OF = wordset(
    "next each first last same prev num corner noun stitch this ch ring rem beg turning "
    "marked center skipped unworked"
)


class Found:
    """A place while it is being read."""

    __slots__ = (
        "below",
        "chains",
        "every",
        "how",
        "keep",
        "loops",
        "number",
        "of",
        "ordinal",
        "round_number",
        "special",
        "until",
        "what",
    )

    def __init__(self, loops: Loops) -> None:
        self.how: How | None = None
        self.number: Numbers | None = ONE
        self.every = 1
        self.ordinal: int | None = None
        self.special = ""
        self.what: str | None = None
        self.chains: int | None = None
        self.of: str | None = None
        self.loops = loops
        self.below = 0
        self.round_number: int | None = None
        self.keep: Numbers = NONE_KEPT
        self.until: str | None = None


class DeterminerReader(NounReader):
    """Reads the words before a noun into a `Found`."""

    __slots__ = ()

    def determiner(self, found: Found) -> None:
        """Read "each of next 5", "first", "same", "2nd", "center", "top of" into `found`."""
        kinds = self.kinds
        while True:
            kind = kinds[self.i]
            if kind == "next":
                if found.how is not How.SAME:
                    found.how, found.number = How.NEXT, ONE
            elif kind == "each":
                self._each(found)
            elif kind == "num":
                if not self._counted(found):
                    break
            elif not self._rarer(kind, found):
                break
            self.i += 1
        if found.how is None and found.special and found.special != "top":
            found.how = How.NEXT if found.special == "corner" else How.NAMED

    def _each(self, found: Found) -> None:
        found.how = found.how or How.EACH
        if found.how is How.EACH:
            found.number = None

    def _rarer(self, kind: str, found: Found) -> bool:
        """The determiners that fewer lines have; False when `kind` is none."""
        plain = _PLAIN.get(kind)
        if plain is not None:
            found.how, found.number, found.every = plain
        elif kind in _SPECIAL:
            found.special = found.special or kind
            if kind == "marked" and found.how is None:
                found.how = How.NAMED
        elif kind == "rem":
            if found.how is None:
                found.how, found.number = How.EACH, None
        elif kind == "any":
            found.how, found.special = How.NAMED, "any"
        elif kind == "ord":
            return self._ordinal(found)
        elif kind == "of":
            named = found.how is not None or bool(found.special)
            return named and self.kinds[self.i + 1] in _AFTER_OF
        else:
            return kind == "in" and found.how is None and bool(found.special)
        return True

    def _ordinal(self, found: Found) -> bool:
        if self.kinds[self.i + 1] in {"row", "rnd"}:
            return False
        found.ordinal = self.ordinal(self.i)
        found.how = found.how or How.NEXT
        return True

    def _counted(self, found: Found) -> bool:
        """A number among the determiners: "next 5", "5 sts"; False when it is part of the noun."""
        kinds = self.kinds
        following = kinds[self.i + 1]
        if following == "-" and (kinds[self.i + 2] in {"ch", "stitch"} or self.values[self.i + 3] == "group"):
            return False
        if (
            following in {"ch", "stitch"}
            and found.how not in {None, How.NEXT}
            and kinds[self.i + 2] == "noun"
            and self.values[self.i + 2] in {"group", "sp", "loop"}
        ):
            return False
        if (
            following == "ch"
            and self.kinds[self.i + 2] == "noun"
            and self.starts[self.i + 1] == self.ends[self.i]
        ):
            return False  # "next 1ch space"
        if found.how is None and following == "word" and self.i + 1 < self.end:
            return False
        found.number = self.number(self.i)
        if found.how is None or found.how is How.EACH:
            found.how = How.NEXT
        return True
