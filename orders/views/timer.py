"""The timer: start, pause, go on, stop and write down."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.forms import TimeForm
from orders.models import TimeEntry, Timer
from orders.refusals import OrderRefusedError
from orders.selectors import batch_or_404, piece_or_404, rates_or_blank
from orders.timers import timer_discard, timer_of, timer_pause, timer_start, timer_stop
from orders.views.sending import sent
from workroom.http import StaffRequest
from workroom.selectors import local_today


@require_safe
def timer(request: StaffRequest) -> HttpResponse:
    return _page(request)


def _page(request: StaffRequest, refused: str = "", form: TimeForm | None = None) -> HttpResponse:
    now = timezone.now()
    found = timer_of(request.user)
    rates = rates_or_blank()
    context = {
        "tab": "batches",
        "timer": found,
        "refused": refused,
        "seconds": found.seconds(now) if found else 0,
        "minutes": found.minutes(now) if found else 0,
        "sitting": found.sitting_minutes(now) if found else 0,
        "session_minutes": rates.session_minutes,
        "break_minutes": rates.break_minutes,
        "form": form or (_form(found) if found else None),
    }
    status = 409 if refused else 422 if form is not None else 200
    return render(request, "orders/timer.html", context, status=status)


def _form(found: Timer) -> TimeForm:
    initial = {
        "key": found.key,
        "minutes": found.minutes(timezone.now()),
        "pieces": None if found.batch_id else 1,
        "worked_on": local_today(),
    }
    return TimeForm(initial=initial)


@require_POST
def start(request: StaffRequest) -> HttpResponse:
    """Start for a batch (its code) or a piece (its number); where that timer is there already, it goes on."""
    code, number = request.POST.get("batch", ""), request.POST.get("piece", "")
    batch = batch_or_404(code) if code else None
    known = number.isascii() and number.isdigit() and len(number) < 12
    piece = batch.piece if batch else piece_or_404(int(number) if known else 0)
    try:
        timer_start(request.user, piece, batch, timezone.now())
    except OrderRefusedError as refusal:
        return _page(request, str(refusal))
    return redirect("orders:timer")


@require_POST
def pause(request: StaffRequest) -> HttpResponse:
    try:
        timer_pause(request.user, timezone.now())
    except OrderRefusedError as refusal:
        return _page(request, str(refusal))
    return redirect("orders:timer")


@require_http_methods(["POST"])
def stop(request: StaffRequest) -> HttpResponse:
    """Write down what stands in the form, which the timer filled in; the timer is gone after that."""
    form = TimeForm(sent(request), today=local_today())
    found = timer_of(request.user)
    if not form.is_valid():
        return _page(request, form=form)
    data = dict(form.cleaned_data)
    key = data.pop("key")
    entry = TimeEntry(person=request.user, **data)
    if found is not None:
        entry.piece, entry.batch = found.piece, found.batch
    try:
        written = timer_stop(request.user, entry, key, local_today())
    except OrderRefusedError as refusal:
        return _page(request, str(refusal))
    messages.success(request, _("The time is written down."))
    if written.batch is not None:
        return redirect("orders:batch", code=written.batch.code)
    if request.may("orders:piece"):
        return redirect("orders:piece", pk=written.piece_id)
    return redirect("orders:overview")


@require_POST
def discard(request: StaffRequest) -> HttpResponse:
    timer_discard(request.user)
    messages.success(request, _("The timer is put away; nothing was written down."))
    return redirect("orders:overview")
