"""What a fair may sell, and what it sold: one small form for each piece."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.durations import MinutesField
from orders.fair_writes import Expected, Sold
from orders.models import Keeps

MOST = 500


class ExpectedRow(forms.Form):
    """Both numbers empty: nothing is expected of this piece."""

    ordinary = forms.IntegerField(label=_("Ordinary fair"), min_value=1, max_value=MOST, required=False)
    very_good = forms.IntegerField(label=_("Very good fair"), min_value=1, max_value=MOST, required=False)
    keeps_pc = forms.TypedChoiceField(label=_("A left-over is worth"), choices=Keeps.choices, coerce=int)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        ordinary, very_good = cleaned.get("ordinary"), cleaned.get("very_good")
        if self.errors or (ordinary is None and very_good is None):
            return cleaned
        if ordinary is None or very_good is None:
            self.add_error(None, _("Write both numbers, or leave both empty."))
        elif very_good <= ordinary:
            self.add_error("very_good", _("A very good fair sells more than an ordinary one."))
        return cleaned

    @property
    def expected(self) -> Expected | None:
        """What was written. Call on a valid form."""
        data = self.cleaned_data
        if data["ordinary"] is None:
            return None
        return Expected(data["ordinary"], data["very_good"], data["keeps_pc"])


class ResultRow(forms.Form):
    """Both numbers empty: the piece was not at the fair."""

    brought = forms.IntegerField(label=_("Brought"), min_value=0, max_value=MOST, required=False)
    sold = forms.IntegerField(label=_("Sold"), min_value=0, max_value=MOST, required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        brought, sold = cleaned.get("brought"), cleaned.get("sold")
        if self.errors or not (brought or sold):
            return cleaned
        if not brought or (sold or 0) > brought:
            self.add_error("sold", _("More sold than brought. Write how many you had with you."))
        return cleaned

    @property
    def result(self) -> Sold | None:
        """What was written. Call on a valid form."""
        data = self.cleaned_data
        return Sold(data["brought"], data["sold"] or 0) if data["brought"] else None


class HoursForm(forms.Form):
    """Hours to try. Sent by GET; changes nothing."""

    hours = MinutesField(label=_("Hours you have"), most=60 * 2000, required=False)
