"""The overview of the room, and the rates of the workroom."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from orders.forms import RatesForm
from orders.models import WorkroomRates
from orders.pieces import rates_save
from orders.refusals import EditedMeanwhileError
from orders.selectors import OPEN_STATES, all_pieces, batches, costings, current_rates, fairs_from
from orders.views.sending import at_version, sent
from workroom.http import StaffRequest
from workroom.selectors import current_studio, local_today

COLUMNS = [field.name for field in WorkroomRates._meta.fields if field.name != "id"]
SHOWN_PIECES = 6


@require_safe
def overview(request: StaffRequest) -> HttpResponse:
    """What is being made, what comes up, and what each piece pays."""
    today = local_today()
    context = {
        "tab": "overview",
        "today": today,
        "batches": batches().filter(state__in=OPEN_STATES),
        "fairs": fairs_from(today)[:4] if request.may("orders:fairs") else [],
        **_money(request),
    }
    return render(request, "orders/overview.html", context)


def _money(request: StaffRequest) -> dict[str, object]:
    """Pieces with what they pay, for those who may see wages."""
    if not request.may("see:wages"):
        return {}
    rates = current_rates()
    pieces = list(all_pieces().filter(active=True)[:SHOWN_PIECES])
    if rates is None:
        return {"rates": None, "rows": [(piece, None) for piece in pieces]}
    sheets = costings(pieces, rates, current_studio().currency)
    return {"rates": rates, "rows": [(piece, sheets[piece.pk]) for piece in pieces]}


@require_http_methods(["GET", "HEAD", "POST"])
def rates(request: StaffRequest) -> HttpResponse:
    now = current_rates()
    initial = {name: getattr(now or WorkroomRates(), name) for name in COLUMNS}
    initial["version"] = now.version if now else 0
    form = RatesForm(sent(request), initial=initial)
    theirs = None
    if request.method == "POST" and form.is_valid():
        values = dict(form.cleaned_data)
        try:
            rates_save(values, values.pop("version"))
        except EditedMeanwhileError as refusal:
            form.add_error(None, str(refusal))
            theirs = current_rates()
            at_version(request, form, theirs.version if theirs else 0)
        else:
            messages.success(request, _("The rates are saved. Every price is worked out with them."))
            return redirect("orders:overview")
    context = {"tab": "rates", "form": form, "rates": now, "theirs": theirs}
    return render(request, "orders/rates.html", context, status=422 if form.errors else 200)
