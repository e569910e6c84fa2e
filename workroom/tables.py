"""Tables in and out of spreadsheets: one CSV file, a ZIP of them, or an XLSX book.

What comes in is read with bounds before anything is unpacked, and every cell becomes text. What goes out
is written so that no spreadsheet executes it: `workroom.spreadsheet.safe_cell`.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Final

import openpyxl
import tablib
from django.http import HttpResponse
from django.utils.translation import gettext as _

from workroom.spreadsheet import Cell, plain_cell, safe_cell

__all__ = [
    "MOST_BYTES",
    "Table",
    "UnreadableTableError",
    "book_response",
    "read_tables",
    "write_book",
    "write_zip",
]

MOST_BYTES: Final = 12 * 1024 * 1024
MOST_UNPACKED: Final = 200 * 1024 * 1024
MOST_ROWS: Final = 600_000
MOST_COLUMNS: Final = 60
MOST_SHEETS: Final = 20
MOST_BLANK: Final = 1000
"""So many empty rows after each other end a sheet: some books carry a million of them."""

XLSX: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


class UnreadableTableError(ValueError):
    """A file that is no table; the text is the sentence for the person who chose it."""


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet as text: `rows` with the number under which a spreadsheet shows each, by the head's names."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[int, Mapping[str, str]], ...]


def read_tables(content: bytes, file_name: str) -> list[Table]:
    """The sheets of a file; a CSV is one, named "". Raises UnreadableTableError.

    What it is shows in its first bytes, not in its name.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableTableError(
            _("This file is larger than %(limit)s MB. Split it up.") % {"limit": MOST_BYTES // 1024**2}
        )
    if not content.strip():
        raise UnreadableTableError(_("This file is empty."))
    if not content.startswith(b"PK"):
        return [_table("", _csv_rows(content))]
    with _opened_zip(content) as packed:
        names = packed.namelist()
        if "[Content_Types].xml" in names:
            return _xlsx(content)
        return [
            _table(name.removesuffix(".csv"), _csv_rows(packed.read(name)))
            for name in names[:MOST_SHEETS]
            if name.endswith(".csv")
        ]


def _opened_zip(content: bytes) -> zipfile.ZipFile:
    try:
        packed = zipfile.ZipFile(io.BytesIO(content))
    except zipfile.BadZipFile as error:
        raise UnreadableTableError(_not_a_table()) from error
    if sum(entry.file_size for entry in packed.infolist()) > MOST_UNPACKED:
        raise UnreadableTableError(_("This file unpacks to more than can be read here. Split it up."))
    return packed


def _not_a_table() -> str:
    return _("This file is no table. Choose a CSV or XLSX file (or a ZIP of CSV files from here).")


def _csv_rows(content: bytes) -> Iterable[Sequence[Any]]:
    text = _decoded(content)
    if "\x00" in text:
        raise UnreadableTableError(_not_a_table())
    head = text[:20_000]
    mark = max(",;\t", key=head.split("\n", 1)[0].count)
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=mark)
    except csv.Error as error:
        raise UnreadableTableError(_not_a_table()) from error


def _decoded(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _xlsx(content: bytes) -> list[Table]:
    try:
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
        return [
            _table(sheet.title, sheet.iter_rows(max_row=MOST_ROWS, max_col=MOST_COLUMNS, values_only=True))
            for sheet in book.worksheets[:MOST_SHEETS]
        ]
    except UnreadableTableError:
        raise
    except Exception as error:  # openpyxl raises anything on a broken book
        raise UnreadableTableError(_not_a_table()) from error


def _table(name: str, rows: Iterable[Sequence[Any]]) -> Table:
    """Head and rows. The head's names are folded, so that "Dye Lot" is "dye lot"; empty rows are left out."""
    columns: tuple[str, ...] = ()
    found: list[tuple[int, Mapping[str, str]]] = []
    blank = 0
    for number, cells in enumerate(rows, start=1):
        if number > MOST_ROWS:
            raise UnreadableTableError(_("A sheet has more rows than can be read here. Split it up."))
        texts = [_text(cell) for cell in cells[:MOST_COLUMNS]]
        blank = 0 if any(texts) else blank + 1
        if blank > MOST_BLANK:
            break
        if blank:
            continue
        if not columns:
            columns = tuple(" ".join(text.casefold().split()) for text in texts)
            continue
        found.append((number, {name: text for name, text in zip(columns, texts, strict=False) if name}))
    return Table(name.strip().casefold(), tuple(filter(None, columns)), tuple(found))


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{Decimal(repr(cell)).normalize():f}"
    if isinstance(cell, datetime):
        midnight = not (cell.hour or cell.minute or cell.second)
        return cell.date().isoformat() if midnight else cell.isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    return plain_cell(str(cell).replace("\x00", "")).strip()


# -------------------------------------------------------------------------------------- out

Sheets = Mapping[str, Iterable[Sequence[Cell]]]


def write_book(sheets: Sheets) -> bytes:
    """An XLSX book; the first row of each sheet is its head."""
    book = tablib.Databook()
    for name, rows in sheets.items():
        head, *body = rows
        data = tablib.Dataset(title=name[:31], headers=[str(cell) for cell in head])
        for row in body:
            data.append([safe_cell(cell) if isinstance(cell, str) else cell for cell in row])
        book.add_sheet(data)
    exported: bytes = book.export("xlsx", escape=False, freeze_panes=True)
    return exported


def write_zip(sheets: Sheets) -> bytes:
    """The same as a ZIP of CSV files."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, rows in sheets.items():
            text = io.StringIO(newline="")
            csv.writer(text).writerows([safe_cell(cell) for cell in row] for row in rows)
            packed.writestr(f"{name}.csv", "\ufeff" + text.getvalue())
    return out.getvalue()


def book_response(content: bytes, file_name: str) -> HttpResponse:
    """An XLSX or ZIP to keep. `file_name`: ours, not a user's."""
    kind = XLSX if file_name.endswith(".xlsx") else "application/zip"
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{file_name}"'
    return response
