"""The abbreviations that a pattern really uses, with their meanings, and no others.

The words of the rounds are looked up one by one: first among what the pattern itself explains, then
in the trade's list, in the terms of the text. Plurals count as their singular.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, Final

from craft.notation.tree import Draft
from craft.standards.abbreviations import ABBREVIATIONS, Abbreviation
from craft.standards.terms import STITCHES

__all__ = ["abbreviations_used"]

_WORD: Final = re.compile(r"sl[ -]sts?\b|t-?ch\b|ch[ -]sps?\b|[A-Za-z][A-Za-z0-9]*", re.IGNORECASE)
_TOGETHER: Final = re.compile(r"([a-z]+)(\d+)tog")
_PLURALS: Final = ("sts", "sps", "rnds", "lps", "chs", "reps", "incs", "decs", "dcs", "scs", "hdcs")
_NEVER: Final = frozenset({"m", "bet", "sh", "pat", "R#", "ch-", "ls", "tog"})
"""Forms that are ordinary words or parts of words too often to be told from a line."""


def abbreviations_used(
    rounds: Mapping[str, Any], facts: Mapping[str, Any], draft: Draft | None
) -> list[dict[str, str]]:
    """[{"short": "sc", "meaning": "single crochet"}] in alphabetical order."""
    own = {each.short: each.meaning for each in draft.abbreviations} if draft else {}
    special = {each["name"].casefold() for each in facts["special_stitches"]}
    used: dict[str, str] = {}
    for word in _words(rounds, facts):
        found = _look_up(word, own, facts["terms"])
        if found is not None and found[0].casefold() not in special:
            used.setdefault(*found)
    return [{"short": short, "meaning": used[short]} for short in sorted(used, key=str.casefold)]


def _words(rounds: Mapping[str, Any], facts: Mapping[str, Any]) -> Iterator[str]:
    for line in _lines(rounds, facts):
        for match in _WORD.finditer(line):
            yield " ".join(match[0].replace("-", " ").split()) if " " in match[0] else match[0]


def _lines(rounds: Mapping[str, Any], facts: Mapping[str, Any]) -> Iterable[str]:
    for section in rounds["sections"]:
        for item in section["items"]:
            if item["what"] == "round":
                yield from (item["label"], item["body"], item["count"])
    for special in facts["special_stitches"]:
        yield special["how"]


def _look_up(word: str, own: Mapping[str, str], terms: str) -> tuple[str, str] | None:
    if word in own:
        return word, own[word]
    singular = word[:-1] if word.casefold() in _PLURALS or word.casefold() == "sl sts" else word
    exact, folded = _trade(terms)
    found = exact.get(singular) or folded.get(singular.casefold()) or _together(singular, terms)
    if found is None or found[0] in _NEVER:
        return None
    return found


def _together(word: str, terms: str) -> tuple[str, str] | None:
    """Stitches worked together in any number: "sc3tog", "dc5tog"."""
    match = _TOGETHER.fullmatch(word.casefold())
    stitch = _trade(terms)[0].get(match[1]) if match else None
    if match is None or stitch is None:
        return None
    return word.lower(), f"{stitch[1]} {match[2]} stitches together"


@cache
def _trade(terms: str) -> tuple[dict[str, tuple[str, str]], dict[str, tuple[str, str]]]:
    """The trade's list by exact form and by form in any case, in the terms asked for."""
    exact: dict[str, tuple[str, str]] = {}
    for entry in _list_in(terms):
        for name in (entry.short, *entry.also):
            exact.setdefault(name, (entry.short, entry.meaning))
    folded: dict[str, tuple[str, str]] = {}
    for name, found in exact.items():
        if len(name) > 2 or name.islower():
            folded.setdefault(name.casefold(), found)
    return exact, folded


def _list_in(terms: str) -> Iterable[Abbreviation]:
    """US: the list as it is. UK: stitches by their UK names, the rest as on the list."""
    if terms != "uk":
        yield from ABBREVIATIONS
        return
    stitches = {each.us.casefold() for each in STITCHES}
    for term in STITCHES:
        yield Abbreviation(term.uk, term.uk_name, tuple(term.uk_also))
    for entry in ABBREVIATIONS:
        if entry.short.casefold() not in stitches:
            yield entry
