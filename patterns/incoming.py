"""Texts that come in as files: which encoding, and whether it is text at all."""

from __future__ import annotations

import codecs
from dataclasses import dataclass
from typing import IO, Final

from django.utils.translation import gettext as _

from patterns.source import LARGEST_TEXT

__all__ = ["IncomingText", "NotATextError", "read_text_file"]

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_PACKED: Final = {b"PK\x03\x04": "docx", b"%PDF": "pdf", b"{\\rtf": "rtf", b"\xd0\xcf\x11\xe0": "doc"}


class NotATextError(ValueError):
    """A file that is no plain text; the text is a sentence that says what to do."""


@dataclass(frozen=True, slots=True)
class IncomingText:
    """Text of a file. `guessed`: the encoding was not UTF-8 and had to be guessed."""

    text: str
    guessed: bool = False


def read_text_file(upload: IO[bytes]) -> IncomingText:
    """Plain text of an uploaded file. Raises NotATextError."""
    data = upload.read(LARGEST_TEXT * 4 + 1)
    if len(data) > LARGEST_TEXT * 4:
        raise NotATextError(_("This file is too large for one pattern. Split it and choose a part."))
    for mark, kind in _PACKED.items():
        if data.startswith(mark):
            raise NotATextError(
                _("This is a %(kind)s file. Save it as plain text (.txt) and choose that.") % {"kind": kind}
            )
    return _decoded(data)


def _decoded(data: bytes) -> IncomingText:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _plain(data, encoding, guessed=False)
    try:
        return _plain(data, "utf-8", guessed=False)
    except UnicodeDecodeError:
        return _plain(data, "cp1252", guessed=True)


def _plain(data: bytes, encoding: str, *, guessed: bool) -> IncomingText:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        if encoding == "utf-8":
            raise
        text = "\0"
    if "\0" in text or sum(ord(character) < 9 for character in text):
        raise NotATextError(_("This file is not plain text. Save it as plain text (.txt), in UTF-8."))
    return IncomingText(text, guessed)
