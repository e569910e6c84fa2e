"""Facts of the app's own fields put together with the facts that the text states."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol, TypeVar

from craft.notation.tree import Span
from craft.techedit.facts.model import Facts

__all__ = ["merged"]


class _Placed(Protocol):
    @property
    def span(self) -> Span: ...


Placed = TypeVar("Placed", bound=_Placed)


def merged(fields: Facts, read: Facts) -> Facts:
    """What the fields know, then what the text below `fields.fields_end` states.

    `read` was read from the whole text, the lines made of the fields included; of those the fields'
    own values count, since nothing had to be read out of words for them.
    """
    end = fields.fields_end
    return replace(
        read,
        title=fields.title or read.title,
        kind=fields.kind or read.kind,
        level=fields.level or read.level,
        terms=fields.terms or read.terms,
        gauges=fields.gauges + _below(read.gauges, end),
        hooks=fields.hooks + _below(read.hooks, end),
        yarns=fields.yarns + _below(read.yarns, end),
        notions=fields.notions + _below(read.notions, end),
        measures=fields.measures + _below(read.measures, end),
        needed_m=fields.needed_m,
        needed_m_by_label=fields.needed_m_by_label,
        stated=tuple(dict.fromkeys((*fields.stated, *read.stated))),
        fields_end=end,
        youngest_months=fields.youngest_months,
        small_parts=fields.small_parts,
        stuffed=fields.stuffed,
    )


def _below(items: tuple[Placed, ...], end: int) -> tuple[Placed, ...]:
    return tuple(item for item in items if item.span.start >= end)
