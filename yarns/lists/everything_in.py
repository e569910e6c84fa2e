"""Everything of a yarn room into an empty one: read and checked without writing, then put in as a whole.

The one way past `yarns.ledger`, since a book has to come in with its own movements, labels and times. It
writes only where no lot is yet, and what it wrote is recomputed by `yarns.audit` before it stands.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from craft.standards.codes import InvalidCodeError, read_label_code
from workroom.models import Person
from workroom.selectors import current_studio
from workroom.tables import Table
from yarns.amounts import Unit
from yarns.audit import audit
from yarns.lists import cells
from yarns.lists.cells import BadCellError, BadRow, Row
from yarns.lists.everything_out import COLUMNS
from yarns.lists.things import Known, colour_of, supply_of, thing_of, yarn_of
from yarns.models import (
    Colour,
    LabelCode,
    Lot,
    Movement,
    MovementKind,
    Ownership,
    Parcel,
    Place,
    Promise,
    PromiseState,
    PurposeKind,
    SetAside,
    Supplier,
    Supply,
)
from yarns.shelving import write_shelf_facts

BATCH: Final = 2000
Read = Callable[["EverythingPlan", Row], None]


class NotEmptyError(ValueError):
    def __init__(self) -> None:
        super().__init__(
            _(
                "There are lots on this shelf already. A whole room is taken in only where the shelf is"
                " empty; use a list of lots to add to it."
            )
        )


class DoesNotAddUpError(ValueError):
    def __init__(self, says: str) -> None:
        super().__init__(
            _("The book of this file does not add up: %(says)s Nothing was added.") % {"says": says}
        )


@dataclass(slots=True)
class EverythingPlan:
    """What a file holds, checked. `bad` names every row that can't be taken in."""

    currency: str
    known: Known = field(default_factory=Known.here)
    places: dict[str, Place] = field(default_factory=dict)
    suppliers: dict[str, Supplier] = field(default_factory=dict)
    parcels: dict[int, Parcel] = field(default_factory=dict)
    lots: dict[str, Lot] = field(default_factory=dict)
    promises: dict[int, Promise] = field(default_factory=dict)
    movements: list["MovementRow"] = field(default_factory=list)
    numbers: set[int] = field(default_factory=set)
    balances: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    bad: list[BadRow] = field(default_factory=list)

    @property
    def sound(self) -> bool:
        return not self.bad and bool(self.lots)


@dataclass(frozen=True, slots=True)
class MovementRow:
    """A movement as the file has it; numbers are the file's own."""

    number: int
    undoes: int | None
    promise: int | None
    who: str
    code: str
    values: dict[str, Any]


def is_everything(tables: Sequence[Table]) -> bool:
    """Whether a file is a whole room rather than one list."""
    return {"lots", "movements"} <= {table.name for table in tables}


def plan_everything(tables: Sequence[Table]) -> EverythingPlan:
    """Read and check every row; nothing is written."""
    plan = EverythingPlan(current_studio().currency)
    sheets = {table.name: table for table in tables}
    for name, read in _READERS.items():
        table = sheets.get(name)
        if table is None:
            continue
        lacking = [column for column in COLUMNS[name][:2] if column not in table.columns]
        if lacking:
            plan.bad.append(BadRow(name, 1, _("The column “%(name)s” is missing.") % {"name": lacking[0]}))
            continue
        for number, row in table.rows:
            try:
                read(plan, row)
            except BadCellError as refusal:
                plan.bad.append(BadRow(name, number, str(refusal)))
    if not plan.bad:
        plan.bad.extend(_sums_that_differ(plan))
    return plan


def _place(plan: EverythingPlan, row: Row) -> None:
    name = cells.words(row, "place", 60, needed=True)
    plan.places[name.lower()] = Place(name=name, notes=cells.words(row, "notes", 200))


def _supplier(plan: EverythingPlan, row: Row) -> None:
    name = cells.words(row, "supplier", 80, needed=True)
    days = cells.not_below_nought("lead days", cells.whole(row, "lead days"))
    if days is not None and days > 3000:
        raise cells.refuse("lead days", str(days), _("that is more than eight years."))
    plan.suppliers[name.lower()] = Supplier(name=name, lead_days=days, notes=cells.words(row, "notes", 200))


