"""Paper for every room. The press itself stands higher up; it signs on here when the house starts.

A sheet is HTML, a style sheet and pictures by name; fonts are `press://font/FACE`, pictures
`press://photo/NAME`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from typing import Final

import segno
from django.http import HttpResponse

__all__ = ["CantPrintError", "Sheet", "pdf_response", "print_sheet", "qr_svg", "use_printer"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is to be printed."""

    html: str
    css: str
    pictures: Mapping[str, bytes] = field(default_factory=dict)


class CantPrintError(RuntimeError):
    """The paper could not be made."""


Printer = Callable[[Sheet], bytes]
_PRINTERS: Final[list[Printer]] = []


def use_printer(printer: Printer) -> None:
    """From now on this one prints. It raises CantPrintError."""
    _PRINTERS[:] = [printer]


def print_sheet(sheet: Sheet) -> bytes:
    """The PDF. Raises CantPrintError."""
    if not _PRINTERS:
        raise CantPrintError("No press is there.")
    return _PRINTERS[0](sheet)


def qr_svg(address: str) -> bytes:
    """The address as a QR code in SVG, error correction M, with a quiet zone of two modules.

    The label or page around it has to leave two more, which makes the four of ISO/IEC 18004.
    """
    out = BytesIO()
    segno.make(address, error="m").save(out, kind="svg", border=2, xmldecl=False, svgns=True)
    return out.getvalue()


def pdf_response(content: bytes, file_name: str) -> HttpResponse:
    """The PDF to look at. `file_name`: ours, not a user's."""
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{file_name}"'
    return response
