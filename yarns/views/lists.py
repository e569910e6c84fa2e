"""Lists in and out: choose a file, look at what it would do, say yes; or take everything away as a file."""

from dataclasses import dataclass
from typing import Final

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.http import StaffRequest
from workroom.selectors import local_today
from workroom.tables import (
    MOST_BYTES,
    UnreadableTableError,
    book_response,
    read_tables,
    write_book,
    write_zip,
)
from yarns import ledger
from yarns.lists.cells import BadRow
from yarns.lists.everything_in import (
    DoesNotAddUpError,
    EverythingPlan,
    NotEmptyError,
    is_everything,
    plan_everything,
    take_in_everything,
)
from yarns.lists.everything_out import everything
from yarns.lists.lots_in import AlreadyInError, LotsPlan, plan_lots, take_in_lots
from yarns.lists.uploads import drop_upload, keep_upload, kept_upload
from yarns.models import Lot

SHOWN_ROWS: Final = 12
SHOWN_BAD: Final = 200


class FileForm(forms.Form):
    """The file to take in."""

    file = forms.FileField(
        label=gettext_lazy("CSV or XLSX file"),
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.xlsx,.zip"}),
    )


@dataclass(frozen=True, slots=True)
class Preview:
    """What a file would do. One of `lots` and `room` is there."""

    digest: str
    bad: tuple[BadRow, ...]
    lots: LotsPlan | None = None
    room: EverythingPlan | None = None

    @property
    def sound(self) -> bool:
        plan = self.lots or self.room
        return plan is not None and plan.sound

    @property
    def count(self) -> int:
        return len(self.lots.rows) if self.lots else len(self.room.lots) if self.room else 0

    @property
    def first(self) -> list[tuple[str, str, str]]:
        """The first few lots: what, dye lot, how much."""
        if self.lots:
            rows = self.lots.rows[:SHOWN_ROWS]
            return [(str(row.thing), str(row.facts["dye_lot"]), str(row.amount)) for row in rows]
        lots: list[Lot] = list(self.room.lots.values())[:SHOWN_ROWS] if self.room else []
        return [(str(lot.thing), lot.dye_lot, str(lot.on_hand)) for lot in lots]

    @property
    def new(self) -> tuple[int, int, int]:
        """Yarns, colours and supplies that would be new here."""
        plan = self.lots or self.room
        return plan.known.new if plan else (0, 0, 0)


@require_http_methods(["GET", "HEAD", "POST"])
def lists(request: StaffRequest) -> HttpResponse:
    """The page; with a file its preview."""
    if request.method != "POST":
        return _page(request, FileForm(), 200)
    form = FileForm(request.POST, request.FILES)
    if not form.is_valid():
        return _page(request, form, 422)
    upload = form.cleaned_data["file"]
    content = upload.read(MOST_BYTES + 1)
    try:
        preview = _preview(content, upload.name)
    except UnreadableTableError as refusal:
        form.add_error("file", str(refusal))
        return _page(request, form, 422)
    return _page(request, FileForm(), 200 if preview.sound else 422, preview)


def _preview(content: bytes, name: str) -> Preview:
    tables = read_tables(content, name)
    digest = keep_upload(content)
    if is_everything(tables):
        room = plan_everything(tables)
        return Preview(digest, tuple(room.bad), room=room)
    lots = next((table for table in tables if table.name in {"", "lots"}), tables[0] if tables else None)
    if lots is None:
        raise UnreadableTableError(_("There is no table in this file."))
    plan = plan_lots(lots)
    return Preview(digest, plan.bad, lots=plan)


def _page(request: StaffRequest, form: FileForm, status: int, preview: Preview | None = None) -> HttpResponse:
    context = {
        "form": form,
        "preview": preview,
        "bad": preview.bad[:SHOWN_BAD] if preview else (),
        "more_bad": max(0, len(preview.bad) - SHOWN_BAD) if preview else 0,
    }
    return render(request, "yarns/lists.html", context, status=status)


@require_POST
def lists_take_in(request: StaffRequest) -> HttpResponse:
    """The yes: read anew, take in all or nothing."""
    digest = request.POST.get("digest", "")
    content = kept_upload(digest)
    if content is None:
        messages.error(request, _("That file is not here any more. Choose it again."))
        return redirect("yarns:lists")
    preview = _preview(content, "")
    if not preview.sound:
        return _page(request, FileForm(), 422, preview)
    try:
        count = _taken_in(request, preview)
    except (AlreadyInError, NotEmptyError, DoesNotAddUpError, ledger.LedgerError) as refusal:
        messages.error(request, str(refusal))
        return redirect("yarns:lists")
    drop_upload(digest)
    says = ngettext("%(count)s lot is taken in.", "%(count)s lots are taken in.", count)
    messages.success(request, says % {"count": count})
    return redirect("yarns:shelf")


def _taken_in(request: StaffRequest, preview: Preview) -> int:
    if preview.lots:
        return take_in_lots(preview.lots, request.user, preview.digest)
    if preview.room is None:
        raise TypeError("A sound preview has a plan.")
    return take_in_everything(preview.room, request.user, preview.digest)


@require_safe
def everything_export(request: StaffRequest, kind: str) -> HttpResponse:
    """All sheets as one XLSX book, or as a ZIP of CSV files."""
    write = write_book if kind == "xlsx" else write_zip
    return book_response(write(everything()), f"yarn-room-{local_today():%Y-%m-%d}.{kind}")
