"""Tables of rows in a form: sizes, yarns, notions.

Empty rows stand ready; saving brings more, so that no script is needed.
"""

from __future__ import annotations

from typing import Any, Generic, TypeVar

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Model
from django.forms import BaseInlineFormSet, ModelForm, inlineformset_factory
from django.utils.translation import gettext as _

from patterns.forms import NotionForm, SizeForm, YarnForm
from patterns.models import Notion, Pattern, PatternSize, PatternYarn

__all__ = ["notion_rows", "size_rows", "yarn_rows"]

Row = TypeVar("Row", bound=Model)


class Rows(BaseInlineFormSet[Any, Pattern, ModelForm[Any]], Generic[Row]):
    """Rows that keep their order; `rows()` gives those that are to be kept."""

    key_field = ""

    def add_fields(self, form: ModelForm[Any], index: int | None) -> None:
        super().add_fields(form, index)
        form.fields["ORDER"].label = _("Place")
        form.fields["ORDER"].widget = forms.NumberInput(attrs={"min": 1, "size": 3})
        form.fields["DELETE"].label = _("Take away")

    def clean(self) -> None:
        """No two rows may go by the same letter."""
        seen: set[str] = set()
        for form in self.kept_forms():
            key = str(form.cleaned_data.get(self.key_field, "")).casefold()
            if self.key_field and key in seen:
                raise ValidationError(_("Two rows are called %s. Give each its own.") % key.upper())
            seen.add(key)
        super().clean()

    def kept_forms(self) -> list[ModelForm[Any]]:
        """Filled rows in the order asked for."""
        kept = [
            form
            for form in self.forms
            if form.is_valid() and form.cleaned_data and not form.cleaned_data.get("DELETE")
            and (form.instance.pk or form.has_changed())
        ]  # fmt: skip
        return sorted(kept, key=lambda form: form.cleaned_data.get("ORDER") or 10_000)

    def rows(self) -> list[Row]:
        return [form.instance for form in self.kept_forms()]


class SizeRows(Rows[PatternSize]):
    key_field = "label"

    def rows(self) -> list[PatternSize]:
        """Sizes, each with its key: the one it had, or a new one from its label."""
        forms_kept = self.kept_forms()
        taken = {form.instance.key for form in forms_kept if form.instance.key}
        for form in forms_kept:
            if isinstance(form, SizeForm):
                form.instance.key = form.key(taken)
                taken.add(form.instance.key)
        return [form.instance for form in forms_kept]


class YarnRows(Rows[PatternYarn]):
    key_field = "key"


class NotionRows(Rows[Notion]):
    def rows(self) -> list[Notion]:
        for form in self.kept_forms():
            form.instance.price_minor = form.cleaned_data["price"]
        return [form.instance for form in self.kept_forms()]


def _factory(model: type[Model], form: type[ModelForm[Any]], formset: type[Any], extra: int) -> Any:
    return inlineformset_factory(
        Pattern, model, form=form, formset=formset, extra=extra, can_order=True, can_delete=True,
        max_num=40, validate_max=True,
    )  # fmt: skip


def size_rows(pattern: Pattern, data: Any = None) -> SizeRows:
    made: SizeRows = _factory(PatternSize, SizeForm, SizeRows, 3)(data, instance=pattern, prefix="sizes")
    return made


def yarn_rows(pattern: Pattern, data: Any = None) -> YarnRows:
    made: YarnRows = _factory(PatternYarn, YarnForm, YarnRows, 2)(data, instance=pattern, prefix="yarns")
    return made


def notion_rows(pattern: Pattern, data: Any = None) -> NotionRows:
    made: NotionRows = _factory(Notion, NotionForm, NotionRows, 3)(data, instance=pattern, prefix="notions")
    return made