def _yarn(plan: EverythingPlan, row: Row) -> None:
    yarn_of(row, plan.known)


def _colour(plan: EverythingPlan, row: Row) -> None:
    colour = colour_of(row, plan.known)
    colour.notes = colour.notes or cells.words(row, "notes", 200)


def _supply(plan: EverythingPlan, row: Row) -> None:
    supply = supply_of(row, plan.known)
    supply.notes = supply.notes or cells.words(row, "notes", 200)


def _parcel(plan: EverythingPlan, row: Row) -> None:
    number, came = cells.whole(row, "parcel"), cells.day(row, "received on")
    if number is None or came is None:
        raise BadCellError(_("A parcel needs its number and the day it came."))
    parcel = Parcel(
        received_on=came,
        slip_number=cells.words(row, "slip", 40),
        postage_minor=cells.money(row, "postage", plan.currency) or 0,
        closed_at=timezone.now() if cells.yes(row, "put away") else None,
    )
    parcel.supplier = _named(plan.suppliers, Supplier, cells.words(row, "supplier", 80))
    plan.parcels[number] = parcel


def _named(known: dict[str, Any], kind: type[Place | Supplier], name: str) -> Any:
    """The place or supplier of that name, which need not have a row of its own."""
    return known.setdefault(name.lower(), kind(name=name)) if name else None


def _lot(plan: EverythingPlan, row: Row) -> None:
    code = _label(row)
    if code in plan.lots:
        raise BadCellError(_("The label %(code)s comes twice.") % {"code": code})
    thing = thing_of(row, plan.known)
    unit = Unit.MILLIGRAM if isinstance(thing, Colour) else Unit(thing.counts_in)
    received = cells.counted(row, "received", unit)
    came = cells.day(row, "received on")
    if not received or received < 0 or came is None:
        raise BadCellError(_("A lot needs how much was received, and when."))
    lot = Lot(
        code=code,
        unit=unit,
        received=received,
        received_on=came,
        balance=cells.not_below_nought("on hand", cells.counted(row, "on hand", unit)) or 0,
        promised=cells.not_below_nought("promised", cells.counted(row, "promised", unit)) or 0,
        **_lot_facts(plan, row),
    )
    if isinstance(thing, Supply):
        lot.supply = thing
    else:
        lot.colour = thing
    plan.lots[code] = lot


def _label(row: Row) -> str:
    text = row.get("label", "")
    try:
        return read_label_code(text)
    except InvalidCodeError as refusal:
        raise cells.refuse("label", text, str(refusal)) from refusal


def _lot_facts(plan: EverythingPlan, row: Row) -> dict[str, Any]:
    theirs = bool(row.get("whose")) and cells.choice(row, "whose", Ownership) is Ownership.CUSTOMER
    parcel = cells.whole(row, "parcel")
    if parcel is not None and parcel not in plan.parcels:
        raise cells.refuse("parcel", str(parcel), _("there is no such parcel in this file."))
    return {
        "parcel": None if parcel is None else plan.parcels[parcel],
        "place": _named(plan.places, Place, cells.words(row, "place", 60)),
        "supplier": _named(plan.suppliers, Supplier, cells.words(row, "supplier", 80)),
        "dye_lot": cells.words(row, "dye lot", 40),
        "price_paid_minor": None if theirs else cells.money(row, "price paid", plan.currency),
        "postage_share_minor": 0 if theirs else cells.money(row, "share of postage", plan.currency) or 0,
        "ownership": Ownership.CUSTOMER if theirs else Ownership.OURS,
        "owner_note": cells.words(row, "for whom", 80),
        "hand_dyed": cells.yes(row, "hand-dyed"),
        "second_hand": cells.yes(row, "second-hand"),
        "no_band": cells.yes(row, "no band"),
        "set_aside": cells.choice(row, "set aside", SetAside),
        "tare_mg": cells.not_below_nought("tare g", cells.thousandths(row, "tare g")) or 0,
        "notes": cells.words(row, "notes", 200),
    }


