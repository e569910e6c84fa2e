"""Sixteen processes over HTTP at one lot, with the server killed (SIGKILL) in the middle and started again.

On a file database and, where Debian's PostgreSQL is installed, on one of its own. Every request carries
its key; one whose answer was lost is sent again. At the end as much was issued as was there, each key once,
and the book adds up. One hand is `yarn_room_http.py hand PORT CODE NAME SESSION CSRF`; it needs no Django.
"""

from __future__ import annotations

import contextlib
import http.client
import os
import secrets
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from urllib.parse import urlencode

HANDS = 16
LOT_G, EACH_G = 600, 3
KILLED_AFTER = 60
ROOT = Path(__file__).resolve().parent.parent


def main() -> None:
    if sys.argv[1:2] == ["hand"]:
        hand(int(sys.argv[2]), *sys.argv[3:7])
        return
    if sys.argv[1:2] == ["set-up"]:
        set_up()
        return
    if sys.argv[1:2] == ["check"]:
        check(sys.argv[2])
        return
    with tempfile.TemporaryDirectory(prefix="bench-http-") as folder:
        run("SQLite", folder, f"sqlite:///{folder}/race.sqlite3")
    with own_postgres() as url:
        if not url:
            print("PostgreSQL is not installed; left out")
            return
        with tempfile.TemporaryDirectory(prefix="bench-http-") as folder:
            run("PostgreSQL", folder, url)


