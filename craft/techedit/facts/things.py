"""Hooks, notions, measurements and the kind of piece."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Span
from craft.techedit.facts.model import Hook, Measure, Notion
from craft.techedit.quantities import amounts

__all__ = ["KINDS", "NOTIONS", "kind_of", "read_hooks", "read_measures", "read_notions"]

_MM = re.compile(r"(?<![\d.])(?P<mm>\d{1,3}(?:\.\d{1,3})?)\s?-?mm\b", re.IGNORECASE)
_US = re.compile(
    r"(?<![\w/.])(?:U\.?S\.?\s*)?(?:size\s*)?"
    r"(?P<us>[A-U](?:/[A-Z])?\s?[-/]\s?\d{1,2}(?:\s?½|\s1/2|\.5)?|[B-U](?=\s?(?:hook|[),;]))"
    r"|(?<=US )\d{1,2}(?:\s?½)?)(?![\w.])"
)
_STEEL = re.compile(r"\bsteel\b", re.IGNORECASE)

NOTIONS: dict[str, str] = {
    "button": r"buttons?", "zip": r"zips?|zippers?", "eye": r"(?:safety |toy )?eyes?",
    "marker": r"(?:stitch |locking )?markers?",
    "stuffing": r"stuffing|fibrefill|fiberfill|polyfill|toy filling",
    "magnet": r"magnets?", "elastic": r"elastic", "ribbon": r"ribbon", "felt": r"felt",
    "wire": r"wire", "bead": r"beads?", "snap": r"(?:snaps?|press studs?|poppers?)",
    "lining": r"lining(?: fabric)?",
    "needle": r"(?:yarn|tapestry|darning|wool|sewing) needles?", "cord": r"cord", "d-ring": r"d-rings?",
    "clasp": r"clasps?", "hook and eye": r"hooks? and eyes?", "pompom maker": r"pompom maker",
}  # fmt: skip
_NOTION = re.compile(
    r"(?<![\w-])(?:(?P<number>\d+|one|two|three|four|five|six|seven|eight|nine|ten)\s+)?"
    r"(?:(?P<size>\d+(?:\.\d+)?)\s?-?mm\s+)?(?:[a-z]+ )??(?P<what>"
    + "|".join(f"(?P<n{i}>{pattern})" for i, pattern in enumerate(NOTIONS.values()))
    + r")(?![\w-])(?:\s*[(,]?\s*(?P<after>\d+(?:\.\d+)?)\s?-?mm)?",
    re.IGNORECASE,
)
_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_LENGTH_THINGS = frozenset({"zip", "elastic", "ribbon", "wire", "cord", "lining", "felt"})

# The kinds that the checks know, by the words that name them in a title or heading.
KINDS: dict[str, str] = {
    "toy": r"amigurumi|toys?|dolls?|bears?|bunn(?:y|ies)|plush(?:ie)?|rattle|teddy",
    "hat": r"hats?|beanies?|cloche|beret|bonnet|toque|tam",
    "basket": r"baskets?|bowl|bin|pot cover",
    "blanket": r"blankets?|afghans?|throw|bedspread",
    "shawl": r"shawls?|wraps?|stole|shawlette",
    "scarf": r"scarf|scarves|cowls?|snood",
    "bag": r"bags?|tote|purse|pouch|clutch",
    "garment": r"sweaters?|jumpers?|pullovers?|cardigans?|tops?|tees?|vests?|tunic|dress|jackets?|skirts?"
    r"|shrug",
    "coaster": r"coasters?|placemats?|mats?|trivets?|doily|doilies|potholders?|hot ?pads?",
    "cloth": r"dish ?cloths?|wash ?cloths?|face ?cloths?|scrubb(?:y|ies)",
    "mitten": r"mittens?|gloves?|mitts?",
    "sock": r"socks?|slippers?|booties|bootees",
    "pillow": r"pillows?|cushions?|pouf",
}  # fmt: skip
_KIND = re.compile(
    r"\b(?:" + "|".join(f"(?P<{kind}>{words})" for kind, words in KINDS.items()) + r")\b",
    re.IGNORECASE,
)


def kind_of(words: str) -> str | None:
    """The kind of piece that a title names ("Tideline Beanie" -> "hat"); the last word wins."""
    found = [match.lastgroup for match in _KIND.finditer(words)]
    return found[-1] if found else None


def read_hooks(text: str, span: Span) -> Iterator[Hook]:
    """Every hook of a hook line: millimetres with the US name printed beside them."""
    found = list(_MM.finditer(text, span.start, span.end))
    steel = bool(_STEEL.search(text, span.start, span.end))
    for index, match in enumerate(found):
        left = found[index - 1].end() if index else span.start
        right = found[index + 1].start() if index + 1 < len(found) else span.end
        after = _US.search(text, match.end(), right)
        before = list(_US.finditer(text, left, match.start()))
        near = after or (before[-1] if before and len(found) == 1 else None)
        yield Hook(Span(match.start(), match.end()), float(match["mm"]), near["us"] if near else None, steel)
    if not found:
        for match in _US.finditer(text, span.start, span.end):
            yield Hook(Span(match.start(), match.end()), None, match["us"], steel)


def read_notions(text: str, span: Span) -> Iterator[Notion]:
    """Every notion of a notions line that we know by name."""
    names = list(NOTIONS)
    for match in _NOTION.finditer(text, span.start, span.end):
        what = next(names[i] for i in range(len(names)) if match[f"n{i}"])
        size = match["size"] or match["after"]
        counted = None if what in _LENGTH_THINGS else _count(match["number"])
        yield Notion(
            Span(match.start("what"), match.end("what")), what, counted, float(size) if size else None
        )


def _count(word: str | None) -> int | None:
    if word is None:
        return None
    return int(word) if word.isdigit() else _WORDS.index(word.lower()) + 1


def read_measures(text: str, span: Span, name: str) -> Iterator[Measure]:
    """The measurements of a fact line, one for each name within it ("Width 40 cm, length 60 cm")."""
    lengths = [amount for amount in amounts(text, span) if amount.cm]
    index = 0
    while index < len(lengths):
        group = [lengths[index]]
        while index + len(group) < len(lengths) and _same(
            text, group[-1].span, lengths[index + len(group)].span
        ):
            group.append(lengths[index + len(group)])
        start = _behind(text, lengths[index - 1].span.end) if index else span.start
        yield Measure(
            _measure_name(text, start, group[0].span.start, group[-1].span.end) or name,
            Span(group[0].span.start, group[-1].span.end),
            tuple(group),
        )
        index += len(group)


def _behind(text: str, end: int) -> int:
    """Where the words about a measurement end: "wide" behind it is its own."""
    word = _WIDE.match(text, end)
    return word.end() if word else end


def _measure_name(text: str, start: int, end: int, after: int) -> str:
    """The words before a measurement, with "wide", "tall"... right after it."""
    before = re.findall(r"[a-z]+", text[start:end].lower())
    behind = _WIDE.match(text, after)
    return " ".join([*before, *([behind["word"].lower()] if behind else [])])


_WIDE = re.compile(
    r"[)\]]?\s{0,4}(?P<word>wide|long|tall|high|deep|around|across|diameter|square)\b", re.IGNORECASE
)


def _same(text: str, first: Span, second: Span) -> bool:
    """Whether two amounts say one thing in two units."""
    return text[first.end : second.start].strip() in {"(", "[", "/", "=", "or"}
