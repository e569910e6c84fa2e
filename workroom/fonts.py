"""The typefaces of screen and paper: Source Serif Pro and Source Sans Pro, from their packages.

On screen static/hookledger.css names them by @font-face under fonts/ and the
finder below hands them to staticfiles; for paper `font_path` gives the file.
"""

import builtins
from collections.abc import Iterable
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Final, Literal, overload

from django.contrib.staticfiles.finders import BaseFinder
from django.core.files.storage import FileSystemStorage

PACKAGES: Final = {
    "SourceSansPro": "font_source_sans_pro",
    "SourceSerifPro": "font_source_serif_pro",
}
FACES: Final = (
    "SourceSansPro-Regular", "SourceSansPro-It", "SourceSansPro-Semibold",
    "SourceSerifPro-Regular", "SourceSerifPro-It", "SourceSerifPro-Semibold",
)  # fmt: skip


def package_folder(family: str) -> Path:
    """Where the family's package keeps its files; found without importing it."""
    spec = find_spec(PACKAGES[family])
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError(f"The font package {PACKAGES[family]} is missing. Run script/setup.")
    return Path(spec.origin).parent / "files"


def font_path(face: str) -> Path:
    """The .ttf file of one of FACES, such as 'SourceSerifPro-Regular'. Raises KeyError for others."""
    if face not in FACES:
        raise KeyError(face)
    return package_folder(face.partition("-")[0]) / f"{face}.ttf"


class FontFinder(BaseFinder):
    """Finds /static/fonts/SourceSansPro-Regular.ttf and its like, and nothing else of the packages."""

    def check(self, **kwargs: Any) -> builtins.list[Any]:
        return []

    @overload
    def find(self, path: str, find_all: Literal[False] = False) -> str | None: ...

    @overload
    def find(self, path: str, find_all: Literal[True]) -> "builtins.list[str]": ...

    def find(self, path: str, find_all: bool = False) -> "str | builtins.list[str] | None":
        face = path.removeprefix("fonts/").removesuffix(".ttf")
        found = str(font_path(face)) if path == f"fonts/{face}.ttf" and face in FACES else None
        if find_all:
            return [found] if found else []
        return found

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterable[tuple[str, FileSystemStorage]]:
        for face in FACES:
            storage = FileSystemStorage(location=font_path(face).parent)
            storage.prefix = "fonts"  # type: ignore[attr-defined]  # what collectstatic reads
            yield f"{face}.ttf", storage
