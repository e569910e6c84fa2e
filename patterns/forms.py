"""Forms of the patterns room. Units at the edge: hooks in mm, gauge in stitches, cords in cm, loads in kg."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation
from typing import Any, ClassVar, Final

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from craft.standards.hooks import hook_label, hooks_by_us
from patterns.models import ChartSet, Notion, Pattern, PatternSize, PatternYarn
from workroom.money import MoneyField

__all__ = [
    "FactsForm",
    "HookField",
    "NewPatternForm",
    "NotionForm",
    "PhotoForm",
    "PublishForm",
    "SizeForm",
    "YarnForm",
]

_MM: Final = re.compile(r"^\s*(\d{1,2}(?:[.,]\d{1,3})?)\s*(?:mm)?\s*$", re.IGNORECASE)
_MONTHS: Final = (
    ("", gettext_lazy("Grown-ups, or nobody in particular")),
    ("0", gettext_lazy("Babies from birth")),
    ("12", gettext_lazy("Children from 1 year")),
    ("36", gettext_lazy("Children from 3 years")),
    ("84", gettext_lazy("Children from 7 years")),
)


class HookField(forms.CharField):
    """A hook as people say it: "5", "5.5 mm", "H-8". Cleaned to micrometres."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**{"max_length": 20, **kwargs})

    def clean(self, value: Any) -> int | None:
        said = super().clean(value)
        if not said:
            return None
        if match := _MM.match(said):
            hook_um = int(Decimal(match[1].replace(",", ".")) * 1000)
            if not 400 <= hook_um <= 50_000:
                raise forms.ValidationError(_("Hooks run from 0.4 to 50 mm."))
            return hook_um
        return self._by_letter(said)

    @staticmethod
    def _by_letter(said: str) -> int:
        found = hooks_by_us(said)
        if len(found) == 1:
            return int(found[0].mm * 1000)
        if found:
            choices = ", ".join(hook_label(hook.mm) for hook in found)
            raise forms.ValidationError(
                _("%(said)s is sold in more than one size: %(choices)s. Write the mm.")
                % {"said": said, "choices": choices}
            )
        raise forms.ValidationError(_("Write the hook in mm, such as 5 or 5.5."))


class YesNoSelect(forms.NullBooleanSelect):
    """Yes, no, or not said, in words that fit the question."""

    def __init__(self, yes: Any, no: Any) -> None:
        super().__init__()
        self.choices = (("unknown", gettext_lazy("not said")), ("true", yes), ("false", no))


class NewPatternForm(forms.ModelForm[Pattern]):
    """What a pattern needs to begin."""

    class Meta:
        model = Pattern
        fields = ("title", "terms")


