"""The stock book, act by act: what it does, what it refuses, and that a key counts once."""

from collections.abc import Callable

import pytest
from django.db import transaction

from workroom.models import Person
from yarns import ledger
from yarns.amounts import grams, milligrams, pieces
from yarns.audit import audit
from yarns.models import Colour, LabelCode, Lot, Movement, MovementKind, PromiseState, PurposeKind

MakeAct = Callable[..., ledger.Act]


def balance(lot: Lot) -> tuple[int, int]:
    lot.refresh_from_db()
    assert not audit().faults
    return lot.balance, lot.promised


def said(caught: pytest.ExceptionInfo[ledger.LedgerError]) -> str:
    """The sentence, with the blank that keeps "31 g" on one line as a plain one."""
    return str(caught.value).replace("\u00a0", " ")


def test_receive_puts_a_lot_with_a_label_on_the_shelf(navy_lot: Lot) -> None:
    assert balance(navy_lot) == (500_000, 0)
    assert LabelCode.objects.filter(code=navy_lot.code, kind="lot").exists()
    movement = navy_lot.movements.get()
    assert (movement.kind, movement.delta, movement.balance_after) == ("received", 500_000, 500_000)


def test_issue_takes_from_the_lot_and_says_for_what(navy_lot: Lot, act: MakeAct) -> None:
    purpose = ledger.Purpose(PurposeKind.BATCH, "14", "12 beanies")
    movement = ledger.issue(navy_lot.pk, grams(120), act(purpose=purpose, why="for the fair"))
    assert balance(navy_lot) == (380_000, 0)
    movement.refresh_from_db()
    assert (movement.delta, movement.balance_after) == (-120_000, 380_000)
    assert (movement.purpose_kind, movement.purpose_key) == ("batch", "14")
    assert (movement.purpose_label, movement.why) == ("12 beanies", "for the fair")


def test_issue_may_take_the_last_milligram(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(500), act())
    assert balance(navy_lot) == (0, 0)


def test_error_issue_more_than_there_is(navy_lot: Lot, act: MakeAct) -> None:
    with pytest.raises(ledger.NotEnoughError) as caught:
        ledger.issue(navy_lot.pk, milligrams(500_001), act())
    assert said(caught) == (f"Lot {navy_lot.code} has 500 g; 500.001 g is more than that.")
    assert balance(navy_lot) == (500_000, 0)


def test_error_issue_what_is_promised(navy_lot: Lot, act: MakeAct) -> None:
    ledger.promise(navy_lot.pk, grams(450), act())
    with pytest.raises(ledger.NotEnoughError) as caught:
        ledger.issue(navy_lot.pk, grams(60), act())
    assert said(caught) == (
        f"Lot {navy_lot.code} has 50 g free: 500 g on hand, 450 g promised. 60 g is more than that."
    )
    assert caught.value.free == grams(50)
    assert balance(navy_lot) == (500_000, 450_000)


def test_the_same_key_counts_once(navy_lot: Lot, act: MakeAct) -> None:
    first = ledger.issue(navy_lot.pk, grams(100), act(key="form-1"))
    again = ledger.issue(navy_lot.pk, grams(100), act(key="form-1"))
    assert again.pk == first.pk
    assert balance(navy_lot) == (400_000, 0)


def test_the_same_key_counts_once_when_the_lot_is_empty_by_then(navy_lot: Lot, act: MakeAct) -> None:
    first = ledger.issue(navy_lot.pk, grams(500), act(key="form-1"))
    assert ledger.issue(navy_lot.pk, grams(500), act(key="form-1")).pk == first.pk


def test_the_same_key_receives_one_lot(navy: Colour, act: MakeAct, navy_lot: Lot) -> None:
    arrival = ledger.Arrival(thing=navy, amount=grams(50), received_on=navy_lot.received_on)
    first = ledger.receive(arrival, act(key="parcel-1"))
    assert ledger.receive(arrival, act(key="parcel-1")).lot == first.lot
    assert Lot.objects.count() == 2


def test_error_one_key_for_two_acts(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(100), act(key="form-1"))
    with pytest.raises(ledger.KeyUsedError, match="already used for another entry"):
        ledger.write_off(navy_lot.pk, grams(100), act(key="form-1"))
    assert balance(navy_lot) == (400_000, 0)


def test_give_back_puts_grams_on_the_shelf(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(200), act())
    ledger.give_back(navy_lot.pk, grams(31), act())
    assert balance(navy_lot) == (331_000, 0)


def test_write_off_takes_out(navy_lot: Lot, act: MakeAct) -> None:
    ledger.write_off(navy_lot.pk, grams(500), act(why="moth"))
    assert balance(navy_lot) == (0, 0)


def test_weigh_sets_the_balance_and_keeps_tare_and_step(navy_lot: Lot, act: MakeAct) -> None:
    weighing = ledger.Weighing(grams(431), tare_mg=12_000, scale_step_mg=1000, seen=500_000)
    movement = ledger.weigh(navy_lot.pk, weighing, act())
    assert balance(navy_lot) == (431_000, 0)
    assert (movement.delta, movement.tare_mg, movement.scale_step_mg) == (-69_000, 12_000, 1000)


