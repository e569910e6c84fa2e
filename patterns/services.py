"""Writes of the patterns room. Each is one short transaction; what was typed is never lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import F, Max
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from patterns.models import (
    Notion,
    Pattern,
    PatternSize,
    PatternYarn,
    Photo,
    Revision,
    RevisionChart,
    SavedText,
    SetAside,
    ShownPhoto,
)
from workroom.media import StoredPhoto
from workroom.models import Person, Terms

__all__ = [
    "NotReadyError",
    "StaleEditError",
    "facts_claim",
    "facts_save",
    "materials_save",
    "pattern_create",
    "pattern_unpublish",
    "photo_add",
    "photo_describe",
    "photo_move",
    "photo_remove",
    "remark_set_aside",
    "remark_take_back",
    "revision_publish",
    "text_save",
]

RESERVED = frozenset({"new", "import", "checks"})
"""Addresses that are pages of the desk."""

KEPT_TEXTS = 100
"""Saved states of the instructions kept for each pattern."""


class StaleEditError(RuntimeError):
    """Somebody else saved in the meantime. `current` is the pattern as it stands now."""

    def __init__(self, current: Pattern) -> None:
        super().__init__(f"{current.slug} was saved by somebody else")
        self.current = current


class NotReadyError(RuntimeError):
    """A pattern that can't be published; the text says what is in the way."""


def pattern_create(*, title: str, terms: str = Terms.US, by: Person) -> Pattern:
    """A new, empty pattern with an address of its own made from the title."""
    stem = slugify(title)[:50].strip("-") or "pattern"
    for number in range(1, 1000):
        slug = stem if number == 1 else f"{stem}-{number}"
        if slug in RESERVED:
            continue
        try:
            with transaction.atomic():
                pattern = Pattern.objects.create(slug=slug, title=title, terms=terms)
                SavedText.objects.create(pattern=pattern, edit=0, saved_by=by)
        except IntegrityError:
            continue
        return pattern
    raise NotReadyError(_("There are too many patterns of that name. Choose another title."))


def text_save(pattern: Pattern, *, text: str, seen: int, by: Person | None) -> Pattern:
    """Save the instructions, if nobody saved since the state `seen`. Raises StaleEditError."""
    with transaction.atomic():
        claimed = Pattern.objects.filter(pk=pattern.pk, text_edit=seen).update(
            text=text, text_edit=F("text_edit") + 1, changed_at=timezone.now()
        )
        current = Pattern.objects.get(pk=pattern.pk)
        if not claimed:
            raise StaleEditError(current)
        SavedText.objects.create(pattern=current, edit=current.text_edit, text=text, saved_by=by)
        current.saved_texts.filter(edit__lte=current.text_edit - KEPT_TEXTS).delete()
    return current


def facts_claim(pattern: Pattern, *, seen: int) -> None:
    """Take the next edit of the facts, inside the caller's transaction. Raises StaleEditError."""
    claimed = Pattern.objects.filter(pk=pattern.pk, facts_edit=seen).update(
        facts_edit=F("facts_edit") + 1, changed_at=timezone.now()
    )
    if not claimed:
        raise StaleEditError(Pattern.objects.get(pk=pattern.pk))


def facts_save(
    pattern: Pattern, *, seen: int, values: Mapping[str, Any], sizes: Sequence[PatternSize]
) -> None:
    """Save the facts and the sizes in their order. Raises StaleEditError."""
    with transaction.atomic():
        facts_claim(pattern, seen=seen)
        Pattern.objects.filter(pk=pattern.pk).update(**values)
        _replace(pattern.sizes, pattern, sizes)


def materials_save(
    pattern: Pattern, *, seen: int, yarns: Sequence[PatternYarn], notions: Sequence[Notion]
) -> None:
    """Save yarns and notions in their order. Raises StaleEditError."""
    with transaction.atomic():
        facts_claim(pattern, seen=seen)
        _replace(pattern.yarns, pattern, yarns)
        _replace(pattern.notions, pattern, notions)


