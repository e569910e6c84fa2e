"""The parcel on the table: find what came in, say what band and slip say, next.

The one field takes a barcode, a label code, words or "+" (the last lot again, next dye lot). Each step
is an address of its own, so that all of it works without scripts; with htmx only the table is swapped.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.forms import BaseForm
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.http import StaffRequest
from workroom.selectors import local_today
from yarns import ledger
from yarns.amounts import Unit
from yarns.catalogue import place_named, supplier_named
from yarns.finding import Found, find
from yarns.forms.catalogue import ColourForm, YarnForm
from yarns.forms.receiving import CloseForm, LineForm, ParcelForm
from yarns.models import Colour, Lot, Movement, Parcel, Supply, Yarn
from yarns.parcels import (
    NewThing,
    add_lot,
    add_new_thing,
    close_parcel,
    open_parcel,
    reopen_parcel,
    take_back,
)
from yarns.purchases import lines_of
from yarns.selectors import WITH_NAMES

CARRIED = frozenset({"key", "version"})
"""Fields that nobody types in."""


@dataclass(frozen=True, slots=True)
class Line:
    """The step that asks for the lot: of a known thing, a new colour, or a new yarn with its colour."""

    line: LineForm
    thing: Colour | Supply | None = None
    yarn: Yarn | None = None
    colour_form: ColourForm | None = None
    yarn_form: YarnForm | None = None

    @property
    def what(self) -> str:
        """How the form names what it is of: "colour-4", "supply-2", "yarn-3" (a new colour), "new"."""
        if isinstance(self.thing, Colour):
            return f"colour-{self.thing.pk}"
        if self.thing is not None:
            return f"supply-{self.thing.pk}"
        return f"yarn-{self.yarn.pk}" if self.yarn else "new"

    @property
    def forms(self) -> list[BaseForm]:
        """Its forms in the order of the page."""
        return [form for form in (self.yarn_form, self.colour_form, self.line) if form is not None]

    def is_valid(self) -> bool:
        """All its forms, so that every mistake is shown at once."""
        valid = [form.is_valid() for form in self.forms]
        return all(valid)

    def take_the_keyboard(self) -> None:
        """Mark the field to begin in: the first that is wrong, or the first of the page."""
        fields = [form[name] for form in self.forms for name in form.fields if name not in CARRIED]
        wrong = [field for field in fields if field.errors] if self.line.is_bound else []
        (wrong or fields)[0].field.widget.attrs["autofocus"] = True


# ------------------------------------------------------------------------- opening and closing


@require_http_methods(["GET", "HEAD", "POST"])
def receive(request: StaffRequest) -> HttpResponse:
    if request.method != "POST":
        return _receive_page(request, ParcelForm(initial=_usual_parcel()), 200)
    form = ParcelForm(request.POST)
    if not form.is_valid():
        return _receive_page(request, form, 422)
    parcel = open_parcel(
        request.user,
        form.cleaned_data["key"],
        supplier=supplier_named(form.cleaned_data["supplier"]),
        received_on=form.cleaned_data["received_on"],
        slip_number=form.cleaned_data["slip_number"],
    )
    return redirect("yarns:parcel", parcel.pk)


def _usual_parcel() -> dict[str, Any]:
    last = Parcel.objects.select_related("supplier").order_by("-pk").first()
    return {
        "supplier": last.supplier.name if last and last.supplier else "",
        "received_on": local_today(),
        "key": uuid4().hex,
    }


def _receive_page(request: StaffRequest, form: ParcelForm, status: int) -> HttpResponse:
    parcels = Parcel.objects.select_related("supplier", "opened_by")
    context = {
        "form": form,
        "open_parcels": parcels.filter(closed_at=None).order_by("-pk")[:20],
        "last_parcels": parcels.exclude(closed_at=None)[:10],
    }
    return render(request, "yarns/receive.html", context, status=status)


@require_POST
def parcel_close(request: StaffRequest, pk: int) -> HttpResponse:
    parcel = get_object_or_404(Parcel, pk=pk)
    form = CloseForm(request.POST)
    if not form.is_valid():
        return _parcel_page(request, parcel, find(""), None, 422, close_form=form)
    data = form.cleaned_data
    close_parcel(parcel, data["postage_minor"] or 0, data["slip_number"])
    messages.success(request, _("The parcel is put away."))
    return redirect("yarns:parcel", parcel.pk)


@require_POST
def parcel_reopen(request: StaffRequest, pk: int) -> HttpResponse:
    parcel = get_object_or_404(Parcel, pk=pk)
    reopen_parcel(parcel)
    return redirect("yarns:parcel", parcel.pk)


@require_POST
def parcel_take_back(request: StaffRequest, pk: int, code: str) -> HttpResponse:
    """A lot logged by mistake: its receiving is undone."""
    parcel = get_object_or_404(Parcel, pk=pk)
    movement = get_object_or_404(Movement, lot__parcel=parcel, lot__code=code, kind="received")
    try:
        take_back(parcel, movement, ledger.Act(request.user, f"take-back:{movement.pk}"))
    except ledger.LedgerError as refusal:
        messages.error(request, str(refusal))
    return redirect("yarns:parcel", parcel.pk)


# -------------------------------------------------------------------------------- the table


@require_safe
def parcel(request: StaffRequest, pk: int) -> HttpResponse:
    return _step(request, pk)


@require_safe
def parcel_entry(request: StaffRequest, pk: int) -> HttpResponse:
    """The same steps without the page around them."""
    return _step(request, pk)


def _step(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Parcel.objects.select_related("supplier", "purchase"), pk=pk)
    asked = request.GET
    if "what" in asked:
        line = _line(row, request, asked["what"], None, carried=asked)
        return _parcel_page(request, row, Found(), line, 200)
    found = find(asked.get("q", ""), asked.get("gtin", ""))
    if found.thing is not None:
        return _parcel_page(request, row, found, _line(row, request, _what(found.thing), None), 200)
    if found.again:
        return _again(request, row)
    return _parcel_page(request, row, found, None, 200)


def _again(request: StaffRequest, row: Parcel) -> HttpResponse:
    last = row.lots.select_related(*WITH_NAMES).order_by("-pk").first()
    if last is None:
        says = _("There is no lot in this parcel yet to repeat.")
        return _parcel_page(request, row, Found(says=says), None, 200)
    line = _line(row, request, _what(last.thing), None, like=last)
    return _parcel_page(request, row, Found(), line, 200)


def _what(thing: Colour | Supply) -> str:
    return f"{'colour' if isinstance(thing, Colour) else 'supply'}-{thing.pk}"


@require_POST
def parcel_add(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Parcel.objects.select_related("supplier", "purchase"), pk=pk)
    line = _line(row, request, request.POST.get("what", ""), request.POST)
    if not line.is_valid():
        return _parcel_page(request, row, Found(), line, 422)
    try:
        lot = _book(row, request, line)
    except ledger.LedgerError as refusal:
        line.line.add_error(None, str(refusal))
        return _parcel_page(request, row, Found(), line, 409)
    says = _("%(lot)s: %(amount)s, label %(code)s") % {
        "lot": lot,
        "amount": lot.on_hand,
        "code": lot.code,
    }
    if not request.htmx:
        messages.success(request, says)
        return redirect("yarns:parcel", row.pk)
    return _parcel_page(request, row, Found(), None, 200, booked=says)


def _book(row: Parcel, request: StaffRequest, line: Line) -> Lot:
    act = ledger.Act(request.user, f"lot:{line.line.cleaned_data['key']}")
    place = place_named(line.line.cleaned_data["place"])
    arrival = ledger.Arrival(
        thing=line.thing or Colour(),
        amount=line.line.amount,
        received_on=row.received_on,
        place_id=place.pk if place else None,
        **line.line.facts(),
    )
    if line.thing is not None:
        return add_lot(row, arrival, act).lot
    if line.colour_form is None:
        raise TypeError("A lot of a new colour comes with the colour.")
    new_yarn = line.yarn_form.instance if line.yarn_form else None
    return add_new_thing(row, NewThing(line.colour_form.instance, new_yarn), arrival, act).lot


# ------------------------------------------------------------------------- building the step


def _line(
    row: Parcel,
    request: StaffRequest,
    what: str,
    data: QueryDict | None,
    *,
    carried: Mapping[str, str] | None = None,
    like: Lot | None = None,
) -> Line:
    """The forms for what the step is of. An unknown `what` is a new yarn.

    `carried`: the barcode and the name that were typed on the way here.
    """
    thing, yarn = _named(what)
    if thing is not None:
        unit = Unit.MILLIGRAM if isinstance(thing, Colour) else Unit(thing.counts_in)
        mass = thing.yarn.ball_mass_mg if isinstance(thing, Colour) else None
        form = _line_form(row, request, data, mass, unit, like)
        form.initial.setdefault("how_much", (carried or {}).get("how_much", "")[:20])
        return Line(form, thing=thing)
    known = {key: (carried or {}).get(key, "")[:80] for key in ("name", "gtin")}
    yarn_form = None if yarn else YarnForm(data, prefix="yarn", initial={"name": known["name"]})
    colour_form = ColourForm(
        data,
        prefix="colour",
        initial={"gtin": known["gtin"], "name": known["name"] if yarn else ""},
        instance=Colour(yarn=yarn),
    )
    mass = yarn.ball_mass_mg if yarn else _typed_mass(yarn_form) if data else None
    known_mass = mass if data or yarn else 1  # a new yarn's mass is typed in the same form
    return Line(
        _line_form(row, request, data, known_mass, Unit.MILLIGRAM, like),
        yarn=yarn,
        colour_form=colour_form,
        yarn_form=yarn_form,
    )


def _typed_mass(form: YarnForm | None) -> int | None:
    """The ball's mass of a new yarn, typed in the same form as the lot."""
    if form is None:
        return None
    form.full_clean()
    mass = form.cleaned_data.get("ball_mass_mg")
    return int(mass) if mass else None


