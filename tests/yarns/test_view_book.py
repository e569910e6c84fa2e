"""The stock book as a list and as a file; the desk's cards; the command that checks it."""

from collections.abc import Callable
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test import Client
from django.urls import reverse

from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams
from yarns.models import Lot, Movement
from yarns.parcels import open_parcel

MakeAct = Callable[..., ledger.Act]


def test_list_works_newest_first(seller_client: Client, navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(120), act())
    response = seller_client.get(reverse("yarns:book"))
    assert [row.kind for row in response.context["page"].rows] == ["issued", "received"]
    only = seller_client.get(reverse("yarns:book"), {"kind": "issued"})
    assert len(only.context["page"].rows) == 1
    odd = seller_client.get(reverse("yarns:book"), {"kind": "stolen", "after": "x"})
    assert len(odd.context["page"].rows) == 2


def test_list_pages(
    seller_client: Client, navy_lot: Lot, act: MakeAct, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("yarns.views.book.PAGE_SIZE", 2)
    for _time in range(4):
        ledger.issue(navy_lot.pk, grams(1), act())
    first = seller_client.get(reverse("yarns:book")).context["page"]
    second = seller_client.get(reverse("yarns:book"), {"after": first.after}).context["page"]
    numbers = [row.pk for page in (first, second) for row in page.rows]
    assert numbers == sorted(numbers, reverse=True)
    assert len(set(numbers)) == 4


def test_list_refuses_strangers_and_posts(stranger_client: Client, seller_client: Client) -> None:
    assert stranger_client.get(reverse("yarns:book")).status_code == 302
    assert seller_client.post(reverse("yarns:book")).status_code == 405
    assert "Nothing has moved yet." in seller_client.get(reverse("yarns:book")).content.decode()


def test_export(seller_client: Client, navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(120), act(why="=cmd"))
    ledger.undo(movement.pk, act())
    response = seller_client.get(reverse("yarns:book_export"))
    lines = b"".join(response.streaming_content).decode().splitlines()  # type: ignore[attr-defined]  # it streams
    assert len(lines) == 4
    assert ",issued,-120,380,g,,,'=cmd,Ida," in lines[2]
    assert lines[3].endswith(f",Ida,{movement.pk}")


def test_the_desk_shows_what_waits(
    assistant_client: Client, seller_client: Client, assistant: Person, navy_lot: Lot
) -> None:
    open_parcel(assistant, "p", supplier=None, received_on=navy_lot.received_on)
    page = assistant_client.get(reverse("desk")).content.decode()
    assert "A parcel is on the table and not put away." in page
    assert "A parcel is on the table" not in seller_client.get(reverse("desk")).content.decode()


# ---------------------------------------------------------------------------- check_ledger


def test_check_ledger_says_that_all_is_equal(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(120), act())
    out = StringIO()
    call_command("check_ledger", stdout=out)
    assert out.getvalue() == (
        "1 lots, 2 movements, 0 promises: all balances equal the sum of their movements.\n"
    )


def spoil(sql: str) -> None:
    """Change a row behind the ledger's back."""
    with connection.cursor() as cursor:
        cursor.execute(sql)


@pytest.mark.parametrize(
    ("sql", "says"),
    [
        ("UPDATE yarns_lot SET balance = 400000", "is kept as 400000; its movements add up to 380000."),
        ("UPDATE yarns_movement SET delta = -1 WHERE kind = 'issued'", "says 380000 after it"),
        (
            "UPDATE yarns_movement SET balance_after = 7 WHERE kind = 'issued'",
            "says 7 after it; the movements give 380000.",
        ),
        ("UPDATE yarns_lot SET promised = 5", "has 5 promised; its open promises add up to 50000."),
        ("UPDATE yarns_lot SET received = 1", "does not begin with receiving 1."),
        ("UPDATE yarns_promise SET state = 'kept'", "has a state that its outstanding part does not fit."),
        (
            "UPDATE yarns_promise SET issued = 1, outstanding = 49999",
            "does not add up with its movements.",
        ),
        ("UPDATE yarns_lot SET code = '0000000A'", "carries a label code that was never given out."),
    ],
)
def test_check_ledger_finds_what_was_spoilt(navy_lot: Lot, act: MakeAct, sql: str, says: str) -> None:
    ledger.issue(navy_lot.pk, grams(120), act())
    ledger.promise(navy_lot.pk, grams(50), act())
    spoil(sql)
    err = StringIO()
    with pytest.raises(CommandError, match="do not add up"):
        call_command("check_ledger", stderr=err)
    assert says in err.getvalue()


def test_check_ledger_finds_an_undoing_that_is_not_the_opposite(navy_lot: Lot, act: MakeAct) -> None:
    ledger.undo(ledger.issue(navy_lot.pk, grams(120), act()).pk, act())
    spoil("UPDATE yarns_movement SET delta = 1 WHERE kind = 'undone'")
    err = StringIO()
    with pytest.raises(CommandError):
        call_command("check_ledger", stderr=err)
    assert "is not the opposite of the one it undoes." in err.getvalue()


def test_check_ledger_finds_a_lot_without_movements(navy_lot: Lot) -> None:
    Movement.objects.all()._raw_delete("default")
    err = StringIO()
    with pytest.raises(CommandError):
        call_command("check_ledger", stderr=err)
    assert "has no movements, yet its balance is kept as 500000." in err.getvalue()
