"""One cell of a list into a value, or a sentence that says what to write instead."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Final, TypeVar

from django.db import models
from django.utils.translation import gettext as _

from craft.standards.codes import InvalidCodeError, read_gtin
from workroom.money import MoneyError, to_minor
from yarns.amounts import Unit
from yarns.typed import TypedError, read_fibres

Row = Mapping[str, str]
Choice = TypeVar("Choice", bound=models.TextChoices)

_NUMBER: Final = re.compile(r"[-+]?\d{1,15}(?:[.,]\d{1,9})?")
_YES: Final = frozenset({"yes", "y", "true", "1", "x"})
_NO: Final = frozenset({"", "no", "n", "false", "0"})
_PIECES: Final = frozenset({"pieces", "piece", "pcs", "pc"})
MOST: Final = 2**53


class BadCellError(ValueError):
    """A cell that can't be used; the sentence names its column."""


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that can't be taken in. `sheet` "" for the only one; `number` as the spreadsheet counts."""

    sheet: str
    number: int
    says: str


def refuse(column: str, text: str, why: str) -> BadCellError:
    shown = text if len(text) <= 40 else f"{text[:39]}…"
    return BadCellError(
        _("“%(text)s” under “%(column)s”: %(why)s") % {"text": shown, "column": column, "why": why}
    )


def words(row: Row, column: str, most: int, *, needed: bool = False) -> str:
    """Text of at most so many signs, single blanks."""
    text = " ".join(row.get(column, "").split())
    if needed and not text:
        raise BadCellError(_("“%(column)s” is empty.") % {"column": column})
    if len(text) > most:
        raise refuse(column, text, _("at most %(most)s signs fit.") % {"most": most})
    return text


def number(row: Row, column: str) -> Decimal | None:
    """A number with point or comma; None where nothing stands."""
    text = row.get(column, "").strip()
    if not text:
        return None
    if not text.isascii() or not _NUMBER.fullmatch(text):
        raise refuse(column, text, _("write a plain number, like 431 or 431.5."))
    return Decimal(text.replace(",", "."))


def thousandths(row: Row, column: str) -> int | None:
    """Grams as milligrams, metres as millimetres, millimetres as thousandths."""
    found = number(row, column)
    if found is None:
        return None
    scaled = found * 1000
    if scaled != scaled.to_integral_value():
        raise refuse(column, row[column], _("at most three digits after the point."))
    if abs(scaled) > MOST:
        raise refuse(column, row[column], _("that is too large."))
    return int(scaled)


def whole(row: Row, column: str) -> int | None:
    found = number(row, column)
    if found is None:
        return None
    if found != found.to_integral_value() or abs(found) > MOST:
        raise refuse(column, row[column], _("write a whole number."))
    return int(found)


def counted(row: Row, column: str, unit: Unit) -> int | None:
    """An amount in the unit's whole parts: milligrams from grams, or pieces."""
    return whole(row, column) if unit is Unit.PIECE else thousandths(row, column)


def not_below_nought(column: str, value: int | None) -> int | None:
    if value is not None and value < 0:
        raise refuse(column, str(value), _("it can’t be below nought."))
    return value


def unit(row: Row, otherwise: Unit) -> Unit:
    """Under "counted in": g or pieces."""
    text = row.get("counted in", "").strip().casefold()
    if text in {"", "g"}:
        return otherwise if not text else Unit.MILLIGRAM
    if text in _PIECES:
        return Unit.PIECE
    raise refuse("counted in", text, _("write g or pieces."))


def yes(row: Row, column: str) -> bool:
    text = row.get(column, "").strip().casefold()
    if text in _YES | _NO:
        return text in _YES
    raise refuse(column, text, _("write yes or no."))


def day(row: Row, column: str) -> date | None:
    text = row.get(column, "").strip()
    if not text:
        return None
    try:
        return date.fromisoformat(text[:10])
    except ValueError as error:
        raise refuse(column, text, _("write the day like 2026-03-31.")) from error


def moment(row: Row, column: str) -> datetime | None:
    """An instant as "2026-03-31T09:15:00Z" or with parts of a second; UTC."""
    text = row.get(column, "").strip()
    if not text:
        return None
    try:
        found = datetime.fromisoformat(text)
    except ValueError as error:
        raise refuse(column, text, _("write the time like 2026-03-31T09:15:00Z.")) from error
    return found if found.tzinfo else found.replace(tzinfo=UTC)


def money(row: Row, column: str, currency: str) -> int | None:
    """Minor units of the studio's currency. A list in another currency is refused."""
    named = row.get("currency", "").strip().upper()
    found = number(row, column)
    if found is None:
        return None
    if named and named != currency:
        raise refuse("currency", named, _("this workroom counts in %(currency)s.") % {"currency": currency})
    try:
        return not_below_nought(column, to_minor(found, currency))
    except MoneyError as refusal:
        raise refuse(column, row[column], str(refusal)) from refusal


def choice(row: Row, column: str, choices: type[Choice]) -> Choice:
    """One of a set, by its short name or its label; "" where the set has that."""
    text = row.get(column, "").strip()
    for each in choices:
        if text.casefold() in {str(each.value).casefold(), str(each.label).casefold()}:
            return each
    known = ", ".join(str(each.value) for each in choices if each.value)
    raise refuse(column, text, _("write one of: %(known)s.") % {"known": known})


def barcode(row: Row) -> str:
    text = row.get("barcode", "").strip()
    if not text:
        return ""
    try:
        return read_gtin(text)
    except InvalidCodeError as refusal:
        raise refuse("barcode", text, str(refusal)) from refusal


def fibres(row: Row) -> list[list[str | int]]:
    text = row.get("fibres", "").strip()
    try:
        return read_fibres(text)
    except TypedError as refusal:
        raise refuse("fibres", text, str(refusal)) from refusal


def weight(row: Row) -> int | None:
    found = whole(row, "weight category")
    if found is not None and not 0 <= found <= 7:
        raise refuse("weight category", str(found), _("it goes from 0 to 7."))
    return found


def shade(row: Row) -> str:
    text = row.get("shade", "").strip().lower()
    if text and not re.fullmatch(r"#[0-9a-f]{6}", text):
        raise refuse("shade", text, _("write it like #27456b."))
    return text
