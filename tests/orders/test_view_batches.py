"""Pages of batches: they work for each role, and bad input is refused with nothing changed."""

from collections.abc import Callable
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from orders.batches import batch_take
from orders.models import Batch, BatchState, Fair, Piece, TimeEntry, WorkroomRates
from orders.planning import plan_batch
from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams
from yarns.models import Colour, Lot

Make = Callable[..., Batch]


def url(name: str, batch: Batch) -> str:
    return reverse(f"orders:{name}", args=[batch.code])


def form(of: Piece, **fields: str) -> dict[str, str]:
    return {"key": str(uuid4()), "version": "0", "piece": str(of.pk), "quantity": "12", **fields}


# ------------------------------------------------------------------------------------- new


def test_a_batch_is_planned_for_a_fair(seller_client: Client, beanie: Piece, fair: Fair) -> None:
    page = seller_client.get(reverse("orders:batch_new"), {"fair": fair.pk, "piece": beanie.pk}).text
    assert f'value="{fair.starts_on.isoformat()}"' in page
    sent = form(beanie, fair=str(fair.pk), due_on=fair.starts_on.isoformat(), note="small table")
    response = seller_client.post(reverse("orders:batch_new"), sent)
    batch = Batch.objects.get()
    assert response["Location"] == url("batch", batch)
    assert (batch.quantity, batch.fair, batch.due_on) == (12, fair, fair.starts_on)
    assert batch.state == BatchState.PLANNED


def test_a_batch_sent_twice_is_one(seller_client: Client, beanie: Piece) -> None:
    sent = form(beanie)
    first, second = (seller_client.post(reverse("orders:batch_new"), sent) for _again in range(2))
    assert first["Location"] == second["Location"]
    assert Batch.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"quantity": "0"}, "A batch has at least one piece. Write how many you want to make."),
        ({"quantity": "-3"}, "A batch has at least one piece."),
        ({"quantity": "100000"}, "One batch takes at most 2000 pieces. Check the figure, or split it."),
        ({"quantity": "a dozen"}, "Write a whole number, like 12."),
        ({"due_on": "the 14th"}, "Enter a valid date."),
        ({"piece": "999"}, "Select a valid choice."),
        ({"fair": "x"}, "Select a valid choice."),
        ({"key": ""}, "This field is required."),
    ],
)
def test_error_a_bad_batch_is_not_planned(
    seller_client: Client, beanie: Piece, fields: dict[str, str], says: str
) -> None:
    response = seller_client.post(reverse("orders:batch_new"), form(beanie, **fields))
    assert response.status_code == 422
    assert says in response.text
    assert not Batch.objects.exists()


def test_a_due_day_in_the_past_is_allowed_and_said(seller_client: Client, beanie: Piece, today: date) -> None:
    sent = form(beanie, due_on=(today - timedelta(days=1)).isoformat())
    response = seller_client.post(reverse("orders:batch_new"), sent, follow=True)
    assert "Its day is past." in response.text


@pytest.mark.parametrize("fair", ["soup", "-1", "99999999999999999999", "²"])
def test_a_fair_that_is_none_is_no_fault(seller_client: Client, studio: object, fair: str) -> None:
    assert seller_client.get(reverse("orders:batch_new"), {"fair": fair}).status_code == 200


# ----------------------------------------------------------------------------------- start


def test_the_plan_shows_lots_and_what_is_short(
    seller_client: Client, plan: Make, beanie: Piece, navy_lot: Lot, rates: WorkroomRates
) -> None:
    page = seller_client.get(url("batch", plan(beanie, 16))).text
    assert "The shelf has yarn for 14 of 16." in page
    assert "enough for 14 of 16, at 50\u00a0g each (0.5 ball)" in page
    assert "Buy 1 ball (100\u00a0g short)." in page
    assert "Start with yarn for 14 of 16" in page
    assert navy_lot.code in page
    assert "€273.60" in page  # 16 at 17.10


def test_starting_reserves_and_starting_again_says_so(
    seller_client: Client, plan: Make, beanie: Piece, navy_lot: Lot
) -> None:
    batch = plan(beanie, 12)
    sent = {"seen": plan_batch(batch).digest}
    response = seller_client.post(url("batch_start", batch), sent, follow=True)
    assert "The yarn for 12 pieces is reserved." in response.text
    again = seller_client.post(url("batch_start", batch), sent)
    assert again.status_code == 409
    assert "Tomas has started this batch already; nothing was reserved twice." in again.text
    navy_lot.refresh_from_db()
    assert navy_lot.promised == 600_000


