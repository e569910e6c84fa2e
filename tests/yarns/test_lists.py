"""Lists: what is read, what is refused by name, and that everything out and in again is the same book."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal
from io import BytesIO

import openpyxl
import pytest
from django.db import connection
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from workroom.demo import make_cast
from workroom.models import Person, Studio
from workroom.spreadsheet import Cell
from workroom.tables import Table, UnreadableTableError, read_tables, write_book, write_zip
from yarns import demo, ledger
from yarns.amounts import grams, milligrams
from yarns.audit import audit
from yarns.lists.everything_in import NotEmptyError, plan_everything, take_in_everything
from yarns.lists.everything_out import everything
from yarns.lists.lots_in import AlreadyInError, LotsPlan, plan_lots, take_in_lots
from yarns.models import Colour, LabelCode, Lot, Movement, Promise, Yarn

MakeAct = Callable[..., ledger.Act]
HEAD = "maker,yarn,colour,dye lot,balls,ball g,place,price paid"


def csv_table(*lines: str) -> Table:
    (table,) = read_tables("\n".join(lines).encode(), "list.csv")
    return table


def planned(*lines: str) -> LotsPlan:
    return plan_lots(csv_table(*lines))


def reasons(*lines: str) -> list[tuple[int, str]]:
    return [(bad.number, bad.says) for bad in planned(*lines).bad]


# ---------------------------------------------------------------------------- the file as a table


def test_the_mark_between_cells_is_found_and_names_are_folded() -> None:
    for line in ("Yarn;Dye  LOT;x", "Yarn\tDye lot\tx", "Yarn,Dye lot,x"):
        assert csv_table(line, line).columns == ("yarn", "dye lot", "x")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "This file is empty."),
        (b"PK\x03\x04 broken", "This file is no table."),
        (b"\x00\x01\x02", "This file is no table."),
        (b"x" * (12 * 1024**2 + 1), "This file is larger than 12 MB."),
    ],
)
def test_error_a_file_that_is_no_table(content: bytes, says: str) -> None:
    with pytest.raises(UnreadableTableError, match=says):
        read_tables(content, "x")


def test_nothing_is_executed_by_a_spreadsheet() -> None:
    """Cells that begin like a formula (OWASP, CSV injection) are text, and come back as they were."""
    nasty = ["=1+1", "+1", "-1", "@SUM(A1)", "'quoted", "\tx"]
    content = write_book({"lots": [["notes"], *([cell] for cell in nasty)]})
    sheet = openpyxl.load_workbook(BytesIO(content)).active
    assert {cell.data_type for (cell,) in sheet.rows} == {"s"}
    assert all(str(cell.value)[0] == "'" for (cell,) in list(sheet.rows)[1:])
    (table,) = read_tables(content, "x")
    assert [row["notes"] for _number, row in table.rows] == [cell.strip() for cell in nasty]
    (same,) = read_tables(write_zip({"lots": [["notes"], *([cell] for cell in nasty)]}), "x")
    assert same.rows == table.rows


def test_a_book_with_a_cell_far_away_is_read_with_bounds() -> None:
    book = openpyxl.Workbook()
    book.active["A1"], book.active["XFD1048576"] = "yarn", "far"
    out = BytesIO()
    book.save(out)
    (table,) = read_tables(out.getvalue(), "x")
    assert (table.columns, table.rows) == (("yarn",), ())


# -------------------------------------------------------------------------------- a list of lots


@pytest.mark.django_db
def test_a_list_is_planned_without_writing_and_taken_in_once(assistant: Person, studio: Studio) -> None:
    lines = [
        HEAD,
        "Sandpiper Mill,Tideline,Harbour,4471,10,100,Shelf A,78.00",
        "sandpiper mill,TIDELINE,Foam,4402,2.5,100,Shelf A,",
    ]
    plan = planned(*lines)
    assert (plan.sound, plan.known.new, Yarn.objects.count()) == (True, (1, 2, 0), 0)
    assert take_in_lots(plan, assistant, "digest") == 2
    lots = Lot.objects.order_by("pk").values_list(
        "colour__name", "balance", "price_paid_minor", "place__name"
    )
    assert list(lots) == [("Harbour", 1_000_000, 7800, "Shelf A"), ("Foam", 250_000, None, "Shelf A")]
    with pytest.raises(AlreadyInError):
        take_in_lots(planned(*lines), assistant, "digest")
    assert (Lot.objects.count(), audit().faults) == (2, ())


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("A,,Red,,1,50,,", "“yarn or supply” is empty."),
        ("A,B,,,1,50,,", "“colour” is empty."),
        ("A,B,Red,,,50,,", "It does not say how much: fill in “on hand”, or “balls” and “ball g”."),
        ("A,B,Red,,many,50,,", "“many” under “balls”: write a plain number, like 431 or 431.5."),
        ("A,B,Red,,-2,50,,", "“-2” under “balls”: it can’t be below nought."),
        ("A,B,Red,,1,50,,-5", "“-500” under “price paid”: it can’t be below nought."),
        ("A,B,Red,,1,50.0001,,", "“50.0001” under “ball g”: at most three digits after the point."),
        (f"A,B,Red,{'x' * 41},1,50,,", f"“{'x' * 39}…” under “dye lot”: at most 40 signs fit."),
    ],
)
def test_each_bad_row_is_named_with_its_reason(studio: Studio, line: str, says: str) -> None:
    assert reasons(HEAD, "A,Good,Red,,1,50,,", line) == [(3, says)]
    assert not planned(HEAD, "A,Good,Red,,1,50,,", line).sound


@pytest.mark.django_db
def test_bad_barcodes_fibres_labels_and_heads_are_named(studio: Studio, navy_lot: Lot) -> None:
    head = "yarn,colour,on hand,barcode,fibres,label"
    found = reasons(
        head,
        "A,Red,50,4006381333932,,",
        "A,Blue,50,,80 wool,",
        f"A,Green,50,,,{navy_lot.code}",
        "A,Grey,50,,,ABCDEFGH",
        "A,Teal,50,06291041500213,,",
    )
    assert [number for number, _says in found] == [2, 3, 4, 5, 6]
    assert "add to 80 %" in found[1][1]
    assert found[2][1] == f"The label {navy_lot.code} is in use here already."
    assert found[4][1] == "Its barcode belongs to another colour or supply."
    assert reasons("colour,on hand", "x,1") == [(1, "The first row needs a column “yarn or supply”.")]
    assert "or “balls”" in reasons("yarn,colour", "x,y")[0][1]
    assert reasons("yarn,colour,on hand", "x,y,0") == [(2, "There is no row with anything on hand.")]


@pytest.mark.django_db
def test_one_bad_row_keeps_all_out(assistant: Person, studio: Studio) -> None:
    plan = planned(HEAD, "A,Good,Red,,1,50,,", "A,,Red,,1,50,,")
    with pytest.raises(ValueError, match="without bad rows"):
        take_in_lots(plan, assistant, "digest")
    assert not Yarn.objects.exists()


# ------------------------------------------------------------------------------------ everything


EMPTIED = (
    "movement", "promise", "countedlot", "stocktake_places", "stocktake", "lot", "parcel", "purchaseline",
    "purchase", "restockrule", "labelcode", "colour", "yarn", "supply", "place", "supplier",
)  # fmt: skip


def empty_the_room() -> None:
    """As a fresh workroom: the people and the studio stay."""
    with connection.cursor() as cursor:
        for table in EMPTIED:
            cursor.execute(f"DELETE FROM yarns_{table}")  # our own names


def sheets() -> dict[str, list[Sequence[Cell]]]:
    return {name: list(rows) for name, rows in everything().items()}


def without_numbers(found: dict[str, list[Sequence[Cell]]]) -> list[tuple[Cell, ...]]:
    """Lots and movements without the tables' own numbers, which a new room gives anew."""
    lots = [tuple(cell for at, cell in enumerate(row) if at != 14) for row in found["lots"]]
    moves = [(*row[1:7], *row[8:9], *row[10:]) for row in found["movements"]]
    promises = [tuple(row[1:]) for row in found["promises"]]
    names = [tuple(row) for name in ("yarns", "colours", "supplies", "places") for row in found[name]]
    return [*lots, *moves, *promises, *names]