def test_weigh_without_difference_is_recorded(navy_lot: Lot, act: MakeAct) -> None:
    assert ledger.weigh(navy_lot.pk, ledger.Weighing(grams(500)), act()).delta == 0


def test_weigh_twice_with_one_key_is_once(navy_lot: Lot, act: MakeAct) -> None:
    first = ledger.weigh(navy_lot.pk, ledger.Weighing(grams(431), seen=500_000), act(key="w"))
    again = ledger.weigh(navy_lot.pk, ledger.Weighing(grams(431), seen=500_000), act(key="w"))
    assert again.pk == first.pk


def test_error_weigh_after_somebody_else_booked(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(100), act())
    with pytest.raises(ledger.BookMovedError) as caught:
        ledger.weigh(navy_lot.pk, ledger.Weighing(grams(490), seen=500_000), act())
    assert said(caught) == (
        f"Lot {navy_lot.code} stood at 500 g when you opened this page and stands at 400 g now."
        " Look at its last entries, then send your figure again."
    )
    assert balance(navy_lot) == (400_000, 0)


def test_error_weigh_less_than_is_promised(navy_lot: Lot, act: MakeAct) -> None:
    ledger.promise(navy_lot.pk, grams(450), act())
    with pytest.raises(ledger.PromisedMoreError) as caught:
        ledger.weigh(navy_lot.pk, ledger.Weighing(grams(431)), act())
    assert said(caught) == (
        f"You found 431 g, but 450 g of lot {navy_lot.code} are promised."
        " Release a promise first, then book what you found."
    )
    assert balance(navy_lot) == (500_000, 450_000)


def test_correct_and_count_set_the_balance(navy_lot: Lot, act: MakeAct) -> None:
    ledger.correct(navy_lot.pk, grams(480), act(why="typed 500"))
    ledger.count(navy_lot.pk, grams(470), act(), seen=480_000)
    assert balance(navy_lot) == (470_000, 0)
    kinds = list(navy_lot.movements.values_list("kind", "delta"))
    assert kinds[1:] == [("corrected", -20_000), ("stocktake", -10_000)]


@pytest.mark.parametrize("act_name", ["issue", "give_back", "write_off", "promise"])
@pytest.mark.parametrize("amount", [milligrams(0), milligrams(-5)])
def test_error_nothing_to_move(navy_lot: Lot, act: MakeAct, act_name: str, amount: ledger.Amount) -> None:
    with pytest.raises(ledger.NothingToMoveError, match="Give an amount above nought"):
        getattr(ledger, act_name)(navy_lot.pk, amount, act())
    assert balance(navy_lot) == (500_000, 0)


def test_error_pieces_of_yarn(navy_lot: Lot, act: MakeAct) -> None:
    with pytest.raises(ledger.WrongUnitError) as caught:
        ledger.issue(navy_lot.pk, pieces(3), act())
    assert said(caught) == (f"Lot {navy_lot.code} is kept by weight, so -3 pieces can't be booked on it.")


def test_supplies_are_counted_in_the_same_book(eyes_lot: Lot, act: MakeAct) -> None:
    ledger.issue(eyes_lot.pk, pieces(6), act())
    assert balance(eyes_lot) == (34, 0)
    with pytest.raises(ledger.WrongUnitError, match="is kept by the piece"):
        ledger.count(eyes_lot.pk, grams(34), act())


def test_error_lot_missing(db: None, act: MakeAct) -> None:
    with pytest.raises(ledger.LotMissingError, match="That lot is not in the stock book"):
        ledger.issue(99, grams(1), act())
    with pytest.raises(ledger.LotMissingError):
        ledger.correct(99, grams(1), act())


# ---------------------------------------------------------------------------------- undoing


