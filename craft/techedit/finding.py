"""A finding of the technical edit, as a value. Its sentence comes from `messages`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from craft.notation.tree import Span


class Level(StrEnum):
    """On screen: must mend, look again, good to know."""

    ERROR = "error"  # numbers or marks contradict each other
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A rewrite of `span` to `text`, worked before it is offered."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """`check`: readable slug; `ids`: the trade's check ids it covers; `sizes`: positions of the
    sizes concerned, None for all; `values`: what the sentence is built from, as (name, value);
    `message`: its key in the catalogue, from which `messages.say` builds the sentence in any language.
    """

    check: str
    ids: tuple[str, ...]
    level: Level
    span: Span
    says: str
    line_number: int
    round_number: int | None = None
    sizes: tuple[int, ...] | None = None
    values: tuple[tuple[str, str], ...] = ()
    suggestion: Suggestion | None = None
    message: str = ""
