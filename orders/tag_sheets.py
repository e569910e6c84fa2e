"""Sheets of price tags and of fibre and care labels, as PDF with lines to cut along."""

from enum import StrEnum
from typing import Final

from django.template.loader import render_to_string
from django.utils.translation import get_language

from orders.labels import BatchLabels
from patterns.paper import qr_code
from patterns.press import PrintJob, press
from workroom.models import Paper, Studio

__all__ = ["MOST_COPIES", "SheetKind", "print_sheet"]

MOST_COPIES: Final = 300
_QR: Final = "qr.svg"


class SheetKind(StrEnum):
    """What to print."""

    PRICE = "price"
    CARE = "care"


def print_sheet(labels: BatchLabels, kind: SheetKind, copies: int, studio: Studio) -> bytes:
    """The PDF of so many equal labels. Raises patterns.press.PressError."""
    context = {
        "labels": labels,
        "kind": kind.value,
        "copies": range(copies),
        "studio": studio,
        "qr": _QR if labels.address else "",
        "language": get_language() or "en",
    }
    size = {Paper.A4: "A4", Paper.LETTER: "Letter"}[Paper(studio.paper)]
    pictures = {_QR: qr_code(labels.address)} if labels.address else {}
    html = render_to_string("orders/tags_paper.html", context)
    css = render_to_string("orders/tags_paper.css", {"paper": size, "accent": studio.accent})
    return press().print_pdf(PrintJob(html, css, pictures))
