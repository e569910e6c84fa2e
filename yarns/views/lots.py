"""One lot: what it is, what happened to it, and what one can do with it."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any, TypeVar
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from craft.yardage.part_ball import InvalidWeighingError, PartBall, part_ball
from workroom.http import StaffRequest
from yarns import ledger
from yarns.acts import NO_PURPOSE
from yarns.amounts import Amount, Unit, grams, shown
from yarns.catalogue import ChangedMeanwhileError, change, place_named, supplier_named
from yarns.forms.acts import ActForm, AmountForm, CorrectForm, MoveForm, UndoForm, WeighForm, WriteOffForm
from yarns.forms.fields import put_in
from yarns.forms.photos import BandPhotoForm
from yarns.forms.receiving import LotFactsForm
from yarns.models import Lot, Movement, Ownership
from yarns.paging import Sort, page_of, whole
from yarns.parcels import share_postage
from yarns.photos import band_photo
from yarns.selectors import WITH_NAMES, mark_undone, open_promises_of, shelf_lot

Form = TypeVar("Form", bound=ActForm)
HISTORY_SIZE = 100
NEWEST = Sort("id", descending=True, reads=whole)


def _lot(code: str) -> Lot:
    return get_object_or_404(Lot.objects.select_related(*WITH_NAMES, "parcel"), code=code)


@require_safe
def lot(request: StaffRequest, code: str) -> HttpResponse:
    return _page(request, _lot(code))


def lot_page(request: StaffRequest, code: str, status: int, **forms: Any) -> HttpResponse:
    """The page with a form of another view as it was sent."""
    return _page(request, _lot(code), status, **forms)


def _page(request: StaffRequest, row: Lot, status: int = 200, opened: str = "", **forms: Any) -> HttpResponse:
    """The page with one of its forms as it was sent, the others fresh. `opened`: which stands open."""
    rows = row.movements.select_related("person", "undoes")
    history = page_of(rows, NEWEST, HISTORY_SIZE, request.GET)
    mark_undone(history.rows)
    context = {
        "lot": row,
        "shelf_lot": shelf_lot(row),
        "page": history,
        "query": "",
        "promises": open_promises_of(row.pk),
        "photo": band_photo(row),
        "photo_form": BandPhotoForm(),
        "opened": opened,
        "undo_key": uuid4().hex,
        **_fresh_forms(row),
        **forms,
    }
    return render(request, "yarns/lot.html", context, status=status)


def _fresh_forms(row: Lot) -> dict[str, Any]:
    def fresh(**facts: Any) -> dict[str, Any]:
        return {"key": uuid4().hex, "seen": row.balance, **facts}

    return {
        "weigh_form": WeighForm(lot=row, initial=fresh(tare_mg=row.tare_mg or None)),
        "issue_form": AmountForm(lot=row, initial=fresh(), prefix="issue"),
        "back_form": AmountForm(lot=row, initial=fresh(), prefix="back"),
        "correct_form": CorrectForm(lot=row, initial=fresh(), prefix="correct"),
        "write_off_form": WriteOffForm(lot=row, initial=fresh(), prefix="off"),
        "move_form": MoveForm(initial={"place": row.place.name if row.place else ""}),
    }


def _act(request: StaffRequest, form: ActForm, purpose: ledger.Purpose = NO_PURPOSE) -> ledger.Act:
    data = form.cleaned_data
    return ledger.Act(request.user, f"form:{data['key']}", data.get("why", ""), purpose)


def _do(
    request: StaffRequest, row: Lot, name: str, form: Form, book: Callable[[Form], Movement]
) -> HttpResponse:
    """Book what a form says, or show the page with the form as it was sent and what is wrong."""
    sent = {f"{name}_form": form}
    if not form.is_valid():
        return _page(request, row, 422, name, **sent)
    try:
        movement = book(form)
    except ledger.LedgerError as refusal:
        form.add_error(None, str(refusal))
        return _page(request, _lot(row.code), 409, name, **sent)
    messages.success(request, _done(movement, Unit(row.unit)))
    return redirect("yarns:lot", row.code)


def _done(movement: Movement, unit: Unit) -> str:
    return _("%(kind)s: %(change)s. The lot stands at %(balance)s.") % {
        "kind": movement.get_kind_display().capitalize(),
        "change": shown(Amount(movement.delta, unit)),
        "balance": shown(Amount(movement.balance_after, unit)),
    }


@require_POST
def lot_issue(request: StaffRequest, code: str) -> HttpResponse:
    row = _lot(code)

    def book(form: AmountForm) -> Movement:
        return ledger.issue(row.pk, form.amount_read, _act(request, form, form.purpose()))

    return _do(request, row, "issue", AmountForm(request.POST, lot=row, prefix="issue"), book)


@require_POST
def lot_give_back(request: StaffRequest, code: str) -> HttpResponse:
    row = _lot(code)

    def book(form: AmountForm) -> Movement:
        return ledger.give_back(row.pk, form.amount_read, _act(request, form, form.purpose()))

    return _do(request, row, "back", AmountForm(request.POST, lot=row, prefix="back"), book)


@require_POST
def lot_write_off(request: StaffRequest, code: str) -> HttpResponse:
    row = _lot(code)

    def book(form: WriteOffForm) -> Movement:
        return ledger.write_off(row.pk, form.amount_read, _act(request, form))

    return _do(request, row, "write_off", WriteOffForm(request.POST, lot=row, prefix="off"), book)


@require_POST
def lot_correct(request: StaffRequest, code: str) -> HttpResponse:
    row = _lot(code)

    def book(form: CorrectForm) -> Movement:
        seen = form.cleaned_data["seen"]
        return ledger.correct(row.pk, form.amount_read, _act(request, form), seen)

    return _do(request, row, "correct", CorrectForm(request.POST, lot=row, prefix="correct"), book)


@require_POST
def lot_weigh(request: StaffRequest, code: str) -> HttpResponse:
    """Book the scale's figure. Where the difference may be the air's doing, ask first."""
    row = _lot(code)
    form = WeighForm(request.POST, lot=row)
    if not form.is_valid():
        return _page(request, row, 422, opened="weigh", weigh_form=form)
    try:
        ball = _part_ball(row, form)
    except InvalidWeighingError as refusal:
        form.add_error("tare_mg", str(refusal))
        return _page(request, row, 422, opened="weigh", weigh_form=form)
    if _may_be_weather(row, form.total(ball.net_g), ball) and not form.cleaned_data["even_so"]:
        return _page(request, row, opened="weigh", weigh_form=_asking(form), weather=ball)

    def book(sound: WeighForm) -> Movement:
        weighing = ledger.Weighing(
            net=sound.total(ball.net_g),
            tare_mg=sound.cleaned_data["tare_mg"] or 0,
            scale_step_mg=round(sound.weighed.step_g * 1000),
            seen=sound.cleaned_data["seen"],
        )
        return ledger.weigh(row.pk, weighing, _act(request, sound))

    response = _do(request, row, "weigh", form, book)
    if response.status_code == 302:
        messages.info(request, _how_sure(ball))
    return response


def _how_sure(ball: PartBall) -> str:
    """What the weighing can and can't tell, in the digits that it has."""
    figures = {"weather": number_format(ball.weather_g), "net": shown(grams(ball.net_g))}
    if ball.length_m is None or ball.uncertain_m is None:
        return _("%(net)s on the scale; damp or dry air alone can make ± %(weather)s g of it.") % figures
    figures["length"] = number_format(ball.length_m)
    figures["uncertain"] = number_format(ball.uncertain_m.quantize(Decimal("0.1")).normalize() + 0)
    return (
        _(
            "%(net)s on the scale is %(length)s m by the label, give or take %(uncertain)s m by the scale’s"
            " last digit; damp or dry air alone can make ± %(weather)s g of it."
        )
        % figures
    )


