"""The shelf: the list of lots, its totals, its export, and the shade card."""

from django.http import HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from craft.standards.codes import InvalidCodeError, read_label_code
from workroom.http import StaffRequest
from workroom.selectors import local_today
from workroom.spreadsheet import csv_response
from workroom.tables import book_response, write_book
from yarns import shelf as shelves
from yarns.export import shelf_rows
from yarns.models import Lot
from yarns.shades import by_yarn, draw_shade_card, shades


@require_safe
def shelf(request: StaffRequest) -> HttpResponse:
    """The list. A label of ours, typed or scanned, opens its lot at once."""
    asked = shelves.Asked.read(request.GET)
    code = _label_of(asked.words)
    if code:
        return redirect("yarns:lot", code)
    found = shelves.answer(asked)
    places = shelves.place_choices()
    page = shelves.shelf_page(found.lots, asked.sort, request.GET)
    context = {
        "asked": asked,
        "page": page,
        "lots": shelves.as_shelf_lots(page),
        "totals": shelves.totals_for(found.lots, dict(places), whose=asked.whose) if found.few else None,
        "shows": shelves.SHOWS.items(),
        "sorts": [(key, label) for key, (label, _sort) in shelves.SORTS.items()],
        "weights": shelves.WEIGHT_LABELS.items(),
        "places": places,
        "query": asked.as_query().urlencode(),
    }
    response = render(request, "yarns/shelf.html", context)
    response["Vary"] = "HX-Request"
    return response


def _label_of(words: str) -> str:
    """The code where the words are one of a lot that is there."""
    try:
        code = read_label_code(words)
    except InvalidCodeError:
        return ""
    return code if Lot.objects.filter(code=code).exists() else ""


@require_safe
def shelf_export(request: StaffRequest) -> HttpResponseBase:
    """Everything that answers, not only the page, as a table for a spreadsheet; `as=xlsx` for a book."""
    asked = shelves.Asked.read(request.GET)
    rows = shelf_rows(shelves.lots_for(asked), with_costs=request.may("see:costs"))
    name = f"shelf-{local_today():%Y-%m-%d}"
    if request.GET.get("as") == "xlsx":
        return book_response(write_book({"lots": rows}), f"{name}.xlsx")
    return csv_response(f"{name}.csv", rows)


@require_safe
def shade_card(request: StaffRequest) -> HttpResponse:
    return render(request, "yarns/shade_card.html", {"groups": by_yarn(shades())})


@require_safe
def shade_picture(request: StaffRequest) -> HttpResponse:
    return HttpResponse(draw_shade_card(shades()), content_type="image/svg+xml")
