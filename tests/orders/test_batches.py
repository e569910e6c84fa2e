"""Writes on batches: what is reserved, taken, given back and let go, and what is refused."""

from collections.abc import Callable
from datetime import date, timedelta
from uuid import uuid4

import pytest

from orders.batches import (
    BatchFacts,
    Counts,
    batch_cancel,
    batch_create,
    batch_edit,
    batch_finish,
    batch_reserve_more,
    batch_start,
    batch_take,
    time_add,
)
from orders.models import Batch, BatchState, Piece, PieceExtra, TimeEntry
from orders.planning import plan_batch
from orders.refusals import (
    BatchClosedError,
    BatchNotPlannedError,
    BatchNotStartedError,
    FutureTimeError,
    NothingMadeError,
    NothingToReserveError,
    PlanMovedError,
)
from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams, pieces
from yarns.audit import audit
from yarns.models import Colour, Lot, Promise, Supply

Begin = Callable[..., Batch]


def stock(lot: Lot) -> tuple[int, int]:
    """Grams on hand and promised."""
    lot.refresh_from_db()
    return lot.balance // 1000, lot.promised // 1000


def states(batch: Batch) -> list[str]:
    held = Promise.objects.filter(purpose_kind="batch", purpose_key=batch.code)
    return list(held.values_list("state", flat=True))


# --------------------------------------------------------------------------------- starting


def test_a_start_reserves_the_yarn_and_says_for_whom(begin: Begin, beanie: Piece, navy_lot: Lot) -> None:
    batch = begin(beanie, 12)
    assert (batch.state, batch.covered, batch.minutes_each) == (BatchState.STARTED, 12, 60)
    assert stock(navy_lot) == (700, 600)
    assert Promise.objects.get().purpose_label == "12 × Beanie"
    assert batch.allocations.get().part == "part 1"


def test_parts_of_one_colour_come_from_one_dye_lot_together(
    begin: Begin, make_piece: Callable[..., Piece], put_on_shelf: Callable[..., Lot], navy: Colour
) -> None:
    near = put_on_shelf(navy, grams(100), dye_lot="A")
    far = put_on_shelf(navy, grams(130), dye_lot="B")
    begin(make_piece((navy, 60), (navy, 50)), 1)
    assert (stock(near), stock(far)) == ((100, 0), (130, 110))


def test_only_whole_pieces_are_reserved_for(
    begin: Begin,
    make_piece: Callable[..., Piece],
    put_on_shelf: Callable[..., Lot],
    navy: Colour,
    foam: Colour,
) -> None:
    """Foam is enough for two, so no navy is held for a third."""
    blue = put_on_shelf(navy, grams(500), dye_lot="A")
    white = put_on_shelf(foam, grams(25), dye_lot="B")
    batch = begin(make_piece((navy, 50), (foam, 10)), 5)
    assert batch.covered == 2
    assert (stock(blue), stock(white)) == ((500, 100), (25, 20))


def test_supplies_from_the_shelf_are_reserved_too_and_hold_nobody_up(
    begin: Begin,
    make_piece: Callable[..., Piece],
    put_on_shelf: Callable[..., Lot],
    navy: Colour,
    eyes: Supply,
) -> None:
    put_on_shelf(navy, grams(500), dye_lot="A")
    beads = put_on_shelf(eyes, pieces(5))
    toy = make_piece(
        (navy, 50), extras=[PieceExtra(kind="notion", label="eyes", supply=eyes, unit="pc", quantity=2)]
    )
    batch = begin(toy, 4)
    beads.refresh_from_db()
    assert (batch.covered, beads.promised) == (4, 4)


def test_a_batch_without_any_yarn_on_the_shelf_can_be_started(begin: Begin, beanie: Piece) -> None:
    batch = begin(beanie, 12)
    assert (batch.state, batch.covered, states(batch)) == (BatchState.STARTED, 0, [])