def test_error_two_hands_on_one_lot(
    seller_client: Client, plan: Make, beanie: Piece, navy_lot: Lot, assistant: Person
) -> None:
    batch = plan(beanie, 12)
    seen = plan_batch(batch).digest
    ledger.issue(navy_lot.pk, grams(300), ledger.Act(assistant, "other hand"))
    response = seller_client.post(url("batch_start", batch), {"seen": seen})
    assert response.status_code == 409
    assert "The shelf has changed since you opened this page" in response.text
    assert "The shelf has yarn for 8 of 12." in response.text
    batch.refresh_from_db()
    assert batch.state == BatchState.PLANNED


def test_more_yarn_is_reserved_when_it_has_come(
    seller_client: Client,
    begin: Make,
    beanie: Piece,
    navy_lot: Lot,
    put_on_shelf: Callable[..., Lot],
    navy: Colour,
) -> None:
    batch = begin(beanie, 16)
    put_on_shelf(navy, grams(100), dye_lot="8A")
    page = seller_client.get(url("batch", batch)).text
    assert "Reserve yarn for 2 more" in page
    response = seller_client.post(
        url("batch_reserve", batch), {"seen": plan_batch(batch).digest}, follow=True
    )
    assert "The yarn for 2 pieces is reserved." in response.text


def test_error_nothing_more_is_there_to_reserve(seller_client: Client, begin: Make, beanie: Piece) -> None:
    batch = begin(beanie, 16)
    response = seller_client.post(url("batch_reserve", batch), {"seen": plan_batch(batch).digest})
    assert response.status_code == 409
    assert "The shelf has no yarn for another piece of this batch." in response.text


# -------------------------------------------------------------------------------- taking


def test_an_assistant_takes_the_yarn_and_sees_no_money(
    assistant_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, rates: WorkroomRates
) -> None:
    batch = begin(beanie, 12)
    page = assistant_client.get(url("batch", batch)).text
    assert "Take the reserved yarn off the shelf" in page
    for hidden in ("€", "What it will cost", "Finish", "Cancel the batch"):
        assert hidden not in page
    sent = {"key": str(uuid4())}
    response = assistant_client.post(url("batch_take", batch), sent, follow=True)
    assert "Taken from 1 lot." in response.text
    again = assistant_client.post(url("batch_take", batch), sent, follow=True)
    assert "Everything reserved was taken off the shelf before." in again.text
    navy_lot.refresh_from_db()
    assert (navy_lot.balance, navy_lot.promised) == (100_000, 0)


def test_error_nothing_is_taken_for_a_batch_that_is_not_begun(
    seller_client: Client, plan: Make, beanie: Piece, navy_lot: Lot
) -> None:
    response = seller_client.post(url("batch_take", plan(beanie, 12)), {"key": "no key"})
    assert response.status_code == 409
    assert "Start this batch first" in response.text
    navy_lot.refresh_from_db()
    assert navy_lot.balance == 700_000


# ---------------------------------------------------------------------------------- time


def test_anybody_here_writes_down_time(
    designer_client: Client, begin: Make, beanie: Piece, today: date
) -> None:
    batch = begin(beanie, 12)
    sent = {"key": str(uuid4()), "minutes": "1:10", "pieces": "1", "worked_on": today.isoformat()}
    for _again in range(2):
        assert designer_client.post(url("batch_time", batch), sent).status_code == 302
    entry = TimeEntry.objects.get()
    assert (entry.minutes, entry.pieces, entry.person.name) == (70, 1, "Maren")
    page = designer_client.get(reverse("orders:piece", args=[beanie.pk])).text
    assert "1 single timing, 1\u00a0h\u00a010\u00a0min." in page


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"minutes": "-20"}, "Time can&#x27;t be negative."),
        ({"minutes": "0"}, "Write at least 1\u00a0min."),
        ({"minutes": "all day"}, "Write minutes like 85"),
        ({"pieces": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"worked_on": "2100-01-01"}, "That day has not come yet."),
        ({"worked_on": ""}, "This field is required."),
        ({"key": "x"}, "Enter a valid UUID."),
    ],
)
def test_error_bad_time_is_not_written_down(
    seller_client: Client, begin: Make, beanie: Piece, today: date, fields: dict[str, str], says: str
) -> None:
    sent = {"key": str(uuid4()), "minutes": "70", "worked_on": today.isoformat(), "note": "kept", **fields}
    response = seller_client.post(url("batch_time", begin(beanie, 12)), sent)
    assert response.status_code == 422
    assert says in response.text
    assert 'value="kept"' in response.text
    assert not TimeEntry.objects.exists()


