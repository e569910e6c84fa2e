"""Keyset paging: the next page begins after the last row seen, however long the list is.

A page knows no number; it knows the sort value and id of its first and last row. What a cursor
says is read strictly, and one that makes no sense gives the first page.
"""

import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final, Generic, TypeVar

from django.db.models import F, Model, Q, QuerySet

Row = TypeVar("Row", bound=Model)


MOST: Final = 2**62


def whole(value: object) -> int:
    """A whole number that a database column holds. Raises ValueError."""
    if not isinstance(value, int) or abs(value) > MOST:
        raise ValueError(value)
    return value


def text(value: object) -> str:
    """Text that a database column holds. Raises ValueError."""
    if not isinstance(value, str) or "\x00" in value:
        raise ValueError(value)
    return value


def day(value: object) -> date:
    """A date. Raises ValueError."""
    return date.fromisoformat(text(value))


@dataclass(frozen=True, slots=True)
class Sort:
    """Order by one field, then by id in the same direction.

    `reads`: takes the field's value out of a cursor, or raises ValueError.
    """

    field: str
    descending: bool
    reads: Callable[[object], object]


@dataclass(frozen=True, slots=True)
class Page(Generic[Row]):
    """One page of rows. `before` and `after` are cursors for the neighbours, "" where there is none."""

    rows: list[Row]
    before: str
    after: str


def page_of(rows: QuerySet[Row], sort: Sort, size: int, asked: Mapping[str, str]) -> Page[Row]:
    """The page after `asked["after"]`, or before `asked["before"]`, or the first one."""
    before = _read(asked.get("before", ""), sort)
    after = None if before else _read(asked.get("after", ""), sort)
    backwards = before is not None
    ordered = rows.order_by(*_order(sort, backwards))
    anchor = before or after
    if anchor is not None:
        ordered = ordered.filter(_beyond(sort, anchor, backwards))
    found = list(ordered[: size + 1])
    more, found = len(found) > size, found[:size]
    if backwards:
        found.reverse()
    return Page(
        found,
        before=_write(found[0], sort) if found and (more if backwards else anchor) else "",
        after=_write(found[-1], sort) if found and (backwards or more) else "",
    )


def _order(sort: Sort, backwards: bool) -> list[Any]:
    down = sort.descending != backwards
    return [F(name).desc() if down else F(name).asc() for name in (sort.field, "pk")]


def _beyond(sort: Sort, anchor: tuple[Any, int], backwards: bool) -> Q:
    """Rows past the anchor. The plain bound beside the exact one lets the index find its place."""
    compare = "lt" if sort.descending != backwards else "gt"
    value, pk = anchor
    exact = Q(**{f"{sort.field}__{compare}": value}) | Q(**{sort.field: value, f"pk__{compare}": pk})
    return Q(**{f"{sort.field}__{compare}e": value}) & exact


def _write(row: Model, sort: Sort) -> str:
    cursor = json.dumps([getattr(row, sort.field), row.pk], default=str)
    return urlsafe_b64encode(cursor.encode()).decode().rstrip("=")


def _read(cursor: str, sort: Sort) -> tuple[Any, int] | None:
    try:
        value, pk = json.loads(urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4)))
        return sort.reads(value), whole(pk)
    except (ValueError, TypeError):
        return None
