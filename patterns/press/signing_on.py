"""The press as the printer of the rooms below."""

from patterns.press.job import PressError, PrintJob
from patterns.press.parent import press
from workroom.printing import CantPrintError, Sheet


def print_for_the_house(sheet: Sheet) -> bytes:
    """The PDF of a sheet. Raises CantPrintError."""
    try:
        return press().print_pdf(PrintJob(sheet.html, sheet.css, sheet.pictures))
    except PressError as failure:
        raise CantPrintError(str(failure)) from failure
