"""US or UK terms: what the maker states, else what the words tell."""

from __future__ import annotations

import re

from craft.notation.tokens import Raw
from craft.notation.words import wordset

__all__ = ["find_terms"]

_STATED = re.compile(
    r"\b(us|u\.s\.|usa|american|uk|u\.k\.|british|english)\b[^.\n]{0,24}?"
    r"\b(?:terms?|terminology|notation|names|abbreviations)\b"
    r"|\b(?:terms?|terminology|notation)\b\s*(?:used)?\s*[:=(-]?\s*(?:are |in )?"
    r"(us|u\.s\.|usa|american|uk|u\.k\.|british|english)\b"
)
_UK_ONLY = frozenset(("htr", "exhtr", "htrs", "yrh", "htr2tog"))
_US_ONLY = frozenset(("hdc", "sc", "hdcs", "scs", "hdc2tog"))
_UK_SPELLING = wordset("miss tension colour yrh colours centre grey aran")
_US_SPELLING = wordset("skip sk gauge color colors center gray worsted")


def find_terms(raw: Raw, asked: str | None) -> tuple[str | None, str]:
    """(terms, how it is known): "asked", "stated", "words" or "default" (then the terms are None)."""
    if asked in {"us", "uk"}:
        return asked, "asked"
    stated = _stated(raw.folded)
    if stated is not None:
        return stated, "stated"
    return _by_words(raw)


def _by_words(raw: Raw) -> tuple[str | None, str]:
    """Terms by the stitch names used, else by the spelling of common words."""
    words = set(raw.words)
    folded = raw.folded
    us = bool(words & _US_ONLY) or "single crochet" in folded or "half double" in folded
    uk = bool(words & _UK_ONLY) or "half treble" in folded
    if us != uk:
        return ("us" if us else "uk"), "words"
    if us:
        count = raw.words.count
        return ("us" if count("sc") + count("hdc") >= count("htr") else "uk"), "words"
    spelling = len(words & _UK_SPELLING) - len(words & _US_SPELLING)
    if spelling >= 2 and "dc" in words:
        return "uk", "words"
    return None, "default"


def _stated(folded: str) -> str | None:
    """Such as "US terms", "Terms: UK". Where both are named, "written in ..." wins."""
    found: list[tuple[int, str]] = []
    for match in _STATED.finditer(folded):
        word = (match[1] or match[2] or "").replace(".", "")
        found.append((match.start(), "us" if word in {"us", "usa", "american"} else "uk"))
    systems = {system for _, system in found}
    if len(systems) == 1:
        return systems.pop()
    for at, system in found:
        if re.search(r"(?:written|uses|using|in|terms:)\s*$", folded[max(0, at - 20) : at]):
            return system
    return found[0][1] if found else None
