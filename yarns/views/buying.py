"""What to order, what is ordered, and the parcel that answers an order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.http import StaffRequest
from workroom.selectors import local_today
from workroom.spreadsheet import csv_response
from yarns.amounts import Unit
from yarns.catalogue import supplier_named
from yarns.export import units_shown
from yarns.finding import Found, find
from yarns.forms.buying import LineForm, PurchaseForm, RuleForm
from yarns.models import Colour, Purchase, PurchaseLine, PurchaseState, RestockRule, Supply
from yarns.parcels import open_parcel
from yarns.purchases import (
    PurchaseError,
    Wish,
    add_wish,
    close_line,
    line_states,
    lines_of,
    order_things,
    purchases_with_lines,
    take_off,
)
from yarns.restocking import ShoppingLine, SupplierList, shopping_lists
from yarns.typed import TypedError, read_amount

Typed = Mapping[str, str]
BOTH = ["GET", "HEAD", "POST"]


@dataclass(frozen=True, slots=True)
class ShopRow:
    """A line of the shopping list with what was typed beside it."""

    line: ShoppingLine
    typed: str
    ticked: bool
    error: str = ""


@dataclass(frozen=True, slots=True)
class ShopBlock:
    """What would come from one supplier."""

    of: SupplierList
    rows: list[ShopRow]


# --------------------------------------------------------------------------- the shopping list


@require_safe
def shopping(request: StaffRequest) -> HttpResponse:
    """What is due, by supplier; with `show=all` everything that was ever here."""
    lists = shopping_lists(only_due=request.GET.get("show") != "all")
    blocks = [ShopBlock(each, [_row(line) for line in each.lines]) for each in lists]
    return _shopping_page(request, blocks, 200)


def _row(line: ShoppingLine) -> ShopRow:
    return ShopRow(line, line.advised_typed if line.due else "", line.due)


def _shopping_page(
    request: StaffRequest, blocks: Sequence[ShopBlock], status: int, says: str = ""
) -> HttpResponse:
    context = {
        "blocks": blocks,
        "show_all": request.GET.get("show") == "all",
        "key": uuid4().hex,
        "says": says,
    }
    return render(request, "yarns/buying/shopping.html", context, status=status)


@require_POST
def shopping_order(request: StaffRequest) -> HttpResponse:
    """Order what is ticked in one supplier's block."""
    lists = shopping_lists(only_due=False)
    sent = [_sent_row(line, request.POST) for each in lists for line in each.lines]
    rows = {row.line.key: row for row in sent if row is not None}
    name = request.POST.get("supplier", "")[:80]
    wishes = _wishes(rows)
    supplier = None
    if wishes is not None and wishes:
        supplier = supplier_named(name)
    if wishes is None or supplier is None:
        blocks = [
            ShopBlock(each, [rows.get(line.key) or _row(line) for line in each.lines]) for each in lists
        ]
        return _shopping_page(request, blocks, 422, _why_not(wishes, rows))
    key = f"shopping:{request.POST.get('key', '')[:40]}"
    purchase = order_things(supplier, wishes, request.user, key, ordered_on=local_today())
    messages.success(request, _("Ordered. Send the list to %(supplier)s.") % {"supplier": supplier})
    return redirect("yarns:purchase", purchase.pk)


def _why_not(wishes: Sequence[Wish] | None, rows: Mapping[str, ShopRow]) -> str:
    if wishes is None:
        return _("An amount can’t be read. It is marked below.")
    return _("Write who to order it from.") if rows else _("Tick at least one thing to order.")


def _sent_row(line: ShoppingLine, sent: Typed) -> ShopRow | None:
    """The row as it was sent, None where it was not ticked."""
    if f"order-{line.key}" not in sent:
        return None
    typed = sent.get(f"amount-{line.key}", "")[:20]
    try:
        read_amount(typed, line.unit, line.ball_mass_mg)
    except TypedError as refusal:
        return ShopRow(line, typed, ticked=True, error=str(refusal))
    return ShopRow(line, typed, ticked=True)


def _wishes(rows: Mapping[str, ShopRow]) -> list[Wish] | None:
    """What is wished; None where an amount can't be read."""
    if any(row.error for row in rows.values()):
        return None
    wishes = []
    for row in rows.values():
        amount = read_amount(row.typed, row.line.unit, row.line.ball_mass_mg)
        wishes.append(Wish(row.line.thing, amount, row.line.price_of(amount.count)))
    return wishes


@require_http_methods(BOTH)
def restock_rule(request: StaffRequest, what: str) -> HttpResponse:
    """From whom, and when, a thing is ordered again."""
    thing = _thing(what)
    which = {"colour": thing} if isinstance(thing, Colour) else {"supply": thing}
    rule = RestockRule.objects.select_related("supplier").filter(**which).first()
    form = RuleForm(request.POST or None, initial=_of_rule(rule, thing), **_counted(thing))
    if request.method == "POST" and form.is_valid():
        RestockRule.objects.update_or_create(
            **which,
            defaults={
                "supplier": supplier_named(form.cleaned_data["supplier"]),
                "minimum": form.amount.count if form.amount else None,
                "never": form.cleaned_data["never"],
            },
        )
        messages.success(request, _("Kept."))
        return redirect("yarns:shopping")
    status = 422 if request.method == "POST" else 200
    return render(request, "yarns/buying/rule.html", {"form": form, "thing": thing}, status=status)


