"""Sets of words, written as a line of text."""

from __future__ import annotations

__all__ = ["wordset"]


def wordset(text: str) -> frozenset[str]:
    """The words of a text as a set: `wordset("st sts sp")`."""
    return frozenset(text.split())