def _lot_of(plan: EverythingPlan, row: Row) -> Lot:
    code = _label(row)
    if code not in plan.lots:
        raise cells.refuse("label", code, _("no lot of this file carries it."))
    return plan.lots[code]


def _promise(plan: EverythingPlan, row: Row) -> None:
    lot, number = _lot_of(plan, row), cells.whole(row, "promise")
    made = cells.moment(row, "made at (utc)")
    if number is None or made is None or number in plan.promises:
        raise BadCellError(_("A promise needs a number of its own, and when it was made."))
    names = ("amount", "outstanding", "issued", "released")
    counts = {
        name: cells.not_below_nought(name, cells.counted(row, name, Unit(lot.unit))) or 0 for name in names
    }
    if not counts["amount"] or counts["amount"] != sum(counts[name] for name in names[1:]):
        raise BadCellError(_("Outstanding, issued and released do not add up to the amount."))
    held = Promise(
        lot=lot,
        state=cells.choice(row, "state", PromiseState),
        made_at=made,
        closed_at=cells.moment(row, "closed at (utc)"),
        why=cells.words(row, "why", 200),
        close_why=cells.words(row, "why closed", 200),
        **counts,
        **_purpose(row),
    )
    plan.promises[number] = held


def _purpose(row: Row) -> dict[str, Any]:
    return {
        "purpose_kind": cells.choice(row, "for", PurposeKind),
        "purpose_key": cells.words(row, "key", 60),
        "purpose_label": cells.words(row, "which", 120),
    }


def _movement(plan: EverythingPlan, row: Row) -> None:
    lot, number, at = _lot_of(plan, row), cells.whole(row, "movement"), cells.moment(row, "at (utc)")
    if number is None or at is None or number in plan.numbers:
        raise BadCellError(_("A movement needs a number of its own, and when it was."))
    unit, kind = Unit(lot.unit), cells.choice(row, "kind", MovementKind)
    delta = cells.counted(row, "change", unit) or 0
    promise, undoes = cells.whole(row, "promise"), cells.whole(row, "undoes")
    if promise is not None and promise not in plan.promises:
        raise cells.refuse("promise", str(promise), _("there is no such promise in this file."))
    if undoes is not None and undoes not in plan.numbers:
        raise cells.refuse("undoes", str(undoes), _("no earlier movement has this number."))
    _runs_on(plan, row, lot, kind, delta)
    plan.numbers.add(number)
    values = {
        "kind": kind,
        "delta": delta,
        "balance_after": plan.balances[lot.code],
        "promise_delta": cells.counted(row, "promise change", unit) or 0,
        "scale_step_mg": cells.thousandths(row, "scale step g"),
        "tare_mg": cells.thousandths(row, "tare g"),
        "why": cells.words(row, "why", 200),
        "at": at,
        **_purpose(row),
    }
    who = cells.words(row, "who", 80)
    plan.movements.append(MovementRow(number, undoes, promise, who, lot.code, values))


def _runs_on(plan: EverythingPlan, row: Row, lot: Lot, kind: MovementKind, delta: int) -> None:
    """The balance follows from the one before, as the file says it does."""
    first = lot.code not in plan.balances
    if first and (kind is not MovementKind.RECEIVED or delta != lot.received):
        raise BadCellError(_("The first movement of %(lot)s has to receive it.") % {"lot": lot.code})
    after = plan.balances[lot.code] + delta
    said = cells.counted(row, "balance after", Unit(lot.unit))
    if after < 0 or said != after:
        raise BadCellError(_("The balance after it does not follow from the one before."))
    plan.balances[lot.code] = after


def _sums_that_differ(plan: EverythingPlan) -> Iterator[BadRow]:
    open_promises: dict[str, int] = defaultdict(int)
    for held in plan.promises.values():
        if held.state == PromiseState.OPEN:
            open_promises[held.lot.code] += held.outstanding
    for code, lot in plan.lots.items():
        if plan.balances.get(code) != lot.balance:
            says = _("%(lot)s: its movements do not add up to what is on hand.")
            yield BadRow("lots", 0, says % {"lot": code})
        elif open_promises[code] != lot.promised or lot.promised > lot.balance:
            says = _("%(lot)s: its open promises do not add up to what is promised.")
            yield BadRow("lots", 0, says % {"lot": code})
    if not plan.lots:
        yield BadRow("lots", 0, _("There is no lot in this file."))


