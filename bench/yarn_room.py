"""The yarn room at a thousand lots and at twenty thousand with half a million movements, and the book's pace.

Pages: median processor time of each at both sizes (SQLite works in this process, so all is in it), as a
ratio, and the number of queries, which has to stay the same; a word found nearly everywhere is one query
fewer, since its totals are left out. Bound kept in mind: 1.5. Recording: issues a second by the ledger,
as a ratio to a bare sqlite3 insert and commit into an equal table, WAL and synchronous FULL on both sides, in
turn. Bound: a quarter. Each size has a database file and a process of its own:
`bench/yarn_room.py size FOLDER LOTS`.
"""

from __future__ import annotations

import json
import os
import secrets
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

MOVEMENTS_A_LOT = 25
RUNS = 15
SIZES = (1_000, 20_000)
RECORDED = 400


def main() -> None:
    if len(sys.argv) == 4 and sys.argv[1] == "size":
        print(json.dumps(one_size(sys.argv[2], int(sys.argv[3]))))
        return
    with tempfile.TemporaryDirectory(prefix="bench-yarns-") as folder:
        small, large = (in_a_process(Path(folder) / str(lots), lots) for lots in SIZES)
    print(f"{'page':28} {'1,000':>9} {'20,000':>9} ratio  queries")
    for name, (seconds, queries) in small["pages"].items():
        more, asked = large["pages"][name]
        same = str(queries) if queries == asked else f"{queries} -> {asked} DIFFERS"
        print(f"{name:28} {seconds * 1000:7.1f}ms {more * 1000:7.1f}ms {more / seconds:5.2f}  {same}")
    for lots, found in zip(SIZES, (small, large), strict=True):
        ours, bare = found["pace"]
        print(
            f"recording at {lots:6} lots: {ours:6.0f}/s, bare sqlite3 {bare:6.0f}/s, ratio {ours / bare:.2f}"
        )


def in_a_process(folder: Path, lots: int) -> dict[str, Any]:
    folder.mkdir()
    run = [sys.executable, __file__, "size", str(folder), str(lots)]
    done = subprocess.run(run, check=True, capture_output=True, text=True)  # noqa: S603 - ourselves
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found


def one_size(folder: str, lots: int) -> dict[str, Any]:
    """Fill a database and measure it."""
    os.environ.update(
        HOOKLEDGER_DATA=folder,
        HOOKLEDGER_SECRET_KEY=secrets.token_urlsafe(60),
        HOOKLEDGER_DEBUG="yes",
        DJANGO_SETTINGS_MODULE="hookledger.settings",
    )
    os.environ.pop("DATABASE_URL", None)
    import django  # noqa: PLC0415 - after the environment

    django.setup()
    from django.conf import settings  # noqa: PLC0415 - the same
    from django.core.management import call_command  # noqa: PLC0415 - the same

    settings.DEBUG = False
    settings.STORAGES["staticfiles"]["BACKEND"] = "django.contrib.staticfiles.storage.StaticFilesStorage"
    settings.ALLOWED_HOSTS = ["testserver"]
    call_command("migrate", verbosity=0)
    person = fill(lots)
    return {"pages": pages(person), "pace": pace(person, folder)}


# ------------------------------------------------------------------------------------- filling


def fill(count: int) -> Any:
    """Lots of forty yarns with a received movement and twenty-four small ones each. Gives the person."""
    from django.db import connection, transaction  # noqa: PLC0415 - Django is up only now

    from workroom.models import Person, Role, RoleHeld, Studio  # noqa: PLC0415 - the same
    from yarns.models import Lot, Movement  # noqa: PLC0415 - the same

    Studio.objects.create(pk=1, name="Bench")
    person = Person.objects.create(handle="bench", name="Bench")
    RoleHeld.objects.bulk_create(RoleHeld(person=person, role=role) for role in Role)
    with transaction.atomic():
        lots = list(new_lots(count))
        Lot.objects.bulk_create(lots, batch_size=500)
        for start in range(0, count, 1000):
            rows = [row for lot in lots[start : start + 1000] for row in history(lot, person)]
            Movement.objects.bulk_create(rows, batch_size=2000)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return person