def test_error_a_second_start_reserves_nothing_twice(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    with pytest.raises(BatchNotPlannedError) as refusal:
        batch_start(batch, seller, plan_batch(batch).digest)
    assert str(refusal.value) == "Tomas has started this batch already; nothing was reserved twice."
    assert stock(navy_lot) == (700, 600)


def test_error_a_plan_that_moved_is_shown_again_before_anything_is_reserved(
    plan: Callable[..., Batch], beanie: Piece, navy_lot: Lot, seller: Person, assistant: Person
) -> None:
    batch = plan(beanie, 12)
    seen = plan_batch(batch).digest
    ledger.issue(navy_lot.pk, grams(300), ledger.Act(assistant, "meanwhile"))
    with pytest.raises(PlanMovedError) as refusal:
        batch_start(batch, seller, seen)
    assert str(refusal.value) == (
        "The shelf has changed since you opened this page, so other lots would be taken than"
        " the page showed. Look at the new plan below, then start again. Nothing was reserved."
    )
    batch.refresh_from_db()
    assert (batch.state, stock(navy_lot)) == (BatchState.PLANNED, (400, 0))


def test_yarn_that_comes_later_is_reserved_for_the_rest(
    begin: Begin, beanie: Piece, navy_lot: Lot, put_on_shelf: Callable[..., Lot], navy: Colour, seller: Person
) -> None:
    batch = begin(beanie, 16)
    assert batch.covered == 14
    later = put_on_shelf(navy, grams(100), dye_lot="8A", received_on=date(2026, 4, 1))
    batch_reserve_more(batch, seller, plan_batch(batch).digest)
    batch.refresh_from_db()
    assert (batch.covered, stock(later), stock(navy_lot)) == (16, (100, 100), (700, 700))


def test_error_nothing_more_to_reserve(begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person) -> None:
    batch = begin(beanie, 16)
    with pytest.raises(NothingToReserveError) as refusal:
        batch_reserve_more(batch, seller, plan_batch(batch).digest)
    assert str(refusal.value) == "The shelf has no yarn for another piece of this batch."


# --------------------------------------------------------------------- taking and finishing


def test_taking_issues_what_was_reserved_once(
    begin: Begin, beanie: Piece, navy_lot: Lot, assistant: Person
) -> None:
    batch, key = begin(beanie, 12), uuid4()
    assert batch_take(batch, assistant, key) == 1
    assert batch_take(batch, assistant, key) == 0
    assert stock(navy_lot) == (100, 0)
    assert states(batch) == ["kept"]


def test_taking_again_after_an_undone_issue_takes_again(
    begin: Begin, beanie: Piece, navy_lot: Lot, assistant: Person
) -> None:
    batch = begin(beanie, 12)
    batch_take(batch, assistant, uuid4())
    ledger.undo(navy_lot.movements.latest("pk").pk, ledger.Act(assistant, "oops"))
    assert stock(navy_lot) == (700, 600)
    batch_take(batch, assistant, uuid4())
    assert stock(navy_lot) == (100, 0)


@pytest.mark.parametrize(
    ("taken", "used", "left"),
    [
        (True, 600, 100),
        (True, 540, 160),
        (True, 650, 50),
        (True, 0, 700),
        (False, 600, 100),
        (False, 540, 160),
        (False, 700, 0),
    ],
)
def test_finishing_leaves_on_the_shelf_what_was_not_used(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person, taken: bool, used: int, left: int
) -> None:
    batch = begin(beanie, 12)
    if taken:
        batch_take(batch, seller, uuid4())
    batch_finish(batch, seller, Counts(10, 1, 1), {navy_lot.pk: used * 1000})
    batch.refresh_from_db()
    assert (batch.state, batch.made, batch.seconds, batch.scrapped) == (BatchState.FINISHED, 10, 1, 1)
    assert stock(navy_lot) == (left, 0)
    assert "open" not in states(batch)
    assert not audit().faults


def test_a_lot_reserved_twice_is_settled_once(
    begin: Begin,
    beanie: Piece,
    navy: Colour,
    put_on_shelf: Callable[..., Lot],
    seller: Person,
    assistant: Person,
) -> None:
    lot = put_on_shelf(navy, grams(200), dye_lot="A")
    ledger.issue(lot.pk, grams(100), ledger.Act(assistant, "away"))
    batch = begin(beanie, 4)
    ledger.give_back(lot.pk, grams(100), ledger.Act(assistant, "back"))
    batch_reserve_more(batch, seller, plan_batch(batch).digest)
    assert len(states(batch)) == 2
    batch_finish(batch, seller, Counts(4), {lot.pk: 150_000})
    assert stock(lot) == (50, 0)


def test_error_a_finish_that_needs_more_than_there_is_changes_nothing(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    with pytest.raises(ledger.NotEnoughError):
        batch_finish(batch, seller, Counts(12), {navy_lot.pk: 701_000})
    batch.refresh_from_db()
    assert (batch.state, batch.made, stock(navy_lot)) == (BatchState.STARTED, 0, (700, 600))


def test_error_nothing_made_is_no_finish(begin: Begin, beanie: Piece, seller: Person) -> None:
    batch = begin(beanie, 12)
    with pytest.raises(NothingMadeError) as refusal:
        batch_finish(batch, seller, Counts(0), {})
    assert str(refusal.value) == (
        "Write how many came off the hook. If there are none, cancel the batch instead."
    )


def test_error_a_planned_batch_is_neither_taken_for_nor_finished(
    plan: Callable[..., Batch], beanie: Piece, seller: Person
) -> None:
    batch = plan(beanie, 12)
    for act in (
        lambda: batch_take(batch, seller, uuid4()),
        lambda: batch_finish(batch, seller, Counts(1), {}),
        lambda: batch_reserve_more(batch, seller, ""),
    ):
        with pytest.raises(BatchNotStartedError) as refusal:
            act()
        assert str(refusal.value) == "Start this batch first: it has no yarn reserved yet."


def test_error_a_second_finish_counts_nothing_twice(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    batch_finish(batch, seller, Counts(12), {navy_lot.pk: 600_000})
    with pytest.raises(BatchClosedError) as refusal:
        batch_finish(batch, seller, Counts(3), {navy_lot.pk: 100_000})
    assert str(refusal.value) == "This batch is finished; nothing was changed."
    batch.refresh_from_db()
    assert (batch.made, stock(navy_lot)) == (12, (100, 0))


# ------------------------------------------------------------------------------- cancelling


def test_cancelling_releases_and_gives_back(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    batch_take(batch, seller, uuid4())
    batch_cancel(batch, seller, {navy_lot.pk: 120_000})
    batch.refresh_from_db()
    assert (batch.state, stock(navy_lot)) == (BatchState.CANCELLED, (580, 0))


def test_cancelling_what_was_only_reserved_frees_all_of_it(
    begin: Begin, beanie: Piece, navy_lot: Lot, seller: Person
) -> None:
    batch = begin(beanie, 12)
    batch_cancel(batch, seller, {})
    assert (stock(navy_lot), states(batch)) == ((700, 0), ["released"])


def test_a_planned_batch_can_be_cancelled(plan: Callable[..., Batch], beanie: Piece, seller: Person) -> None:
    batch = plan(beanie, 12)
    batch_cancel(batch, seller, {})
    batch.refresh_from_db()
    assert batch.state == BatchState.CANCELLED


def test_error_a_closed_batch_is_not_cancelled(begin: Begin, beanie: Piece, seller: Person) -> None:
    batch = begin(beanie, 12)
    batch_cancel(batch, seller, {})
    with pytest.raises(BatchClosedError) as refusal:
        batch_cancel(batch, seller, {})
    assert str(refusal.value) == "This batch is cancelled; nothing was changed."


# ------------------------------------------------------------------------- planning and time


def test_a_batch_sent_twice_is_one_batch(beanie: Piece, seller: Person) -> None:
    key = uuid4()
    first = batch_create(BatchFacts(beanie, 12), seller, key)
    assert batch_create(BatchFacts(beanie, 12), seller, key).pk == first.pk
    assert Batch.objects.count() == 1


def test_a_planned_batch_can_be_changed_and_a_started_one_not(
    plan: Callable[..., Batch], beanie: Piece, seller: Person
) -> None:
    batch = plan(beanie, 12)
    batch_edit(batch, BatchFacts(beanie, 10, note="smaller table"), version=1)
    batch.refresh_from_db()
    assert (batch.quantity, batch.note) == (10, "smaller table")
    batch_start(batch, seller, plan_batch(batch).digest)
    with pytest.raises(BatchNotPlannedError):
        batch_edit(batch, BatchFacts(beanie, 500), version=2)
    batch.refresh_from_db()
    assert batch.quantity == 10


def test_time_sent_twice_counts_once(begin: Begin, beanie: Piece, seller: Person, today: date) -> None:
    batch, key = begin(beanie, 12), uuid4()
    for _again in range(2):
        entry = TimeEntry(batch=batch, piece=beanie, minutes=90, worked_on=today, person=seller, key=key)
        time_add(entry, today)
    assert list(TimeEntry.objects.values_list("minutes", flat=True)) == [90]


def test_error_time_of_a_day_that_has_not_come(
    begin: Begin, beanie: Piece, seller: Person, today: date
) -> None:
    entry = TimeEntry(
        batch=begin(beanie, 1),
        piece=beanie,
        minutes=90,
        worked_on=today + timedelta(days=1),
        person=seller,
        key=uuid4(),
    )
    with pytest.raises(FutureTimeError) as refusal:
        time_add(entry, today)
    assert str(refusal.value) == "That day has not come yet. Enter time on the day it was worked."
    assert not TimeEntry.objects.exists()
