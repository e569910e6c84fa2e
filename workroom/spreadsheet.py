"""Tables out to spreadsheets, with nothing in them that a spreadsheet would execute.

A cell of text that begins like a formula gets an apostrophe in front, which spreadsheets hide; numbers
are written as numbers. `plain_cell` takes the apostrophe off again when such a file is read back.
"""

import csv
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Final

from django.http import StreamingHttpResponse

Cell = str | int | Decimal | None

FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
"""Source: OWASP, "CSV Injection"."""


def safe_cell(cell: Cell) -> str:
    """The cell as text that no spreadsheet takes for a formula."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return f"{cell:f}" if isinstance(cell, Decimal) else str(cell)
    return f"'{cell}" if cell.startswith((*FORMULA_STARTS, "'")) else cell


def plain_cell(text: str) -> str:
    """What `safe_cell` was given."""
    return text.removeprefix("'")


class _Echo:
    """A file that hands back what is written to it."""

    def write(self, text: str) -> str:
        return text


def csv_response(file_name: str, rows: Iterable[Sequence[Cell]]) -> StreamingHttpResponse:
    """A CSV file, written while it is sent; UTF-8 with the mark that spreadsheets look for.

    `file_name`: ours, not a user's.
    """
    writer = csv.writer(_Echo())
    lines = (writer.writerow([safe_cell(cell) for cell in row]) for row in rows)
    response = StreamingHttpResponse(
        (line.encode() for line in _with_mark(lines)), content_type="text/csv; charset=utf-8"
    )
    response["Content-Disposition"] = f'attachment; filename="{file_name}"'
    return response


def _with_mark(lines: Iterable[str]) -> Iterable[str]:
    yield "\ufeff"
    yield from lines
