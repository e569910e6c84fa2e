"""The mark that translators' tools look for."""

from __future__ import annotations

__all__ = ["N_"]


def N_(message: str) -> str:  # noqa: N802 - the name that message extraction looks for
    """Mark a sentence for translation and leave it as it is."""
    return message
