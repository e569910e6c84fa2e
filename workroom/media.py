"""The photo store: pictures re-encoded, stripped of metadata and kept under the hash of their content.

A picture is checked for its kind and its number of pixels from the header alone, before anything is
decoded. What is kept is our own re-encoding in a few widths, as WebP and as JPEG; the upload itself
is dropped. Keys go through Django's default storage, so they are the same on disk and elsewhere.
"""

from __future__ import annotations

import hashlib
import struct
import warnings
from dataclasses import dataclass
from io import BytesIO
from typing import IO, Final

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils.translation import gettext as _
from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

__all__ = [
    "MAX_BYTES",
    "MAX_PIXELS",
    "NotAPhotoError",
    "PhotoError",
    "PhotoTooHeavyError",
    "PhotoTooLargeError",
    "StoredPhoto",
    "photo_bytes",
    "photo_key",
    "store",
    "widths_for",
]

MAX_BYTES: Final = 30 * 1024 * 1024
MAX_PIXELS: Final = 40_000_000
WIDTHS: Final = (480, 960, 1600)
LONGEST_SIDE: Final = 2400
READ_FORMATS: Final = ("JPEG", "PNG", "WEBP", "AVIF", "GIF", "TIFF", "BMP")
SUFFIXES: Final = {"webp": "image/webp", "jpg": "image/jpeg"}
_BROKEN: Final = (OSError, SyntaxError, ValueError, EOFError, struct.error)


class PhotoError(ValueError):
    """A picture that is refused; the text is a sentence for the person who chose it."""


class NotAPhotoError(PhotoError):
    """The file is no picture that can be read."""

    def __init__(self, heic: bool = False) -> None:
        if heic:
            text = _("This is a HEIC picture, which can't be read here. Save it as JPEG and choose it again.")
        else:
            text = _("This file is not a photo. Choose a JPEG, PNG, WebP or AVIF picture.")
        super().__init__(text)


class PhotoTooLargeError(PhotoError):
    """More pixels than are decoded here, told from the header."""

    def __init__(self, width: int | None = None, height: int | None = None) -> None:
        limit = MAX_PIXELS // 1_000_000
        if width and height:
            text = _(
                "This photo has %(width)s x %(height)s pixels; at most %(limit)s million pixels are taken. "
                "Make it smaller and choose it again."
            ) % {"width": f"{width:,}", "height": f"{height:,}", "limit": limit}
        else:
            text = _("This photo has too many pixels; at most %(limit)s million are taken.") % {
                "limit": limit
            }
        super().__init__(text)


class PhotoTooHeavyError(PhotoError):
    """More bytes than are read here."""

    def __init__(self) -> None:
        super().__init__(
            _("This file is larger than %(limit)s MB. Make it smaller and choose it again.")
            % {"limit": MAX_BYTES // (1024 * 1024)}
        )


@dataclass(frozen=True, slots=True)
class StoredPhoto:
    """A kept picture: `digest` is its name in the store, `width` and `height` pixels of the largest copy."""

    digest: str
    width: int
    height: int


def widths_for(width: int) -> tuple[int, ...]:
    """The widths in which a picture of this width is kept, smallest first, its own last."""
    return (*(w for w in WIDTHS if w < width), width)


def photo_key(digest: str, width: int, suffix: str) -> str:
    """Key of one copy in the storage. `suffix` is "webp" or "jpg"."""
    if suffix not in SUFFIXES or not digest.isalnum():
        raise ValueError(digest)
    return f"{digest[:2]}/{digest}/{int(width)}.{suffix}"


def photo_bytes(digest: str, width: int, suffix: str) -> bytes:
    """One copy from the store. Raises FileNotFoundError."""
    with default_storage.open(photo_key(digest, width, suffix)) as kept:
        content: bytes = kept.read()
    return content


def store(upload: IO[bytes]) -> StoredPhoto:
    """Re-encode and keep a picture. Raises PhotoError with a sentence; then nothing is kept."""
    data = upload.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise PhotoTooHeavyError
    picture = _decoded(data)
    copies = _copies(picture)
    digest = hashlib.sha256(copies[picture.width, "jpg"]).hexdigest()[:40]
    for (width, suffix), content in copies.items():
        _keep(photo_key(digest, width, suffix), content)
    return StoredPhoto(digest, picture.width, picture.height)


def _keep(key: str, content: bytes) -> None:
    """Write a copy unless it is there whole; a copy cut short by a crash is written again."""
    if default_storage.exists(key):
        if default_storage.size(key) == len(content):
            return
        default_storage.delete(key)
    default_storage.save(key, ContentFile(content))


def _decoded(data: bytes) -> Image.Image:
    """The picture upright, in sRGB on white, within LONGEST_SIDE, with nothing but its pixels."""
    picture = _opened(data)
    if picture.width * picture.height > MAX_PIXELS:
        raise PhotoTooLargeError(picture.width, picture.height)
    try:
        picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        picture.load()
        upright = ImageOps.exif_transpose(picture)
    except _BROKEN as error:
        raise NotAPhotoError from error
    flat = _on_white(_in_srgb(upright))
    flat.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    return flat


def _opened(data: bytes) -> Image.Image:
    """The picture with only its header read. Pillow's own guard is told apart from 'no picture'."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            return Image.open(BytesIO(data), formats=READ_FORMATS)
    except Image.DecompressionBombError as error:
        raise PhotoTooLargeError(*_header_size(data)) from error
    except UnidentifiedImageError as error:
        raise NotAPhotoError(heic=data[4:12] in {b"ftypheic", b"ftypheix", b"ftypmif1"}) from error
    except _BROKEN as error:
        raise NotAPhotoError from error


def _header_size(data: bytes) -> tuple[int | None, int | None]:
    """Width and height of a PNG from its header, for the sentence; (None, None) for other kinds."""
    if data[:8] == b"\x89PNG\r\n\x1a\n" and len(data) >= 24:
        width, height = struct.unpack(">II", data[16:24])
        return width, height
    return None, None


def _in_srgb(picture: Image.Image) -> Image.Image:
    """Colours of a wide-gamut camera brought into sRGB; a broken profile is ignored."""
    profile = picture.info.get("icc_profile")
    if not profile or picture.mode not in {"RGB", "RGBA"}:
        return picture
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        changed = ImageCms.profileToProfile(picture, source, ImageCms.createProfile("sRGB"))
    except (ImageCms.PyCMSError, OSError):
        return picture
    return changed or picture


def _on_white(picture: Image.Image) -> Image.Image:
    """A fresh RGB picture: no metadata, comments or profile can come along."""
    clean = Image.new("RGB", picture.size, "white")
    if picture.mode in {"RGBA", "LA", "PA", "P"}:
        see_through = picture.convert("RGBA")
        clean.paste(see_through, mask=see_through.getchannel("A"))
    else:
        clean.paste(picture.convert("RGB"))
    return clean


def _copies(picture: Image.Image) -> dict[tuple[int, str], bytes]:
    """Every copy to keep: (width, suffix) -> bytes."""
    copies: dict[tuple[int, str], bytes] = {}
    for width in widths_for(picture.width):
        height = max(1, round(picture.height * width / picture.width))
        sized = (
            picture if width == picture.width else picture.resize((width, height), Image.Resampling.LANCZOS)
        )
        copies[width, "webp"] = _encoded(sized, "WEBP", quality=82, method=4)
        copies[width, "jpg"] = _encoded(sized, "JPEG", quality=86, optimize=True, progressive=True)
    return copies


def _encoded(picture: Image.Image, kind: str, **options: int | bool) -> bytes:
    out = BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()
