"""Forms of what is ordered: an order's facts, one line more, the rule for ordering a thing again."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from workroom.money import MoneyField
from yarns.amounts import Amount, Unit
from yarns.forms.fields import Suggesting
from yarns.forms.receiving import supplier_names
from yarns.models import Purchase
from yarns.typed import TypedError, read_amount


class PurchaseForm(forms.ModelForm):  # type: ignore[type-arg]  # django-stubs wants it, Django 5.2 has no subscript
    """What their confirmation says."""

    class Meta:
        model = Purchase
        fields = ("reference", "ordered_on", "expected_on", "notes")
        widgets = {
            name: forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
            for name in ("ordered_on", "expected_on")
        }

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        ordered, expected = self.cleaned_data.get("ordered_on"), self.cleaned_data.get("expected_on")
        if ordered and expected and expected < ordered:
            self.add_error("expected_on", _("It can’t come before it is ordered."))
        return cleaned


class _AmountForm(forms.Form):
    """Knows how the amounts of its thing are written."""

    def __init__(self, *args: Any, unit: Unit, ball_mass_mg: int | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.unit, self.ball_mass_mg = unit, ball_mass_mg

    def read(self, name: str) -> Amount | None:
        text = self.cleaned_data.get(name)
        if not text:
            return None
        try:
            return read_amount(text, self.unit, self.ball_mass_mg)
        except TypedError as refusal:
            self.add_error(name, str(refusal))
            return None


class LineForm(_AmountForm):
    """So much of it, for so much."""

    how_much = forms.CharField(
        label=_("How much"),
        max_length=20,
        help_text=_("balls, or 450 g; pieces where counted"),
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    price = MoneyField(label=_("Price for all"), required=False)

    amount: Amount | None = None

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self.amount = self.read("how_much")
        return cleaned

    @property
    def amount_read(self) -> Amount:
        """The amount of a valid form."""
        if self.amount is None:
            raise TypeError("Only a valid form has an amount.")
        return self.amount


class RuleForm(_AmountForm):
    """What a person says of ordering a thing again."""

    supplier = forms.CharField(
        label=_("Order it from"),
        max_length=80,
        required=False,
        widget=Suggesting(supplier_names),
        help_text=_("empty: where it came from last"),
    )
    minimum = forms.CharField(
        label=_("Order when there is no more than"),
        max_length=20,
        required=False,
        help_text=_("empty: worked out from use and the supplier’s days"),
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    never = forms.BooleanField(label=_("never order it again"), required=False)

    amount: Amount | None = None

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self.amount = self.read("minimum")
        return cleaned