def test_error_a_cancelled_batch_takes_no_time(
    seller_client: Client, plan: Make, beanie: Piece, today: date
) -> None:
    batch = plan(beanie, 12)
    seller_client.post(url("batch_cancel", batch))
    sent = {"key": str(uuid4()), "minutes": "70", "worked_on": today.isoformat()}
    response = seller_client.post(url("batch_time", batch), sent)
    assert response.status_code == 409
    assert "This batch is cancelled; nothing was changed." in response.text


@pytest.mark.parametrize(("who", "status"), [("seller", 302), ("designer", 302), ("assistant", 403)])
def test_a_slip_in_the_time_is_taken_out_by_its_writer_or_the_seller(
    who: str,
    status: int,
    begin: Make,
    beanie: Piece,
    designer: Person,
    today: date,
    request: pytest.FixtureRequest,
) -> None:
    client: Client = request.getfixturevalue(f"{who}_client")
    batch = begin(beanie, 12)
    entry = TimeEntry.objects.create(
        batch=batch, piece=beanie, minutes=600, worked_on=today, person=designer, key=uuid4()
    )
    response = client.post(reverse("orders:batch_time_out", args=[batch.code, entry.pk]))
    assert response.status_code == status
    assert TimeEntry.objects.exists() == (status == 403)


def test_error_time_of_another_batch_is_not_found(
    seller_client: Client, begin: Make, beanie: Piece, seller: Person, today: date
) -> None:
    entry = TimeEntry.objects.create(
        batch=begin(beanie, 2), piece=beanie, minutes=60, worked_on=today, person=seller, key=uuid4()
    )
    other = begin(beanie, 3)
    response = seller_client.post(reverse("orders:batch_time_out", args=[other.code, entry.pk]))
    assert response.status_code == 404
    assert TimeEntry.objects.exists()


# -------------------------------------------------------------------------------- finish


def test_finishing_asks_what_was_used_and_gives_back_the_rest(
    seller_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, rates: WorkroomRates
) -> None:
    batch = begin(beanie, 12)
    page = seller_client.get(url("batch_finish", batch)).text
    assert 'value="600 g"' in page
    sent = {"made": "10", "seconds": "1", "scrapped": "1", f"lot-{navy_lot.pk}": "570"}
    refused = seller_client.post(url("batch_finish", batch), sent)
    assert "Write it by weight, as this lot is kept." in refused.text
    sent[f"lot-{navy_lot.pk}"] = "570 g"
    response = seller_client.post(url("batch_finish", batch), sent, follow=True)
    assert "The batch is finished." in response.text
    assert "€204.24" in response.text  # 570 g at 0.032 and 12 h at 15.50
    navy_lot.refresh_from_db()
    assert (navy_lot.balance, navy_lot.promised) == (130_000, 0)


def test_logged_time_counts_for_what_a_finished_batch_cost(
    seller_client: Client,
    seller: Person,
    begin: Make,
    beanie: Piece,
    navy_lot: Lot,
    rates: WorkroomRates,
    today: date,
) -> None:
    batch = begin(beanie, 2)
    TimeEntry.objects.create(
        batch=batch, piece=beanie, minutes=180, worked_on=today, person=seller, key=uuid4()
    )
    sent = {"made": "2", f"lot-{navy_lot.pk}": "100 g"}
    response = seller_client.post(url("batch_finish", batch), sent, follow=True)
    assert "€49.70" in response.text  # 3.20 of yarn and 3 h at 15.50


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"made": "0"}, "Write how many came off the hook. If there are none, cancel the batch instead."),
        ({"made": "-1"}, "Ensure this value is greater than or equal to 0."),
        ({"made": ""}, "This field is required."),
        ({"made": "100000"}, "Ensure this value is less than or equal to 2000."),
        ({"lot": "much"}, "Write how many, like 2, or how heavy, like 25 g."),
        ({"lot": ""}, "This field is required."),
    ],
)
def test_error_a_bad_finish_changes_nothing(
    seller_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, fields: dict[str, str], says: str
) -> None:
    batch = begin(beanie, 12)
    given = {"made": "12", "lot": "600 g", **fields}
    given[f"lot-{navy_lot.pk}"] = given.pop("lot")
    response = seller_client.post(url("batch_finish", batch), given)
    assert response.status_code == 422
    assert says in response.text
    batch.refresh_from_db()
    assert batch.state == BatchState.STARTED