@pytest.mark.django_db
@pytest.mark.parametrize("write", [write_book, write_zip])
def test_everything_out_and_in_again_is_the_same_book(write: Callable[..., bytes]) -> None:
    cast = make_cast()
    demo.make(cast)
    lot = Lot.objects.filter(colour__isnull=False, balance__gt=100_000).earliest("pk")
    act = ledger.Act(
        cast.assistant, "hold", "=why", ledger.Purpose(ledger.PurposeKind.BATCH, "7", "+12 hats")
    )
    held = ledger.promise(lot.pk, grams(Decimal("60.125")), act)
    part = ledger.issue_promised(held.pk, grams(20), ledger.Act(cast.assistant, "part"))
    ledger.undo(part.pk, ledger.Act(cast.designer, "part undone"))
    before = sheets()
    content = write(before)
    empty_the_room()
    plan = plan_everything(read_tables(content, "x"))
    assert plan.bad == []
    assert take_in_everything(plan, cast.assistant, "d" * 64) == len(before["lots"]) - 1
    assert without_numbers(sheets()) == without_numbers(before)
    assert audit().faults == ()
    with pytest.raises(NotEmptyError):
        take_in_everything(plan_everything(read_tables(content, "x")), cast.assistant, "d" * 64)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("sheet", "row", "column", "value", "says"),
    [
        ("movements", 2, 5, 7, "The balance after it does not follow from the one before."),
        ("lots", 1, 9, 1, "its movements do not add up to what is on hand."),
        ("lots", 1, 0, "NOSUCHXX", "“NOSUCHXX” under “label”"),
        ("lots", 1, 15, "soon", "“soon” under “received on”: write the day like 2026-03-31."),
    ],
)
def test_a_book_that_does_not_add_up_is_refused(
    navy_lot: Lot, act: MakeAct, studio: Studio, sheet: str, row: int, column: int, value: Cell, says: str
) -> None:
    ledger.issue(navy_lot.pk, grams(20), act())
    found = sheets()
    found[sheet][row] = [value if at == column else cell for at, cell in enumerate(found[sheet][row])]
    plan = plan_everything(read_tables(write_zip(found), "x"))
    assert not plan.sound
    assert any(says in bad.says for bad in plan.bad)


