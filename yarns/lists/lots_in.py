"""A list of lots from a spreadsheet: planned without writing a thing, then received all or not at all."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from django.db import transaction
from django.utils.translation import gettext as _

from craft.standards.codes import InvalidCodeError, read_label_code
from workroom.models import Person
from workroom.selectors import current_studio, local_today
from workroom.tables import Table
from yarns import ledger
from yarns.amounts import Amount, Unit
from yarns.catalogue import place_named, supplier_named
from yarns.lists import cells
from yarns.lists.cells import BadCellError, BadRow, Row
from yarns.lists.things import Known, thing_of
from yarns.models import Colour, LabelCode, Movement, Ownership, SetAside, Supply

NEEDED = ("yarn or supply",)
AMOUNTS = ("on hand", "received", "balls")
ALIASES = {
    "yarn": "yarn or supply", "supply": "yarn or supply", "name": "yarn or supply", "amount": "on hand",
    "grams": "on hand", "lot": "dye lot", "color": "colour", "color number": "colour number",
    "price": "price paid", "shelf": "place", "brand": "maker", "company": "maker", "fiber": "fibres",
    "fibre": "fibres", "weight": "weight category",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class LotRow:
    """One row that can be taken in. `code`: the label that it brings, "" for a new one."""

    number: int
    thing: Colour | Supply
    amount: Amount
    code: str
    place: str
    supplier: str
    received_on: date
    facts: dict[str, object]


@dataclass(frozen=True, slots=True)
class LotsPlan:
    """What a list would do. `skipped`: rows with nothing on hand."""

    rows: tuple[LotRow, ...]
    bad: tuple[BadRow, ...]
    skipped: int
    known: Known = field(default_factory=Known)

    @property
    def sound(self) -> bool:
        return bool(self.rows) and not self.bad


def plan_lots(table: Table) -> LotsPlan:
    """Read every row; nothing is written."""
    columns = {ALIASES.get(name, name) for name in table.columns}
    if says := _lacking(columns):
        return LotsPlan((), (BadRow("", 1, says),), 0)
    known, currency, today = Known.here(), current_studio().currency, local_today()
    given = set(LabelCode.objects.values_list("code", flat=True))
    rows: list[LotRow] = []
    bad: list[BadRow] = []
    skipped = 0
    for number, raw in table.rows:
        row = {ALIASES.get(name, name): text for name, text in raw.items()}
        try:
            found = _read(number, row, known, currency, today)
            if found is None:
                skipped += 1
                continue
            _take_code(found.code, given)
        except BadCellError as refusal:
            bad.append(BadRow("", number, str(refusal)))
        else:
            rows.append(found)
    if not rows and not bad:
        bad.append(BadRow("", 2, _("There is no row with anything on hand.")))
    return LotsPlan(tuple(rows), tuple(bad), skipped, known)


def _lacking(columns: set[str]) -> str:
    for name in NEEDED:
        if name not in columns:
            return _("The first row needs a column “%(column)s”.") % {"column": name}
    if not columns & set(AMOUNTS):
        return _("The first row needs a column “on hand” (grams or pieces) or “balls”.")
    return ""


def _take_code(code: str, given: set[str]) -> None:
    if code and code in given:
        raise BadCellError(_("The label %(code)s is in use here already.") % {"code": code})
    given.add(code)


def _read(number: int, row: Row, known: Known, currency: str, today: date) -> LotRow | None:
    thing = thing_of(row, known)
    amount = _amount(row, thing)
    if amount.count == 0:
        return None
    return LotRow(
        number=number,
        thing=thing,
        amount=amount,
        code=_code(row),
        place=cells.words(row, "place", 60),
        supplier=cells.words(row, "supplier", 80),
        received_on=cells.day(row, "received on") or today,
        facts=_facts(row, amount, currency),
    )


def _amount(row: Row, thing: Colour | Supply) -> Amount:
    unit = Unit.MILLIGRAM if isinstance(thing, Colour) else Unit(thing.counts_in)
    if cells.unit(row, unit) is not unit:
        raise cells.refuse("counted in", row["counted in"], _("here it is counted the other way."))
    for column in ("on hand", "received"):
        count = cells.not_below_nought(column, cells.counted(row, column, unit))
        if count is not None:
            return Amount(count, unit)
    balls = cells.number(row, "balls")
    mass = thing.yarn.ball_mass_mg if isinstance(thing, Colour) else None
    if balls is None or not mass:
        raise BadCellError(_("It does not say how much: fill in “on hand”, or “balls” and “ball g”."))
    cells.not_below_nought("balls", round(balls))
    return Amount(round(balls * mass), unit)


def _code(row: Row) -> str:
    text = row.get("label", "").strip()
    if not text:
        return ""
    try:
        return read_label_code(text)
    except InvalidCodeError as refusal:
        raise cells.refuse("label", text, str(refusal)) from refusal


def _facts(row: Row, amount: Amount, currency: str) -> dict[str, object]:
    whose = cells.choice(row, "whose", Ownership) if row.get("whose") else Ownership.OURS
    price, postage = _left_of_cost(row, amount, currency)
    if whose is Ownership.CUSTOMER and (price or postage):
        raise BadCellError(_("A customer’s own yarn has no price: it is not yours."))
    theirs = whose is Ownership.CUSTOMER
    return {
        "dye_lot": cells.words(row, "dye lot", 40),
        "price_paid_minor": None if theirs else price,
        "postage_share_minor": 0 if theirs else postage,
        "ownership": whose,
        "owner_note": cells.words(row, "for whom", 80),
        "hand_dyed": cells.yes(row, "hand-dyed"),
        "second_hand": cells.yes(row, "second-hand"),
        "no_band": cells.yes(row, "no band"),
        "set_aside": cells.choice(row, "set aside", SetAside),
        "tare_mg": cells.not_below_nought("tare g", cells.thousandths(row, "tare g")) or 0,
        "notes": cells.words(row, "notes", 200),
    }


def _left_of_cost(row: Row, amount: Amount, currency: str) -> tuple[int | None, int]:
    """Price and postage of what is left, where the list also says how much once came for them."""
    price = cells.money(row, "price paid", currency)
    postage = cells.money(row, "share of postage", currency) or 0
    came = cells.counted(row, "received", amount.unit)
    if not came or came <= amount.count:
        return price, postage
    share = Fraction(amount.count, came)
    return None if price is None else round(price * share), round(postage * share)


class AlreadyInError(ValueError):
    def __init__(self) -> None:
        super().__init__(_("This file was taken in before. Nothing was added."))


def take_in_lots(plan: LotsPlan, person: Person, digest: str) -> int:
    """Receive every lot of a sound plan; all or nothing. `digest`: of the file, which counts once.

    Raises AlreadyInError, ledger.LedgerError.
    """
    if not plan.sound:
        raise ValueError("Only a plan without bad rows is taken in.")
    with transaction.atomic():
        if Movement.objects.filter(key=_key(digest, plan.rows[0].number)).exists():
            raise AlreadyInError
        plan.known.save_new()
        for row in plan.rows:
            _receive(row, person, digest)
        return len(plan.rows)


def _key(digest: str, number: int) -> str:
    return f"list:{digest[:40]}:{number}"


def _receive(row: LotRow, person: Person, digest: str) -> None:
    place, supplier = place_named(row.place), supplier_named(row.supplier)
    arrival = ledger.Arrival(
        thing=row.thing,
        amount=row.amount,
        received_on=row.received_on,
        place_id=place.pk if place else None,
        supplier_id=supplier.pk if supplier else None,
        code=row.code,
        **row.facts,  # type: ignore[arg-type]  # facts of several types by name
    )
    ledger.receive(arrival, ledger.Act(person, _key(digest, row.number), _("from a list")))
