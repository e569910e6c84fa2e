"""The technical edit of a whole text, kept for as long as nothing in it changes.

A page that is opened again, a remark that is set aside and a suggestion that is taken ask for the
edit of the same words once more. The last few are kept in the process, by the digest of all that
went in; a text that is longer than most patterns is not kept, so that the room taken stays small.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from dataclasses import dataclass, replace
from threading import Lock
from typing import Final

from django.utils.translation import get_language

import craft.fabric
import craft.notation
import craft.techedit
from craft.fabric.model import Fabric
from craft.notation.tree import Draft
from craft.techedit.facts import Facts, merged, read_facts
from craft.techedit.finding import Finding
from patterns.source import Source

__all__ = ["Edit", "edited"]

MOST_KEPT: Final = 12
LONGEST_KEPT: Final = 40_000
"""Code points; a pattern of a hundred rounds has about 10,000."""


@dataclass(frozen=True, slots=True)
class Edit:
    """What the craft makes of a text: values that nobody changes, so that threads may share them."""

    draft: Draft
    fabric: Fabric
    facts: Facts
    findings: tuple[Finding, ...]


_kept: OrderedDict[bytes, Edit] = OrderedDict()
_lock: Final = Lock()


def edited(source: Source, terms: str) -> Edit:
    """Read, work and check. Raises whatever the craft raises."""
    if len(source.whole) > LONGEST_KEPT:
        return _edit(source, terms)
    key = _key(source, terms)
    with _lock:
        if key in _kept:
            _kept.move_to_end(key)
            return _kept[key]
    edit = _edit(source, terms)
    with _lock:
        _kept[key] = edit
        while len(_kept) > MOST_KEPT:
            _kept.popitem(last=False)
    return edit


def _key(source: Source, terms: str) -> bytes:
    went_in = repr((source.head, source.text, source.tail, source.given, terms, get_language()))
    return hashlib.sha256(went_in.encode("utf-8", "surrogatepass")).digest()


def _edit(source: Source, terms: str) -> Edit:
    draft = _without_tail(craft.notation.read(source.whole, terms=terms), source)
    fabric = craft.fabric.work(draft)
    facts = read_facts(draft)
    if source.given is not None:
        facts = merged(source.given, facts)
    findings = craft.techedit.check(draft, fabric, facts)
    return Edit(draft, fabric, facts, tuple(findings))


def _without_tail(draft: Draft, source: Source) -> Draft:
    """The draft with nothing to work in what is printed below the instructions."""
    if not source.tail:
        return draft
    end = source.text_end
    sections = (
        replace(each, lines=tuple(item for item in each.lines if item.span.start < end))
        for each in draft.sections
        if each.span.start < end
    )
    unread = tuple(each for each in draft.unread if each.span.start < end)
    return replace(draft, sections=tuple(sections), unread=unread)