_READERS: Mapping[str, Read] = {
    "places": _place, "suppliers": _supplier, "yarns": _yarn, "colours": _colour, "supplies": _supply,
    "parcels": _parcel, "lots": _lot, "promises": _promise, "movements": _movement,
}  # fmt: skip


# ---------------------------------------------------------------------------------- writing


def take_in_everything(plan: EverythingPlan, person: Person, digest: str) -> int:
    """Put it all in, or nothing. Gives the number of lots. Raises NotEmptyError, DoesNotAddUpError.

    People are found by their names; what somebody unknown here did is `person`'s, with the name beside it.
    """
    if not plan.sound:
        raise ValueError("Only a plan without bad rows is taken in.")
    people = {each.name: each for each in Person.objects.all()}
    with transaction.atomic():
        if Lot.objects.exists():
            raise NotEmptyError
        _save_names(plan)
        plan.known.save_new()
        _save_parcels(plan, person, digest)
        _save_lots(plan)
        _save_promises(plan, person, digest)
        _save_movements(plan, people, person, digest)
        if faults := audit().faults:
            raise DoesNotAddUpError(f"{faults[0].lot_code} {faults[0].says}")
        return len(plan.lots)


def _save_names(plan: EverythingPlan) -> None:
    """Places and suppliers; one of that name that is here already stands for the file's."""
    for known in (plan.places, plan.suppliers):
        for row in known.values():
            there = type(row)._default_manager.filter(name__iexact=row.name).first()  # noqa: SLF001 - the class's own
            if there is not None:
                row.pk = there.pk
            else:
                row.save()


def _save_parcels(plan: EverythingPlan, person: Person, digest: str) -> None:
    for number, parcel in plan.parcels.items():
        parcel.supplier = parcel.supplier
        parcel.opened_by, parcel.opened_at = person, timezone.now()
        parcel.key = f"room:{digest[:32]}:{number}"
        parcel.save()


def _save_lots(plan: EverythingPlan) -> None:
    now = timezone.now()
    LabelCode.objects.bulk_create(
        (LabelCode(code=code, kind="lot", given_at=now) for code in plan.lots), batch_size=BATCH
    )
    for lot in plan.lots.values():
        for name in ("colour", "supply", "place", "supplier", "parcel"):
            setattr(lot, name, getattr(lot, name))  # takes the key that the row has just got
        write_shelf_facts(lot)
    Lot.objects.bulk_create(plan.lots.values(), batch_size=500)


def _save_promises(plan: EverythingPlan, person: Person, digest: str) -> None:
    for number, held in plan.promises.items():
        held.lot = held.lot
        held.person = person
        held.closed_by = None if held.state == PromiseState.OPEN else person
        held.key = f"room:{digest[:32]}:{number}"
    Promise.objects.bulk_create(plan.promises.values(), batch_size=500)


def _save_movements(plan: EverythingPlan, people: Mapping[str, Person], person: Person, digest: str) -> None:
    """In the file's order; one that undoes another comes in a later batch than that."""
    saved: dict[int, int] = {}
    batch: list[tuple[MovementRow, Movement]] = []

    def flush() -> None:
        Movement.objects.bulk_create([movement for _row, movement in batch], batch_size=500)
        saved.update((row.number, movement.pk) for row, movement in batch)
        batch.clear()

    for row in plan.movements:
        if len(batch) >= BATCH or (row.undoes is not None and row.undoes not in saved):
            flush()
        values = dict(row.values)
        if row.who not in people and row.who:
            values["why"] = f"{values['why']} ({row.who})".strip()[:200]
        movement = Movement(
            lot=plan.lots[row.code],
            person=people.get(row.who, person),
            promise=None if row.promise is None else plan.promises[row.promise],
            undoes_id=None if row.undoes is None else saved[row.undoes],
            key=f"room:{digest[:32]}:{row.number}",
            **values,
        )
        batch.append((row, movement))
    flush()
