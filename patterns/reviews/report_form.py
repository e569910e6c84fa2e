"""The tester's report as a form. Fields for yarns come from the letters of the reader's copy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from patterns.forms import HookField, YesNoSelect
from patterns.reviews.copies import copy_sizes
from patterns.reviews.models import DraftCopy, ReportMeasure, ReportYarn, Review
from patterns.reviews.quantities import GRAMS, LENGTHS, MINUTES, PER_100MM, AmountField
from patterns.reviews.reading import Findings
from patterns.revisions import yarn_name

__all__ = ["ReportForm"]

MOST_MEASURES: Final = 12
LEAST_MEASURES: Final = 4
MOST_TYPED: Final = 4000

_WORDS: Final = {"rows": 3}


class ReportForm(forms.Form):
    """Everything a tester measured. `typed()` is what stands in the fields, `findings()` what it says."""

    size = forms.ChoiceField(label=gettext_lazy("Size you made"))
    hook = HookField(
        label=gettext_lazy("Hook that met the gauge"), required=False,
        help_text=gettext_lazy("In mm, such as 5 or 5.5, or by its letter, such as H-8."),
    )  # fmt: skip
    swatch_stitches = AmountField(PER_100MM, least=5, most=2000, label=gettext_lazy("Stitches"))
    swatch_rows = AmountField(PER_100MM, least=5, most=2000, label=gettext_lazy("Rows or rounds"))
    swatch_washed = forms.NullBooleanField(
        label=gettext_lazy("Measured"), required=False,
        widget=YesNoSelect(gettext_lazy("after washing"), gettext_lazy("before washing")),
    )  # fmt: skip
    hours = AmountField(MINUTES, most=1500, label=gettext_lazy("Hours"))
    minutes = AmountField(MINUTES, most=59, label=gettext_lazy("Minutes"))
    measured_blocked = forms.NullBooleanField(
        label=gettext_lazy("Measured"), required=False,
        widget=YesNoSelect(gettext_lazy("after blocking"), gettext_lazy("before blocking")),
    )  # fmt: skip
    changed = forms.CharField(
        label=gettext_lazy("What you did otherwise than written"), required=False, max_length=MOST_TYPED,
        widget=forms.Textarea(attrs=_WORDS),
        help_text=gettext_lazy("Another yarn, more rounds, another hook for the brim: it helps to know."),
    )  # fmt: skip
    would_change = forms.CharField(
        label=gettext_lazy("What you would change"), required=False, max_length=MOST_TYPED,
        widget=forms.Textarea(attrs=_WORDS),
    )  # fmt: skip
    liked = forms.CharField(
        label=gettext_lazy("What you liked"), required=False, max_length=MOST_TYPED,
        widget=forms.Textarea(attrs=_WORDS),
    )  # fmt: skip

    def __init__(self, data: Any = None, *, review: Review, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.copy: DraftCopy = review.copy
        self.keys = [str(yarn["key"]) for yarn in self.copy.facts["yarns"]] or ["A"]
        size = self.fields["size"]
        if isinstance(size, forms.ChoiceField):
            size.choices = [(each.key, each.label) for each in copy_sizes(self.copy)]
        self.initial.setdefault("size", review.size_key)
        self._add_yarns()
        self._add_measures()

    def _add_yarns(self) -> None:
        for key in self.keys:
            self.fields[f"yarn-{key}-name"] = forms.CharField(
                label=_("Yarn you used"), required=False, max_length=120
            )
            self.fields[f"yarn-{key}-before"] = AmountField(GRAMS, most=100_000_000, label=_("Grams before"))
            self.fields[f"yarn-{key}-after"] = AmountField(GRAMS, most=100_000_000, label=_("Grams after"))

    def _add_measures(self) -> None:
        stands: Mapping[str, Any] = self.data if self.is_bound else self.initial
        last = max((n for n in range(1, MOST_MEASURES + 1) if stands.get(f"measure-{n}-name")), default=0)
        self.places = range(1, min(MOST_MEASURES, max(LEAST_MEASURES, last + 2)) + 1)
        for place in self.places:
            self.fields[f"measure-{place}-name"] = forms.CharField(
                label=_("What"), required=False, max_length=80
            )
            self.fields[f"measure-{place}-length"] = AmountField(
                LENGTHS, least=1, most=100_000, label=_("Length")
            )

    def yarn_rows(self) -> list[tuple[str, BoundField, BoundField, BoundField]]:
        """(what the pattern calls it, name, before, after) for each yarn."""
        names = {str(yarn["key"]): _called(yarn) for yarn in self.copy.facts["yarns"]}
        return [
            (
                names.get(key, key),
                self[f"yarn-{key}-name"],
                self[f"yarn-{key}-before"],
                self[f"yarn-{key}-after"],
            )
            for key in self.keys
        ]

    def measure_rows(self) -> list[tuple[BoundField, BoundField]]:
        return [(self[f"measure-{place}-name"], self[f"measure-{place}-length"]) for place in self.places]

    def typed(self) -> dict[str, str]:
        """What stands in the fields, as it was typed, without the NUL that no database keeps."""
        said = {name: str(self.data.get(name, "")).replace("\0", "") for name in self.fields}
        return {name: words[:MOST_TYPED] for name, words in said.items() if words}

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for key in self.keys:
            before, after = data.get(f"yarn-{key}-before"), data.get(f"yarn-{key}-after")
            if before is not None and after is not None and after > before:
                self.add_error(f"yarn-{key}-after", _("More than before? Look at the two weights once more."))
            if (before is None) != (after is None) and not self._refused(key):
                missing = "before" if before is None else "after"
                self.add_error(f"yarn-{key}-{missing}", _("Both weights are needed to know what was used."))
        for place in self.places:
            self._pair(data, f"measure-{place}-name", f"measure-{place}-length")
        return data

    def _refused(self, key: str) -> bool:
        return bool({f"yarn-{key}-before", f"yarn-{key}-after"} & set(self.errors))

    def _pair(self, data: Mapping[str, Any], name: str, length: str) -> None:
        if data.get(name) and data.get(length) is None and length not in self.errors:
            self.add_error(length, _("How long is it? Or take the name away."))
        if data.get(length) is not None and not data.get(name):
            self.add_error(name, _("What did you measure? Such as: around the brim."))

    def findings(self) -> Findings:
        data = self.cleaned_data
        hours, minutes = data["hours"], data["minutes"]
        values = {
            "size_key": data["size"],
            "hook_um": data["hook"],
            "swatch_stitches_tenths": data["swatch_stitches"],
            "swatch_rows_tenths": data["swatch_rows"],
            "swatch_washed": data["swatch_washed"],
            "minutes": None if hours is None and minutes is None else (hours or 0) * 60 + (minutes or 0),
            **{name: data[name] for name in ("measured_blocked", "changed", "would_change", "liked")},
        }
        return Findings(values, tuple(self._yarns()), tuple(self._measures()))

    def _yarns(self) -> list[ReportYarn]:
        data = self.cleaned_data
        rows = [
            ReportYarn(
                key=key, name=data[f"yarn-{key}-name"], before_mg=data[f"yarn-{key}-before"],
                after_mg=data[f"yarn-{key}-after"],
            )
            for key in self.keys
        ]  # fmt: skip
        return [row for row in rows if row.name or row.before_mg is not None]

    def _measures(self) -> list[ReportMeasure]:
        data = self.cleaned_data
        return [
            ReportMeasure(name=data[f"measure-{n}-name"], length_mm=data[f"measure-{n}-length"])
            for n in self.places
            if data[f"measure-{n}-name"]
        ]


def _called(yarn: Mapping[str, Any]) -> str:
    words = ", ".join(part for part in (yarn_name(yarn), yarn["colour"]) if part)
    return f"{yarn['key']}: {words}" if words else str(yarn["key"])