def _part_ball(row: Lot, form: WeighForm) -> PartBall:
    yarn = row.colour.yarn if row.colour else None
    rate = yarn.mm_per_mg if yarn else None
    m_per_g = None if rate is None else Decimal(rate.numerator) / Decimal(rate.denominator)
    shares = yarn.fibre_shares if yarn else {}
    return part_ball(form.weighed.mass_g, form.tare_g, form.weighed.step_g, m_per_g, shares)


def _may_be_weather(row: Lot, found: Amount, ball: PartBall) -> bool:
    """A difference, but no more than damp or dry air can make of what was weighed."""
    difference = abs(found.count - row.balance)
    return 0 < difference <= round(ball.weather_g * 1000)


def _asking(form: WeighForm) -> WeighForm:
    """The same form, which books when it is sent again."""
    put_in(form, even_so="on")
    return form


@require_POST
def lot_undo(request: StaffRequest, code: str, pk: int) -> HttpResponse:
    row = _lot(code)
    movement = get_object_or_404(Movement, pk=pk, lot=row)
    form = UndoForm(request.POST)
    if not form.is_valid():
        return _page(request, row, 422)
    act = ledger.Act(request.user, f"form:{form.cleaned_data['key']}", form.cleaned_data["why"])
    try:
        undoing = ledger.undo(movement.pk, act)
    except ledger.LedgerError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, _done(undoing, Unit(row.unit)))
        if row.parcel is not None:
            share_postage(row.parcel)
    return redirect("yarns:lot", row.code)


@require_POST
def lot_move(request: StaffRequest, code: str) -> HttpResponse:
    row = _lot(code)
    form = MoveForm(request.POST)
    if not form.is_valid():
        return _page(request, row, 422, opened="move", move_form=form)
    change(row, {"place": place_named(form.cleaned_data["place"])}, row.version)
    messages.success(request, _("Now in %(place)s.") % {"place": form.cleaned_data["place"]})
    return redirect("yarns:lot", row.code)


@require_http_methods(["GET", "HEAD", "POST"])
def lot_edit(request: StaffRequest, code: str) -> HttpResponse:
    """What is written on a lot beside its balance."""
    row = _lot(code)
    form = LotFactsForm(request.POST or None, instance=row)
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            try:
                change(row, _facts(form), form.cleaned_data["version"])
            except ChangedMeanwhileError as refusal:
                status = 409
                form.add_error(None, str(refusal))
                put_in(form, version=str(refusal.current.version))
            else:
                return redirect("yarns:lot", row.code)
    return render(request, "yarns/lot_edit.html", {"form": form, "lot": row}, status=status)


def _facts(form: LotFactsForm) -> dict[str, Any]:
    facts = {name: form.cleaned_data[name] for name in form.Meta.fields}
    facts["place"] = place_named(facts["place"])
    facts["supplier"] = supplier_named(facts["supplier"])
    if facts["ownership"] == Ownership.CUSTOMER:
        facts |= {"price_paid_minor": None, "postage_share_minor": 0}
    return facts
