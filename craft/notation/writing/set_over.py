"""Running words from US terms to UK terms and back: notes, facts, and steps kept as the maker wrote them.

Only stitch names change. One pass over the text, longest name first, so that no name is shifted twice. The
pairs are those of `craft.standards.terms`.
"""

from __future__ import annotations

import re
from functools import cache
from re import Match, Pattern

from craft.notation.normalise import fold
from craft.notation.writing.style import Terms
from craft.standards.terms import STITCHES

__all__ = ["is_trade_name", "name_in", "set_over"]

_PREFIX = r"(?:fp|bp|frp|front[ -]post |back[ -]post |ex|e|f|r|rev|inv|lf|bl|fl)?"
_SUFFIX = r"(?=s?(?:[^a-z]|$)|(?:t?blo?|t?flo?|fp|bp|inc|dec|tog|cls?|sts?)(?![a-z]))"
_PLAIN_ORDER = ("sc", "hdc", "dc", "tr", "dtr", "trtr", "quadtr")


_NO_NAME_ALONE = frozenset(("double", "tc"))
"""Words of the table that mean other things in running text: "hold yarn double", "etc."."""


@cache
def _pairs(system: Terms) -> dict[str, str]:
    """Every spelling of a plain stitch in `system` -> the spelling in the other system."""
    pairs: dict[str, str] = {}
    for term in STITCHES:
        if term.family != "plain":
            continue
        us, uk = (term.us, term.us_name, *term.us_also), (term.uk, term.uk_name, *term.uk_also)
        here, there = (us, uk) if system == "us" else (uk, us)
        for name in here:
            if name in _NO_NAME_ALONE:
                continue
            pairs.setdefault(name.lower(), _of_same_form(name, there))
    return pairs


def _of_same_form(name: str, there: tuple[str, ...]) -> str:
    """Of the names in the other system, the one as long as this: short, full, or full without "crochet"."""
    short, full = there[0], there[1]
    if " " not in name and name != "treble":
        return short
    return full if name.endswith("crochet") else full.removesuffix(" crochet")


@cache
def _pattern(system: Terms) -> Pattern[str]:
    names = sorted(_pairs(system), key=len, reverse=True)
    choices = "|".join(re.escape(name).replace(r"\ ", r"[\s-]+") for name in names)
    return re.compile(rf"(?<![a-z])({_PREFIX})({choices}){_SUFFIX}")


def set_over(text: str, *, of: Terms, to: Terms) -> str:
    """The text with its stitch names in the terms `to`, the rest as it is."""
    if of == to:
        return text
    pairs = _pairs(of)
    parts: list[str] = []
    at = 0
    for match in _pattern(of).finditer(fold(text)):
        start, end = match.span(2)
        parts += (text[at:start], _as_cased(pairs[_key(match)], text[start:end]))
        at = end
    return "".join((*parts, text[at:]))


def _key(match: Match[str]) -> str:
    return " ".join(match[2].replace("-", " ").split())


def _as_cased(word: str, like: str) -> str:
    """The word in capitals, with a capital, or small, like the one that it stands for."""
    letters = [letter for letter in like if letter.isalpha()]
    if len(letters) > 1 and all(letter.isupper() for letter in letters):
        return word.upper()
    if " " in like and all(part[:1].isupper() for part in like.split()):
        return word.title()
    return word[0].upper() + word[1:] if letters and letters[0].isupper() else word


@cache
def _trade_name() -> Pattern[str]:
    names = "|".join(sorted((term.us for term in STITCHES), key=len, reverse=True))
    return re.compile(rf"(?:fp|bp)?(?:{names})(?:\d+tog| inc\d*)?|inc|in pattern")


def is_trade_name(name: str) -> bool:
    """Whether a canonical stitch name is made of the trade's own names, not of a pattern's."""
    return _trade_name().fullmatch(name) is not None


@cache
def name_in(terms: Terms, name: str) -> str:
    """A canonical (US) stitch name as it is written in `terms`: "dc2tog" -> "tr2tog"."""
    return name if terms == "us" else set_over(name, of="us", to="uk")
