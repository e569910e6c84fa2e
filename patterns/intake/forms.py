"""The preview of one text that comes in: every field may be changed before anything is made."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from patterns.forms import HookField
from patterns.intake.splitting import Intake
from patterns.models import Kind
from patterns.source import TextTooLongError, cleaned_text
from workroom.models import Terms

__all__ = ["IntakeForm"]

_GAUGE_LIMITS = [MinValueValidator(Decimal("0.5")), MaxValueValidator(200)]


def _words(label: Any, rows: int) -> forms.CharField:
    area = forms.Textarea(attrs={"rows": rows})
    return forms.CharField(label=label, required=False, max_length=200_000, widget=area, strip=False)


def _tenths(label: Any) -> forms.DecimalField:
    return forms.DecimalField(
        label=label, required=False, max_digits=4, decimal_places=1, validators=_GAUGE_LIMITS
    )


class IntakeForm(forms.Form):
    """One pattern to be made. `keep` unticked: this text is left out."""

    keep = forms.BooleanField(label=gettext_lazy("Make a pattern of this"), required=False, initial=True)
    title = forms.CharField(label=gettext_lazy("Title"), max_length=300)
    terms = forms.ChoiceField(label=gettext_lazy("Terms"), choices=Terms.choices)
    kind = forms.ChoiceField(label=gettext_lazy("Kind of piece"), choices=Kind.choices)
    sizes = forms.CharField(
        label=gettext_lazy("Sizes"), required=False, max_length=400,
        help_text=gettext_lazy("With commas between. Leave it empty for one size."),
    )  # fmt: skip
    hook = HookField(label=gettext_lazy("Hook"), required=False)
    gauge_stitches = _tenths(gettext_lazy("Gauge: stitches"))
    gauge_rows = _tenths(gettext_lazy("Rows or rounds"))
    gauge_over_cm = forms.DecimalField(
        label=gettext_lazy("Over, in cm"), required=False, max_digits=4, decimal_places=2,
        validators=[MinValueValidator(1), MaxValueValidator(50)],
    )  # fmt: skip
    gauge_stitch = forms.CharField(label=gettext_lazy("In which stitch"), required=False, max_length=20)
    introduction = _words(gettext_lazy("Introduction"), 3)
    special_stitches = _words(gettext_lazy("Special stitches"), 3)
    notes = _words(gettext_lazy("Notes, and all that was not understood"), 8)
    text = _words(gettext_lazy("Instructions"), 14)
    finishing = _words(gettext_lazy("Finishing"), 3)
    licence = _words(gettext_lazy("Licence"), 2)

    def full_clean(self) -> None:
        """A text that is left out may be wrong in any way."""
        super().full_clean()
        if self.is_bound and not self.cleaned_data.get("keep"):
            self._errors = forms.utils.ErrorDict()

    def clean_sizes(self) -> tuple[str, ...]:
        """Labels in order, no two of which share a key."""
        said = self.cleaned_data["sizes"].split(",")
        labels = tuple(" ".join(size.split()) for size in said if size.strip())
        if len(labels) > 40 or any(len(label) > 40 for label in labels):
            raise forms.ValidationError(_("At most 40 sizes of at most 40 letters each."))
        if len({label.casefold() for label in labels}) < len(labels):
            raise forms.ValidationError(_("Two sizes have the same name."))
        return labels

    def clean_text(self) -> str:
        try:
            return cleaned_text(self.cleaned_data["text"])
        except TextTooLongError:
            raise forms.ValidationError(_("This is too long for one pattern. Split it.")) from None

    def values(self) -> dict[str, Any]:
        """Columns of `Pattern` besides title, terms and text."""
        data = self.cleaned_data
        plain = ("kind", "gauge_stitch", "introduction", "special_stitches", "notes", "finishing", "licence")
        over = data.get("gauge_over_cm")
        return {
            **{name: re.sub(r"\r\n?", "\n", data[name]).strip() for name in plain},
            "hook_um": data["hook"],
            "gauge_stitches_tenths": _as_tenths(data["gauge_stitches"]),
            "gauge_rows_tenths": _as_tenths(data["gauge_rows"]),
            "gauge_over_mm": int(over * 10) if over else 100,
        }

    @staticmethod
    def initial_of(intake: Intake, terms: str) -> dict[str, Any]:
        """What the preview shows at first; `terms`: the studio's, for a text that names none."""
        fields = {name: getattr(intake, name) for name in Intake.__dataclass_fields__}
        hook_mm = fields.pop("hook_mm")
        shown = {name: f"{fields[name]:g}" if fields[name] else "" for name in _NUMBERS}
        return {
            **fields, **shown, "keep": True, "hook": f"{hook_mm:g}" if hook_mm else "",
            "sizes": ", ".join(intake.sizes), "terms": intake.terms or terms,
        }  # fmt: skip


_NUMBERS = ("gauge_stitches", "gauge_rows", "gauge_over_cm")


def _as_tenths(value: Decimal | None) -> int | None:
    return None if value is None else int(value * 10)


def size_key(label: str, number: int, taken: set[str]) -> str:
    """A key for a size that no other has."""
    key = slugify(label)[:16].strip("-") or f"size-{number}"
    while key in taken:
        key = f"{key[:14]}-{number}"
        number += 1
    return key
