"""Everything of the yarn room as sheets: what `everything_in` puts into an empty room again.

Exact to the milligram, millimetre and minor unit. Photos and stocktakes under way are not in it.
"""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Final

from workroom.money import to_decimal
from workroom.selectors import current_studio
from workroom.spreadsheet import Cell
from yarns.amounts import Unit
from yarns.export import barcode, thousandths, units_shown, yes_or_no
from yarns.models import Colour, Lot, Movement, Parcel, Place, Promise, Supplier, Supply, Yarn
from yarns.selectors import WITH_NAMES
from yarns.typed import fibres_shown

Rows = Iterator[list[Cell]]

COLUMNS: Final[Mapping[str, tuple[str, ...]]] = {
    "places": ("place", "notes"),
    "suppliers": ("supplier", "lead days", "notes"),
    "yarns": (
        "maker", "yarn", "weight category", "fibres", "wound as", "ball g", "ball m", "measured m per g",
        "hook mm", "care", "yarn notes",
    ),
    "colours": ("maker", "yarn", "colour", "colour number", "shade", "barcode", "notes"),
    "supplies": ("kind", "maker", "yarn or supply", "size", "counted in", "barcode", "notes"),
    "parcels": ("parcel", "supplier", "received on", "slip", "postage", "currency", "put away", "opened by"),
    "lots": (
        "label", "kind", "maker", "yarn or supply", "size", "colour", "colour number", "counted in",
        "received", "on hand", "promised", "dye lot", "place", "supplier", "parcel", "received on",
        "price paid", "share of postage", "currency", "whose", "for whom", "hand-dyed", "second-hand",
        "no band", "set aside", "tare g", "notes",
    ),
    "promises": (
        "promise", "label", "counted in", "amount", "outstanding", "issued", "released", "state", "for",
        "key", "which", "why", "who", "made at (utc)", "closed by", "closed at (utc)", "why closed",
    ),
    "movements": (
        "movement", "label", "at (utc)", "kind", "counted in", "change", "balance after", "promise",
        "promise change", "undoes", "for", "key", "which", "why", "who", "scale step g", "tare g",
    ),
}  # fmt: skip


def everything() -> dict[str, Rows]:
    """All sheets by name, in the order in which they are read again."""
    rows = (
        _places(), _suppliers(), _yarns(), _colours(), _supplies(), _parcels(), _lots(), _promises(),
        _movements(),
    )  # fmt: skip
    return {name: _with_head(name, each) for name, each in zip(COLUMNS, rows, strict=True)}


def _with_head(name: str, rows: Rows) -> Rows:
    yield list(COLUMNS[name])
    yield from rows


def _places() -> Rows:
    for row in Place.objects.all():
        yield [row.name, row.notes]


def _suppliers() -> Rows:
    for row in Supplier.objects.all():
        yield [row.name, row.lead_days, row.notes]


def _yarns() -> Rows:
    for row in Yarn.objects.order_by("pk"):
        mix = fibres_shown(row.fibres).replace("\u00a0", " ")
        measures = map(
            thousandths, (row.ball_mass_mg, row.ball_length_mm, row.measured_mm_per_g, row.hook_um)
        )
        yield [row.maker, row.name, row.weight_category, mix, row.put_up, *measures, row.care, row.notes]


def _colours() -> Rows:
    for row in Colour.objects.select_related("yarn").order_by("pk"):
        names = [row.yarn.maker, row.yarn.name, row.name, row.code]
        yield [*names, row.hex_swatch, _code(row.gtin), row.notes]


def _code(gtin: str) -> str:
    return barcode(gtin) if gtin else ""


def _supplies() -> Rows:
    for row in Supply.objects.order_by("pk"):
        names = [row.kind, row.maker, row.name, row.size]
        yield [*names, _unit(row.counts_in), _code(row.gtin), row.notes]


def _unit(unit: str) -> str:
    return "pieces" if unit == Unit.PIECE else "g"


def _parcels() -> Rows:
    currency = current_studio().currency
    for row in Parcel.objects.select_related("supplier", "opened_by").order_by("pk"):
        postage = to_decimal(row.postage_minor, currency)
        came: list[Cell] = [row.pk, row.supplier.name if row.supplier else "", row.received_on.isoformat()]
        yield [*came, row.slip_number, postage, currency, yes_or_no(bool(row.closed_at)), row.opened_by.name]


def _lots() -> Rows:
    currency = current_studio().currency
    for lot in Lot.objects.select_related(*WITH_NAMES).order_by("pk").iterator(1000):
        price = lot.price_paid_minor
        yield [
            lot.code,
            *_thing(lot),
            _unit(lot.unit),
            *(units_shown(count, lot.unit) for count in (lot.received, lot.balance, lot.promised)),
            lot.dye_lot,
            lot.place.name if lot.place else "",
            lot.supplier.name if lot.supplier else "",
            lot.parcel_id,
            lot.received_on.isoformat(),
            None if price is None else to_decimal(price, currency),
            to_decimal(lot.postage_share_minor, currency),
            currency,
            lot.ownership,
            lot.owner_note,
            *map(yes_or_no, (lot.hand_dyed, lot.second_hand, lot.no_band)),
            lot.set_aside,
            thousandths(lot.tare_mg or None),
            lot.notes,
        ]


def _thing(lot: Lot) -> list[Cell]:
    """From "kind" to "colour number"."""
    if lot.colour is not None:
        yarn = lot.colour.yarn
        return ["yarn", yarn.maker, yarn.name, "", lot.colour.name, lot.colour.code]
    supply = lot.supply
    if supply is None:
        raise ValueError("A lot is of a colour or of a supply.")
    return [supply.kind, supply.maker, supply.name, supply.size, "", ""]


def _promises() -> Rows:
    rows = Promise.objects.select_related("lot", "person", "closed_by").order_by("pk")
    for row in rows.iterator(1000):
        unit = row.lot.unit
        counts = (row.amount, row.outstanding, row.issued, row.released)
        yield [
            row.pk,
            row.lot.code,
            _unit(unit),
            *(units_shown(count, unit) for count in counts),
            row.state,
            row.purpose_kind,
            row.purpose_key,
            row.purpose_label,
            row.why,
            row.person.name,
            _at(row.made_at),
            row.closed_by.name if row.closed_by else "",
            _at(row.closed_at),
            row.close_why,
        ]


def _movements() -> Rows:
    rows = Movement.objects.select_related("lot", "person").order_by("pk")
    for row in rows.iterator(1000):
        unit = row.lot.unit
        yield [
            row.pk,
            row.lot.code,
            _at(row.at),
            row.kind,
            _unit(unit),
            units_shown(row.delta, unit),
            units_shown(row.balance_after, unit),
            row.promise_id,
            units_shown(row.promise_delta, unit) if row.promise_delta else None,
            row.undoes_id,
            row.purpose_kind,
            row.purpose_key,
            row.purpose_label,
            row.why,
            row.person.name,
            thousandths(row.scale_step_mg),
            thousandths(row.tare_mg),
        ]


def _at(moment: datetime | None) -> str:
    return moment.astimezone(UTC).isoformat().replace("+00:00", "Z") if moment else ""
