"""A hand at the batches in a process of its own: `python -m tests.orders.race <what> ...`.

`set-up GRAMS PIECES BATCHES` migrates the database that DATABASE_URL names, puts one lot of so many grams on
the shelf and plans batches of so many pieces at 50 g; it prints their codes. `start CODE` looks at the plan
and, when told to go, starts; `finish CODE` finishes with all made. Each prints "done" or the refusal's class.
`check CODE...` prints promised and on-hand grams, then each batch's state and pieces covered.
"""

import os
import sys
from datetime import date
from uuid import uuid4

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hookledger.settings")
django.setup()

from django.core.management import call_command  # noqa: E402 - after the set-up above

from orders.batches import (  # noqa: E402 - the same
    BatchFacts,
    Counts,
    batch_create,
    batch_finish,
    batch_start,
)
from orders.models import Batch, PieceYarn  # noqa: E402 - the same
from orders.pieces import PieceFacts, piece_create  # noqa: E402 - the same
from orders.planning import plan_batch  # noqa: E402 - the same
from orders.refusals import OrderRefusedError  # noqa: E402 - the same
from workroom.models import Person  # noqa: E402 - the same
from yarns import ledger  # noqa: E402 - the same
from yarns.amounts import grams  # noqa: E402 - the same
from yarns.audit import audit  # noqa: E402 - the same
from yarns.models import Colour, Lot, Yarn  # noqa: E402 - the same


def say(*words: object) -> None:
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


def set_up(mass_g: str, pieces: str, batches: str) -> None:
    call_command("migrate", verbosity=0)
    word = uuid4().hex[:8]
    person = Person.objects.create(handle=f"racer-{word}", name="Racer")
    colour = Colour.objects.create(yarn=Yarn.objects.create(name=f"Race {word}"), name="Any")
    arrival = ledger.Arrival(colour, grams(int(mass_g)), date(2026, 1, 1), dye_lot="A")
    ledger.receive(arrival, ledger.Act(person, f"race-{word}"))
    yarn = PieceYarn(part_key="A", colour=colour, mass_mg=50_000, reserve_mg=50_000)
    piece = piece_create(PieceFacts("Race", 60, yarns=[yarn]), uuid4())
    for _number in range(int(batches)):
        say(batch_create(BatchFacts(piece, int(pieces)), person, uuid4()).code)


def start(code: str) -> None:
    batch = Batch.objects.select_related("piece").get(code=code)
    seen = plan_batch(batch).digest
    wait()
    try:
        batch_start(batch, Person.objects.latest("pk"), seen)
    except (OrderRefusedError, ledger.LedgerError) as refusal:
        say(type(refusal).__name__)
    else:
        say("done")


def finish(code: str) -> None:
    batch = Batch.objects.select_related("piece").get(code=code)
    used = {row.promise.lot_id: row.promise.amount for row in batch.allocations.select_related("promise")}
    wait()
    try:
        batch_finish(batch, Person.objects.latest("pk"), Counts(batch.quantity), used)
    except (OrderRefusedError, ledger.LedgerError) as refusal:
        say(type(refusal).__name__)
    else:
        say("done")


def wait() -> None:
    say("ready")
    sys.stdin.readline()


def check(*codes: str) -> None:
    for fault in audit().faults:
        say(f"{fault.lot_code} {fault.says}")
    colour = Batch.objects.get(code=codes[0]).piece.yarns.get().colour
    lot = Lot.objects.get(colour=colour)
    say(lot.promised // 1000, lot.balance // 1000)
    for batch in Batch.objects.filter(code__in=codes).order_by("pk"):
        say(batch.state, batch.covered, batch.made)


if __name__ == "__main__":
    {"set-up": set_up, "start": start, "finish": finish, "check": check}[sys.argv[1]](*sys.argv[2:])
