"""`script/serve`: from a fresh checkout to a page that can be opened.

Folder, key, database, static files, demo, links, then gunicorn takes over this
process. Whatever stands in the way is told in one sentence.
"""

import argparse
import hashlib
import os
import secrets
import socket
import sys
from operator import itemgetter
from pathlib import Path
from typing import Final

import django
from django.core.exceptions import ImproperlyConfigured

from hookledger import env

HOST: Final = "127.0.0.1"
UNUSED: Final = ("htmx-4*", "htmax*", "hx-*")  # parts of django-htmx that no page asks for


class CannotServeError(Exception):
    """Something stands in the way; the text is a sentence that says what to do."""


def main(arguments: list[str]) -> int:
    options = read_arguments(arguments)
    try:
        check_port(options.port)
        workers = env.read_whole_number("HOOKLEDGER_WORKERS", 2, least=1, most=32)
        prepare()
        print(opening_words(options.port, empty=options.empty), flush=True)  # noqa: T201 - a program for the terminal
    except (CannotServeError, ImproperlyConfigured) as refusal:
        print(refusal, file=sys.stderr)  # noqa: T201 - a program for the terminal
        return 1
    hand_over(options.port, workers)
    return 0


def read_arguments(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="script/serve",
        description="Start Hook & Ledger on this machine.",
        epilog="HOOKLEDGER_DATA=/some/folder keeps the data elsewhere than in data/.",
    )
    parser.add_argument("--port", type=port_number, default=8000, help="the port to listen on (8000)")
    parser.add_argument("--empty", action="store_true", help="an empty workroom instead of the demo")
    return parser.parse_args(arguments)


def port_number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= 65535):
        raise argparse.ArgumentTypeError("write a port from 1 to 65535")
    return int(text)


def check_port(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except PermissionError as error:
            raise CannotServeError(
                f"Port {port} is not open to you. Take one above 1024: --port 8000."
            ) from error
        except OSError as error:
            raise CannotServeError(
                f"Port {port} is taken by another program. Stop that one, or take another: --port {port + 1}."
            ) from error


def prepare() -> None:
    """Folder, key, settings, database, static files; in that order, each leaning on the one before."""
    make_data_folder()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hookledger.settings")
    django.setup()
    from django.core.management import call_command  # noqa: PLC0415 - needs the settings

    from hookledger.checks import refuse_unsafe  # noqa: PLC0415 - needs the settings

    refuse_unsafe()
    call_command("migrate", verbosity=0, interactive=False)
    collect_static()


def collect_static() -> None:
    """Gather and compress what browsers ask for, when any of it has changed since the last start."""
    from django.conf import settings  # noqa: PLC0415 - needs the settings
    from django.core.management import call_command  # noqa: PLC0415 - needs the settings

    stamp = settings.STATIC_ROOT / ".gathered-from"
    now = static_fingerprint()
    if stamp.is_file() and stamp.read_text(encoding="ascii") == now:
        return
    call_command("collectstatic", verbosity=0, interactive=False, clear=True, ignore_patterns=[*UNUSED])
    stamp.write_text(now, encoding="ascii")


def static_fingerprint() -> str:
    """Changes when a static file is added, dropped or written."""
    from django.contrib.staticfiles.finders import get_finders  # noqa: PLC0415 - needs the settings

    found = hashlib.sha256()
    for finder in get_finders():
        for path, storage in sorted(finder.list([]), key=itemgetter(0)):
            state = Path(storage.path(path)).stat()
            found.update(f"{path} {state.st_size} {state.st_mtime_ns}\n".encode())
    return found.hexdigest()


def make_data_folder() -> None:
    from hookledger.health import can_write  # noqa: PLC0415 - beside its only use

    data = env.read_folder("HOOKLEDGER_DATA", Path(__file__).resolve().parent.parent / "data")
    try:
        data.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotServeError(folder_advice(data)) from error
    if not can_write(data):
        raise CannotServeError(folder_advice(data))
    if not (os.environ.get("HOOKLEDGER_SECRET_KEY") or os.environ.get("HOOKLEDGER_SECRET_KEY_FILE")):
        make_key_file(data / "secret-key")


def folder_advice(data: Path) -> str:
    return (
        f"Nothing can be written in {data}. Give yourself the right to write there,"
        " or keep the data elsewhere: HOOKLEDGER_DATA=/some/folder script/serve."
    )


def make_key_file(path: Path) -> None:
    """A new secret, readable by its owner alone; one that is there is kept."""
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(60) + "\n")


def opening_words(port: int, *, empty: bool) -> str:
    """What the terminal shows: the address, and a one-time link for everybody who needs one."""
    from hookledger.opening import links_for_start  # noqa: PLC0415 - needs the settings

    site = f"http://{HOST}:{port}"
    lines = [f"Hook & Ledger is on {site}/", ""]
    lines += [f"  {who}: {site}{path}" for who, path in links_for_start(empty=empty)]
    return "\n".join([*lines, "", "Each link works once. Ctrl-C ends the program."])


def hand_over(port: int, workers: int) -> None:
    """This process becomes gunicorn, four threads to a worker."""
    gunicorn = Path(sys.executable).parent / "gunicorn"
    command = [
        str(gunicorn), "hookledger.wsgi:application",
        "--bind", f"{HOST}:{port}", "--workers", str(workers), "--threads", "4",
        "--timeout", "120", "--graceful-timeout", "10", "--log-level", "warning",
    ]  # fmt: skip
    os.execv(command[0], command)  # noqa: S606 - a program of our own, no shell wanted


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
