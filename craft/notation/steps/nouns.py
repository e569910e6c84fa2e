"""The kinds of place that a pattern names: "ch-2 sp", "3-ch loop", "5-dc group", "turning ch", "st"."""

from __future__ import annotations

from collections.abc import Callable

from craft.notation.steps.cursor import Cursor

__all__ = ["NounReader"]

_ONE_WORD = {
    "free loop": "free loop",
    "increase": "inc",
    "decrease": "dec",
    "marker": "marker",
    "row": "row",
    "rnd": "row",
    "side": "edge",
    "sl": "sl st",
}
_OPEN_SPACES = frozenset(("sp", "loop"))


class NounReader(Cursor):
    """Reads nouns. A noun is (what, chains); (None, None) and no move where there is none."""

    __slots__ = ()

    def noun(self) -> tuple[str | None, int | None]:
        """The kind of place named here, and the length of its chain."""
        read = _READERS.get(self.kinds[self.i])
        return (None, None) if read is None else read(self)

    def plain_noun(self) -> tuple[str | None, int | None]:
        self.i += 1
        return str(self.values[self.i - 1]), None

    def chain_here(self) -> tuple[str | None, int | None]:
        self.i += 1
        return self.chain_noun()

    def ring_noun(self) -> tuple[str | None, int | None]:
        self.i += 1
        if self.kinds[self.i] == "noun" and self.values[self.i] == "loop":
            self.i += 1
        return "ring", None

    def word_noun(self) -> tuple[str | None, int | None]:
        """Such as "next 3 toe sts": a word before "sts"."""
        if self.kinds[self.i + 1] == "noun" and self.values[self.i + 1] == "st":
            self.i += 2
            return "st", None
        return None, None

    def one_word(self) -> tuple[str | None, int | None]:
        self.i += 1
        return _ONE_WORD[self.kinds[self.i - 1]], None

    def stitch_noun(self) -> tuple[str | None, int | None]:
        """Such as "next dc", "next shell sp", "5 dc group" (behind its number)."""
        kinds = self.kinds
        what = self.named(self.i).stitch.name
        self.i += 1
        while True:
            at = self.i + 1 if kinds[self.i] == "-" else self.i
            if kinds[at] != "noun":
                return what, None
            self.i = at + 1
            if self.values[at] in {"sp", "group", "loop"}:
                what = str(self.values[at])

    def number_noun(self) -> tuple[str | None, int | None]:  # noqa: PLR0911 - a list of cases
        """Such as "3-ch loop", "5-dc group", "3 ch sp"."""
        kinds = self.kinds
        start = self.i
        if kinds[start + 1] not in {"-", "ch", "stitch"}:
            return None, None
        number = self.number(start)[0]
        self.i += 1
        self.skip_dash()
        if self.values[self.i] == "st" and self.values[self.i + 1] == "group":
            self.i += 2
            return "group", None
        if kinds[self.i] == "ch":
            self.i += 1
            self.skip_dash()
            if kinds[self.i] == "noun" and self.values[self.i] in _OPEN_SPACES:
                self.i += 1
                return "ch-sp", number
            return "ch", None
        if kinds[self.i] == "stitch":
            name = self.named(self.i).stitch.name
            self.i += 1
            self.skip_dash()
            if kinds[self.i] in {"noun", "stitch"}:
                self.i += 1
                return "group", None
            return name, None
        self.i = start
        return None, None

    def chain_noun(self) -> tuple[str | None, int | None]:
        """Behind "ch": "-2 sp", " 3 loop", " sp", "-2 corner sp", "-3" (the turning chain), or nothing."""
        kinds = self.kinds
        start = self.i
        chains: int | None = None
        if kinds[start] == "-" or (kinds[start] == "--" and kinds[start + 1] == "noun"):
            self.i += 1  # "ch-2 sp", "ch -sp"
        if kinds[self.i] == "num" and len(self.number(self.i)) == 1:
            chains = self.number(self.i)[0]
            self.i += 1
            if kinds[self.i] == "-" and kinds[self.i + 1] in {"noun", "corner"}:
                self.i += 1
        while kinds[self.i] in {"corner", "noun"}:
            noun = self.values[self.i]
            self.i += 1
            if noun in _OPEN_SPACES:
                return "ch-sp", chains
            if noun != "corner":
                break
        if chains is not None:
            return ("ch-sp" if kinds[self.i - 1] in {"corner", "noun"} else "turning ch"), chains
        self.i = start
        return "ch", None

    def space_ahead(self) -> bool:
        """Whether a chain space is named here."""
        start = self.i
        what, _ = self.noun()
        self.i = start
        return what == "ch-sp"


_READERS: dict[str, Callable[[NounReader], tuple[str | None, int | None]]] = {
    **dict.fromkeys(_ONE_WORD, NounReader.one_word),
    "noun": NounReader.plain_noun,
    "corner": NounReader.plain_noun,
    "stitch": NounReader.stitch_noun,
    "in pattern": NounReader.stitch_noun,
    "ch": NounReader.chain_here,
    "num": NounReader.number_noun,
    "ring": NounReader.ring_noun,
    "make ring": NounReader.ring_noun,
    "word": NounReader.word_noun,
}
