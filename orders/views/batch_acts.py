"""What is done with a batch: start, reserve, take, time, finish, cancel. A refusal shows why."""

from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from orders.batch_page import LotRow, batch_page, logged_minutes
from orders.batches import (
    Counts,
    batch_cancel,
    batch_finish,
    batch_reserve_more,
    batch_start,
    batch_take,
    time_add,
    time_strike,
)
from orders.durations import shown_minutes
from orders.forms import FinishForm, TimeForm, UsedForm
from orders.lessons import lessons_of, take_over_time, take_over_yarn
from orders.models import Batch, BatchState, TimeEntry
from orders.refusals import BatchClosedError, BatchNotStartedError, OrderRefusedError
from orders.selectors import batch_or_404, rates_or_blank
from orders.views.batches import show_batch
from orders.views.sending import sent
from workroom.http import StaffRequest
from workroom.selectors import local_today
from yarns.amounts import Amount
from yarns.refusals import LedgerError

REFUSALS = (OrderRefusedError, LedgerError)


def _done(request: StaffRequest, batch: Batch, says: str) -> HttpResponse:
    messages.success(request, says)
    return redirect("orders:batch", code=batch.code)


def _try(request: StaffRequest, batch: Batch, act: Callable[[], str]) -> HttpResponse:
    """Do it and say so, or show the batch as it stands with the reason why not."""
    try:
        says = act()
    except REFUSALS as refusal:
        return show_batch(request, batch_or_404(batch.code), str(refusal))
    return _done(request, batch, says)


@require_POST
def start(request: StaffRequest, code: str) -> HttpResponse:
    batch = batch_or_404(code)
    seen = request.POST.get("seen", "")[:64]

    def act() -> str:
        return _reserved_for(batch_start(batch, request.user, seen).covered)

    return _try(request, batch, act)


@require_POST
def reserve(request: StaffRequest, code: str) -> HttpResponse:
    batch = batch_or_404(code)
    seen = request.POST.get("seen", "")[:64]

    def act() -> str:
        return _reserved_for(batch_reserve_more(batch, request.user, seen).covered)

    return _try(request, batch, act)


def _reserved_for(pieces: int) -> str:
    if not pieces:
        return _("The batch is started. No yarn is reserved for it.")
    return (
        ngettext("The yarn for %s piece is reserved.", "The yarn for %s pieces is reserved.", pieces) % pieces
    )


@require_POST
def take(request: StaffRequest, code: str) -> HttpResponse:
    batch = batch_or_404(code)
    key = _uuid(request.POST.get("key", ""))

    def act() -> str:
        lots = batch_take(batch, request.user, key)
        if not lots:
            return _("Everything reserved was taken off the shelf before.")
        return ngettext("Taken from %s lot.", "Taken from %s lots.", lots) % lots

    return _try(request, batch, act)


def _uuid(text: str) -> UUID:
    """The form's key; a form without a readable one gets its own, and then counts as sent once."""
    try:
        return UUID(text)
    except ValueError:
        return uuid4()


@require_POST
def lesson(request: StaffRequest, code: str) -> HttpResponse:
    """Take what the batch taught over into the piece: `what` is "time" or "yarn"."""
    batch = batch_or_404(code)
    waste_bp = rates_or_blank().yarn_waste_bp
    lessons = lessons_of(batch, waste_bp, logged_minutes([batch.pk]).get(batch.pk, 0))

    def act() -> str:
        if request.POST.get("what") == "time":
            minutes = take_over_time(batch, lessons)
            return _("One takes %s from now on.") % shown_minutes(minutes)
        take_over_yarn(batch, lessons, waste_bp)
        return _("The piece takes from now on what this batch used.")

    return _try(request, batch, act)


@require_POST
def time(request: StaffRequest, code: str) -> HttpResponse:
    batch = batch_or_404(code)
    today = local_today()
    form = TimeForm(request.POST, today=today)
    if not form.is_valid():
        return show_batch(request, batch, time_form=form)
    entry = TimeEntry(batch=batch, piece=batch.piece, person=request.user, **form.cleaned_data)

    def act() -> str:
        time_add(entry, today)
        return _("The time is written down.")

    return _try(request, batch, act)


@require_POST
def time_out(request: StaffRequest, code: str, pk: int) -> HttpResponse:
    """Take an entry out: one's own, or any for those who finish batches."""
    batch = batch_or_404(code)
    entry = get_object_or_404(batch.time_entries, pk=pk)
    if entry.person_id != request.user.pk and not request.may("orders:batch_finish"):
        raise PermissionDenied
    time_strike(entry)
    return _done(request, batch, _("The entry is taken out."))


# ------------------------------------------------------------------------------------ ending


@require_http_methods(["GET", "HEAD", "POST"])
def finish(request: StaffRequest, code: str) -> HttpResponse:
    """Counts and what was really used; the rest goes back to the shelf."""
    batch = batch_or_404(code)
    if batch.state != BatchState.STARTED:
        refusal = BatchNotStartedError() if batch.is_open else BatchClosedError(batch)
        return show_batch(request, batch, str(refusal))
    counts = FinishForm(sent(request), initial={"made": batch.quantity, "seconds": 0, "scrapped": 0})
    used = UsedForm(sent(request), lots=_lots(batch))
    if request.method == "POST" and counts.is_valid() & used.is_valid():
        data = counts.cleaned_data
        result = Counts(data["made"], data["seconds"] or 0, data["scrapped"] or 0)

        def act() -> str:
            batch_finish(batch, request.user, result, used.used)
            return _("The batch is finished. What was left of the yarn is free again.")

        return _try(request, batch, act)
    return _ending_page(request, "orders/batch_finish.html", batch, {"counts": counts, "used": used})


@require_http_methods(["GET", "HEAD", "POST"])
def cancel(request: StaffRequest, code: str) -> HttpResponse:
    """Asks what was used, where yarn was taken; then lets go of the rest."""
    batch = batch_or_404(code)
    if not batch.is_open:
        return show_batch(request, batch, str(BatchClosedError(batch)))
    used = UsedForm(sent(request), lots=_lots(batch, taken_only=True))
    if request.method == "POST" and used.is_valid():

        def act() -> str:
            batch_cancel(batch, request.user, used.used)
            return _("The batch is cancelled and its yarn is free again.")

        return _try(request, batch, act)
    return _ending_page(request, "orders/batch_cancel.html", batch, {"used": used})


def _lots(batch: Batch, *, taken_only: bool = False) -> list[tuple[int, str, Amount]]:
    """Lots that the batch holds, with what to put in the field first: all of it, or what was taken."""
    rows = batch_page(batch, rates_or_blank(), local_today()).lots
    held = [row for row in rows if row.taken or (row.reserved and not taken_only)]
    return [(row.lot.lot_id, _lot_label(row), _first(row, taken_only=taken_only)) for row in held]


def _first(row: LotRow, *, taken_only: bool) -> Amount:
    return row.taken if taken_only and row.taken else row.amount


def _lot_label(row: LotRow) -> str:
    return f"{row.lot.name} · {row.lot.code}"


def _ending_page(request: StaffRequest, template: str, batch: Batch, context: dict[str, Any]) -> HttpResponse:
    bad = request.method == "POST"
    page = {"tab": "batches", "batch": batch, **context}
    return render(request, template, page, status=422 if bad else 200)
