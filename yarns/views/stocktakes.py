"""The stocktake: begin, count on the phone place by place, look at the differences, post."""

from dataclasses import dataclass
from typing import Final
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from craft.standards.codes import InvalidCodeError, read_label_code
from workroom.http import StaffRequest
from workroom.printing import CantPrintError, pdf_response
from workroom.selectors import current_studio
from yarns import ledger
from yarns.count_sheets import TooManyLotsError, print_count_sheet
from yarns.forms.fields import put_in
from yarns.forms.stocktakes import CountForm, StartForm
from yarns.models import CountedLot, Lot, Place, Stocktake
from yarns.paging import Page, Sort, page_of, text
from yarns.selectors import WITH_NAMES
from yarns.stocktakes import (
    CountedMeanwhileError,
    PlaceToCount,
    ShownBeforeError,
    StocktakeError,
    counted_of,
    differences,
    digest_of,
    drop_stocktake,
    forget_count,
    lots_to_count,
    places_to_count,
    post_stocktake,
    save_count,
    start_stocktake,
    stocktakes_with_counts,
)

PAGE_SIZE: Final = 60
BY_NAME: Final = Sort("shelf_name", descending=False, reads=text)
BOTH: Final = ["GET", "HEAD", "POST"]


@dataclass(frozen=True, slots=True)
class Row:
    """One lot of the counting page: its count so far, and the form for it."""

    lot: Lot
    counted: CountedLot | None
    form: CountForm
    place_id: int
    failed: bool = False

    @property
    def elsewhere(self) -> bool:
        """The book has it in another place than the one that is counted."""
        return (self.lot.place_id or 0) != self.place_id


@require_http_methods(BOTH)
def stocktakes(request: StaffRequest) -> HttpResponse:
    """All stocktakes, and the form to begin one."""
    form = StartForm(request.POST or None, initial={"key": uuid4().hex})
    if request.method == "POST" and form.is_valid():
        begun = start_stocktake(request.user, form.cleaned_data["key"], form.cleaned_data["places"])
        return redirect("yarns:stocktake", begun.pk)
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "stocktakes": stocktakes_with_counts()[:50]}
    return render(request, "yarns/stocktake/list.html", context, status=status)


@require_safe
def stocktake(request: StaffRequest, pk: int) -> HttpResponse:
    """What is to count and how far it is; once closed, what came of it."""
    row = get_object_or_404(Stocktake, pk=pk)
    return _overview(request, row)


def _overview(request: StaffRequest, row: Stocktake, status: int = 200, says: str = "") -> HttpResponse:
    counted = counted_of(row)
    found = differences(counted)
    context = {
        "stocktake": row,
        "places": places_to_count(row) if row.is_open else [],
        "counted": len(counted),
        "differences": found,
        "digest": digest_of(found),
        "says": says,
    }
    return render(request, "yarns/stocktake/overview.html", context, status=status)


@require_safe
def stocktake_sheet(request: StaffRequest, pk: int) -> HttpResponse:
    """The sheet to count by, on paper."""
    row = get_object_or_404(Stocktake, pk=pk)
    try:
        paper = print_count_sheet(row, current_studio())
    except TooManyLotsError as refusal:
        return _overview(request, row, 422, str(refusal))
    except CantPrintError:
        says = _("The sheet could not be printed. Try again in a minute, or count fewer places at once.")
        return _overview(request, row, 503, says)
    return pdf_response(paper, f"count-sheet-{row.pk}.pdf")


# --------------------------------------------------------------------------------- counting


@require_safe
def stocktake_place(request: StaffRequest, pk: int, place: int) -> HttpResponse:
    """The lots of one place, each with its fields. A label typed or scanned brings up a lot of elsewhere."""
    row = get_object_or_404(Stocktake, pk=pk)
    here = _place_of(row, place)
    lots = lots_to_count(row).filter(place=place or None).select_related(*WITH_NAMES)
    page = page_of(lots, BY_NAME, PAGE_SIZE, request.GET)
    extra, says = _looked_for(row, place, request.GET.get("label", ""))
    context = {
        "stocktake": row,
        "place": here,
        "page": page,
        "query": "",
        "rows": _rows(row, page, place),
        "extra": extra,
        "says": says,
        "label": request.GET.get("label", "") if says else "",
    }
    return render(request, "yarns/stocktake/place.html", context)


def _place_of(row: Stocktake, place: int) -> PlaceToCount:
    known = {each.place_id: each for each in places_to_count(row)}
    if place in known:
        return known[place]
    if place and (row.everywhere or row.places.filter(pk=place).exists()):
        named = get_object_or_404(Place, pk=place)
        return PlaceToCount(place, named.name, 0, 0)
    raise Http404


