"""Patterns made of what came in: all of them, or none."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from patterns.intake.forms import IntakeForm, size_key
from patterns.models import Pattern, PatternSize
from patterns.services import pattern_create, text_save
from workroom.models import Person

__all__ = ["patterns_make"]


def patterns_make(forms: Sequence[IntakeForm], *, by: Person) -> list[Pattern]:
    """Make a pattern of each form that is kept, in one transaction."""
    with transaction.atomic():
        return [_made(form, by) for form in forms if form.cleaned_data["keep"]]


def _made(form: IntakeForm, by: Person) -> Pattern:
    data = form.cleaned_data
    pattern = pattern_create(title=data["title"], terms=data["terms"], by=by)
    Pattern.objects.filter(pk=pattern.pk).update(**form.values())
    taken: set[str] = set()
    for place, label in enumerate(data["sizes"]):
        key = size_key(label, place + 1, taken)
        taken.add(key)
        PatternSize.objects.create(pattern=pattern, key=key, label=label, position=place)
    return text_save(pattern, text=data["text"], seen=0, by=by)