def _named(what: str) -> tuple[Colour | Supply | None, Yarn | None]:
    kind, _dash, digits = what.partition("-")
    pk = int(digits) if digits.isascii() and digits.isdigit() and len(digits) < 12 else 0
    if kind == "colour":
        return get_object_or_404(Colour.objects.select_related("yarn"), pk=pk), None
    if kind == "supply":
        return get_object_or_404(Supply, pk=pk), None
    return None, get_object_or_404(Yarn, pk=pk) if kind == "yarn" else None


def _line_form(
    row: Parcel,
    request: StaffRequest,
    data: QueryDict | None,
    ball_mass_mg: int | None,
    unit: Unit,
    like: Lot | None,
) -> LineForm:
    initial = {"key": uuid4().hex, "place": _last_place(row, request)}
    if like is not None:
        initial.update(_same_as(like, ball_mass_mg))
    return LineForm(data, initial=initial, ball_mass_mg=ball_mass_mg, unit=unit)


def _same_as(lot: Lot, ball_mass_mg: int | None) -> dict[str, Any]:
    """Everything of the last lot but its dye lot."""
    balls = lot.received // ball_mass_mg if ball_mass_mg else 0
    whole = bool(ball_mass_mg) and balls * (ball_mass_mg or 0) == lot.received
    counted = lot.unit == Unit.PIECE
    grams = f"{lot.received / 1000:g} g"
    how_much = str(balls) if whole else str(lot.received) if counted else grams
    return {
        "how_much": how_much,
        "place": lot.place.name if lot.place else "",
        "price": lot.price_paid_minor,
        "ownership": lot.ownership,
        "owner_note": lot.owner_note,
        "hand_dyed": lot.hand_dyed,
        "second_hand": lot.second_hand,
        "no_band": lot.no_band,
        "set_aside": lot.set_aside,
        "tare_mg": lot.tare_mg or None,
    }


