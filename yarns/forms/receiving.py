"""Forms of the parcel on the table."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from workroom.money import MoneyField
from yarns.amounts import Amount, Unit
from yarns.forms.fields import KeyedForm, Suggesting, mass_field
from yarns.models import Lot, Ownership, Place, SetAside, Supplier
from yarns.typed import TypedError, read_amount


def place_names() -> list[str]:
    return list(Place.objects.values_list("name", flat=True))


def supplier_names() -> list[str]:
    return list(Supplier.objects.values_list("name", flat=True))


class ParcelForm(KeyedForm):
    """Where a parcel comes from and when it came."""

    supplier = forms.CharField(
        label=_("Supplier"), max_length=80, required=False, widget=Suggesting(supplier_names)
    )
    received_on = forms.DateField(
        label=_("Came on"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    slip_number = forms.CharField(label=_("Number on the slip"), max_length=40, required=False)


class CloseForm(forms.Form):
    """What is known when the table is clear."""

    postage_minor = MoneyField(label=_("Postage of the parcel"), required=False)
    slip_number = forms.CharField(label=_("Number on the slip"), max_length=40, required=False)


class LineForm(KeyedForm):
    """One lot of a parcel. What it is of is decided before; this asks what the band and slip say."""

    dye_lot = forms.CharField(
        label=_("Dye lot"),
        max_length=40,
        required=False,
        widget=forms.TextInput(attrs={"size": 12, "autocomplete": "off"}),
    )
    how_much = forms.CharField(
        label=_("How much"),
        max_length=20,
        widget=forms.TextInput(attrs={"size": 10, "autocomplete": "off"}),
    )
    place = forms.CharField(label=_("Place"), max_length=60, required=False, widget=Suggesting(place_names))
    price = MoneyField(label=_("Price for all"), required=False)
    ownership = forms.ChoiceField(label=_("Whose it is"), choices=Ownership.choices, required=False)
    owner_note = forms.CharField(
        label=_("For what"),
        max_length=80,
        required=False,
        help_text=_("an order’s number rather than a name"),
    )
    hand_dyed = forms.BooleanField(label=_("hand-dyed"), required=False)
    second_hand = forms.BooleanField(label=_("second-hand"), required=False)
    no_band = forms.BooleanField(label=_("no ball band"), required=False)
    set_aside = forms.ChoiceField(label=_("Set aside"), choices=SetAside.choices, required=False)
    tare_mg = mass_field(label=_("Empty cone or bag"), required=False, help_text=_("g or oz"))
    notes = forms.CharField(label=_("Notes"), max_length=200, required=False)

    def __init__(
        self, *args: Any, unit: Unit = Unit.MILLIGRAM, ball_mass_mg: int | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.unit, self.ball_mass_mg = unit, ball_mass_mg
        self.fields["how_much"].help_text = self._how_much_help()

    def _how_much_help(self) -> Any:
        if self.unit is Unit.PIECE:
            return _("pieces")
        return _("balls, or 450 g") if self.ball_mass_mg else _("like 450 g")

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self._read_how_much()
        theirs = self.cleaned_data.get("ownership") == Ownership.CUSTOMER
        if theirs and self.cleaned_data.get("price"):
            self.add_error("price", _("A customer’s own yarn has no price: it is not yours."))
        return cleaned

    def _read_how_much(self) -> None:
        words = self.cleaned_data.get("how_much")
        if not words:
            return
        try:
            self.cleaned_data["amount"] = read_amount(words, self.unit, self.ball_mass_mg)
        except TypedError as refusal:
            self.add_error("how_much", str(refusal))

    def boxes(self) -> list[forms.BoundField]:
        """The yes-or-no facts, for one row on the page."""
        return [self[name] for name in ("hand_dyed", "second_hand", "no_band")]

    @property
    def amount(self) -> Amount:
        """What came in; only of a valid form."""
        amount = self.cleaned_data["amount"]
        if not isinstance(amount, Amount):
            raise TypeError(amount)
        return amount

    def facts(self) -> dict[str, Any]:
        """Everything of the arrival that stands as typed."""
        data = self.cleaned_data
        return {
            "dye_lot": " ".join(data["dye_lot"].split()),
            "price_paid_minor": data["price"],
            "ownership": Ownership(data["ownership"] or Ownership.OURS),
            "owner_note": data["owner_note"],
            "hand_dyed": data["hand_dyed"],
            "second_hand": data["second_hand"],
            "no_band": data["no_band"],
            "set_aside": SetAside(data["set_aside"]),
            "tare_mg": data["tare_mg"] or 0,
            "notes": data["notes"],
        }


class LotFactsForm(forms.ModelForm):  # type: ignore[type-arg]  # django-stubs wants it, Django 5.2 has no subscript
    """What is written on a lot beside its balance."""

    version = forms.IntegerField(widget=forms.HiddenInput)
    place = forms.CharField(label=_("Place"), max_length=60, required=False, widget=Suggesting(place_names))
    supplier = forms.CharField(
        label=_("Supplier"), max_length=80, required=False, widget=Suggesting(supplier_names)
    )
    price_paid_minor = MoneyField(label=_("Price paid, for all of it"), required=False)
    tare_mg = mass_field(label=_("Empty cone or bag"), required=False, help_text=_("g or oz"))

    class Meta:
        model = Lot
        fields = (
            "dye_lot",
            "place",
            "supplier",
            "received_on",
            "price_paid_minor",
            "ownership",
            "owner_note",
            "hand_dyed",
            "second_hand",
            "no_band",
            "set_aside",
            "tare_mg",
            "notes",
        )
        widgets = {"received_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        lot = self.instance
        self.initial.update(
            place=lot.place.name if lot.place else "",
            supplier=lot.supplier.name if lot.supplier else "",
            version=lot.version,
        )

    def clean_tare_mg(self) -> int:
        return self.cleaned_data["tare_mg"] or 0

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        theirs = self.cleaned_data.get("ownership") == Ownership.CUSTOMER
        if theirs and self.cleaned_data.get("price_paid_minor"):
            self.add_error("price_paid_minor", _("A customer’s own yarn has no price: it is not yours."))
        return cleaned

    def _post_clean(self) -> None:
        """Names of place and supplier become rows only when saved: nothing is set on the lot here."""
