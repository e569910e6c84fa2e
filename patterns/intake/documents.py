"""One door for files: plain text, .docx and .odt."""

from __future__ import annotations

from io import BytesIO
from typing import IO

from django.utils.translation import gettext as _

from patterns.incoming import IncomingText, NotATextError, read_text_file
from patterns.intake.odt import odt_text
from patterns.intake.packed import LARGEST_FILE, kind_of, members
from patterns.intake.word import docx_text

__all__ = ["read_document"]


def read_document(upload: IO[bytes]) -> IncomingText:
    """The words of a file, line breaks kept. Raises NotATextError, whose text says what to do."""
    data = upload.read(LARGEST_FILE + 1)
    if not data.startswith(b"PK\x03\x04"):
        return read_text_file(BytesIO(data))
    if len(data) > LARGEST_FILE:
        raise NotATextError(
            _("This file is larger than 12 MB. Take the photos out of it and choose it again.")
        )
    found = members(data)
    kind = kind_of(found)
    if not kind:
        raise NotATextError(_("This is no document. Choose a .docx, .odt or .txt file."))
    try:
        text = docx_text(data) if kind == "docx" else odt_text(data)
    except Exception as error:  # both libraries raise whatever comes along
        raise NotATextError(
            _("This document could not be read. Save it as plain text (.txt) and choose that.")
        ) from error
    return IncomingText(text)