def test_error_more_used_than_there_is_says_what_is_free(
    seller_client: Client, begin: Make, beanie: Piece, navy_lot: Lot
) -> None:
    batch = begin(beanie, 12)
    response = seller_client.post(url("batch_finish", batch), {"made": "12", f"lot-{navy_lot.pk}": "900 g"})
    assert response.status_code == 409
    assert f"Lot {navy_lot.code} has 100\u00a0g" in response.text
    batch.refresh_from_db()
    assert (batch.state, batch.made) == (BatchState.STARTED, 0)


# -------------------------------------------------------------------------------- cancel


def test_cancelling_asks_only_about_what_was_taken(
    seller_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    assert "Yarn that was taken for it" not in seller_client.get(url("batch_cancel", batch)).text
    batch_take(batch, seller, uuid4())
    assert "Yarn that was taken for it" in seller_client.get(url("batch_cancel", batch)).text
    response = seller_client.post(url("batch_cancel", batch), {f"lot-{navy_lot.pk}": "0"}, follow=True)
    assert "The batch is cancelled and its yarn is free again." in response.text
    navy_lot.refresh_from_db()
    assert (navy_lot.balance, navy_lot.promised) == (700_000, 0)


def test_error_a_closed_batch_is_not_cancelled_again(
    seller_client: Client, plan: Make, beanie: Piece
) -> None:
    batch = plan(beanie, 12)
    seller_client.post(url("batch_cancel", batch))
    for name in ("batch_cancel", "batch_finish", "batch_edit", "batch_start"):
        assert seller_client.post(url(name, batch)).status_code == 409


# ---------------------------------------------------------------------------- edit, sheet


def test_a_planned_batch_is_changed(seller_client: Client, plan: Make, beanie: Piece) -> None:
    batch = plan(beanie, 12)
    assert 'value="12"' in seller_client.get(url("batch_edit", batch)).text
    sent = form(beanie, quantity="9", version="1")
    assert seller_client.post(url("batch_edit", batch), sent).status_code == 302
    batch.refresh_from_db()
    assert batch.quantity == 9


def test_of_two_people_at_a_batch_the_later_loses_nothing(
    seller_client: Client, plan: Make, beanie: Piece
) -> None:
    batch = plan(beanie, 12)
    Batch.objects.update(version=2, quantity=20, note="for both days")
    response = seller_client.post(url("batch_edit", batch), form(beanie, quantity="9", version="1"))
    assert response.status_code == 422
    assert "20 × Beanie, “for both days”" in response.text
    assert 'value="9"' in response.text
    batch.refresh_from_db()
    assert batch.quantity == 20


def test_error_a_bad_change_changes_nothing(seller_client: Client, plan: Make, beanie: Piece) -> None:
    batch = plan(beanie, 12)
    assert seller_client.post(url("batch_edit", batch), form(beanie, quantity="0")).status_code == 422
    batch.refresh_from_db()
    assert batch.quantity == 12


def test_the_sheet_has_lots_boxes_and_breaks(
    assistant_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, rates: WorkroomRates
) -> None:
    page = assistant_client.get(url("batch_sheet", begin(beanie, 12))).text
    assert navy_lot.code in page
    assert "dye lot 7B" in page
    assert page.count("<li>") >= 12
    assert "Stop after 30\u00a0min, rest your hands for 10\u00a0min" in page
    assert "not medicine" in page
    assert "€" not in page


def test_hours_that_do_not_fit_the_days_are_said(
    seller_client: Client, plan: Make, beanie: Piece, today: date, rates: WorkroomRates
) -> None:
    """12 hours in two days, at most 3 a day."""
    batch = plan(beanie, 12, due_on=today + timedelta(days=1))
    page = seller_client.get(url("batch", batch)).text
    assert "12\u00a0h of work to go." in page
    assert "2 days are left: 6\u00a0h a day" in page
    assert "At 3\u00a0h a day it takes 4 days, more than are left." in page


def test_other_batches_count_for_the_same_days(
    seller_client: Client, plan: Make, beanie: Piece, today: date, rates: WorkroomRates
) -> None:
    plan(beanie, 6, due_on=today + timedelta(days=1))
    batch = plan(beanie, 6, due_on=today + timedelta(days=3))
    page = seller_client.get(url("batch", batch)).text
    assert "Other batches due by then need 6\u00a0h more" in page
