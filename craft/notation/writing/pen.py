"""What every part of the writer shares: style and terms, numbers by size, the names of things."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from craft.notation.tree import ONE, Kind, Loops, Numbers, Span
from craft.notation.writing.set_over import name_in, set_over
from craft.notation.writing.style import HouseStyle, Terms

__all__ = ["Pen", "noun", "numbers", "ordinal", "plural"]


def _as_it_is(words: str) -> str:
    return words


@dataclass(frozen=True, slots=True)
class Pen:
    """How one line is written.

    `text` and `spoken`: the maker's text and its terms, for words that are kept. `terms`: those to write in.
    `kept`: spans of steps that stay in the maker's own words. `cut`: makes kept words those of one size.
    `kind`: round or row ("around", "across"). `loops`: the loops that words before have set for the line.
    `depth`: brackets and stars that are open.
    """

    style: HouseStyle
    terms: Terms
    text: str = ""
    spoken: Terms = "us"
    kept: frozenset[Span] = frozenset()
    cut: Callable[[str], str] = _as_it_is
    kind: Kind = Kind.ROUND
    loops: Loops = Loops.BOTH
    depth: int = 0

    def own(self, span: Span) -> str:
        """The maker's own words at a place, in the terms that are written."""
        words = self.cut(self.text[span.start : span.end])
        return set_over(" ".join(words.split()), of=self.spoken, to=self.terms)

    def has_own(self, span: Span) -> bool:
        return span.end > span.start and span.end <= len(self.text)

    def inside(self) -> Pen:
        return replace(self, depth=self.depth + 1)

    def name(self, name: str) -> str:
        """A canonical stitch name as it is written here."""
        if name == "sl st":
            return "ss" if self.terms == "uk" else "sl st"
        if name == "sc2tog" and self.style.decreases == "dec":
            return "dec"
        if name == "rsc":
            return "rev dc" if self.terms == "uk" else "rev sc"
        return "V-st" if name == "v-st" else name_in(self.terms, name)

    @property
    def skip(self) -> str:
        return "miss" if self.terms == "uk" else self.style.skip

    @property
    def along(self) -> str:
        return "around" if self.kind is Kind.ROUND else "across"


def numbers(values: Numbers) -> str:
    """A number, or one per size: (5, 6, None) -> "5 (6, -)"."""
    words = ["-" if value is None else str(value) for value in values]
    return words[0] if len(words) == 1 else f"{words[0]} ({', '.join(words[1:])})"


def ordinal(number: int) -> str:
    """Such as 2 -> "2nd"."""
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


_NO_PLURAL = frozenset(("ch", "turning ch", "ring", "in pattern", "edge"))
_SAME_IN_BOTH = frozenset(("st", "sp", "loop", "group", "corner", "petal", "marker", "row"))


def plural(name: str, number: Numbers | None) -> str:
    """The name with an s where more than one is meant: "5 sts", but "5 dc"."""
    return name if number == ONE or name in _NO_PLURAL or name[-1:] == "s" else f"{name}s"


def noun(pen: Pen, what: str, chains: int | None, number: Numbers | None = ONE) -> str:
    """The kind of place: "ch-2 sp", "sts", "turning ch", "dc"; two kinds are joined by "and"."""
    if "|" in what:
        kinds = what.split("|")
        return " and ".join(noun(pen, kind, chains if kind == "ch-sp" else None, number) for kind in kinds)
    if what == "ch-sp":
        return plural("ch-sp" if chains is None else f"ch-{chains} sp", number)
    if what == "turning ch":
        return "turning ch" if chains is None else f"ch-{chains}"
    if what in _SAME_IN_BOTH:
        return plural(what, number)
    name = pen.name(what)
    return name if what in _TRADE or number == ONE else plural(name, number)


_TRADE = frozenset(("sc", "hdc", "dc", "tr", "dtr", "trtr", "quadtr", "sl st", "esc", "ch", "inc", "dec"))
