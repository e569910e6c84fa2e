"""The shelf and the stock book as tables for a spreadsheet."""

from collections.abc import Iterator
from decimal import Decimal

from django.db.models import QuerySet

from craft.standards.codes import gtin_shown
from workroom.money import to_decimal
from workroom.selectors import current_studio
from workroom.spreadsheet import Cell
from yarns.amounts import Unit
from yarns.models import Lot, Movement
from yarns.selectors import WITH_NAMES, shelf_lot
from yarns.typed import fibres_shown

LOT_COLUMNS = (
    "label", "kind", "maker", "yarn or supply", "size", "colour", "colour number", "barcode",
    "weight category", "fibres", "ball g", "ball m", "dye lot", "place", "supplier", "received on",
    "counted in", "received", "on hand", "promised", "free", "metres", "whose", "for whom", "hand-dyed",
    "second-hand", "no band", "set aside", "tare g", "notes",
)  # fmt: skip
COST_COLUMNS = ("price paid", "share of postage", "currency")


def shelf_rows(lots: QuerySet[Lot], *, with_costs: bool) -> Iterator[list[Cell]]:
    """Head and one row a lot, by name. Amounts in grams or pieces, as "counted in" says."""
    yield [*LOT_COLUMNS, *(COST_COLUMNS if with_costs else ())]
    currency = current_studio().currency
    for lot in lots.select_related(*WITH_NAMES).order_by("shelf_name", "pk").iterator(1000):
        yield [*_lot_cells(lot), *(_costs(lot, currency) if with_costs else ())]


def _lot_cells(lot: Lot) -> list[Cell]:
    metres = shelf_lot(lot).on_hand_m
    return [
        lot.code,
        *_thing_cells(lot),
        lot.dye_lot,
        lot.place.name if lot.place else "",
        lot.supplier.name if lot.supplier else "",
        lot.received_on.isoformat(),
        "pieces" if lot.unit == Unit.PIECE else "g",
        units_shown(lot.received, lot.unit),
        units_shown(lot.balance, lot.unit),
        units_shown(lot.promised, lot.unit),
        units_shown(lot.balance - lot.promised, lot.unit),
        None if metres is None else round(metres),
        lot.ownership,
        lot.owner_note,
        *map(yes_or_no, (lot.hand_dyed, lot.second_hand, lot.no_band)),
        lot.set_aside,
        thousandths(lot.tare_mg or None),
        lot.notes,
    ]


def yes_or_no(fact: bool) -> Cell:
    return "yes" if fact else ""


def _thing_cells(lot: Lot) -> list[Cell]:
    """From "kind" to "ball m"."""
    if lot.colour is None:
        supply = lot.supply
        if supply is None:
            raise ValueError("A lot is of a colour or of a supply.")
        names = [supply.kind, supply.maker, supply.name, supply.size]
        return [*names, "", "", barcode(supply.gtin), None, "", None, None]
    colour, yarn = lot.colour, lot.colour.yarn
    return [
        "yarn",
        yarn.maker,
        yarn.name,
        "",
        colour.name,
        colour.code,
        barcode(colour.gtin),
        yarn.weight_category,
        fibres_shown(yarn.fibres).replace("\u00a0", " "),
        thousandths(yarn.ball_mass_mg),
        thousandths(yarn.ball_length_mm),
    ]


def barcode(gtin: str) -> str:
    return gtin_shown(gtin) if gtin else ""


def _costs(lot: Lot, currency: str) -> list[Cell]:
    price = lot.price_paid_minor
    return [
        None if price is None else to_decimal(price, currency),
        to_decimal(lot.postage_share_minor, currency),
        currency,
    ]


def units_shown(count: int, unit: str) -> Cell:
    return count if unit == Unit.PIECE else thousandths(count)


def thousandths(count: int | None) -> Decimal | None:
    return None if count is None else Decimal(count).scaleb(-3).normalize() + 0


MOVEMENT_COLUMNS = (
    "number", "at (UTC)", "label", "of", "kind", "change", "balance after", "counted in",
    "for", "which", "why", "who", "undoes",
)  # fmt: skip


def movement_rows(movements: QuerySet[Movement]) -> Iterator[list[Cell]]:
    """Head and one row a movement, in the order booked."""
    yield list(MOVEMENT_COLUMNS)
    joined = movements.select_related("lot", "person").order_by("pk")
    for row in joined.iterator(1000):
        unit = row.lot.unit
        yield [
            row.pk,
            row.at.strftime("%Y-%m-%dT%H:%M:%SZ"),
            row.lot.code,
            row.lot.shelf_name,
            row.kind,
            units_shown(row.delta, unit),
            units_shown(row.balance_after, unit),
            "pieces" if unit == Unit.PIECE else "g",
            row.purpose_kind,
            row.purpose_label,
            row.why,
            row.person.name,
            row.undoes_id,
        ]
