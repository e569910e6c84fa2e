"""What stands on labels, and how many to print."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.tag_sheets import MOST_COPIES, SheetKind


class LabelProfileForm(forms.Form):
    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0)
    maker = forms.CharField(label=_("Maker"), max_length=80, required=False)
    address = forms.CharField(
        label=_("Postal address"),
        max_length=300,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Many places want an address on toys and textiles at which the maker can be reached."),
    )
    origin = forms.CharField(
        label=_("Country of origin"), max_length=60, required=False, help_text=_("Where the piece is made.")
    )


class TagsForm(forms.Form):
    """Sent by GET; changes nothing."""

    kind = forms.ChoiceField(
        label=_("What to print"),
        choices=[(SheetKind.PRICE, _("price tags")), (SheetKind.CARE, _("fibre and care labels"))],
    )
    copies = forms.IntegerField(label=_("How many"), min_value=1, max_value=MOST_COPIES)

    @property
    def wanted(self) -> tuple[SheetKind, int]:
        """Kind and number. Call on a valid form."""
        data: dict[str, Any] = self.cleaned_data
        return SheetKind(data["kind"]), data["copies"]
