"""The photo of a lot's ball band. Kept by content (workroom.media); the lot names it as "digest/1200x900"."""

from dataclasses import dataclass
from typing import Final

from django.db.models import F

from workroom.media import StoredPhoto, photo_bytes, widths_for
from yarns.models import Lot

SHOWN_WIDTH: Final = 960


@dataclass(frozen=True, slots=True)
class BandPhoto:
    """A kept photo: its name in the store and the pixels of the largest copy."""

    digest: str
    width: int
    height: int

    @property
    def shown_width(self) -> int:
        """The kept width nearest above what a page shows, else the largest."""
        return next((width for width in widths_for(self.width) if width >= SHOWN_WIDTH), self.width)

    @property
    def shown_height(self) -> int:
        return round(self.height * self.shown_width / self.width)


def band_photo(lot: Lot) -> BandPhoto | None:
    """The lot's photo, None where there is none."""
    digest, _slash, size = lot.photo_key.partition("/")
    width, _x, height = size.partition("x")
    return BandPhoto(digest, int(width), int(height)) if digest and width and height else None


def band_photo_set(lot: Lot, photo: StoredPhoto | None) -> None:
    """Give a lot this photo, or none. The last one wins: a photo replaces a photo, no figure is lost."""
    key = f"{photo.digest}/{photo.width}x{photo.height}" if photo else ""
    Lot.objects.filter(pk=lot.pk).update(photo_key=key, version=F("version") + 1)


def band_photo_bytes(photo: BandPhoto) -> bytes:
    """The picture as WebP. Raises FileNotFoundError."""
    return photo_bytes(photo.digest, photo.shown_width, "webp")