def test_undo_is_a_counter_movement_that_points_to_the_first(navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    undoing = ledger.undo(movement.pk, act(why="wrong lot"))
    assert balance(navy_lot) == (500_000, 0)
    assert (undoing.kind, undoing.undoes_id, undoing.delta) == ("undone", movement.pk, 100_000)
    assert navy_lot.movements.count() == 3


def test_undo_twice_with_one_key_is_once(navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    first = ledger.undo(movement.pk, act(key="u"))
    assert ledger.undo(movement.pk, act(key="u")).pk == first.pk
    assert balance(navy_lot) == (500_000, 0)


def test_error_undo_twice(navy_lot: Lot, act: MakeAct) -> None:
    movement = ledger.issue(navy_lot.pk, grams(100), act())
    undoing = ledger.undo(movement.pk, act())
    with pytest.raises(ledger.AlreadyUndoneError, match="was undone already"):
        ledger.undo(movement.pk, act())
    with pytest.raises(ledger.CantUndoError, match="An undoing is not undone again"):
        ledger.undo(undoing.pk, act())
    with pytest.raises(ledger.MovementMissingError):
        ledger.undo(undoing.pk + 1, act())
    assert balance(navy_lot) == (500_000, 0)


def test_error_undo_receiving_what_has_gone_out(navy_lot: Lot, act: MakeAct) -> None:
    ledger.issue(navy_lot.pk, grams(100), act())
    with pytest.raises(ledger.NotEnoughError):
        ledger.undo(navy_lot.movements.earliest("pk").pk, act())
    assert balance(navy_lot) == (400_000, 0)


# --------------------------------------------------------------------------------- promises


def test_promise_then_issue_all_of_it(navy_lot: Lot, act: MakeAct) -> None:
    purpose = ledger.Purpose(PurposeKind.ORDER, "O-7", "order 7")
    promised = ledger.promise(navy_lot.pk, grams(200), act(purpose=purpose))
    assert balance(navy_lot) == (500_000, 200_000)
    movement = ledger.issue_promised(promised.pk, None, act())
    promised.refresh_from_db()
    assert balance(navy_lot) == (300_000, 0)
    assert (promised.state, promised.issued) == (PromiseState.KEPT, 200_000)
    assert movement.purpose_key == "O-7"


def test_promise_twice_with_one_key_is_once(navy_lot: Lot, act: MakeAct) -> None:
    first = ledger.promise(navy_lot.pk, grams(200), act(key="p"))
    assert ledger.promise(navy_lot.pk, grams(200), act(key="p")) == first
    assert balance(navy_lot) == (500_000, 200_000)


def test_issue_less_than_promised_leaves_the_rest_promised(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    ledger.issue_promised(promised.pk, grams(150), act())
    assert balance(navy_lot) == (350_000, 50_000)


def test_issue_more_than_promised_takes_the_rest_from_what_is_free(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    ledger.promise(navy_lot.pk, grams(250), act())
    ledger.issue_promised(promised.pk, grams(220), act())
    assert balance(navy_lot) == (280_000, 250_000)


def test_error_issue_more_than_promised_and_free(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    ledger.promise(navy_lot.pk, grams(250), act())
    with pytest.raises(ledger.NotEnoughError):
        ledger.issue_promised(promised.pk, grams(251), act())
    assert balance(navy_lot) == (500_000, 450_000)


def test_error_promise_more_than_is_free(navy_lot: Lot, act: MakeAct) -> None:
    ledger.promise(navy_lot.pk, grams(450), act())
    with pytest.raises(ledger.NotEnoughError, match=r"60.g is more than that"):
        ledger.promise(navy_lot.pk, grams(60), act())
    assert balance(navy_lot) == (500_000, 450_000)


def test_release_frees_the_rest_and_counts_once(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    ledger.issue_promised(promised.pk, grams(150), act())
    ledger.release(promised.pk, act(why="batch given up"))
    released = ledger.release(promised.pk, act())
    assert balance(navy_lot) == (350_000, 0)
    assert (released.state, released.released) == (PromiseState.RELEASED, 50_000)
    assert released.close_why == "batch given up"


def test_error_promise_closed_or_missing(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    ledger.issue_promised(promised.pk, None, act())
    with pytest.raises(ledger.PromiseClosedError):
        ledger.issue_promised(promised.pk, grams(1), act())
    with pytest.raises(ledger.PromiseClosedError):
        ledger.release(promised.pk, act())
    with pytest.raises(ledger.PromiseMissingError):
        ledger.release(promised.pk + 1, act())


def test_undo_of_a_kept_promise_opens_it_again(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    movement = ledger.issue_promised(promised.pk, None, act())
    ledger.undo(movement.pk, act())
    promised.refresh_from_db()
    assert balance(navy_lot) == (500_000, 200_000)
    assert (promised.state, promised.outstanding, promised.closed_at) == ("open", 200_000, None)


def test_undo_after_release_gives_the_grams_back_free(navy_lot: Lot, act: MakeAct) -> None:
    promised = ledger.promise(navy_lot.pk, grams(200), act())
    movement = ledger.issue_promised(promised.pk, grams(150), act())
    ledger.release(promised.pk, act())
    ledger.undo(movement.pk, act())
    promised.refresh_from_db()
    assert balance(navy_lot) == (500_000, 0)
    assert (promised.state, promised.issued, promised.released) == ("released", 0, 200_000)


# ------------------------------------------------------------------------------ only added to


def test_error_a_movement_is_never_changed_or_deleted(navy_lot: Lot) -> None:
    with pytest.raises(TypeError, match="never changed"):
        Movement.objects.update(delta=1)
    with pytest.raises(TypeError, match="never deleted"):
        Movement.objects.all().delete()


def test_an_act_inside_a_failing_piece_of_work_leaves_no_trace(navy_lot: Lot, act: MakeAct) -> None:
    class LaterFaultError(Exception):
        pass

    def work() -> None:
        with transaction.atomic():
            ledger.issue(navy_lot.pk, grams(100), act())
            raise LaterFaultError

    with pytest.raises(LaterFaultError):
        work()
    assert balance(navy_lot) == (500_000, 0)


def test_who_and_when_are_kept(navy_lot: Lot, assistant: Person) -> None:
    movement = navy_lot.movements.get()
    assert movement.person == assistant
    assert movement.at.tzinfo is not None
    assert movement.kind == MovementKind.RECEIVED
