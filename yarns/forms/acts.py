"""Forms of the lot page: what one does with a lot."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from yarns.amounts import Amount, Unit, grams
from yarns.forms.fields import KeyedForm, Suggesting, TypedField, mass_field
from yarns.forms.receiving import place_names
from yarns.ledger import Purpose
from yarns.models import Lot, PurposeKind
from yarns.typed import TypedError, Weighed, read_amount, read_weighed


class ActForm(KeyedForm):
    """What every act on a lot knows: the lot, and how its amounts are written."""

    def __init__(self, data: Mapping[str, Any] | None = None, *, lot: Lot, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.lot = lot
        self.unit = Unit(lot.unit)
        self.ball_mass_mg = lot.colour.yarn.ball_mass_mg if lot.colour else None

    amount: Amount | None = None

    @property
    def amount_read(self) -> Amount:
        """The amount of a valid form."""
        if self.amount is None:
            raise TypeError("Only a valid form has an amount.")
        return self.amount

    def read(self, name: str) -> Amount | None:
        """A typed amount; its error stays with the field."""
        words = self.cleaned_data.get(name)
        if not words:
            return None
        try:
            return read_amount(words, self.unit, self.ball_mass_mg)
        except TypedError as refusal:
            self.add_error(name, str(refusal))
            return None


class AmountForm(ActForm):
    """So much, for that, because."""

    how_much = forms.CharField(
        label=_("How much"),
        max_length=20,
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    purpose_kind = forms.ChoiceField(label=_("For"), choices=PurposeKind.choices, required=False)
    purpose_label = forms.CharField(label=_("Which"), max_length=120, required=False)
    why = forms.CharField(label=_("Why"), max_length=200, required=False)

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self.amount = self.read("how_much")
        return cleaned

    def purpose(self) -> Purpose:
        """What it goes to. No key: those belong to the rooms that promise and issue by themselves."""
        kind = PurposeKind(self.cleaned_data["purpose_kind"])
        return Purpose(kind, "", self.cleaned_data["purpose_label"])


class WriteOffForm(ActForm):
    """So much is lost, and the reason has to be named."""

    how_much = forms.CharField(
        label=_("How much"),
        max_length=20,
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    why = forms.CharField(
        label=_("Why"),
        max_length=200,
        widget=Suggesting(
            lambda: map(
                str,
                (_("moth"), _("damaged"), _("given away"), _("lost"), _("sent back to the supplier")),
            )
        ),
    )

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self.amount = self.read("how_much")
        return cleaned


class CorrectForm(ActForm):
    """What the book should say, and why."""

    to = forms.CharField(
        label=_("It should be"),
        max_length=20,
        help_text=_("0 if nothing is there"),
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    why = forms.CharField(label=_("Why"), max_length=200)
    seen = forms.IntegerField(widget=forms.HiddenInput)

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        words = str(self.cleaned_data.get("to") or "").strip()
        nothing = words.rstrip("gG ").strip() == "0"
        self.amount = Amount(0, self.unit) if nothing else self.read("to")
        return cleaned


class WeighForm(ActForm):
    """Full balls counted, and what the scale says for the opened rest."""

    full_balls = forms.IntegerField(
        label=_("Full balls"),
        min_value=0,
        max_value=100_000,
        required=False,
        widget=forms.NumberInput(attrs={"size": 5, "inputmode": "numeric"}),
    )
    scale = TypedField(
        read_weighed,
        label=_("The scale shows"),
        help_text=_("g or oz, as it stands there"),
        widget=forms.TextInput(attrs={"size": 10, "inputmode": "decimal", "autocomplete": "off"}),
    )
    tare_mg = mass_field(label=_("Empty cone or bag"), required=False, help_text=_("g or oz"))
    why = forms.CharField(label=_("Why"), max_length=200, required=False)
    seen = forms.IntegerField(widget=forms.HiddenInput)
    even_so = forms.BooleanField(widget=forms.HiddenInput, required=False)

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        if self.cleaned_data.get("full_balls") and not self.ball_mass_mg:
            self.add_error(
                "full_balls",
                _("The mass of a full ball is not known for this yarn. Weigh them all together."),
            )
        return cleaned

    @property
    def weighed(self) -> Weighed:
        found = self.cleaned_data["scale"]
        if not isinstance(found, Weighed):
            raise TypeError(found)
        return found

    @property
    def tare_g(self) -> Decimal:
        return Decimal(self.cleaned_data["tare_mg"] or 0) / 1000

    def total(self, net_g: Decimal) -> Amount:
        """Full balls by the band, and the weighed rest."""
        full = (self.cleaned_data["full_balls"] or 0) * (self.ball_mass_mg or 0)
        return Amount(full + grams(net_g).count, Unit.MILLIGRAM)


class MoveForm(forms.Form):
    """Another shelf or box."""

    place = forms.CharField(label=_("Place"), max_length=60, widget=Suggesting(place_names))


class UndoForm(KeyedForm):
    """Why an entry is taken back."""

    why = forms.CharField(label=_("Why"), max_length=200, required=False)
