"""The typefaces of screen and paper: Source Serif Pro and Source Sans Pro, from their packages.

On screen static/fonts.css names them by @font-face under /static/fonts/;
for paper `font_path` gives the file.
"""

from importlib.util import find_spec
from pathlib import Path
from typing import Final

PACKAGES: Final = ("font_source_sans_pro", "font_source_serif_pro")


def package_folder(package: str) -> Path:
    """Where the package keeps its font files; found without importing it."""
    spec = find_spec(package)
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError(f"The font package {package} is missing. Run script/setup.")
    return Path(spec.origin).parent / "files"


FONT_FOLDERS: Final = tuple(("fonts", package_folder(package)) for package in PACKAGES)


def font_path(name: str) -> Path:
    """The file of a face, such as 'SourceSerifPro-Regular'."""
    for _prefix, folder in FONT_FOLDERS:
        path = folder / f"{name}.ttf"
        if path.is_file():
            return path
    raise FileNotFoundError(f"There is no font {name}.")
