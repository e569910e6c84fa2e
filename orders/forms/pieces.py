"""A piece, its yarns and extras, and the what-if fields of its sheet."""

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from orders.durations import MinutesField
from orders.fields import AmountField, GramsField, PercentField, PriceField
from orders.models import ExtraKind, PieceExtra, PieceYarn
from orders.models.pieces import MOST_MINUTES
from orders.models.rates import WHOLE_BP
from yarns.amounts import Unit
from yarns.models import Colour, Supply

MOST_ROWS = 40


class PieceForm(forms.Form):
    """`version`: of the piece when the form was opened, 0 for a new one; `key` counts a new one once."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0)
    source = forms.CharField(widget=forms.HiddenInput, required=False, max_length=40)
    title = forms.CharField(label=_("Name of the piece"), max_length=120)
    minutes = MinutesField(
        label=_("Time for one"),
        least=1,
        most=MOST_MINUTES,
        help_text=_("At the hook, with ends and sewing up. Minutes like 85, or hours like 1:25."),
    )
    price_minor = PriceField(label=_("Price on the tag"), required=False)
    notes = forms.CharField(
        label=_("Notes"), required=False, max_length=4_000, widget=forms.Textarea(attrs={"rows": 3})
    )
    active = forms.BooleanField(label=_("Still made"), required=False, initial=True)


class YarnRow(forms.Form):
    """One yarn of the piece. A row without a mass and without a colour is no row."""

    part_key = forms.CharField(widget=forms.HiddenInput, required=False, max_length=8)
    from_pattern = forms.BooleanField(widget=forms.HiddenInput, required=False)
    label = forms.CharField(label=_("Part"), required=False, max_length=80)
    colour = forms.TypedChoiceField(label=_("Yarn and colour"), required=False, coerce=int, empty_value=None)
    mass_mg = GramsField(label=_("Grams for one"), required=False)
    reserve_mg = GramsField(label=_("Grams to have at hand"), required=False)
    remove = forms.BooleanField(label=_("Take this row out"), required=False)

    def __init__(self, *args: Any, colours: Sequence[Any] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["colour"].choices = colours  # type: ignore[attr-defined]  # a TypedChoiceField

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if self.is_left_out or self.errors:
            return cleaned
        mass, reserve = cleaned.get("mass_mg"), cleaned.get("reserve_mg")
        if mass is None:
            self.add_error("mass_mg", _("Write how many grams one piece takes, or take the row out."))
        elif reserve is not None and reserve < mass:
            self.add_error("reserve_mg", _("Have at hand at least what a piece takes."))
        return cleaned

    @property
    def is_left_out(self) -> bool:
        data = self.cleaned_data
        says_something = data.get("colour") or data.get("mass_mg") or data.get("label")
        return bool(data.get("remove")) or (not says_something and "mass_mg" not in self.errors)

    def row(self, part_key: str) -> PieceYarn:
        """The row as it will be saved. Call on a valid form that is not left out."""
        data = self.cleaned_data
        return PieceYarn(
            part_key=data["part_key"] or part_key,
            label=data["label"],
            colour_id=data["colour"],
            mass_mg=data["mass_mg"],
            reserve_mg=data["reserve_mg"] or data["mass_mg"],
            from_pattern=data["from_pattern"] and not self._weighed_anew(),
        )

    def _weighed_anew(self) -> bool:
        """Somebody wrote another mass than the pattern's estimate."""
        return any(self.initial.get(name) != self.cleaned_data[name] for name in ("mass_mg", "reserve_mg"))


class ExtraRow(forms.Form):
    """Something besides yarn. A row without a name, a supply and an amount is no row."""

    kind = forms.ChoiceField(label=_("Kind"), choices=ExtraKind.choices, required=False)
    label = forms.CharField(label=_("What"), required=False, max_length=80)
    supply = forms.TypedChoiceField(label=_("From the shelf"), required=False, coerce=int, empty_value=None)
    amount = AmountField(label=_("How much for one"), required=False)
    price_minor = PriceField(label=_("Price of one, or of 1 kg"), required=False)
    remove = forms.BooleanField(label=_("Take this row out"), required=False)

    def __init__(
        self,
        *args: Any,
        supplies: Sequence[Any] = (),
        units: dict[int, tuple[str, str]] | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.units = units or {}
        self.fields["supply"].choices = supplies  # type: ignore[attr-defined]  # a TypedChoiceField

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if self.is_left_out or self.errors:
            return cleaned
        if cleaned.get("amount") is None:
            self.add_error("amount", _("Write how many one piece takes, like 2, or how heavy, like 25 g."))
        elif cleaned.get("supply") and cleaned["amount"].unit != self.units[cleaned["supply"]][0]:
            self.add_error("amount", self._says_unit(cleaned["supply"]))
        elif not cleaned.get("label") and not cleaned.get("supply"):
            self.add_error("label", _("Write what it is."))
        return cleaned

    def _says_unit(self, supply: int) -> str:
        if self.units[supply][0] == Unit.MILLIGRAM:
            return str(_("This supply is kept by weight. Write grams, like 25 g."))
        return str(_("This supply is counted. Write how many, like 2."))

    @property
    def is_left_out(self) -> bool:
        data = self.cleaned_data
        says_something = data.get("label") or data.get("supply") or data.get("amount")
        return bool(data.get("remove")) or (not says_something and not self.errors)

    def row(self) -> PieceExtra:
        """The row as it will be saved. Call on a valid form that is not left out."""
        data = self.cleaned_data
        supply = data["supply"]
        return PieceExtra(
            kind=data["kind"] or ExtraKind.NOTION,
            label=data["label"] or self.units[supply][1][:80],
            supply_id=supply,
            unit=data["amount"].unit,
            quantity=data["amount"].count,
            price_minor=data["price_minor"],
        )


def yarn_rows(data: Any, initial: Sequence[dict[str, Any]], blank: int) -> Any:
    """The yarns of a piece as a formset, with `blank` empty rows after those that are there."""
    factory = forms.formset_factory(YarnRow, extra=blank, max_num=MOST_ROWS, validate_max=True)
    return factory(data, initial=initial, prefix="yarn", form_kwargs={"colours": _colours()})


def extra_rows(data: Any, initial: Sequence[dict[str, Any]], blank: int) -> Any:
    factory = forms.formset_factory(ExtraRow, extra=blank, max_num=MOST_ROWS, validate_max=True)
    supplies = list(Supply.objects.all())
    units = {supply.pk: (supply.counts_in, str(supply)) for supply in supplies}
    choices = [("", _("not from the shelf")), *((each.pk, str(each)) for each in supplies)]
    kwargs = {"supplies": choices, "units": units}
    return factory(data, initial=initial, prefix="extra", form_kwargs=kwargs)


def _colours() -> list[Any]:
    """Colours under their yarns, with an empty choice first."""
    rows = Colour.objects.select_related("yarn").order_by("yarn__maker", "yarn__name", "yarn", "name")
    groups = [
        (str(yarn), [(colour.pk, f"{yarn.name} {colour.name}") for colour in colours])
        for yarn, colours in groupby(rows, key=lambda colour: colour.yarn)
    ]
    return [("", _("not chosen yet")), *groups]


class WhatIfForm(forms.Form):
    """Fields to try on a sheet. They are sent by GET and change nothing."""

    minutes = MinutesField(label=_("Time for one"), least=1, most=MOST_MINUTES, required=False)
    wage_minor = PriceField(label=_("Pay for an hour"), required=False)
    margin_bp = PercentField(label=_("Margin, per cent"), below_bp=WHOLE_BP, required=False)
    price_minor = PriceField(label=_("Price"), required=False)
