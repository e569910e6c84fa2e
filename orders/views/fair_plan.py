"""What to make for a fair, and how it went."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from orders.demand import Demand, demands
from orders.fair_plans import WhatToMake, free_minutes, what_to_make
from orders.fair_writes import expectations_save, results_save
from orders.forms import ExpectedRow, HoursForm, ResultRow
from orders.models import BatchState, Fair, Keeps, Piece, WorkroomRates
from orders.selectors import all_pieces, batches, costings, current_rates, fair_or_404, load_shelf
from orders.views.sending import sent
from workroom.http import StaffRequest
from workroom.selectors import current_studio, local_today


@require_http_methods(["GET", "HEAD", "POST"])
def fair_plan(request: StaffRequest, pk: int) -> HttpResponse:
    """POST saves what is expected; GET plans with it, under `hours` where they are given."""
    fair = fair_or_404(pk)
    pieces = list(all_pieces().filter(active=True))
    known = demands(pieces)
    rows = [(piece, _expected_row(request, piece, known.get(piece.pk))) for piece in pieces]
    if request.method == "POST" and all([row.is_valid() for _piece, row in rows]):  # noqa: C419 - all are looked at
        expectations_save({piece.pk: row.expected for piece, row in rows})
        messages.success(request, _("What you expect is saved, and the plan rests on it."))
        return redirect("orders:fair_plan", pk=fair.pk)
    rates = current_rates()
    hours = HoursForm(request.GET if "hours" in request.GET else None)
    bad = request.method == "POST" or (hours.is_bound and not hours.is_valid())
    minutes = _minutes(hours, fair, rates)
    context = {
        "tab": "fairs",
        "fair": fair,
        "rows": rows,
        "rates": rates,
        "plan": _plan(fair, pieces, known, rates, minutes) if rates and not bad else None,
        "hours": hours if hours.is_bound else HoursForm(initial={"hours": minutes}),
        "known": known,
    }
    return render(request, "orders/fair_plan.html", context, status=422 if bad else 200)


def _expected_row(request: StaffRequest, piece: Piece, demand: Demand | None) -> ExpectedRow:
    row = demand.expectation if demand else None
    initial = {
        "ordinary": row.ordinary if row else None,
        "very_good": row.very_good if row else None,
        "keeps_pc": row.keeps_pc if row else Keeps.NEARLY_ALL,
    }
    return ExpectedRow(sent(request), initial=initial, prefix=f"piece-{piece.pk}")


def _minutes(hours: HoursForm, fair: Fair, rates: WorkroomRates | None) -> int:
    if hours.is_bound and hours.is_valid() and hours.cleaned_data["hours"] is not None:
        return int(hours.cleaned_data["hours"])
    return free_minutes(fair, rates, local_today()) if rates else 0


def _plan(
    fair: Fair, pieces: list[Piece], known: dict[int, Demand], rates: WorkroomRates, minutes: int
) -> WhatToMake | None:
    """The plan of the pieces that have a price and of which something is expected; None: there are none."""
    asked = [piece for piece in pieces if piece.pk in known]
    sheets = costings(asked, rates, current_studio().currency)
    rows = [(p, sheets[p.pk], known[p.pk]) for p in asked if sheets[p.pk].price is not None]
    return what_to_make(fair, rows, load_shelf(asked), rates, minutes) if rows else None


@require_http_methods(["GET", "HEAD", "POST"])
def fair_result(request: StaffRequest, pk: int) -> HttpResponse:
    """What was brought and sold: the next plan learns from it."""
    fair = fair_or_404(pk)
    rows = _result_rows(request, fair)
    if request.method == "POST" and all([row.is_valid() for _piece, row in rows]):  # noqa: C419 - all are looked at
        results_save(fair, {piece.pk: row.result for piece, row in rows})
        messages.success(request, _("Written down. The next plan learns from it."))
        return redirect("orders:fair", pk=fair.pk)
    bad = request.method == "POST"
    context = {"tab": "fairs", "fair": fair, "rows": rows, "early": fair.starts_on > local_today()}
    return render(request, "orders/fair_result.html", context, status=422 if bad else 200)


def _result_rows(request: StaffRequest, fair: Fair) -> list[tuple[Piece, ResultRow]]:
    """Pieces that are made, and those that were at this fair; brought begins with what was made for it."""
    before = {row.piece_id: row for row in fair.results.all()}
    made: dict[int, int] = {}
    for batch in batches().filter(fair=fair, state=BatchState.FINISHED):
        made[batch.piece_id] = made.get(batch.piece_id, 0) + batch.made
    pieces = [p for p in all_pieces() if p.active or p.pk in before or p.pk in made]
    rows = []
    for piece in pieces:
        row = before.get(piece.pk)
        initial: dict[str, Any] = {
            "brought": row.brought if row else made.get(piece.pk),
            "sold": row.sold if row else None,
        }
        rows.append((piece, ResultRow(sent(request), initial=initial, prefix=f"piece-{piece.pk}")))
    return rows
