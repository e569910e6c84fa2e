"""What holds after any run of acts: balance = sum of movements, promised <= balance, and a model agrees."""

from contextlib import suppress
from datetime import date
from typing import Any

import pytest
from django.db import transaction
from django.db.models import Sum
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from workroom.models import Person
from yarns import ledger
from yarns.amounts import milligrams
from yarns.audit import audit
from yarns.models import Colour, Lot, Promise, Yarn

MASS = st.integers(1, 400)


class StockBook(RuleBasedStateMachine):
    """One lot under any run of acts, beside a plain model of what it should hold."""

    movements: Bundle[int] = Bundle("movements")
    promises: Bundle[int] = Bundle("promises")

    def __init__(self) -> None:
        super().__init__()
        self.around = transaction.atomic()
        self.around.__enter__()
        self.person = Person.objects.create(handle="ida", name="Ida")
        self.number = 0

    def teardown(self) -> None:
        transaction.set_rollback(rollback=True)
        self.around.__exit__(None, None, None)

    def act(self) -> ledger.Act:
        self.number += 1
        return ledger.Act(self.person, f"key-{self.number}")

    def tried(self, delta: int, promised: int, do: Any) -> Any:
        """Do it; the model says beforehand whether the book must take it."""
        fits = self.balance + delta >= self.promised + promised
        try:
            done = do()
        except ledger.NotEnoughError:
            assert not fits
            return None
        assert fits
        self.balance += delta
        self.promised += promised
        return done

    @initialize(mass=MASS)
    def put_on_shelf(self, mass: int) -> None:
        yarn = Yarn.objects.create(name="Any")
        colour = Colour.objects.create(yarn=yarn, name="Any")
        arrival = ledger.Arrival(colour, milligrams(mass), date(2026, 1, 1))
        self.lot = ledger.receive(arrival, self.act()).lot
        self.balance, self.promised = mass, 0

    @rule(target=movements, mass=MASS)
    def issue(self, mass: int) -> int:
        made = self.tried(-mass, 0, lambda: ledger.issue(self.lot.pk, milligrams(mass), self.act()))
        return made.pk if made else 0

    @rule(target=movements, mass=MASS)
    def give_back(self, mass: int) -> int:
        self.balance += mass
        return ledger.give_back(self.lot.pk, milligrams(mass), self.act()).pk

    @rule(mass=MASS)
    def count(self, mass: int) -> None:
        try:
            ledger.count(self.lot.pk, milligrams(mass), self.act())
        except ledger.PromisedMoreError:
            assert mass < self.promised
            return
        self.balance = mass

    @rule(target=promises, mass=MASS)
    def promise(self, mass: int) -> int:
        made = self.tried(0, mass, lambda: ledger.promise(self.lot.pk, milligrams(mass), self.act()))
        return made.pk if made else 0

    @rule(promise_id=promises)
    def release(self, promise_id: int) -> None:
        held = Promise.objects.filter(pk=promise_id).first()
        if held is None or held.state == "kept":
            return
        self.promised -= held.outstanding
        ledger.release(promise_id, self.act())

    @rule(target=movements, promise_id=promises, mass=MASS)
    def issue_promised(self, promise_id: int, mass: int) -> int:
        held = Promise.objects.filter(pk=promise_id, state="open").first()
        if held is None:
            return 0
        made = self.tried(
            -mass,
            -min(mass, held.outstanding),
            lambda: ledger.issue_promised(promise_id, milligrams(mass), self.act()),
        )
        return made.pk if made else 0

    @rule(movement_id=movements)
    def undo(self, movement_id: int) -> None:
        lot = Lot.objects.get(pk=self.lot.pk)
        try:
            undoing = ledger.undo(movement_id, self.act())
        except (
            ledger.AlreadyUndoneError,
            ledger.MovementMissingError,
            ledger.NotEnoughError,
        ):
            assert Lot.objects.get(pk=self.lot.pk).balance == lot.balance
            return
        self.balance += undoing.delta
        self.promised += undoing.promise_delta

    @rule(key=st.integers(1, 30), mass=MASS)
    def send_an_old_form_again(self, key: int, mass: int) -> None:
        """A key that is used up changes nothing, whatever it asks for."""
        if key > self.number or not self.lot.movements.filter(key=f"key-{key}").exists():
            return
        with suppress(ledger.KeyUsedError):
            ledger.issue(self.lot.pk, milligrams(mass), ledger.Act(self.person, f"key-{key}"))

    @invariant()
    def the_book_is_equal(self) -> None:
        if not hasattr(self, "lot"):
            return
        lot = Lot.objects.get(pk=self.lot.pk)
        assert (lot.balance, lot.promised) == (self.balance, self.promised)
        assert lot.balance == lot.movements.aggregate(total=Sum("delta"))["total"]
        assert 0 <= lot.promised <= lot.balance
        assert audit().faults == ()


@pytest.mark.django_db
def test_any_run_of_acts_leaves_the_book_equal() -> None:
    run_state_machine_as_test(
        StockBook,
        settings=settings(
            max_examples=25,
            stateful_step_count=25,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
