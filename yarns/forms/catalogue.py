"""Forms for what a yarn, a colour, a supply, a place is."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from yarns.forms.fields import (
    BarcodeField,
    ShadeField,
    Suggesting,
    fibres_field,
    hook_field,
    length_field,
    mass_field,
)
from yarns.models import Colour, Place, Supplier, Supply, Yarn
from yarns.models.catalogue import WEIGHT_CHOICES


def maker_names() -> list[str]:
    """Makers typed before, of yarns and supplies."""
    named = Yarn.objects.exclude(maker="").order_by("maker").values_list("maker", flat=True)
    return list(dict.fromkeys(named))


class VersionedForm(forms.ModelForm):  # type: ignore[type-arg]  # one base for several models
    """A form that carries the version of the row it was opened on."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False, min_value=0)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["version"] = self.instance.version

    def values(self) -> dict[str, Any]:
        """The cleaned facts without the version."""
        return {name: self.cleaned_data[name] for name in self._meta.fields or ()}


class YarnForm(VersionedForm):
    """A yarn as its band has it."""

    fibres = fibres_field(
        label=_("Fibre"),
        required=False,
        help_text=_("like 80 wool, 20 nylon; empty where nobody knows"),
    )
    ball_mass_mg = mass_field(label=_("One ball weighs"), required=False, help_text=_("g or oz"))
    ball_length_mm = length_field(label=_("One ball is long"), required=False, help_text=_("m or yd"))
    hook_um = hook_field(label=_("Advised hook"), required=False, help_text=_("mm"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        weight = self.fields["weight_category"]
        weight.choices = [("", _("not known")), *WEIGHT_CHOICES]  # type: ignore[attr-defined]  # a choice field

    class Meta:
        model = Yarn
        fields = (
            "maker",
            "name",
            "weight_category",
            "fibres",
            "ball_mass_mg",
            "ball_length_mm",
            "put_up",
            "hook_um",
            "care",
            "notes",
        )
        widgets = {
            "maker": Suggesting(maker_names),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }


class ColourForm(VersionedForm):
    """One colour of a yarn. The yarn is given by the page, not typed."""

    hex_swatch = ShadeField(label=_("Shade"), required=False)
    gtin = BarcodeField(label=_("Barcode"), required=False)

    class Meta:
        model = Colour
        fields = ("name", "code", "hex_swatch", "gtin")

    def clean_gtin(self) -> str:
        gtin = str(self.cleaned_data["gtin"])
        taken = Colour.objects.filter(gtin=gtin).exclude(pk=self.instance.pk)
        if gtin and (other := taken.select_related("yarn").first()):
            raise forms.ValidationError(
                _("This barcode belongs to %(colour)s.") % {"colour": other}, code="taken"
            )
        return gtin

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        name, code = self.cleaned_data.get("name"), self.cleaned_data.get("code") or ""
        if name and self.instance.yarn_id:
            twins = Colour.objects.filter(yarn_id=self.instance.yarn_id, name__iexact=name, code__iexact=code)
            if twins.exclude(pk=self.instance.pk).exists():
                self.add_error("name", _("This yarn has a colour of that name and number already."))
        return cleaned


class SupplyForm(VersionedForm):
    """Eyes, filling, buttons and the like."""

    gtin = BarcodeField(label=_("Barcode"), required=False)

    class Meta:
        model = Supply
        fields = ("kind", "maker", "name", "size", "counts_in", "gtin", "notes")

    def clean_counts_in(self) -> str:
        """Weighed stays weighed and counted stays counted once there are lots of it."""
        unit = str(self.cleaned_data["counts_in"])
        if self.instance.pk and self.instance.lots.exclude(unit=unit).exists():
            raise forms.ValidationError(
                _("Lots of it are in the stock book, so how it is counted stays as it is."),
                code="has-lots",
            )
        return unit


class MeasuredForm(forms.Form):
    """The studio's own measure of a yarn: so many metres weighed so many grams."""

    length_mm = length_field(label=_("You measured"), required=False, help_text=_("m or yd"))
    mass_mg = mass_field(label=_("It weighed"), required=False, help_text=_("g or oz"))

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        if not self.errors and bool(self.cleaned_data["length_mm"]) != bool(self.cleaned_data["mass_mg"]):
            raise forms.ValidationError(_("Give both the length and its mass, or leave both empty."))
        return cleaned

    def mm_per_g(self) -> int | None:
        """The measured rate, or None to go back to the band."""
        length_mm, mass_mg = self.cleaned_data["length_mm"], self.cleaned_data["mass_mg"]
        return round(length_mm * 1000 / mass_mg) if mass_mg else None


class PlaceForm(forms.ModelForm):  # type: ignore[type-arg]  # django-stubs wants it, Django 5.2 has no subscript
    class Meta:
        model = Place
        fields = ("name", "notes")


class SupplierForm(forms.ModelForm):  # type: ignore[type-arg]  # django-stubs wants it, Django 5.2 has no subscript
    class Meta:
        model = Supplier
        fields = ("name", "lead_days", "notes")
