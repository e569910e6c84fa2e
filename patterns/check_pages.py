"""A page for each check of the technical edit, made from its docstring.

The docstring's first paragraph says what is checked; "Why:", "Wrong:", "Right:" and "Limits:" begin
the others. Examples are set in by four spaces.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from textwrap import dedent
from typing import Final

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from craft.techedit.checks import MODULES, checks_of
from craft.techedit.finding import Level
from craft.techedit.registry import Check

__all__ = ["CheckPage", "Group", "Part", "fact_words", "groups", "level_css", "page_of", "search"]

_PART: Final = re.compile(r"^(Why|Wrong|Right|Limits|Trade checks):[ \t]*", re.MULTILINE)
_GROUP: Final = re.compile(r"^Group ([A-Z])[^:]*: (.+?)\.?$", re.MULTILINE)
_CSS: Final = {Level.ERROR: "must-mend", Level.WARNING: "look-again", Level.NOTE: "good-to-know"}

FACT_WORDS: Final[Mapping[str, str | Promise]] = {
    "abbreviations": _("a list of abbreviations"),
    "fields_end": _("the pattern's own fields"),
    "gauge": _("the gauge"),
    "gauges": _("the gauge"),
    "hooks": _("the hook"),
    "kind": _("what kind of piece it is"),
    "level": _("the project level"),
    "measures": _("the finished measurements"),
    "needed_m": _("how much yarn it takes"),
    "needed_m_by_label": _("how much yarn it takes of each colour"),
    "notions": _("the notions"),
    "sizes": _("the sizes"),
    "stated": _("facts above the instructions"),
    "terms": _("US or UK terms"),
    "title": _("the title"),
    "yarns": _("the yarn"),
}


@dataclass(frozen=True, slots=True)
class Part:
    """Why, wrong, right or limits. `example`: lines to be printed as they stand."""

    name: str
    words: str
    example: bool


@dataclass(frozen=True, slots=True)
class CheckPage:
    """One check as a maker reads it. `css`: class of its level."""

    slug: str
    ids: tuple[str, ...]
    css: str
    needs: tuple[str | Promise, ...]
    what: str
    parts: tuple[Part, ...]

    @property
    def haystack(self) -> str:
        words = (self.slug, self.slug.replace("-", " "), *self.ids, self.what, *(p.words for p in self.parts))
        return " ".join(words).casefold()


@dataclass(frozen=True, slots=True)
class Group:
    """Checks of one matter, with the letter that the trade's ids begin with."""

    letter: str
    name: str
    pages: tuple[CheckPage, ...]


@cache
def groups() -> tuple[Group, ...]:
    """All checks by matter, in the order in which an editor goes through a pattern."""
    made = []
    for module in MODULES:
        said = _GROUP.search(module.__doc__ or "")
        letter, name = (said[1], said[2]) if said else ("", module.__name__.rpartition(".")[2])
        pages = tuple(_page(check) for check in checks_of(module))
        made.append(Group(letter, name[0].upper() + name[1:], pages))
    return tuple(made)


@cache
def _by_slug() -> dict[str, CheckPage]:
    return {page.slug: page for group in groups() for page in group.pages}


def page_of(slug: str) -> CheckPage | None:
    return _by_slug().get(slug)


def search(words: str) -> tuple[Group, ...]:
    """Groups with the checks whose page has every one of the words; all for no words."""
    wanted = words.casefold().split()[:20]
    found = (Group(g.letter, g.name, tuple(_having(g, wanted))) for g in groups())
    return tuple(group for group in found if group.pages)


def level_css(level: Level) -> str:
    return _CSS[level]


def fact_words(need: str) -> str | Promise:
    """A fact that a check needs, in words."""
    return FACT_WORDS.get(need, need.replace("_", " "))


def _having(group: Group, wanted: list[str]) -> Iterator[CheckPage]:
    return (page for page in group.pages if all(word in page.haystack for word in wanted))


def _page(check: Check) -> CheckPage:
    pieces = _PART.split(check.page)
    parts = zip(pieces[1::2], pieces[2::2], strict=True)
    return CheckPage(
        slug=check.slug,
        ids=check.ids,
        css=_CSS[check.level],
        needs=tuple(fact_words(need) for need in check.needs),
        what=" ".join(pieces[0].split()),
        parts=tuple(_part(name, words) for name, words in parts if name != "Trade checks"),
    )


def _part(name: str, words: str) -> Part:
    if name in {"Wrong", "Right"}:
        return Part(name, dedent(words).strip("\n"), example=True)
    return Part(name, " ".join(words.split()), example=False)
