"""`manage.py tech_edit FILE... [--terms us|uk] [--json]`: the technical edit of text files.

Reads and checks without the database. Exit status 0: no finding that must be mended; 1: some;
2: the arguments or a file could not be used.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from craft import fabric, notation, techedit
from craft.techedit import report

LARGEST_FILE_BYTES = 1_000_000


class UnusableFileError(Exception):
    """A file that cannot be read as a pattern; the sentence says why and what to do."""


def read_text(name: str) -> str:
    """The text of a pattern file with line feeds at its line ends, or UnusableFileError with a sentence."""
    path = Path(name)
    data = _read_bytes(path)
    if len(data) > LARGEST_FILE_BYTES:
        raise UnusableFileError(
            f"{name} is larger than one megabyte. Split it into one file for each pattern."
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnusableFileError(
            f"{name} is not UTF-8 text (byte {error.start + 1}). "
            "Save it as plain text in UTF-8 and try again."
        ) from error
    if "\0" in text:
        raise UnusableFileError(
            f"{name} is not plain text. Save the pattern as plain text in UTF-8 and try again."
        )
    if not text.strip():
        raise UnusableFileError(f"{name} is empty. Write the instructions into it and try again.")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _read_bytes(path: Path) -> bytes:
    """At most one byte more than is allowed, so that a huge file is never held."""
    try:
        if path.is_dir():
            raise UnusableFileError(f"{path} is a folder. Name the text files in it one by one.")
        if not path.exists():
            raise UnusableFileError(f"{path} was not found. Look at the spelling of the name and the folder.")
        if not path.is_file():
            raise UnusableFileError(f"{path} is not an ordinary file. Name a text file.")
        with path.open("rb") as file:
            return file.read(LARGEST_FILE_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise UnusableFileError(f"{path} could not be opened: {reason}.") from error


class Command(BaseCommand):
    help = "Checks written patterns as a technical editor would."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("files", nargs="+", metavar="FILE", help="UTF-8 plain text, one pattern each")
        parser.add_argument(
            "--terms", choices=["us", "uk"], help="the terms of the text, where it does not say"
        )
        parser.add_argument("--json", action="store_true", help="one JSON object a line, one for each file")

    def handle(self, *args: Any, **options: Any) -> None:
        statuses = [self._edit(name, options["terms"], options["json"]) for name in options["files"]]
        if max(statuses):
            sys.exit(max(statuses))

    def _edit(self, name: str, terms: str | None, as_json: bool) -> int:
        """Print the edit of one file; return its exit status."""
        try:
            text = read_text(name)
        except UnusableFileError as error:
            self.stderr.write(str(error))
            return 2
        draft = notation.read(text, terms=terms)
        worked = fabric.work(draft)
        findings = techedit.check(draft, worked)
        if as_json:
            self.stdout.write(json.dumps(report.as_object(name, draft, worked, findings)))
        else:
            self.stdout.write(report.as_text(name, draft, worked, findings))
        return int(any(finding.level is techedit.Level.ERROR for finding in findings))