def new_lots(count: int) -> Any:
    from django.utils import timezone  # noqa: PLC0415 - Django is up only now

    from craft.standards.codes import label_code  # noqa: PLC0415 - the path is set only now
    from yarns.models import Colour, LabelCode, Lot, Place, Yarn  # noqa: PLC0415 - Django is up only now
    from yarns.shelving import write_shelf_facts  # noqa: PLC0415 - the same

    places = [Place.objects.create(name=f"Shelf {number}") for number in range(30)]
    colours = [
        Colour.objects.create(yarn=yarn, name=f"{name} {number}", hex_swatch="#27456b")
        for number in range(40)
        for yarn in [
            Yarn.objects.create(
                maker=f"Mill {number % 9}",
                name=f"Yarn {number}",
                weight_category=number % 8,
                fibres=[["wool", 1000]],
                ball_mass_mg=50_000,
                ball_length_mm=120_000,
            )
        ]
        for name in ("Harbour", "Foam", "Kelp", "Rust", "Gorse")
    ]
    signs = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
    codes: list[str] = []
    number = 0
    while len(codes) < count:
        number += 1
        body = "".join(signs[number // len(signs) ** place % len(signs)] for place in range(7))
        code = label_code(body)
        if code is not None:
            codes.append(code)
    LabelCode.objects.bulk_create(LabelCode(code=code, kind="lot", given_at=timezone.now()) for code in codes)
    for at, code in enumerate(codes):
        lot = Lot(
            code=code,
            colour=colours[at % len(colours)],
            unit="mg",
            dye_lot=f"{4000 + at}",
            place=places[at % len(places)],
            received_on=date(2024, 1, 1) + timedelta(days=at % 700),
            received=500_000,
            balance=500_000 - (MOVEMENTS_A_LOT - 1) * 1000,
            price_paid_minor=3250,
        )
        write_shelf_facts(lot)
        yield lot


def history(lot: Any, person: Any) -> Any:
    from yarns.models import Movement  # noqa: PLC0415 - Django is up only now

    at = datetime(2026, 1, 1, tzinfo=UTC)
    for number in range(MOVEMENTS_A_LOT):
        first = number == 0
        yield Movement(
            lot=lot,
            kind="received" if first else "issued",
            delta=500_000 if first else -1000,
            balance_after=500_000 - number * 1000,
            person=person,
            at=at,
            key=f"b{lot.pk}-{number}",
        )


# ------------------------------------------------------------------------------------- pages


def pages(person: Any) -> dict[str, tuple[float, int]]:
    """Median seconds and queries of each page."""
    from django.db import connection  # noqa: PLC0415 - Django is up only now
    from django.test import Client  # noqa: PLC0415 - the same

    from yarns.models import Lot, Place  # noqa: PLC0415 - the same

    client = Client()
    client.force_login(person)
    middle = Lot.objects.order_by("shelf_name")[Lot.objects.count() // 2]
    place = Place.objects.first()
    found = {}
    for name, path in {
        "shelf": "/desk/yarns/",
        "shelf, newest": "/desk/yarns/?sort=newest",
        "shelf, most on hand": "/desk/yarns/?sort=most",
        "shelf, from the middle on": f"/desk/yarns/?after={cursor(middle)}",
        "shelf, one place": f"/desk/yarns/?place={place.pk if place else 0}",
        "shelf, a word": "/desk/yarns/?q=harbour",
        "shelf, a dye lot": f"/desk/yarns/?q={middle.dye_lot}",
        "lot": f"/desk/yarns/lot/{middle.code}/",
        "stock book": "/desk/yarns/book/",
    }.items():
        asked: list[int] = []
        with connection.execute_wrapper(counting(asked)):
            status = client.get(path).status_code
        if status != 200:
            raise RuntimeError(f"{path} answers {status}.")
        found[name] = (median_seconds(lambda path=path: client.get(path)), len(asked))
    return found


def cursor(lot: Any) -> str:
    from base64 import urlsafe_b64encode  # noqa: PLC0415 - only here

    return urlsafe_b64encode(json.dumps([lot.shelf_name, lot.pk]).encode()).decode().rstrip("=")


def counting(asked: list[int]) -> Callable[..., Any]:
    def count(execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        asked.append(1)
        return execute(sql, params, many, context)

    return count


def median_seconds(work: Callable[[], object]) -> float:
    taken = []
    for _run in range(RUNS):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


# ----------------------------------------------------------------------------------- recording


def pace(person: Any, folder: str) -> tuple[float, float]:
    """Movements a second by the ledger, and rows a second by bare sqlite3, taken in turn."""
    from yarns import ledger  # noqa: PLC0415 - Django is up only now
    from yarns.amounts import milligrams  # noqa: PLC0415 - the same
    from yarns.models import Lot  # noqa: PLC0415 - the same

    lot = Lot.objects.earliest("pk")
    bare = sqlite3.connect(Path(folder) / "bare.sqlite3", isolation_level=None)
    bare.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;")
    bare.execute(
        "CREATE TABLE movement (id INTEGER PRIMARY KEY, lot INTEGER, kind TEXT, delta INTEGER,"
        " after INTEGER, why TEXT, person INTEGER, at TEXT, key TEXT UNIQUE)"
    )
    ours, theirs = 0.0, 0.0
    for number in range(RECORDED):
        start = time.perf_counter()
        ledger.issue(lot.pk, milligrams(1), ledger.Act(person, f"pace-{number}"))
        between = time.perf_counter()
        row = (lot.pk, "issued", -1, 1, "", person.pk, "2026-01-01 00:00:00", f"pace-{number}")
        bare.execute("BEGIN IMMEDIATE")
        insert = (
            "INSERT INTO movement (lot, kind, delta, after, why, person, at, key) VALUES (?,?,?,?,?,?,?,?)"
        )
        bare.execute(insert, row)
        bare.execute("COMMIT")
        ours, theirs = ours + between - start, theirs + time.perf_counter() - between
    bare.close()
    return RECORDED / ours, RECORDED / theirs


if __name__ == "__main__":
    main()
