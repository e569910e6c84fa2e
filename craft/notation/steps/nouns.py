"""The kinds of place that a pattern names: "ch-2 sp", "3-ch loop", "5-dc group", "turning ch", "st"."""

from __future__ import annotations

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
        kind = self.kinds[self.i]
        if kind == "noun":
            return self._plain_noun()
        if kind == "stitch" or kind == "in pattern":
            return self._stitch_noun(), None
        if kind == "ch":
            self.i += 1
            return self.chain_noun()
        if kind == "num":
            return self.number_noun() if self.kinds[self.i + 1] in {"-", "ch", "stitch"} else (None, None)
        if kind == "ring" or kind == "make ring":
            self.i += 1
            if self.kinds[self.i] == "noun" and self.values[self.i] == "loop":
                self.i += 1
            return "ring", None
        if kind == "word" and self.kinds[self.i + 1] == "noun" and self.values[self.i + 1] == "st":
            self.i += 2  # "next 3 toe sts"
            return "st", None
        what = _ONE_WORD.get(kind)
        if what is not None:
            self.i += 1
        return what, None

    def _plain_noun(self) -> tuple[str | None, int | None]:
        what = str(self.values[self.i])
        self.i += 1
        if what == "corner" and self.kinds[self.i] in {"noun", "stitch", "ch"}:
            inner, chains = self.noun()
            return inner or what, chains
        return what, None

    def _stitch_noun(self) -> str:
        """Such as "next dc", "next shell sp", "5 dc group" (behind its number)."""
        kinds = self.kinds
        what = self.named(self.i).stitch.name
        self.i += 1
        while True:
            at = self.i + 1 if kinds[self.i] == "-" else self.i
            if kinds[at] != "noun":
                return what
            self.i = at + 1
            if self.values[at] in {"sp", "group", "loop"}:
                what = str(self.values[at])

    def number_noun(self) -> tuple[str | None, int | None]:
        """Such as "3-ch loop", "5-dc group", "3 ch sp"."""
        kinds = self.kinds
        start = self.i
        number = self.number(start)[0]
        self.i += 1
        self.skip_dash()
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
