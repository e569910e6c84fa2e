"""Reads of the patterns room."""

from __future__ import annotations

from dataclasses import replace

from django.db.models import F, QuerySet
from django.shortcuts import get_object_or_404

from patterns.fields import fields_of, given_facts
from patterns.models import Pattern, Revision, ShownPhoto
from patterns.source import Source, compose

__all__ = [
    "all_patterns",
    "last_revision",
    "pattern_or_404",
    "photo_is_public",
    "published_or_404",
    "published_patterns",
    "reasons_of",
    "source_of",
]


def all_patterns() -> QuerySet[Pattern]:
    """Every pattern with its published revision, sizes and photos at hand; the last changed first."""
    return (
        Pattern.objects.select_related("published")
        .prefetch_related("photos", "sizes")
        .order_by("-changed_at", "pk")
    )


def published_patterns() -> QuerySet[Pattern]:
    """What is out, with `.published` joined, by title."""
    return Pattern.objects.filter(published__isnull=False).select_related("published")


def pattern_or_404(slug: str) -> Pattern:
    return get_object_or_404(Pattern.objects.select_related("published"), slug=slug)


def published_or_404(slug: str) -> Revision:
    """The published revision of a pattern; 404 for one that is not out."""
    pattern = get_object_or_404(published_patterns(), slug=slug)
    if pattern.published is None:  # pragma: no cover - the query has left these out
        raise AssertionError(slug)
    pattern.published.pattern = pattern
    return pattern.published


def last_revision(pattern: Pattern) -> Revision | None:
    return pattern.revisions.order_by("-number").first()


def photo_is_public(digest: str) -> bool:
    """Whether a photo stands in a revision that is out."""
    shown = ShownPhoto.objects.filter(digest=digest)
    return shown.filter(revision__pattern__published=F("revision")).exists()


def source_of(pattern: Pattern, text: str | None = None) -> Source:
    """The whole text of a pattern as the reader takes it, and what its fields know of it.

    `text` stands in for what is saved.
    """
    fields = fields_of(pattern)
    source = compose(
        pattern.text if text is None else text,
        sizes=tuple(size.label for size in fields.sizes),
        lines=fields.lines,
        special_stitches=pattern.special_stitches,
        notes=pattern.notes,
        after=fields.after,
    )
    return replace(source, given=given_facts(fields, source))


def reasons_of(pattern: Pattern) -> list[tuple[str, str, str]]:
    """What is set aside: (check, words of the line, reason)."""
    return list(pattern.set_aside.values_list("check_slug", "line", "reason"))
