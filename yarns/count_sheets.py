"""The sheet to count by: every lot by place, with room for a figure. The book's own is left off, so that
nobody copies it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from django.template.loader import render_to_string
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from workroom.models import Paper, Studio
from workroom.printing import Sheet, print_sheet
from yarns.models import Lot, Stocktake
from yarns.selectors import WITH_NAMES
from yarns.stocktakes import lots_to_count

MOST_LOTS: Final = 2000


@dataclass(frozen=True, slots=True)
class PlaceSheet:
    """One place and its lots by name."""

    name: str
    lots: list[Lot]


class TooManyLotsError(ValueError):
    def __init__(self, lots: int) -> None:
        super().__init__(
            _("%(lots)s lots are too many for one paper; %(most)s fit. Start a stocktake of fewer places.")
            % {"lots": lots, "most": MOST_LOTS}
        )


def print_count_sheet(stocktake: Stocktake, studio: Studio) -> bytes:
    """The PDF. Raises TooManyLotsError, workroom.printing.CantPrintError."""
    lots = lots_to_count(stocktake)
    total = lots.count()
    if total > MOST_LOTS:
        raise TooManyLotsError(total)
    context = {
        "stocktake": stocktake,
        "places": list(_by_place(list(lots.select_related(*WITH_NAMES).order_by("shelf_name", "pk")))),
        "studio": studio,
        "language": get_language() or "en",
    }
    size = {Paper.A4: "A4", Paper.LETTER: "Letter"}[Paper(studio.paper)]
    css = render_to_string(
        "yarns/paper/count_sheet.css", {"paper": size, "page_word": _("page"), "of_word": _("of")}
    )
    return print_sheet(Sheet(render_to_string("yarns/paper/count_sheet.html", context), css))


def _by_place(lots: list[Lot]) -> Iterator[PlaceSheet]:
    def where(lot: Lot) -> tuple[bool, str]:
        return lot.place is None, lot.place.name if lot.place else _("No place")

    for (_none, name), group in groupby(sorted(lots, key=where), key=where):
        yield PlaceSheet(name, list(group))