class FactsForm(forms.ModelForm[Pattern]):
    """The facts of a pattern. `values()` gives them as the row keeps them."""

    hook = HookField(label=gettext_lazy("Hook"), required=False, help_text=gettext_lazy("In mm: 5, or 5.5."))
    gauge_stitches = forms.DecimalField(
        label=gettext_lazy("Stitches"), required=False, max_digits=4, decimal_places=1,
        validators=[MinValueValidator(Decimal("0.5")), MaxValueValidator(200)],
    )  # fmt: skip
    gauge_rows = forms.DecimalField(
        label=gettext_lazy("Rows or rounds"), required=False, max_digits=4, decimal_places=1,
        validators=[MinValueValidator(Decimal("0.5")), MaxValueValidator(200)],
    )  # fmt: skip
    gauge_over_cm = forms.DecimalField(
        label=gettext_lazy("Over, in cm"), required=False, max_digits=3, decimal_places=1,
        validators=[MinValueValidator(1), MaxValueValidator(50)],
    )  # fmt: skip
    gauge_stitch = forms.CharField(label=gettext_lazy("In which stitch"), required=False, max_length=20)
    gauge_in_round = forms.NullBooleanField(
        label=gettext_lazy("The swatch was worked"), required=False,
        widget=YesNoSelect(gettext_lazy("in the round"), gettext_lazy("flat")),
    )  # fmt: skip
    gauge_after_washing = forms.NullBooleanField(
        label=gettext_lazy("and measured"), required=False,
        widget=YesNoSelect(gettext_lazy("after washing"), gettext_lazy("before washing")),
    )  # fmt: skip
    youngest_months = forms.TypedChoiceField(
        label=gettext_lazy("For whom"), required=False, choices=_MONTHS, coerce=int,
        empty_value=None,
    )  # fmt: skip
    small_parts = forms.NullBooleanField(
        label=gettext_lazy("Eyes, buttons, beads or other small parts"), required=False,
        widget=YesNoSelect(gettext_lazy("yes, it has some"), gettext_lazy("no, none")),
    )  # fmt: skip
    stuffed = forms.BooleanField(label=gettext_lazy("It is stuffed"), required=False)
    longest_cord_cm = forms.DecimalField(
        label=gettext_lazy("Longest cord, tie or strap, in cm"), required=False, max_digits=5,
        decimal_places=1, validators=[MinValueValidator(0)],
    )  # fmt: skip
    load_tested_kg = forms.DecimalField(
        label=gettext_lazy("Load it held hung overnight, in kg"), required=False, max_digits=5,
        decimal_places=2, validators=[MinValueValidator(0)],
    )  # fmt: skip

    class Meta:
        model = Pattern
        fields = (
            "title", "kind", "introduction", "level", "skills", "terms", "special_stitches",
            "notes", "finishing", "care", "licence", "cautions",
        )  # fmt: skip
        widgets: ClassVar[dict[str, forms.Widget]] = {
            name: forms.Textarea(attrs={"rows": rows})
            for name, rows in {
                "introduction": 4, "skills": 2, "special_stitches": 4, "notes": 5, "finishing": 4,
                "care": 2, "licence": 3, "cautions": 2,
            }.items()
        }  # fmt: skip
        help_texts: ClassVar[dict[str, Any]] = {
            "special_stitches": gettext_lazy("One a line: bobble (bo): 5 dc in one place, closed."),
            "notes": gettext_lazy("One a line. The check reads them: turning chains, joins, spiral."),
            "cautions": gettext_lazy("One a line, printed above the usual ones."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial = {**_edge_values(self.instance), **self.initial}

    def values(self) -> dict[str, Any]:
        """Field name of the row -> value, ready for one UPDATE."""
        data = self.cleaned_data
        row = {name: data[name] for name in self._meta.fields or ()}
        row |= {
            name: data[name]
            for name in (
                "gauge_stitch", "gauge_in_round", "gauge_after_washing", "youngest_months",
                "small_parts", "stuffed",
            )
        }  # fmt: skip
        return row | {
            "hook_um": data["hook"],
            "gauge_stitches_tenths": _times(data["gauge_stitches"], 10),
            "gauge_rows_tenths": _times(data["gauge_rows"], 10),
            "gauge_over_mm": _times(data["gauge_over_cm"], 10) or 100,
            "longest_cord_mm": _times(data["longest_cord_cm"], 10),
            "load_tested_g": _times(data["load_tested_kg"], 1000),
        }


def _edge_values(pattern: Pattern) -> dict[str, Any]:
    """A row's numbers as the form shows them."""
    return {
        "hook": _plain(pattern.hook_um, 1000),
        "gauge_stitches": _plain(pattern.gauge_stitches_tenths, 10),
        "gauge_rows": _plain(pattern.gauge_rows_tenths, 10),
        "gauge_over_cm": _plain(pattern.gauge_over_mm, 10),
        "gauge_stitch": pattern.gauge_stitch,
        "gauge_in_round": pattern.gauge_in_round,
        "gauge_after_washing": pattern.gauge_after_washing,
        "youngest_months": pattern.youngest_months,
        "small_parts": pattern.small_parts,
        "stuffed": pattern.stuffed,
        "longest_cord_cm": _plain(pattern.longest_cord_mm, 10),
        "load_tested_kg": _plain(pattern.load_tested_g, 1000),
    }


def _plain(number: int | None, parts: int) -> Decimal | None:
    if number is None:
        return None
    value = (Decimal(number) / parts).normalize()
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value


def _times(number: Decimal | None, parts: int) -> int | None:
    if number is None:
        return None
    try:
        return int((number * parts).to_integral_value())
    except InvalidOperation:  # pragma: no cover - the field has refused it
        return None


class SizeForm(forms.ModelForm[PatternSize]):
    """One size. Its key is made once and stays."""

    class Meta:
        model = PatternSize
        fields = ("label", "to_fit", "finished")

    def key(self, taken: set[str]) -> str:
        """The key it has, or a new one from its label that is not among `taken`."""
        if self.instance.key:
            return self.instance.key
        stem = slugify(self.cleaned_data["label"])[:14] or "size"
        numbered = (stem if number == 1 else f"{stem}-{number}" for number in range(1, 1000))
        return next(key for key in numbered if key not in taken)


class YarnForm(forms.ModelForm[PatternYarn]):
    """One yarn of the pattern."""

    class Meta:
        model = PatternYarn
        fields = ("key", "yarn", "shade", "colour", "strands", "description", "alternatives")
        labels: ClassVar[dict[str, Any]] = {
            "description": gettext_lazy("Or in words, if it is not on the shelf"),
            "alternatives": gettext_lazy("What may be used instead"),
            "yarn": gettext_lazy("Yarn"),
            "shade": gettext_lazy("Colour on the shelf"),
            "colour": gettext_lazy("Colour as printed"),
            "strands": gettext_lazy("Strands"),
        }

    def clean_key(self) -> str:
        key: str = self.cleaned_data["key"].strip().upper()
        return key


class NotionForm(forms.ModelForm[Notion]):
    """One notion. Its price is in the workroom's currency."""

    price = MoneyField(label=gettext_lazy("Price of one"), required=False)

    class Meta:
        model = Notion
        fields = ("text", "quantity", "supply")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.price_minor is not None:
            self.initial["price"] = self.instance.price_minor


class PhotoForm(forms.Form):
    """A photo and the words for those who can't see it."""

    photo = forms.FileField(
        label=gettext_lazy("Photo"),
        help_text=gettext_lazy(
            "JPEG, PNG, WebP or AVIF, at most 40 million pixels and 30 MB. Place and camera are taken out."
        ),
        widget=forms.ClearableFileInput(attrs={"accept": "image/*"}),
    )
    alt = forms.CharField(
        label=gettext_lazy("What the photo shows"),
        max_length=300,
        help_text=gettext_lazy("For people who can't see it: one sentence."),
    )


class PublishForm(forms.Form):
    """The version and what changed in it."""

    version = forms.RegexField(
        r"^\d{1,4}\.\d{1,4}\.\d{1,4}$",
        label=gettext_lazy("Version"),
        error_messages={"invalid": gettext_lazy("Write three numbers, such as 1.2.0.")},
    )
    changes = forms.CharField(
        label=gettext_lazy("What changed"),
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("Shown with the version, for those who printed an older one."),
    )
    chart_shown = forms.BooleanField(
        label=gettext_lazy("Show its symbol chart on the page and in the PDF"),
        required=False,
        help_text=gettext_lazy("Look at the Chart page first. It is kept with this version, for every size."),
    )
    chart_set = forms.ChoiceField(label=gettext_lazy("Symbols"), choices=ChartSet, required=False)
    text_edit = forms.IntegerField(widget=forms.HiddenInput)
    facts_edit = forms.IntegerField(widget=forms.HiddenInput)
