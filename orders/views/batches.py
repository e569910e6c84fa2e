"""Batches: the list, one batch, its paper, and its form."""

from typing import Any
from uuid import uuid4

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from orders.batch_page import batch_page, cost_for
from orders.batches import BatchFacts, batch_create, batch_edit
from orders.forms import BatchForm, TimeForm
from orders.lessons import lessons_of
from orders.models import Batch, BatchState, Fair, Piece
from orders.refusals import EditedMeanwhileError, OrderRefusedError
from orders.selectors import OPEN_STATES, batch_or_404, batches, rates_or_blank
from orders.timers import timer_of
from orders.views.sending import at_version, sent
from workroom.http import StaffRequest
from workroom.selectors import current_studio, local_today

SHOWN_CLOSED = 40


@require_safe
def batch_list(request: StaffRequest) -> HttpResponse:
    closed = batches().exclude(state__in=OPEN_STATES).order_by("-closed_at")[:SHOWN_CLOSED]
    context = {
        "tab": "batches",
        "today": local_today(),
        "open": batches().filter(state__in=OPEN_STATES),
        "closed": closed,
    }
    return render(request, "orders/batch_list.html", context)


@require_safe
def batch(request: StaffRequest, code: str) -> HttpResponse:
    return show_batch(request, batch_or_404(code))


def show_batch(
    request: StaffRequest, found: Batch, refused: str = "", time_form: TimeForm | None = None
) -> HttpResponse:
    """The page of a batch; with a refusal it says why and answers 409, with a bad time form 422."""
    rates, today = rates_or_blank(), local_today()
    page = batch_page(found, rates, today)
    bad_time = time_form is not None and bool(time_form.errors)
    context = {
        "tab": "batches",
        "page": page,
        "batch": found,
        "refused": refused,
        "entries": found.time_entries.select_related("person").order_by("-worked_on", "-pk"),
        "time_form": time_form or TimeForm(initial={"key": uuid4(), "worked_on": today}),
        "act_key": uuid4(),
        "timer": timer_of(request.user),
        "today": today,
    }
    if request.may("see:wages"):
        context["cost"] = cost_for(page, rates, current_studio().currency)
        context["lessons"] = lessons_of(found, rates.yarn_waste_bp, page.logged)
    status = 409 if refused else 422 if bad_time else 200
    return render(request, "orders/batch.html", context, status=status)


@require_safe
def batch_sheet(request: StaffRequest, code: str) -> HttpResponse:
    """The paper that lies beside the hook: yarn by lot, counts to tick, breaks for the hands."""
    found = batch_or_404(code)
    rates = rates_or_blank()
    context = {
        "tab": "batches",
        "batch": found,
        "page": batch_page(found, rates, local_today()),
        "rates": rates,
        "boxes": range(1, min(found.quantity, 120) + 1),
    }
    return render(request, "orders/batch_sheet.html", context)


# ------------------------------------------------------------------------------------- form


@require_http_methods(["GET", "HEAD", "POST"])
def batch_new(request: StaffRequest) -> HttpResponse:
    initial: dict[str, Any] = {"key": uuid4(), "version": 0, "piece": request.GET.get("piece")}
    fair = _fair(request.GET.get("fair", ""))
    if fair is not None:
        initial |= {"fair": fair.pk, "due_on": fair.starts_on}
    form = _form(request, initial)
    if request.method == "POST" and form.is_valid():
        made = batch_create(_facts(form), request.user, form.cleaned_data["key"])
        return redirect("orders:batch", code=made.code)
    has_pieces = Piece.objects.filter(active=True).exists()
    return _form_page(request, {"form": form, "has_pieces": has_pieces})


def _fair(text: str) -> Fair | None:
    known = text.isascii() and text.isdigit() and len(text) < 12
    return Fair.objects.filter(pk=int(text)).first() if known else None


@require_http_methods(["GET", "HEAD", "POST"])
def batch_edit_page(request: StaffRequest, code: str) -> HttpResponse:
    found = batch_or_404(code)
    if found.state != BatchState.PLANNED:
        return show_batch(request, found, _("This batch has begun; its plan can't be changed any more."))
    initial = {
        "key": found.key,
        "version": found.version,
        "piece": found.piece_id,
        "quantity": found.quantity,
        "due_on": found.due_on,
        "fair": found.fair_id,
        "may_mix": found.may_mix,
        "note": found.note,
    }
    form = _form(request, initial)
    theirs = None
    if request.method == "POST" and form.is_valid():
        try:
            batch_edit(found, _facts(form), form.cleaned_data["version"])
        except EditedMeanwhileError as refusal:
            theirs = batch_or_404(code)
            form.add_error(None, str(refusal))
            at_version(request, form, theirs.version)
        except OrderRefusedError as refusal:
            return show_batch(request, batch_or_404(code), str(refusal))
        else:
            return redirect("orders:batch", code=found.code)
    return _form_page(request, {"form": form, "batch": found, "theirs": theirs, "has_pieces": True})


def _form(request: StaffRequest, initial: dict[str, Any]) -> BatchForm:
    pieces = Piece.objects.filter(active=True)
    if initial.get("quantity"):
        pieces = pieces | Piece.objects.filter(pk=initial["piece"])
    return BatchForm(sent(request), initial=initial, pieces=pieces, fairs=Fair.objects.order_by("-starts_on"))


def _facts(form: BatchForm) -> BatchFacts:
    data = form.cleaned_data
    return BatchFacts(
        piece=data["piece"],
        quantity=data["quantity"],
        due_on=data["due_on"],
        fair=data["fair"],
        may_mix=data["may_mix"],
        note=data["note"],
    )


def _form_page(request: StaffRequest, context: dict[str, Any]) -> HttpResponse:
    status = 422 if context["form"].errors else 200
    page = {"tab": "batches", "today": local_today(), **context}
    return render(request, "orders/batch_form.html", page, status=status)
