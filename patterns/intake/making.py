"""Patterns made of what came in: all of them, or none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction

from patterns.intake.forms import IntakeForm, size_key
from patterns.models import Pattern, PatternSize
from patterns.services import pattern_create, text_save
from workroom.models import Person

__all__ = ["patterns_make"]


def patterns_make(forms: Sequence[IntakeForm], *, form_key: UUID, by: Person) -> list[Pattern]:
    """Make a pattern of each form that is kept, in one transaction.

    `form_key`: of all forms together. Sent twice, each form gives back what was made the first time.
    """
    kept = {
        uuid5(form_key, str(place)): form for place, form in enumerate(forms) if form.cleaned_data["keep"]
    }
    try:
        with transaction.atomic():
            made = _made_before(kept)
            return [made.get(key) or _made(form, key, by) for key, form in kept.items()]
    except IntegrityError:  # the same form in another hand, a moment earlier
        made = _made_before(kept)
        if len(made) < len(kept):
            raise
        return [made[key] for key in kept]


def _made_before(keys: Iterable[UUID]) -> dict[UUID, Pattern]:
    found = Pattern.objects.filter(form_key__in=list(keys))
    return {pattern.form_key: pattern for pattern in found if pattern.form_key}


def _made(form: IntakeForm, form_key: UUID, by: Person) -> Pattern:
    data = form.cleaned_data
    pattern = pattern_create(title=data["title"], terms=data["terms"], by=by)
    Pattern.objects.filter(pk=pattern.pk).update(form_key=form_key, **form.values())
    taken: set[str] = set()
    for place, label in enumerate(data["sizes"]):
        key = size_key(label, place + 1, taken)
        taken.add(key)
        PatternSize.objects.create(pattern=pattern, key=key, label=label, position=place)
    return text_save(pattern, text=data["text"], seen=0, by=by)
