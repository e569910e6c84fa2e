"""Labels for the shelf: which lots, and the sheets as PDF with a QR code to each lot's page."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby
from typing import Final

from django.db.models import QuerySet
from django.http import QueryDict
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from craft.standards.label_stock import PAPER_MM, LabelSheet, places_on
from workroom.models import Studio
from workroom.printing import Sheet, print_sheet, qr_svg
from yarns.models import Lot
from yarns.selectors import WITH_NAMES
from yarns.shelf import Asked, lots_for

MOST_LABELS: Final = 600
MOST_QR_MM: Final = Decimal(24)
EDGE_MM: Final = Decimal("2.5")


class NoSiteAddressError(ValueError):
    def __init__(self) -> None:
        super().__init__(
            _(
                "A QR code needs the address under which your workroom can be opened, and none is set yet."
                " The owner sets it under Studio, Site address. Or print the eight signs alone."
            )
        )


@dataclass(frozen=True, slots=True)
class Label:
    """One label on its page. Millimetres; `qr`: the picture's name, "" for none."""

    lot: Lot
    left_mm: Decimal
    top_mm: Decimal
    qr: str


def lots_asked_for(query: QueryDict) -> QuerySet[Lot]:
    """The lots that the address names: by label (`lot`), by parcel, else those that the shelf would show."""
    rows = Lot.objects.select_related(*WITH_NAMES)
    codes = [code[:8] for code in query.getlist("lot")[:MOST_LABELS]]
    if codes:
        return rows.filter(code__in=codes).order_by("shelf_name", "pk")
    parcel = query.get("parcel", "")
    if parcel.isascii() and parcel.isdigit() and len(parcel) < 12:
        return rows.filter(parcel=int(parcel), balance__gt=0).order_by("pk")
    return lots_for(Asked.read(query)).select_related(*WITH_NAMES).order_by("shelf_name", "pk")


def print_labels(
    lots: Sequence[Lot], sheet: LabelSheet, start: int, studio: Studio, *, with_qr: bool
) -> bytes:
    """The PDF, one label for each entry of `lots`. Raises NoSiteAddressError, CantPrintError."""
    if with_qr and not studio.site_address:
        raise NoSiteAddressError
    pictures = {f"{lot.code}.svg": qr_svg(lot_address(lot, studio)) for lot in lots} if with_qr else {}
    placed = zip(lots, places_on(sheet, len(lots), start), strict=True)
    labels = [
        (page, Label(lot, left, top, f"{lot.code}.svg" if with_qr else ""))
        for lot, (page, left, top) in placed
    ]
    pages = [[label for _page, label in group] for _page, group in groupby(labels, key=lambda each: each[0])]
    context = {"pages": pages, "language": get_language() or "en"}
    html = render_to_string("yarns/paper/labels.html", context)
    return print_sheet(Sheet(html, _style(sheet), pictures))


def lot_address(lot: Lot, studio: Studio) -> str:
    """Where the lot's page can be opened."""
    return studio.site_address.rstrip("/") + reverse("yarns:lot", args=[lot.code])


def _style(sheet: LabelSheet) -> str:
    low = sheet.height_mm < 30
    qr = min(sheet.height_mm - (2 if low else 5), sheet.width_mm * Decimal("0.42"), MOST_QR_MM)
    wide, high = PAPER_MM[sheet.paper]
    # Text, so that no locale writes 63,5 where a style sheet wants 63.5.
    sizes = {
        "paper_width": wide, "paper_height": high, "width": sheet.width_mm, "height": sheet.height_mm,
        "qr": qr, "edge": Decimal("1.2") if low else EDGE_MM, "text": Decimal("6.2") if low else Decimal(8),
    }  # fmt: skip
    return render_to_string("yarns/paper/labels.css", {name: str(size) for name, size in sizes.items()})
