"""A batch, the time it took, and how it ended."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.durations import MinutesField
from orders.fields import AmountField
from orders.models import Fair, Piece
from orders.models.batches import MOST_PIECES
from orders.models.pieces import MOST_MINUTES
from yarns.amounts import Amount


def date_input() -> forms.DateInput:
    """The device's own calendar; the value travels as YYYY-MM-DD whatever the language."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class BatchForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput)
    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0)
    piece = forms.ModelChoiceField(label=_("Piece"), queryset=Piece.objects.none())
    quantity = forms.IntegerField(
        label=_("How many"),
        min_value=1,
        max_value=MOST_PIECES,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={
            "min_value": _("A batch has at least one piece. Write how many you want to make."),
            "max_value": _("One batch takes at most %(limit_value)s pieces. Check the figure, or split it."),
            "invalid": _("Write a whole number, like 12."),
        },
    )
    due_on = forms.DateField(label=_("Ready by"), required=False, widget=date_input())
    fair = forms.ModelChoiceField(
        label=_("For the fair"), queryset=Fair.objects.none(), required=False, empty_label=_("no fair")
    )
    may_mix = forms.BooleanField(
        label=_("Dye lots may meet in one piece"),
        required=False,
        help_text=_("For stripes and small parts. Else every piece gets each colour from one dye lot."),
    )
    note = forms.CharField(label=_("Note"), required=False, max_length=300)

    def __init__(self, *args: Any, pieces: Any = None, fairs: Any = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["piece"].queryset = pieces  # type: ignore[attr-defined]  # a ModelChoiceField
        self.fields["fair"].queryset = fairs  # type: ignore[attr-defined]  # a ModelChoiceField


class TimeForm(forms.Form):
    """Time at the hook. `pieces` empty: time on the batch as a whole."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    minutes = MinutesField(label=_("Time"), least=1, most=MOST_MINUTES)
    pieces = forms.IntegerField(
        label=_("For how many finished pieces"),
        required=False,
        min_value=1,
        max_value=MOST_PIECES,
        help_text=_("Leave empty for a sitting on the batch as a whole."),
    )
    worked_on = forms.DateField(label=_("On"), widget=date_input())
    note = forms.CharField(label=_("Note"), required=False, max_length=200)

    def __init__(self, *args: Any, today: date | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_worked_on(self) -> date:
        worked_on: date = self.cleaned_data["worked_on"]
        if self.today is not None and worked_on > self.today:
            raise forms.ValidationError(
                _("That day has not come yet. Enter time on the day it was worked."), code="future"
            )
        return worked_on


class FinishForm(forms.Form):
    made = forms.IntegerField(label=_("Good ones"), min_value=0, max_value=MOST_PIECES)
    seconds = forms.IntegerField(
        label=_("Seconds, to sell for less"), min_value=0, max_value=MOST_PIECES, required=False
    )
    scrapped = forms.IntegerField(label=_("Scrapped"), min_value=0, max_value=MOST_PIECES, required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors and not any(cleaned.get(n) for n in ("made", "seconds", "scrapped")):
            self.add_error(
                "made",
                _("Write how many came off the hook. If there are none, cancel the batch instead."),
            )
        return cleaned


class UsedForm(forms.Form):
    """What was really used of each lot that the batch holds; one field for each lot."""

    def __init__(self, *args: Any, lots: Sequence[tuple[int, str, Amount]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lots = {f"lot-{lot_id}": (lot_id, amount.unit) for lot_id, _label, amount in lots}
        for lot_id, label, amount in lots:
            self.fields[f"lot-{lot_id}"] = UsedField(label=label, initial=amount)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for name, (_lot_id, unit) in self.lots.items():
            amount = cleaned.get(name)
            if isinstance(amount, Amount) and amount.count and amount.unit != unit:
                self.add_error(name, _("Write it %s, as this lot is kept.") % unit.label)
        return cleaned

    @property
    def used(self) -> dict[int, int]:
        """Amount used by lot id, in the lot's unit."""
        return {lot_id: self.cleaned_data[name].count for name, (lot_id, _unit) in self.lots.items()}


class UsedField(AmountField):
    """Like AmountField, but nothing used is an answer too."""

    def clean(self, value: Any) -> Any:
        if str(value or "").strip().split(" ")[0] in {"0", "0.0", "0,0"}:
            return Amount(0, self.initial.unit)
        return super().clean(value)
