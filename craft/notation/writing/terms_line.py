"""So that a text says which terms it is in: the words that say so now, or a line of its own."""

from __future__ import annotations

import re
from re import Match

from craft.notation.dialect import find_terms
from craft.notation.tokens import raw_tokens
from craft.notation.writing.style import Terms

__all__ = ["says_other_terms", "state_terms"]

_OWN_LINE = re.compile(r"^Terms: (?:US|UK) \(set over from (?:US|UK)\)\n", re.MULTILINE)
_SYSTEM = r"(?:u\.?s\.?a?|american|u\.?k\.?|british|english)"
_STATED = re.compile(
    rf"\b({_SYSTEM})(?=[^.\n]{{0,24}}?\b(?:terms?|terminology|notation|names|abbreviations)\b)"
    rf"|(?<=\bterms: )({_SYSTEM})\b|(?<=\bterms )({_SYSTEM})\b|(?<=\bterminology: )({_SYSTEM})\b",
    re.IGNORECASE,
)
_OTHER = {
    "us": "UK",
    "usa": "UK",
    "american": "British",
    "uk": "US",
    "british": "American",
    "english": "American",
}


def says_other_terms(text: str, *, of: Terms, to: Terms) -> str:
    """The text with what it says of its own terms turned round."""
    text = _OWN_LINE.sub("", text)
    return text if of == to else _STATED.sub(_turned, text)


def _turned(match: Match[str]) -> str:
    word = next(group for group in match.groups() if group)
    other = _OTHER[word.lower().replace(".", "")]
    return other if word[0].isupper() else other.lower()


def state_terms(text: str, *, of: Terms, to: Terms) -> str:
    """The line to set in front of a text that would not be read in its terms; "" where it would be."""
    found, how = find_terms(raw_tokens(text), None)
    if (found or "us") == to and (to == "us" or how == "stated"):
        return ""
    return f"Terms: {to.upper()} (set over from {of.upper()})\n" if of != to else f"Terms: {to.upper()}\n"
