"""A hand at the stock book in a process of its own: `python -m tests.yarns.race <what> ...`.

`set-up GRAMS` migrates the database that DATABASE_URL names and prints the id of a fresh lot;
`issue LOT GRAMS NAME` issues so many grams again and again until the book refuses, and prints how often
it was let; `check` prints the audit. The test beside this starts several at once.
"""

import os
import sys
from datetime import date

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hookledger.settings")
django.setup()

from django.core.management import call_command  # noqa: E402 - after the set-up above

from workroom.models import Person  # noqa: E402 - the same
from yarns import ledger  # noqa: E402 - the same
from yarns.amounts import grams  # noqa: E402 - the same
from yarns.audit import audit  # noqa: E402 - the same
from yarns.models import Colour, Lot, Yarn  # noqa: E402 - the same


def say(*words: object) -> None:
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


def set_up(mass_g: str) -> None:
    call_command("migrate", verbosity=0)

    person = Person.objects.create(handle=f"racer-{os.getpid()}", name="Racer")
    yarn = Yarn.objects.create(name=f"Race {os.getpid()}")
    arrival = ledger.Arrival(
        Colour.objects.create(yarn=yarn, name="Any"), grams(int(mass_g)), date(2026, 1, 1)
    )
    say(ledger.receive(arrival, ledger.Act(person, f"race-{os.getpid()}")).lot.pk)


def issue(lot_id: str, mass_g: str, name: str) -> None:
    person = Person.objects.latest("pk")
    say("ready")
    sys.stdin.readline()
    done = 0
    while True:
        act = ledger.Act(person, f"{name}-{lot_id}-{done}")
        try:
            ledger.issue(int(lot_id), grams(int(mass_g)), act)
        except ledger.NotEnoughError:
            break
        done += 1
        say("issued")
    say(done)


def same_key(lot_id: str, mass_g: str, name: str) -> None:
    person = Person.objects.latest("pk")
    say("ready")
    sys.stdin.readline()
    for number in range(20):
        act = ledger.Act(person, f"shared-{lot_id}-{number}")
        say(ledger.issue(int(lot_id), grams(int(mass_g)), act).pk)


def check(lot_id: str) -> None:
    for fault in audit().faults:
        say(f"{fault.lot_code} {fault.says}")
    lot = Lot.objects.get(pk=lot_id)
    say(lot.balance, lot.movements.filter(kind="issued").count())


if __name__ == "__main__":
    {"set-up": set_up, "issue": issue, "same-key": same_key, "check": check}[sys.argv[1]](*sys.argv[2:])
