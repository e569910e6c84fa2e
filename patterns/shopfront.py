"""The cards of the studio's home."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from patterns.edition import Picture
from patterns.models import Kind, Level, Pattern
from patterns.revisions import sizes

__all__ = ["PatternCard", "cards"]


@dataclass(frozen=True, slots=True)
class PatternCard:
    """One pattern in a sentence and a picture."""

    slug: str
    title: str
    says: str
    kind: str
    level: str
    sizes: int
    picture: Picture | None


def cards(patterns: Iterable[Pattern]) -> list[PatternCard]:
    """A card for each published pattern, from what was frozen."""
    return [_card(pattern) for pattern in patterns if pattern.published]


def _card(pattern: Pattern) -> PatternCard:
    revision = pattern.published
    if revision is None:  # pragma: no cover - left out above
        raise ValueError(pattern.slug)
    facts = revision.facts
    photos = facts["photos"]
    return PatternCard(
        slug=pattern.slug,
        title=facts["title"],
        says=facts["introduction"].split("\n")[0],
        kind=str(Kind(facts["kind"]).label),
        level=str(Level(facts["level"]).label) if facts["level"] else "",
        sizes=len(sizes(revision)),
        picture=Picture(**photos[0]) if photos else None,
    )
