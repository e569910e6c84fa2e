"""Forms of the stocktake: where to count, and what was found of one lot."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from yarns.amounts import Amount, Unit, grams
from yarns.forms.fields import KeyedForm, TypedField
from yarns.models import Lot, Place
from yarns.stocktakes import Found
from yarns.typed import Weighed, read_weighed


class StartForm(KeyedForm):
    """Which places; none ticked means everywhere."""

    places = forms.ModelMultipleChoiceField(
        Place.objects.all(),
        label=_("Places"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("Tick none to count everywhere."),
    )


def _small(**attributes: Any) -> dict[str, Any]:
    return {"size": 6, "inputmode": "numeric", "autocomplete": "off", **attributes}


class CountForm(forms.Form):
    """What lies there of one lot: full balls and the loose rest by the scale, or pieces."""

    balls = forms.IntegerField(
        label=_("Balls"),
        min_value=0,
        max_value=100_000,
        required=False,
        widget=forms.TextInput(attrs=_small()),
    )
    scale = TypedField(
        read_weighed,
        label=_("Grams"),
        required=False,
        widget=forms.TextInput(attrs=_small(inputmode="decimal")),
    )
    pieces = forms.IntegerField(
        label=_("Pieces"),
        min_value=0,
        max_value=10_000_000,
        required=False,
        widget=forms.TextInput(attrs=_small()),
    )
    seen = forms.IntegerField(widget=forms.HiddenInput, min_value=0)

    def __init__(self, *args: Any, lot: Lot, **kwargs: Any) -> None:
        super().__init__(*args, **{"auto_id": f"id_{lot.code}_%s", **kwargs})
        self.lot, self.unit = lot, Unit(lot.unit)
        self.ball_mass_mg = lot.colour.yarn.ball_mass_mg if lot.colour else None
        if self.unit is Unit.PIECE:
            del self.fields["balls"], self.fields["scale"]
        else:
            del self.fields["pieces"]
            if not self.ball_mass_mg or lot.tare_mg:
                del self.fields["balls"]

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        typed = [self.cleaned_data.get(field.name) for field in self.visible_fields()]
        if not self.errors and all(each in {None, ""} for each in typed):
            raise forms.ValidationError(_("Write what lies there; 0 if nothing does."), code="empty")
        if not self.errors and self.unit is Unit.MILLIGRAM and self._net() < 0:
            self.add_error(
                "scale", _("That is less than the empty cone or bag weighs. Weigh all of it together.")
            )
        return cleaned

    def _net(self) -> Decimal:
        """What the scale shows without cone or bag, g. Nought weighed is nothing there, cone and all."""
        weighed = self.cleaned_data.get("scale")
        if not isinstance(weighed, Weighed) or not weighed.mass_g:
            return Decimal(0)
        return weighed.mass_g - Decimal(self.lot.tare_mg) / 1000

    def found(self, place_id: int | None) -> Found:
        """What a valid form says."""
        if self.unit is Unit.PIECE:
            return Found(Amount(self.cleaned_data["pieces"], Unit.PIECE), 0, place_id)
        loose = grams(self._net()).count
        full = (self.cleaned_data.get("balls") or 0) * (self.ball_mass_mg or 0)
        return Found(Amount(full + loose, Unit.MILLIGRAM), loose, place_id)
