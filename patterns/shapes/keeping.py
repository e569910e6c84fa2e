"""The shelf of settled shapes: files under the hash of what they come from, and the work on those to come.

A shape is worked out in a thread of the process that was asked first; how far it is, and the wish to stop,
are small files beside it, so that every process can tell and ask. Whoever finds work that has not moved for a
while takes it over.
"""

from __future__ import annotations

import json
import logging
import os
import re
import tempfile
import threading
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from django.conf import settings

from craft.fabric.graph import TooManyStitchesError
from craft.form import (
    CancelledError,
    Form,
    filling_for,
    fits_small_parts,
    glb_of,
    settle_piece,
    turning_data,
)
from patterns.shapes.asked import Asked
from patterns.shapes.drawing import STILLS, still

__all__ = ["Kept", "Shape", "failed", "kept", "progress_of", "stop", "work_now", "work_soon"]

MOST_KEPT: Final = 300
STALE_S: Final = 60
"""Work whose progress is older than this has died with its process."""

_KEY = re.compile(r"[0-9a-f]{64}")
logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Shape:
    """What a page says of a settled shape. Lengths in mm, `worst` as (round number or None, stitch, part)."""

    size_mm: tuple[float, float, float]
    volume_mm3: float
    area_mm2: float
    stitches: int
    filled: bool
    flat: bool
    shut: bool
    grams: tuple[float, float, float] | None
    small_parts: str
    worst: tuple[tuple[int | None, str, float], ...]
    gaps: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Kept:
    """A shape on the shelf."""

    key: str
    shape: Shape

    def turning(self) -> bytes:
        return _path(self.key, ".turn").read_bytes()

    def glb(self) -> bytes:
        return _path(self.key, ".glb").read_bytes()

    def still(self, view: str) -> bytes:
        """A view out of `STILLS`. Raises KeyError for another."""
        if view not in STILLS:
            raise KeyError(view)
        return _path(self.key, f"-{view}.png").read_bytes()


def _path(key: str, ending: str) -> Path:
    if not _KEY.fullmatch(key):
        message = "not a key of the shelf"
        raise ValueError(message)
    folder = Path(settings.DATA) / "shapes"
    folder.mkdir(parents=True, exist_ok=True)
    return folder / f"{key}{ending}"


def kept(key: str) -> Kept | None:
    """The shape, if it is on the shelf whole."""
    try:
        said: dict[str, Any] = json.loads(_path(key, ".json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    said["worst"] = tuple((number, name, part) for number, name, part in said["worst"])
    for name in ("size_mm", "grams"):
        said[name] = tuple(said[name]) if said[name] is not None else None
    return Kept(key, Shape(**said))


def progress_of(key: str) -> float | None:
    """How much of the work is done, 0 to 1; None where nobody works at it (any more)."""
    path = _path(key, ".part")
    try:
        if time.time() - path.stat().st_mtime > STALE_S:
            return None
        return float(path.read_text(encoding="ascii") or 0)
    except (OSError, ValueError):
        return None


def failed(key: str) -> bool:
    """Whether the work broke, so that it is not begun again by itself."""
    return _path(key, ".fail").exists()


def stop(key: str) -> None:
    """Ask whoever works at it to stop."""
    if progress_of(key) is not None:
        _path(key, ".stop").touch()


def work_soon(asked: Asked) -> None:
    """Begin the work in the background, unless somebody is at it."""
    if not _take(asked.key):
        return
    threading.Thread(target=_work, args=(asked,), name="shape", daemon=True).start()


def work_now(asked: Asked) -> Kept | None:
    """Do the work here and now: for small pieces. None where it could not be done."""
    if not _take(asked.key):
        return kept(asked.key)
    _work(asked)
    return kept(asked.key)


def _take(key: str) -> bool:
    """Whether the work is ours to do."""
    path = _path(key, ".part")
    if path.exists() and progress_of(key) is None:
        path.unlink(missing_ok=True)
    _path(key, ".stop").unlink(missing_ok=True)
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    except FileExistsError:
        return False
    return True


def _work(asked: Asked) -> None:
    begun = time.monotonic()
    _path(asked.key, ".fail").unlink(missing_ok=True)
    try:
        form = settle_piece(
            asked.fabric, asked.piece.sections, asked.size, asked.gauge, progress=_teller(asked.key)
        )
        _keep(asked, form, time.monotonic() - begun)
    except (CancelledError, TooManyStitchesError):
        pass
    except Exception:  # a shape is an extra: the page says that there is none
        _path(asked.key, ".fail").touch()
        logger.exception("shape %s could not be worked out", asked.key[:12])
    finally:
        _path(asked.key, ".part").unlink(missing_ok=True)
        _path(asked.key, ".stop").unlink(missing_ok=True)


def _teller(key: str) -> Any:
    part, wish = _path(key, ".part"), _path(key, ".stop")

    def tell(done: float) -> bool:
        part.write_text(f"{done * 0.8:.3f}", encoding="ascii")
        return not wish.exists()

    return tell


def _keep(asked: Asked, form: Form, seconds: float) -> None:
    """Everything a page may ask for; the facts last, which make it whole."""
    yarns = dict(asked.colours)
    _write(asked.key, ".turn", json.dumps(turning_data(form, yarns), separators=(",", ":")).encode())
    _write(asked.key, ".glb", glb_of(form, yarns, asked.piece.title))
    for view in STILLS:
        _write(asked.key, f"-{view}.png", still(form, yarns, view))
    _write(asked.key, ".json", json.dumps(asdict(_shape(asked, form, seconds))).encode())
    _thin_out()


def _shape(asked: Asked, form: Form, seconds: float) -> Shape:
    volume = form.volume_mm3
    filling = filling_for(volume, asked.piece.make) if form.filled else None
    row = form.net.gauge.row_mm
    return Shape(
        size_mm=form.size_mm,
        volume_mm3=volume,
        area_mm2=form.area_mm2,
        stitches=form.graph.size,
        filled=form.filled,
        flat=form.size_mm[2] < 2 * row,
        shut=form.is_shut,
        grams=(filling.low, filling.grams, filling.high) if filling else None,
        small_parts=str(fits_small_parts(form.size_mm, max(asked.gauge.width_spread, 0.05))),
        worst=tuple((one.round_number, one.name, one.part) for one in form.worst()),
        gaps=sum(one.gap for one in form.graph.rounds),
        seconds=seconds,
    )


def _write(key: str, ending: str, content: bytes) -> None:
    """In full or not at all."""
    path = _path(key, ending)
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=".tmp")
    with os.fdopen(handle, "wb") as file:
        file.write(content)
    Path(name).replace(path)


def _thin_out() -> None:
    """Let the oldest shapes go: they can be worked out again."""
    folder = Path(settings.DATA) / "shapes"
    shapes = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime)
    for old in shapes[:-MOST_KEPT]:
        for file in folder.glob(f"{old.stem}*"):
            file.unlink(missing_ok=True)