def _last_place(row: Parcel, request: StaffRequest) -> str:
    """Where the last lot of this parcel went, else the last that this person put away."""
    last = row.lots.select_related("place").order_by("-pk").first()
    if last is None:
        mine = Movement.objects.filter(kind="received", person=request.user)
        movement = mine.select_related("lot__place").order_by("-pk").first()
        last = movement.lot if movement else None
    return last.place.name if last and last.place else ""


def _parcel_page(
    request: StaffRequest,
    row: Parcel,
    found: Found,
    line: Line | None,
    status: int,
    *,
    booked: str = "",
    close_form: CloseForm | None = None,
) -> HttpResponse:
    lots = row.lots.select_related(*WITH_NAMES).order_by("-pk")
    if line is not None:
        line.take_the_keyboard()
    context = {
        "parcel": row,
        "found": found,
        "line": line,
        "booked": booked,
        "lots": list(lots),
        "expected": lines_of(row.purchase) if row.purchase else [],
        "paid": sum(lot.price_paid_minor or 0 for lot in lots),
        "close_form": close_form
        or CloseForm(initial={"postage_minor": row.postage_minor or None, "slip_number": row.slip_number}),
    }
    name = "yarns/receive/table.html" if request.htmx else "yarns/receive/parcel.html"
    return render(request, name, context, status=status)