def _replace(manager: Any, pattern: Pattern, rows: Sequence[Any]) -> None:
    """Put these rows in the place of the old. Nothing points at them: revisions hold copies."""
    manager.all().delete()
    for position, row in enumerate(rows):
        row.pk, row.pattern, row.position = None, pattern, position
        row._state.adding = True
    manager.bulk_create(rows)


def remark_set_aside(pattern: Pattern, *, check: str, line: str, reason: str, by: Person) -> None:
    """Keep a remark aside, with its reason, until the line changes. Again: the newer reason counts."""
    with transaction.atomic():
        pattern.set_aside.filter(check_slug=check, line=line).delete()
        SetAside.objects.create(pattern=pattern, check_slug=check, line=line, reason=reason, by=by)


def remark_take_back(pattern: Pattern, *, check: str, line: str) -> None:
    """Let a remark that was set aside count again."""
    pattern.set_aside.filter(check_slug=check, line=line).delete()


def photo_add(pattern: Pattern, stored: StoredPhoto, *, alt: str) -> Photo:
    """Put a stored photo behind the others; the same photo again only changes its words."""
    last = pattern.photos.aggregate(last=Max("position"))["last"]
    photo, made = Photo.objects.get_or_create(
        pattern=pattern,
        digest=stored.digest,
        defaults={
            "width": stored.width,
            "height": stored.height,
            "alt": alt,
            "position": 0 if last is None else last + 1,
        },
    )
    if not made and alt:
        photo.alt = alt
        photo.save(update_fields=["alt"])
    return photo


def photo_describe(photo: Photo, *, alt: str) -> None:
    """Keep the words for those who can't see the photo."""
    Photo.objects.filter(pk=photo.pk).update(alt=alt)


def photo_move(photo: Photo, *, first: bool) -> None:
    """Make a photo the first, or move it one place back."""
    with transaction.atomic():
        order = list(photo.pattern.photos.values_list("pk", flat=True))
        place = order.index(photo.pk)
        order.insert(0 if first else place + 1, order.pop(place))
        for position, pk in enumerate(order):
            Photo.objects.filter(pk=pk).update(position=position)


def photo_remove(photo: Photo) -> None:
    """Take a photo off the pattern. The store keeps it: a published revision may show it."""
    Photo.objects.filter(pk=photo.pk).delete()


def revision_publish(
    pattern: Pattern, revision: Revision, *, text_edit: int, facts_edit: int, by: Person,
    charts: Sequence[RevisionChart] = (), chart_set: str = "",
) -> Revision:  # fmt: skip
    """Keep a frozen state and put it on the site, if text and facts are still as they were read.

    `revision` is what `freezing.freeze` made; `charts` its symbol charts, none where it shows none;
    `chart_set` the symbols that the pattern goes on with, "" to leave them as they are. Raises
    StaleEditError, or NotReadyError when that version is taken.
    """
    with transaction.atomic():
        current = Pattern.objects.select_for_update().get(pk=pattern.pk)
        if (current.text_edit, current.facts_edit) != (text_edit, facts_edit):
            raise StaleEditError(current)
        if current.revisions.filter(version=revision.version).exists():
            raise NotReadyError(_("There is a version %s already.") % revision.version)
        last = current.revisions.aggregate(last=Max("number"))["last"] or 0
        revision.pattern, revision.number = current, last + 1
        revision.published_at, revision.published_by = timezone.now(), by
        revision.save(force_insert=True)
        digests = {photo["digest"] for photo in revision.facts["photos"]}
        ShownPhoto.objects.bulk_create(
            ShownPhoto(revision=revision, digest=digest) for digest in sorted(digests)
        )
        for chart in charts:
            chart.revision = revision
        RevisionChart.objects.bulk_create(charts)
        Pattern.objects.filter(pk=current.pk).update(
            published=revision, chart_shown=bool(charts), chart_set=chart_set or current.chart_set
        )
    return revision


def pattern_unpublish(pattern: Pattern) -> None:
    """Take a pattern off the site. Its revisions stay for what was made from them."""
    Pattern.objects.filter(pk=pattern.pk).update(published=None)
