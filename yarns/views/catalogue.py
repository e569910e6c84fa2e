"""Yarns, colours, supplies, places: what they are, and changing it without losing another's change."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.db.models import Count, ProtectedError, Q, Sum
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.http import StaffRequest
from yarns.catalogue import ChangedMeanwhileError, change, rename
from yarns.forms.catalogue import (
    ColourForm,
    MeasuredForm,
    PlaceForm,
    SupplyForm,
    VersionedForm,
    YarnForm,
)
from yarns.forms.fields import put_in
from yarns.models import Colour, Ownership, Place, Supply, Yarn
from yarns.selectors import shelf_for
from yarns.typed import fibres_shown, unknown_fibres

BOTH = ["GET", "HEAD", "POST"]


@require_safe
def yarns(request: StaffRequest) -> HttpResponse:
    """All yarns with how many colours and grams of each are here."""
    rows = Yarn.objects.annotate(
        colour_count=Count("colours", distinct=True),
        on_hand=Sum("colours__lots__balance", filter=Q(colours__lots__ownership=Ownership.OURS)),
    )
    supplies = Supply.objects.annotate(on_hand=Sum("lots__balance"))
    return render(request, "yarns/yarns.html", {"yarns": rows, "supplies": supplies})


@require_safe
def yarn(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Yarn, pk=pk)
    return _yarn_page(request, row, MeasuredForm(), 200)


def _yarn_page(request: StaffRequest, row: Yarn, form: MeasuredForm, status: int) -> HttpResponse:
    colours = row.colours.annotate(
        on_hand=Sum("lots__balance", filter=Q(lots__ownership=Ownership.OURS), default=0),
        lot_count=Count("lots", filter=Q(lots__balance__gt=0)),
    )
    context = {
        "yarn": row,
        "fibres": fibres_shown(row.fibres),
        "unknown_fibres": unknown_fibres(row.fibres),
        "colours": colours,
        "lots": shelf_for(yarn_id=row.pk, include_all=True),
        "measured_form": form,
    }
    return render(request, "yarns/yarn.html", context, status=status)


@require_POST
def yarn_measured(request: StaffRequest, pk: int) -> HttpResponse:
    """The studio's own length by weight, in place of the band's; no movement changes."""
    row = get_object_or_404(Yarn, pk=pk)
    form = MeasuredForm(request.POST)
    if not form.is_valid():
        return _yarn_page(request, row, form, 422)
    change(row, {"measured_mm_per_g": form.mm_per_g()}, row.version)
    return redirect("yarns:yarn", row.pk)


@require_http_methods(BOTH)
def yarn_add(request: StaffRequest) -> HttpResponse:
    return _add(request, YarnForm(request.POST or None, instance=Yarn()), _("New yarn"), _to_yarn)


@require_http_methods(BOTH)
def yarn_edit(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Yarn, pk=pk)
    form = YarnForm(request.POST or None, instance=row)
    return _edit(request, form, str(row), _to_yarn)


def _to_yarn(row: Any) -> HttpResponse:
    return redirect("yarns:yarn", row.yarn_id if isinstance(row, Colour) else row.pk)


@require_http_methods(BOTH)
def colour_add(request: StaffRequest, pk: int) -> HttpResponse:
    of = get_object_or_404(Yarn, pk=pk)
    form = ColourForm(request.POST or None, instance=Colour(yarn=of))
    return _add(request, form, _("New colour of %(yarn)s") % {"yarn": of}, _to_yarn)


@require_http_methods(BOTH)
def colour_edit(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Colour.objects.select_related("yarn"), pk=pk)
    return _edit(request, ColourForm(request.POST or None, instance=row), str(row), _to_yarn)


@require_http_methods(BOTH)
def supply_add(request: StaffRequest) -> HttpResponse:
    form = SupplyForm(request.POST or None, instance=Supply())
    return _add(request, form, _("New supply"), _to_yarns)


@require_http_methods(BOTH)
def supply_edit(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Supply, pk=pk)
    return _edit(request, SupplyForm(request.POST or None, instance=row), str(row), _to_yarns)


def _to_yarns(row: Any) -> HttpResponse:
    return redirect("yarns:yarns")


def _add(
    request: StaffRequest, form: VersionedForm, title: str, then: Callable[[Any], HttpResponse]
) -> HttpResponse:
    if request.method == "POST" and form.is_valid():
        row = form.save()
        messages.success(request, _("%(row)s is in the book.") % {"row": row})
        return then(row)
    status = 422 if request.method == "POST" else 200
    return render(request, "yarns/thing_form.html", {"form": form, "title": title}, status=status)


def _edit(
    request: StaffRequest, form: VersionedForm, title: str, then: Callable[[Any], HttpResponse]
) -> HttpResponse:
    status, theirs = 200, None
    if request.method == "POST":
        status = 422
        if form.is_valid():
            try:
                change(form.instance, form.values(), form.cleaned_data["version"] or 0)
            except ChangedMeanwhileError as refusal:
                status, theirs = 409, _theirs(form, refusal)
            else:
                messages.success(request, _("Kept."))
                return then(form.instance)
    context = {"form": form, "title": title, "theirs": theirs}
    return render(request, "yarns/thing_form.html", context, status=status)


def _theirs(form: VersionedForm, refusal: ChangedMeanwhileError) -> list[tuple[str, str, str]]:
    """What the other person wrote where it differs: label, theirs, mine. The form takes their version."""
    form.add_error(None, str(refusal))
    put_in(form, version=str(refusal.current.version))
    rows = []
    for name in form.values():
        field = form.fields[name]
        theirs = field.prepare_value(getattr(refusal.current, name))
        mine = form.data.get(form.add_prefix(name), "")
        if str(theirs if theirs is not None else "") != mine:
            rows.append((str(field.label or name), str(theirs or "–"), mine))
    return rows


# ----------------------------------------------------------------------------------- places


@require_http_methods(BOTH)
def places(request: StaffRequest) -> HttpResponse:
    """All places, and a field for a new one."""
    form = PlaceForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.save()
        return redirect("yarns:places")
    rows = Place.objects.annotate(
        lot_count=Count("lots", filter=Q(lots__balance__gt=0)),
        on_hand=Sum("lots__balance", filter=Q(lots__unit="mg"), default=0),
    )
    status = 422 if request.method == "POST" else 200
    return render(request, "yarns/places.html", {"places": rows, "form": form}, status=status)


@require_http_methods(BOTH)
def place_edit(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Place, pk=pk)
    form = PlaceForm(request.POST or None, instance=row)
    if request.method == "POST" and form.is_valid():
        rename(Place.objects.get(pk=pk), form.cleaned_data)
        return redirect("yarns:places")
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "title": str(row), "place": row}
    return render(request, "yarns/thing_form.html", context, status=status)


@require_POST
def place_delete(request: StaffRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Place, pk=pk)
    try:
        row.delete()
    except ProtectedError:
        messages.error(request, _("Lots have lain in %(place)s, so it stays in the book.") % {"place": row})
    return redirect("yarns:places")
