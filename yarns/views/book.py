"""The stock book: every movement, newest first."""

from django.http import HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_safe

from workroom.http import StaffRequest
from workroom.selectors import local_today
from workroom.spreadsheet import csv_response
from workroom.tables import book_response, write_book
from yarns.export import movement_rows
from yarns.models import Movement, MovementKind
from yarns.paging import Sort, page_of, whole
from yarns.selectors import mark_undone

PAGE_SIZE = 100
NEWEST = Sort("id", descending=True, reads=whole)


@require_safe
def book(request: StaffRequest) -> HttpResponse:
    kind = request.GET.get("kind", "")
    kind = kind if kind in MovementKind.values else ""
    rows = Movement.objects.select_related("lot__colour__yarn", "lot__supply", "person")
    rows = rows.filter(kind=kind) if kind else rows
    page = page_of(rows, NEWEST, PAGE_SIZE, request.GET)
    mark_undone(page.rows)
    context = {
        "page": page,
        "kinds": MovementKind.choices,
        "kind": kind,
    }
    return render(request, "yarns/book.html", context)


@require_safe
def book_export(request: StaffRequest) -> HttpResponseBase:
    rows, name = movement_rows(Movement.objects.all()), f"stock-book-{local_today():%Y-%m-%d}"
    if request.GET.get("as") == "xlsx":
        return book_response(write_book({"movements": rows}), f"{name}.xlsx")
    return csv_response(f"{name}.csv", rows)
