"""What a check is, and how one is made from a function.

    @check("count-differs", "J2", Level.ERROR)
    def count_differs(case: Case) -> Iterator[Hit]:
        \"\"\"A page for the maker: what, why, a wrong and a right example, limits.\"\"\"
        ...
        yield Hit(span, {"made": 42, "printed": 40}, round_number=6)

The sentence stands in `messages` under the slug, or under "slug/variant" when the hit names one.
A check without the facts that it `needs` is not made; `not_checked` lists it.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from craft.notation.tree import Span
from craft.techedit.case import Case
from craft.techedit.finding import Finding, Level, Suggestion
from craft.techedit.messages import say

__all__ = ["Check", "Hit", "check"]


@dataclass(frozen=True, slots=True)
class Hit:
    """What a check function yields: the place and the values of the sentence.

    `variant` picks another sentence of the same check, `level` another level than the check's own.
    """

    span: Span
    values: Mapping[str, object] = field(default_factory=dict)
    variant: str = ""
    level: Level | None = None
    round_number: int | None = None
    sizes: tuple[int, ...] | None = None
    suggestion: Suggestion | None = None


Find = Callable[[Case], Iterable[Hit]]


@dataclass(frozen=True, slots=True)
class Check:
    """`ids` are the trade's check ids, `needs` the facts without which the check is not made."""

    slug: str
    ids: tuple[str, ...]
    level: Level
    needs: tuple[str, ...]
    find: Find

    @property
    def page(self) -> str:
        """The docstring as the maker reads it."""
        return inspect.cleandoc(self.find.__doc__ or "")

    def missing(self, case: Case) -> tuple[str, ...]:
        """The facts that this check needs and the case lacks."""
        return tuple(need for need in self.needs if not case.facts.has(need)) if self.needs else ()

    def run(self, case: Case) -> Iterator[Finding]:
        for hit in self.find(case):
            yield self._finding(hit, case)

    def _finding(self, hit: Hit, case: Case) -> Finding:
        message = f"{self.slug}/{hit.variant}" if hit.variant else self.slug
        values = tuple((name, str(value)) for name, value in hit.values.items())
        return Finding(
            check=self.slug,
            ids=self.ids,
            level=hit.level or self.level,
            span=hit.span,
            says=say(message, values),
            line_number=case.places.line(hit.span.start),
            round_number=hit.round_number,
            sizes=hit.sizes,
            values=values,
            suggestion=hit.suggestion,
            message=message,
        )


def check(slug: str, ids: str, level: Level, needs: str = "") -> Callable[[Find], Check]:
    """Make a `Check` of a function; `ids` and `needs` are lists parted by spaces."""

    def make(find: Find) -> Check:
        return Check(slug, tuple(ids.split()), level, tuple(needs.split()), find)

    return make
