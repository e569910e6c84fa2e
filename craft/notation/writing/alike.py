"""Whether two drafts say the same: trees compared strictly, places in the text left aside.

A span is a place in one text and says nothing about another. Where the tree holds nothing but a place (a
remark, a note, words not understood), the words that stand there are compared instead.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from typing import Any, TypeAlias

from craft.notation.tree import AsRound, Draft, Marker, Prose, Remark, Section, Unread

__all__ = ["AS_IT_IS", "Plain", "Rename", "plain", "same", "without_spans"]

Plain: TypeAlias = Any
"""Nested tuples of words and numbers: a tree with nothing in it that points into a text."""

_ASIDE = frozenset(("span", "line_number", "written", "text", "unread", "terms_from"))
_WORDS_ONLY = (Remark, Unread, Prose, Marker)
_ENDS = " \t\n.,;:\u2022*-"


def _words(words: str) -> str:
    """Words however they are spaced, stopped and begun."""
    return " ".join(words.split()).strip(_ENDS).lower()


@dataclass(frozen=True, slots=True)
class Rename:
    """What names and words of a draft are expected to become: those of other terms, those of one size."""

    name: Callable[[str], str] = str
    words: Callable[[str], str] = str


AS_IT_IS = Rename()


def plain(node: object, text: str, rename: Rename = AS_IT_IS) -> Plain:
    """A node without its places."""
    if isinstance(node, StrEnum) or not isinstance(node, str | tuple):
        return _plain_node(node, text, rename)
    if isinstance(node, str):
        return rename.name(" ".join(node.split()))
    return tuple(plain(one, text, rename) for one in node)


def _plain_node(node: object, text: str, rename: Rename) -> Plain:
    if isinstance(node, _WORDS_ONLY):
        words = rename.words(text[node.span.start : node.span.end])
        return type(node).__name__, _words(words), getattr(node, "topic", getattr(node, "act", ""))
    if not is_dataclass(node):
        return node
    return type(node).__name__, *_fields(node, text, rename)


def _fields(node: Any, text: str, rename: Rename) -> Iterator[Plain]:
    for one in fields(node):
        if one.name in _ASIDE:
            continue
        value = getattr(node, one.name)
        if one.name == "copies" and isinstance(node, AsRound):
            yield value is not None
        else:
            yield plain(value, text, rename)


def without_spans(draft: Draft) -> Plain:
    """The whole draft without its places: facts, definitions, rules and every section's lines.

    A `Terms:` fact is left out, since it belongs to the text and not to the work; what the terms are is not
    (unknown terms are worked as US).
    """
    text = draft.text
    facts = tuple((fact.name, " ".join(fact.value.split())) for fact in draft.facts if fact.name != "terms")
    return (
        draft.sizes,
        draft.terms or "us",
        facts,
        plain(draft.abbreviations, text),
        plain(draft.definitions, text),
        plain(draft.rules, text),
        tuple(_section(section, text) for section in draft.sections),
    )


def _section(section: Section, text: str) -> Plain:
    return (
        " ".join(section.title.split()),
        section.make,
        plain(section.rules, text),
        section.continues,
        tuple(plain(line, text) for line in section.lines),
    )


def same(one: Draft, other: Draft) -> bool:
    """Whether two drafts say the same, wherever in their texts it stands."""
    return bool(without_spans(one) == without_spans(other))