@pytest.mark.django_db(transaction=False)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(moves=st.lists(st.tuples(st.sampled_from("iwbu"), st.integers(1, 90_000)), max_size=12))
def test_any_history_comes_back_the_same(
    navy: Colour, assistant: Person, studio: Studio, moves: list[tuple[str, int]]
) -> None:
    empty_but = (Movement, Promise, Lot, LabelCode)
    with connection.cursor() as cursor:
        for model in empty_but:
            cursor.execute(f"DELETE FROM {model._meta.db_table}")
    first = ledger.receive(
        ledger.Arrival(navy, grams(500), date(2026, 3, 2), dye_lot="7"), ledger.Act(assistant, "r")
    )
    for number, (what, count) in enumerate(moves):
        act = ledger.Act(assistant, f"m{number}")
        _move(what, first.lot_id, count, act)
    before = sheets()
    with connection.cursor() as cursor:
        for model in empty_but:
            cursor.execute(f"DELETE FROM {model._meta.db_table}")
    plan = plan_everything(read_tables(write_zip(before), "x"))
    take_in_everything(plan, assistant, "e" * 64)
    assert without_numbers(sheets()) == without_numbers(before)


def _move(what: str, lot_id: int, count: int, act: ledger.Act) -> None:
    balance = Lot.objects.get(pk=lot_id).balance
    if what == "i":
        if balance:
            ledger.issue(lot_id, milligrams(min(count, balance)), act)
    elif what == "w":
        ledger.weigh(lot_id, ledger.Weighing(milligrams(count), scale_step_mg=100), act)
    elif what == "b":
        ledger.give_back(lot_id, milligrams(count), act)
    else:
        last = Movement.objects.exclude(kind__in=("undone", "received")).filter(undone_by=None).last()
        if last is not None and balance - last.delta >= 0:
            ledger.undo(last.pk, act)
