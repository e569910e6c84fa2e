"""Pieces: the list, and the cost sheet with its what-if fields."""

from dataclasses import replace

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from orders.chart import Chart, Mark, draw_chart
from orders.drafts import newer_revision
from orders.fields import PriceField
from orders.forms import WhatIfForm
from orders.models import Piece
from orders.pieces import piece_price
from orders.selectors import (
    all_pieces,
    batches,
    costings,
    current_rates,
    load_shelf,
    piece_or_404,
    question_of,
    rates_or_blank,
    uses_for,
)
from orders.sheets import Costing, Question, cost_of
from orders.times import learned_times
from patterns import revisions
from workroom.http import StaffRequest
from workroom.money import format_money
from workroom.selectors import current_studio


@require_safe
def piece_list(request: StaffRequest) -> HttpResponse:
    pieces = list(all_pieces())
    rates = current_rates() if request.may("see:wages") else None
    sheets = costings(pieces, rates, current_studio().currency) if rates else {}
    rows = [(piece, sheets.get(piece.pk)) for piece in pieces]
    return render(request, "orders/piece_list.html", {"tab": "pieces", "rows": rows, "rates": rates})


@require_safe
def piece(request: StaffRequest, pk: int) -> HttpResponse:
    """The cost sheet. What-if fields come by GET and change nothing."""
    return _page(request, piece_or_404(pk))


def _page(request: StaffRequest, found: Piece, refused: str = "") -> HttpResponse:
    asked = WhatIfForm(request.GET if _asks(request) else None)
    sheet = _sheet(found, _question(found, asked))
    context = {
        "tab": "pieces",
        "piece": found,
        "size": size_label(found),
        "sheet": sheet,
        "times": learned_times(found),
        "newer": newer_revision(found),
        "batches": batches().filter(piece=found).order_by("-created_at")[:8],
        "refused": refused,
    }
    if request.may("see:wages"):
        context |= {
            "rates": current_rates(),
            "asked": asked.is_bound and asked.is_valid(),
            "what_if": asked if asked.is_bound else WhatIfForm(initial=_shown(sheet)),
            "chart": chart_of(sheet),
        }
    bad = refused or (asked.is_bound and not asked.is_valid())
    return render(request, "orders/piece.html", context, status=422 if bad else 200)


def _asks(request: StaffRequest) -> bool:
    """Whether what-if fields were sent, by somebody who may see what they answer."""
    return request.may("see:wages") and bool(WhatIfForm.base_fields.keys() & request.GET.keys())


def _question(piece: Piece, asked: WhatIfForm) -> Question:
    """The sheet as it stands, with what was asked otherwise in its place; an empty field asks nothing."""
    question = question_of(piece, rates_or_blank())
    if not asked.is_bound or not asked.is_valid():
        return question
    return replace(question, **{k: v for k, v in asked.cleaned_data.items() if v is not None})


def _sheet(piece: Piece, question: Question) -> Costing:
    rates = rates_or_blank()
    uses = uses_for(piece, load_shelf([piece]), rates)
    return cost_of(uses, rates, question, current_studio().currency)


def _shown(sheet: Costing) -> dict[str, int | None]:
    """What stands in the what-if fields before anything is asked."""
    return {
        "minutes": sheet.question.minutes,
        "wage_minor": sheet.question.wage_minor,
        "margin_bp": sheet.question.margin_bp,
        "price_minor": sheet.price,
    }


def size_label(piece: Piece) -> str:
    """The size's name, where the pattern has several."""
    if piece.revision is None or len(revisions.sizes(piece.revision)) == 1:
        return ""
    return revisions.size_info(piece.revision, piece.size_key).label


def chart_of(sheet: Costing) -> Chart | None:
    """Price against pay for an hour, with the two floors, the price at the margin and the one looked at."""
    pocket, paid = sheet.pay_at_floors
    marks = [
        Mark("A", _("out of pocket"), sheet.floor_out_of_pocket, pocket),
        Mark("B", _("with your hours paid"), sheet.floor_paid, paid),
    ]
    if sheet.suggested is not None and sheet.pay_at_suggested is not None:
        marks.append(Mark("C", _("at your margin"), sheet.suggested, sheet.pay_at_suggested))
    if sheet.question.price_minor is not None and sheet.pay is not None:
        marks.append(Mark("D", _("the price looked at"), sheet.question.price_minor, sheet.pay, kind="asked"))
    return draw_chart(marks, sheet.question.wage_minor)


@require_POST
def price(request: StaffRequest, pk: int) -> HttpResponse:
    """Put a price on the tag."""
    found = piece_or_404(pk)
    try:
        typed = PriceField().clean(request.POST.get("price", "")[:40])
    except ValidationError as refusal:
        return _page(request, found, " ".join(refusal.messages))
    piece_price(found, typed)
    shown = format_money(typed, current_studio().currency)
    messages.success(request, _("The price on the tag is %s now.") % shown)
    return redirect("orders:piece", pk=found.pk)
