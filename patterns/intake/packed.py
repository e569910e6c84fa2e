"""A word processor's file is a ZIP of XML. It is looked at before any library opens it."""

from __future__ import annotations

import zipfile
from io import BytesIO
from typing import Final

from django.utils.translation import gettext as _

from patterns.incoming import NotATextError

__all__ = ["LARGEST_FILE", "kind_of", "members"]

LARGEST_FILE: Final = 12 * 1024 * 1024
"""Bytes of a packed file; photos in it count."""

LARGEST_XML: Final = 24 * 1024 * 1024
"""Bytes of all XML in it, unpacked."""

MOST_MEMBERS: Final = 3000


def members(data: bytes) -> dict[str, bytes]:
    """The XML members by name. Raises NotATextError for what is damaged, locked or too large.

    Sizes in a ZIP's list may lie, so that no more than what is left of the allowance is unpacked.
    """
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            return _unpacked(packed)
    except (zipfile.BadZipFile, OSError, EOFError, ValueError, RuntimeError, NotImplementedError) as error:
        if isinstance(error, NotATextError):
            raise
        raise NotATextError(_damaged()) from error


def _unpacked(packed: zipfile.ZipFile) -> dict[str, bytes]:
    infos = packed.infolist()
    left = LARGEST_XML
    if len(infos) > MOST_MEMBERS or sum(info.file_size for info in infos) > 20 * LARGEST_XML:
        raise NotATextError(_too_large())
    found: dict[str, bytes] = {}
    for info in infos:
        if not info.filename.endswith((".xml", ".rels")) and info.filename != "mimetype":
            continue
        with packed.open(info) as member:
            content = member.read(left + 1)
        left -= len(content)
        if left < 0:
            raise NotATextError(_too_large())
        if b"<!doctype" in content.replace(b"\0", b"").lower():
            # no word processor writes one; entities that grow without end need one
            raise NotATextError(_damaged())
        found[info.filename] = content
    return found


def kind_of(found: dict[str, bytes]) -> str:
    """The kind by its last letters, docx or odt; "" for another packed file."""
    if "word/document.xml" in found:
        return "docx"
    if found.get("mimetype", b"").startswith(b"application/vnd.oasis.opendocument.text"):
        return "odt"
    return ""


def _too_large() -> str:
    return _("This file unpacks to more than is taken. Copy the words into a new document and choose that.")


def _damaged() -> str:
    return _("This file is damaged or locked. Open it in your word processor, save it again and choose that.")
