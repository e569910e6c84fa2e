"""A fair."""

from datetime import timedelta
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.durations import MinutesField
from orders.fields import PercentField, PriceField
from orders.forms.batches import date_input
from orders.models.rates import WHOLE_BP

LONGEST = timedelta(days=60)
MOST_MINUTES = 60 * 24 * 60


class FairForm(forms.Form):
    """Fields are named like the columns of Fair."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0)
    name = forms.CharField(label=_("Fair"), max_length=120)
    place = forms.CharField(label=_("Place"), max_length=120, required=False)
    starts_on = forms.DateField(label=_("First day"), widget=date_input())
    ends_on = forms.DateField(
        label=_("Last day"),
        widget=date_input(),
        required=False,
        help_text=_("Leave empty for a fair of one day."),
    )
    apply_by = forms.DateField(label=_("Apply by"), widget=date_input(), required=False)
    stall_fee_minor = PriceField(label=_("Stall fee"), required=False)
    commission_bp = PercentField(
        label=_("Organiser’s share of takings, per cent"), below_bp=WHOLE_BP, required=False
    )
    travel_minor = PriceField(label=_("Travel"), required=False)
    other_minor = PriceField(label=_("Parking, food and the rest"), required=False)
    open_minutes = MinutesField(
        label=_("Time the stall is open"), most=MOST_MINUTES, required=False, help_text=_("Like 6:00.")
    )
    away_minutes = MinutesField(label=_("Travel, setting up, packing"), most=MOST_MINUTES, required=False)
    float_minor = PriceField(
        label=_("Float"), required=False, help_text=_("Coins and notes in the box before the first sale.")
    )
    busy_pc = forms.IntegerField(
        label=_("How busy, per cent of an ordinary fair"),
        min_value=10,
        max_value=500,
        initial=100,
        help_text=_(
            "100 is an ordinary fair, 150 a busy one, 50 a wet one in the open. Scales what may sell."
        ),
    )
    notes = forms.CharField(
        label=_("Notes"), required=False, max_length=4_000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for name in cleaned:
            if name.endswith(("_minor", "_bp", "_minutes")):
                cleaned[name] = cleaned[name] or 0
        starts, ends = cleaned.get("starts_on"), cleaned.get("ends_on")
        if starts is not None and "ends_on" not in self.errors:
            cleaned["ends_on"] = ends or starts
            self._check_days(cleaned)
        return cleaned

    def _check_days(self, cleaned: dict[str, Any]) -> None:
        if cleaned["ends_on"] < cleaned["starts_on"]:
            self.add_error("ends_on", _("The last day comes before the first."))
        elif cleaned["ends_on"] - cleaned["starts_on"] > LONGEST:
            self.add_error("ends_on", _("A fair of more than sixty days: check the year."))
