"""A file between its preview and the yes: kept under the hash of its content, for a day."""

import hashlib
import re
from datetime import timedelta
from typing import Final

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

FOLDER: Final = "lists"
KEPT_FOR: Final = timedelta(days=1)
_DIGEST: Final = re.compile(r"[0-9a-f]{64}")


def keep_upload(content: bytes) -> str:
    """Keep a file and give the digest under which it is found; files of yesterday go."""
    _drop_old()
    digest = hashlib.sha256(content).hexdigest()
    if not default_storage.exists(f"{FOLDER}/{digest}"):
        default_storage.save(f"{FOLDER}/{digest}", ContentFile(content))
    return digest


def kept_upload(digest: str) -> bytes | None:
    """The file of that digest, None where there is none (any more)."""
    if not _DIGEST.fullmatch(digest):
        return None
    try:
        with default_storage.open(f"{FOLDER}/{digest}") as kept:
            content: bytes = kept.read()
    except FileNotFoundError:
        return None
    return content


def drop_upload(digest: str) -> None:
    if _DIGEST.fullmatch(digest):
        default_storage.delete(f"{FOLDER}/{digest}")


def _drop_old() -> None:
    try:
        _folders, names = default_storage.listdir(FOLDER)
    except FileNotFoundError:
        return
    for name in names:
        if timezone.now() - default_storage.get_modified_time(f"{FOLDER}/{name}") > KEPT_FOR:
            default_storage.delete(f"{FOLDER}/{name}")
