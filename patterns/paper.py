"""A pattern on paper: HTML and style sheet for the press, and the PDF kept under the hash of both."""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from importlib.metadata import version
from io import BytesIO
from pathlib import Path
from typing import Final

import segno
from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from patterns.chart_paper import chart_paper
from patterns.edition import Edition, Picture
from patterns.models import Revision
from patterns.press import PrintJob, press
from workroom.media import photo_bytes
from workroom.models import Studio

__all__ = ["Paper", "Prepared", "pdf_of", "prepare"]

KEPT_PAPERS: Final = 400
COVER_WIDTH: Final = 1600
SMALL_WIDTH: Final = 960
QR: Final = "qr.svg"


class Paper(StrEnum):
    """Sizes of paper, by the name in the address."""

    A4 = "a4"
    LETTER = "letter"

    @property
    def css(self) -> str:
        return {"a4": "A4", "letter": "Letter"}[self.value]


@dataclass(frozen=True, slots=True)
class Prepared:
    """All that goes into a paper. `photos`: names in the HTML -> (digest, width) in the photo store.

    `drawings`: names in the HTML, which hold a hash of the drawing -> SVG.
    """

    html: str
    css: str
    address: str
    photos: Mapping[str, tuple[str, int]]
    file_name: str
    drawings: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """Hash of the inputs and of the printer that turns them into a PDF."""
        parts = (self.html, self.css, self.address, version("weasyprint"))
        return hashlib.sha256("\0".join(parts).encode()).hexdigest()

    def job(self) -> PrintJob:
        """The job with its pictures read from the store. A photo that is gone is left out."""
        pictures: dict[str, bytes] = dict(self.drawings)
        for name, (digest, width) in self.photos.items():
            try:
                pictures[name] = photo_bytes(digest, width, "jpg")
            except FileNotFoundError:
                continue
        if self.address:
            pictures[QR] = qr_code(self.address)
        return PrintJob(self.html, self.css, pictures)


def prepare(
    revision: Revision, edition: Edition, paper: Paper, studio: Studio, *, draft: str = ""
) -> Prepared:
    """Draw the HTML and the style sheet of a paper. `draft`: its number, for one that is not published."""
    address = "" if draft else _address(revision, studio)
    cover = edition.photos[0] if edition.photos else None
    others = edition.photos[1:]
    chart = chart_paper(edition.chart, paper.value)
    context = {
        "edition": edition,
        "revision": revision,
        "draft": draft,
        "studio": studio,
        "address": address,
        "cover": cover,
        "cover_name": _name(cover, COVER_WIDTH) if cover else "",
        "others": [(photo, _name(photo, SMALL_WIDTH)) for photo in others],
        "language": get_language() or "en",
        "chart": chart,
        "symbols": edition.chart,
    }
    photos = dict(_photo(photo, SMALL_WIDTH) for photo in others)
    if cover:
        photos |= dict([_photo(cover, COVER_WIDTH)])
    size = f"-{edition.size.key}" if edition.size and edition.several_sizes else ""
    return Prepared(
        html=render_to_string("patterns/paper.html", context),
        css=_css(paper, studio.accent),
        address=address,
        photos=photos,
        file_name=f"{revision.pattern.slug}-{draft or revision.version}{size}-{paper.value}.pdf",
        drawings=chart.drawings if chart else {},
    )


def pdf_of(prepared: Prepared) -> bytes:
    """The PDF, from the shelf of papers or printed now. Raises press.PressError."""
    kept = _folder() / f"{prepared.key}.pdf"
    try:
        return kept.read_bytes()
    except FileNotFoundError:
        content = press().print_pdf(prepared.job())
        _keep(kept, content)
        return content


def qr_code(address: str) -> bytes:
    """The address as a QR code in SVG, with the quiet zone that scanners need."""
    out = BytesIO()
    segno.make(address, error="m").save(out, kind="svg", border=2, xmldecl=False, svgns=True)
    return out.getvalue()


def _address(revision: Revision, studio: Studio) -> str:
    """Where the pattern stands on the web; "" while the studio has said no address."""
    if not studio.site_address:
        return ""
    path = reverse("public:pattern", args=[revision.pattern.slug])
    return studio.site_address.rstrip("/") + path


def _css(paper: Paper, accent: str) -> str:
    words = {"page_word": _("page"), "of_word": _("of")}
    return render_to_string("patterns/paper.css", {"paper": paper.css, "accent": accent, **words})


def _width(photo: Picture, wanted: int) -> int:
    """The kept width nearest above the one wanted, else the largest."""
    return next((width for width in photo.widths if width >= wanted), photo.width)


def _name(photo: Picture, wanted: int) -> str:
    return f"{photo.digest}-{_width(photo, wanted)}.jpg"


def _photo(photo: Picture, wanted: int) -> tuple[str, tuple[str, int]]:
    return _name(photo, wanted), (photo.digest, _width(photo, wanted))


@cache
def _folder() -> Path:
    folder = Path(settings.DATA) / "papers"
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def _keep(path: Path, content: bytes) -> None:
    """Write in full or not at all, and let the oldest papers go: they can be printed again."""
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
    with os.fdopen(handle, "wb") as file:
        file.write(content)
    Path(name).replace(path)
    papers = sorted(path.parent.glob("*.pdf"), key=lambda paper: paper.stat().st_mtime)
    for old in papers[:-KEPT_PAPERS]:
        old.unlink(missing_ok=True)