def _of_rule(rule: RestockRule | None, thing: Colour | Supply) -> dict[str, object]:
    if rule is None:
        return {}
    unit = _counted(thing)["unit"]
    minimum = "" if rule.minimum is None else f"{units_shown(rule.minimum, str(unit))}"
    grams = " g" if minimum and unit is Unit.MILLIGRAM else ""
    return {"supplier": str(rule.supplier or ""), "minimum": f"{minimum}{grams}", "never": rule.never}


def _counted(thing: Colour | Supply) -> dict[str, Any]:
    """How amounts of it are written."""
    if isinstance(thing, Colour):
        return {"unit": Unit.MILLIGRAM, "ball_mass_mg": thing.yarn.ball_mass_mg}
    return {"unit": Unit(thing.counts_in), "ball_mass_mg": None}


def _thing(what: str) -> Colour | Supply:
    kind, _dash, digits = what.partition("-")
    pk = int(digits) if digits.isascii() and digits.isdigit() and len(digits) < 12 else 0
    if kind == "colour":
        return get_object_or_404(Colour.objects.select_related("yarn"), pk=pk)
    if kind == "supply":
        return get_object_or_404(Supply, pk=pk)
    raise Http404


# ------------------------------------------------------------------------------ what is ordered


@require_safe
def purchases(request: StaffRequest) -> HttpResponse:
    """What is on its way, then the last orders that are done."""
    rows = purchases_with_lines()
    waiting = [(row, line_states(row.lines.all())) for row in rows.filter(state=PurchaseState.OPEN)[:50]]
    context = {"waiting": waiting, "done": rows.filter(state=PurchaseState.DONE)[:20], "today": local_today()}
    return render(request, "yarns/buying/purchases.html", context)


@require_http_methods(BOTH)
def purchase(request: StaffRequest, pk: int) -> HttpResponse:
    """One order: its lines with what came of each, its facts, one thing more."""
    row = _purchase(pk)
    form = PurchaseForm(request.POST or None, instance=row)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("Kept."))
        return redirect("yarns:purchase", row.pk)
    return _purchase_page(request, row, 422 if request.method == "POST" else 200, form)


def _purchase(pk: int) -> Purchase:
    return get_object_or_404(Purchase.objects.select_related("supplier", "ordered_by"), pk=pk)


def _purchase_page(
    request: StaffRequest,
    row: Purchase,
    status: int,
    form: PurchaseForm | None = None,
    line_form: LineForm | None = None,
    thing: Colour | Supply | None = None,
) -> HttpResponse:
    found = find(request.GET.get("q", "")) if request.method != "POST" else Found()
    chosen = thing or found.thing or (_thing(request.GET["what"]) if "what" in request.GET else None)
    if chosen is not None and line_form is None:
        line_form = LineForm(**_counted(chosen))
    context = {
        "purchase": row,
        "lines": lines_of(row),
        "form": form or PurchaseForm(instance=row),
        "found": found,
        "choices": [choice for choice in found.choices if not choice.is_new],
        "thing": chosen,
        "what": "" if chosen is None else _what(chosen),
        "line_form": line_form,
        "parcels": row.parcels.order_by("pk"),
        "receive_key": uuid4().hex,
    }
    return render(request, "yarns/buying/purchase.html", context, status=status)


def _what(thing: Colour | Supply) -> str:
    return f"{'colour' if isinstance(thing, Colour) else 'supply'}-{thing.pk}"


@require_POST
def purchase_add(request: StaffRequest, pk: int) -> HttpResponse:
    """One thing more (or another amount of one that stands there)."""
    row = _purchase(pk)
    thing = _thing(request.POST.get("what", ""))
    form = LineForm(request.POST, **_counted(thing))
    if not form.is_valid():
        return _purchase_page(request, row, 422, line_form=form, thing=thing)
    add_wish(row, Wish(thing, form.amount_read, form.cleaned_data["price"]))
    return redirect("yarns:purchase", row.pk)


@require_POST
def purchase_line(request: StaffRequest, pk: int, line: int) -> HttpResponse:
    """No more will come, or it may after all, or off the order: as the button says."""
    row = get_object_or_404(PurchaseLine.objects.select_related("purchase"), pk=line, purchase=pk)
    do = request.POST.get("do", "")
    try:
        if do == "off":
            take_off(row)
        elif do in {"close", "open"}:
            close_line(row, closed=do == "close")
    except PurchaseError as refusal:
        messages.error(request, str(refusal))
    return redirect("yarns:purchase", pk)


@require_POST
def purchase_receive(request: StaffRequest, pk: int) -> HttpResponse:
    """The parcel is here: put it on the table, to be checked against the order."""
    row = _purchase(pk)
    parcel = open_parcel(
        request.user,
        f"purchase:{request.POST.get('key', '')[:40]}",
        supplier=row.supplier,
        received_on=local_today(),
        purchase=row,
    )
    return redirect("yarns:parcel", parcel.pk)


@require_safe
def purchase_list(request: StaffRequest, pk: int) -> HttpResponse:
    """The order as a list to send."""
    row = _purchase(pk)
    return csv_response(f"order-{row.pk}.csv", _list_rows(row))  # type: ignore[return-value]  # streams


def _list_rows(row: Purchase) -> list[list[str | int | None]]:
    rows: list[list[str | int | None]] = [
        [_("maker"), _("name"), _("colour"), _("number"), _("barcode"), _("how much")]
    ]
    for state in lines_of(row):
        thing = state.line.thing
        names: list[str | int | None]
        if isinstance(thing, Colour):
            names = [thing.yarn.maker, thing.yarn.name, thing.name, thing.code, thing.gtin]
        else:
            names = [thing.maker, thing.name, thing.size, "", thing.gtin]
        rows.append([*names, str(state.line.ordered).replace("\u00a0", " ")])
    return rows