def _rows(row: Stocktake, page: Page[Lot], place: int) -> list[Row]:
    counts = CountedLot.objects.filter(stocktake=row, lot__in=page.rows).select_related("counted_by")
    known = {count.lot_id: count for count in counts}
    return [_fresh_row(lot, known.get(lot.pk), place) for lot in page.rows]


def _fresh_row(lot: Lot, counted: CountedLot | None, place: int) -> Row:
    if counted is not None:
        counted.lot = lot
    form = CountForm(lot=lot, initial={"seen": counted.version if counted else 0})
    return Row(lot, counted, form, place)


def _looked_for(row: Stocktake, place: int, label: str) -> tuple[Row | None, str]:
    """The lot of a label that was read, or a sentence why there is none."""
    if not label:
        return None, ""
    try:
        code = read_label_code(label)
    except InvalidCodeError:
        return None, _("That is no label of this workroom. It has eight letters and figures.")
    lot = Lot.objects.select_related(*WITH_NAMES).filter(code=code).first()
    if lot is None:
        return None, _("No lot carries the label %(code)s.") % {"code": code}
    counted = CountedLot.objects.select_related("counted_by").filter(stocktake=row, lot=lot).first()
    return _fresh_row(lot, counted, place), ""


@require_POST
def stocktake_count(request: StaffRequest, pk: int, place: int, code: str) -> HttpResponse:
    """Keep one count at once."""
    row = get_object_or_404(Stocktake, pk=pk)
    lot = get_object_or_404(Lot.objects.select_related(*WITH_NAMES), code=code)
    before = CountedLot.objects.select_related("counted_by").filter(stocktake=row, lot=lot).first()
    form = CountForm(request.POST, lot=lot)
    if not form.is_valid():
        return _row_page(request, row, Row(lot, before, form, place, failed=True), 422)
    found = form.found(place or None)
    try:
        counted = save_count(row, lot.pk, found, request.user, form.cleaned_data["seen"])
    except (StocktakeError, ledger.LedgerError) as refusal:
        form.add_error(None, str(refusal))
        if isinstance(refusal, CountedMeanwhileError):
            put_in(form, seen=str(refusal.theirs.version))
            before = refusal.theirs
        return _row_page(request, row, Row(lot, before, form, place, failed=True), 409)
    if request.htmx:
        return _row_page(request, row, _fresh_row(lot, counted, place), 200)
    return redirect(f"{reverse('yarns:stocktake_place', args=[pk, place])}#lot-{lot.code}")


def _row_page(request: StaffRequest, row: Stocktake, line: Row, status: int) -> HttpResponse:
    """The one row for htmx; a page with it alone where there are no scripts."""
    context = {"stocktake": row, "place": _place_of(row, line.place_id), "row": line, "swapped": True}
    if request.htmx:
        return render(request, "yarns/stocktake/_row.html", context, status=status)
    page: Page[Lot] = Page([], "", "")
    context |= {"rows": [line], "page": page, "alone": True}
    return render(request, "yarns/stocktake/place.html", context, status=status)


@require_POST
def stocktake_forget(request: StaffRequest, pk: int, place: int, code: str) -> HttpResponse:
    """Take a count out again."""
    row = get_object_or_404(Stocktake, pk=pk)
    lot = get_object_or_404(Lot, code=code)
    try:
        forget_count(row, lot.pk)
    except StocktakeError as refusal:
        messages.error(request, str(refusal))
    return redirect("yarns:stocktake_place", pk, place)


# ---------------------------------------------------------------------------------- closing


@require_POST
def stocktake_post(request: StaffRequest, pk: int) -> HttpResponse:
    """Post what was looked at and ticked."""
    row = get_object_or_404(Stocktake, pk=pk)
    wanted = {int(each) for each in request.POST.getlist("lot") if each.isascii() and each.isdigit()}
    try:
        posted = post_stocktake(row, wanted, request.user, request.POST.get("seen", ""))
    except (ShownBeforeError, StocktakeError, ledger.LedgerError) as refusal:
        return _overview(request, row, 409, str(refusal))
    says = ngettext(
        "Posted: %(count)s difference stands in the stock book.",
        "Posted: %(count)s differences stand in the stock book.",
        posted,
    )
    messages.success(request, says % {"count": posted})
    return redirect("yarns:stocktake", row.pk)


@require_POST
def stocktake_drop(request: StaffRequest, pk: int) -> HttpResponse:
    """Give it up; the book stays as it is."""
    row = get_object_or_404(Stocktake, pk=pk)
    try:
        drop_stocktake(row, request.user)
    except StocktakeError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, _("The stocktake is given up. The stock book stays as it was."))
    return redirect("yarns:stocktakes")
