"""Fairs: the list, one fair with its break-even, and its form."""

from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.fairs import Offer, fair_create, fair_delete, fair_edit, fair_sums
from orders.forms import FairForm
from orders.models import Batch, BatchState, Fair
from orders.refusals import EditedMeanwhileError, OrderRefusedError
from orders.selectors import (
    all_pieces,
    batches,
    costings,
    current_rates,
    fair_or_404,
    fairs_from,
    past_fairs,
)
from orders.sheets import Costing
from orders.views.sending import at_version, sent
from workroom.http import StaffRequest
from workroom.selectors import current_studio, local_today

FIELDS = [name for name in FairForm.base_fields if name not in {"key", "version"}]


@require_safe
def fair_list(request: StaffRequest) -> HttpResponse:
    today = local_today()
    context = {"tab": "fairs", "coming": fairs_from(today), "past": past_fairs(today)[:30], "today": today}
    return render(request, "orders/fair_list.html", context)


@require_safe
def fair(request: StaffRequest, pk: int) -> HttpResponse:
    return _show(request, fair_or_404(pk))


def _show(request: StaffRequest, found: Fair, refused: str = "") -> HttpResponse:
    made = list(batches().filter(fair=found).exclude(state=BatchState.CANCELLED))
    rates = current_rates()
    currency = current_studio().currency
    sums = None
    if rates is not None and made:
        sheets = costings(list(all_pieces().filter(pk__in={b.piece_id for b in made})), rates, currency)
        offers = [offer for batch in made if (offer := _offer(batch, sheets[batch.piece_id]))]
        sums = fair_sums(found, offers, rates, currency)
    today = local_today()
    context = {
        "tab": "fairs",
        "fair": found,
        "batches": made,
        "sums": sums,
        "rates": rates,
        "today": today,
        "is_past": found.is_past(today),
        "days_left": (found.starts_on - today).days,
        "refused": refused,
        "results": found.results.select_related("piece").order_by("piece__title"),
        "late": [batch for batch in made if batch.due_on and batch.due_on > found.starts_on],
    }
    return render(request, "orders/fair.html", context, status=409 if refused else 200)


def _offer(batch: Batch, sheet: Costing) -> Offer | None:
    """What a batch brings; None where its piece has no price, or nothing came off the hook."""
    quantity = batch.made if batch.state == BatchState.FINISHED else batch.quantity
    if sheet.price is None or not quantity:
        return None
    making = sheet.labour + sheet.overhead
    return Offer(batch.piece.title, quantity, sheet.price, sheet.materials, making)


@require_http_methods(["GET", "HEAD", "POST"])
def fair_new(request: StaffRequest) -> HttpResponse:
    form = FairForm(sent(request), initial={"key": uuid4(), "version": 0})
    if request.method == "POST" and form.is_valid():
        made = fair_create(_values(form), form.cleaned_data["key"])
        return _saved(request, made)
    return _form_page(request, {"form": form})


@require_http_methods(["GET", "HEAD", "POST"])
def fair_edit_page(request: StaffRequest, pk: int) -> HttpResponse:
    found = fair_or_404(pk)
    initial = {name: getattr(found, name) for name in (*FIELDS, "key", "version")}
    form = FairForm(sent(request), initial=initial)
    theirs = None
    if request.method == "POST" and form.is_valid():
        try:
            fair_edit(found, _values(form), form.cleaned_data["version"])
        except EditedMeanwhileError as refusal:
            theirs = fair_or_404(pk)
            form.add_error(None, str(refusal))
            at_version(request, form, theirs.version)
        else:
            return _saved(request, fair_or_404(pk))
    return _form_page(request, {"form": form, "fair": found, "theirs": theirs})


@require_POST
def fair_strike(request: StaffRequest, pk: int) -> HttpResponse:
    """Strike a fair out of the book, where nothing hangs on it."""
    found = fair_or_404(pk)
    try:
        fair_delete(found)
    except OrderRefusedError as refusal:
        return _show(request, found, str(refusal))
    messages.success(request, _("“%s” is struck out.") % found.name)
    return redirect("orders:fairs")


def _values(form: FairForm) -> dict[str, Any]:
    return {name: form.cleaned_data[name] for name in FIELDS}


def _saved(request: StaffRequest, fair: Fair) -> HttpResponse:
    messages.success(request, _("“%s” is in the book.") % fair.name)
    if fair.is_past(local_today()):
        messages.warning(request, _("Its date is in the past. That is allowed; check the year."))
    return redirect("orders:fair", pk=fair.pk)


def _form_page(request: StaffRequest, context: dict[str, Any]) -> HttpResponse:
    status = 422 if context["form"].errors else 200
    return render(request, "orders/fair_form.html", {"tab": "fairs", **context}, status=status)