def run(name: str, folder: str, url: str) -> None:
    env = {
        **os.environ,
        "HOOKLEDGER_DATA": folder,
        "DATABASE_URL": url,
        "HOOKLEDGER_DEBUG": "yes",
        "HOOKLEDGER_SECRET_KEY": secrets.token_urlsafe(60),
        "DJANGO_SETTINGS_MODULE": "hookledger.settings",
        "PYTHONPATH": str(ROOT),
    }
    code, session, csrf = ourselves(env, "set-up").split()
    port = free_port()
    started = time.monotonic()
    with served(env, port):
        hands = [
            ourselves_started(env, "hand", str(port), code, f"h{n}", session, csrf) for n in range(HANDS)
        ]
        while issued(folder, hands) < KILLED_AFTER:
            time.sleep(0.02)
    with served(env, port):
        counts = [int(each.communicate(timeout=120)[0].split()[-1]) for each in hands]
    seconds = time.monotonic() - started
    balance, movements, faults = ourselves(env, "check", code).split()
    print(
        f"{name}: {sum(counts)} issues of {EACH_G} g out of {LOT_G} g by {HANDS} processes"
        f" in {seconds:.1f} s, server killed once; {balance} mg left, {movements} movements, {faults} faults"
    )
    if (sum(counts), balance, movements, faults) != (LOT_G // EACH_G, "0", str(LOT_G // EACH_G), "0"):
        raise SystemExit("The lot was oversold, or the book does not add up.")


def ourselves(env: dict[str, str], *what: str) -> str:
    done = subprocess.run(  # noqa: S603 - ourselves
        [sys.executable, __file__, *what], env=env, check=True, stdout=subprocess.PIPE, text=True
    )
    return done.stdout


def ourselves_started(env: dict[str, str], *what: str) -> subprocess.Popen[str]:
    out = {**env, "HAND_LOG": f"{env['HOOKLEDGER_DATA']}/{what[3]}.log"}
    return subprocess.Popen(  # noqa: S603 - ourselves
        [sys.executable, __file__, *what], env=out, stdout=subprocess.PIPE, text=True
    )


def issued(folder: str, hands: list[subprocess.Popen[str]]) -> int:
    """How many issues the hands have had answered. Raises where a hand is gone too early."""
    if any(each.poll() not in {None, 0} for each in hands):
        raise RuntimeError("A hand stopped by itself.")
    return sum(log.stat().st_size for log in Path(folder).glob("h*.log"))


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextlib.contextmanager
def served(env: dict[str, str], port: int) -> Iterator[None]:
    """Our own server, killed with everything it started at the end."""
    gunicorn = [
        sys.executable,
        "-m",
        "gunicorn",
        "hookledger.wsgi:application",
        "--bind",
        f"127.0.0.1:{port}",
    ]
    server = subprocess.Popen(  # noqa: S603 - our own server
        [*gunicorn, "--workers", "2", "--threads", "4", "--log-level", "critical"],
        cwd=ROOT,
        env=env,
        start_new_session=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        for _try in range(1200):
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                break
            time.sleep(0.05)
        yield
    finally:
        os.killpg(server.pid, signal.SIGKILL)
        server.wait()


# ---------------------------------------------------------------------------------- the hands


def hand(port: int, code: str, name: str, session: str, csrf: str) -> None:
    """Issue until the book says there is not enough; whatever got no answer is sent again as it was."""
    done = 0
    with Path(os.environ["HAND_LOG"]).open("ab", buffering=0) as log:
        while True:
            status, words = sent(port, code, f"{name}-{done}", session, csrf)
            if status == 302:
                done += 1
                log.write(b".")
            elif status == 409:
                break
            elif status not in {0, 502, 503}:
                raise RuntimeError(f"The server answered {status}: {words[:200]}")
            else:
                time.sleep(0.05)
    print(done)


def sent(port: int, code: str, key: str, session: str, csrf: str) -> tuple[int, str]:
    """The answer's status and beginning; 0 where there was none."""
    body = urlencode({"issue-how_much": f"{EACH_G} g", "issue-key": key})
    headers = {
        "Cookie": f"hookledger_session={session}; hookledger_csrf={csrf}",
        "X-CSRFToken": csrf,
        "Content-Type": "application/x-www-form-urlencoded",
    }
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        line.request("POST", f"/desk/yarns/lot/{code}/issue/", body, headers)
        answer = line.getresponse()
        return answer.status, answer.read(400).decode(errors="replace")
    except (OSError, http.client.HTTPException):
        return 0, ""
    finally:
        line.close()


# ------------------------------------------------------------------------------ with Django up


def set_up() -> None:
    """A lot, and somebody signed in: prints the lot's label, the session and a CSRF token."""
    import django  # noqa: PLC0415 - hands need none

    django.setup()
    from django.conf import settings  # noqa: PLC0415 - the same
    from django.core.management import call_command  # noqa: PLC0415 - the same
    from django.test import Client  # noqa: PLC0415 - the same

    from workroom.models import Person, Role, RoleHeld, Studio  # noqa: PLC0415 - the same
    from yarns import ledger  # noqa: PLC0415 - the same
    from yarns.amounts import grams  # noqa: PLC0415 - the same
    from yarns.models import Colour, Yarn  # noqa: PLC0415 - the same

    call_command("migrate", verbosity=0)
    Studio.objects.create(pk=1, name="Bench")
    person = Person.objects.create(handle="racer", name="Racer")
    RoleHeld.objects.create(person=person, role=Role.ASSISTANT)
    colour = Colour.objects.create(yarn=Yarn.objects.create(name="Race"), name="Any")
    lot = ledger.receive(
        ledger.Arrival(colour, grams(LOT_G), date(2026, 1, 1)), ledger.Act(person, "first")
    ).lot
    settings.ALLOWED_HOSTS = ["testserver"]
    client = Client()
    client.force_login(person)
    print(lot.code, client.cookies[settings.SESSION_COOKIE_NAME].value, "a1" * 16)


def check(code: str) -> None:
    import django  # noqa: PLC0415 - hands need none

    django.setup()
    from yarns.audit import audit  # noqa: PLC0415 - the same
    from yarns.models import Lot  # noqa: PLC0415 - the same

    lot = Lot.objects.get(code=code)
    print(lot.balance, lot.movements.filter(kind="issued").count(), len(audit().faults))


@contextlib.contextmanager
def own_postgres() -> Iterator[str]:
    """A server of our own in a scratch folder; "" where PostgreSQL is not installed."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/pg_ctl"))
    if not found:
        yield ""
        return
    bin_folder = found[-1].parent
    with tempfile.TemporaryDirectory(prefix="bench-pg-") as scratch:
        Path(scratch).chmod(0o755)
        if os.getuid() == 0:
            subprocess.run(["/bin/chown", "postgres", scratch], check=True)  # noqa: S603 - our own folder
        as_postgres(bin_folder / "initdb", "-D", f"{scratch}/data", "-U", "workroom", "-A", "trust")
        options = f"-c listen_addresses='' -c unix_socket_directories={scratch}"
        control = (bin_folder / "pg_ctl", "-D", f"{scratch}/data")
        as_postgres(*control, "-w", "-l", f"{scratch}/log", "-o", options, "start")
        try:
            as_postgres(bin_folder / "createdb", "-h", scratch, "-U", "workroom", "race")
            yield f"postgres://workroom@/race?host={scratch}"
        finally:
            as_postgres(*control, "-m", "immediate", "stop")


def as_postgres(*command: object) -> None:
    """As the postgres user when we are root, which initdb refuses."""
    words = [str(word) for word in command]
    if os.getuid() == 0:
        words = ["runuser", "-u", "postgres", "--", *words]
    subprocess.run(words, check=True, cwd="/", stdout=subprocess.DEVNULL)  # noqa: S603 - our own words


if __name__ == "__main__":
    main()
