"""What to print labels on."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from craft.standards.label_stock import LABEL_SHEETS, LabelSheet, label_sheet


class LabelsForm(forms.Form):
    """The sheet by its measures, where to begin on it, how many of each."""

    sheet = forms.ChoiceField(
        label=_("Label sheet"),
        choices=[(each.key, each.name) for each in LABEL_SHEETS],
        help_text=_("Measure one label; the names on the packs differ, the sizes are common."),
    )
    start = forms.IntegerField(
        label=_("First free label"),
        min_value=1,
        initial=1,
        help_text=_("1 is at the top left; count along the rows."),
        widget=forms.NumberInput(attrs={"size": 4, "inputmode": "numeric"}),
    )
    copies = forms.IntegerField(
        label=_("Labels for each lot"),
        min_value=1,
        max_value=50,
        initial=1,
        widget=forms.NumberInput(attrs={"size": 4, "inputmode": "numeric"}),
    )
    plain = forms.BooleanField(label=_("without QR code"), required=False)

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        sheet, start = label_sheet(self.cleaned_data.get("sheet", "")), self.cleaned_data.get("start")
        if sheet and start and start > sheet.labels:
            self.add_error("start", _("This sheet has %(count)s labels.") % {"count": sheet.labels})
        return cleaned

    @property
    def label_sheet(self) -> LabelSheet:
        """The chosen sheet of a valid form."""
        found = label_sheet(self.cleaned_data["sheet"])
        if found is None:
            raise TypeError("Only a valid form has a sheet.")
        return found
