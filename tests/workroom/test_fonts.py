import pytest
from django.contrib.staticfiles import finders

from workroom.fonts import FACES, FontFinder, font_path


@pytest.mark.parametrize("face", FACES)
def test_every_face_is_there_on_screen_and_on_paper(face: str) -> None:
    assert font_path(face).read_bytes()[:4] == b"\x00\x01\x00\x00"
    assert finders.find(f"fonts/{face}.ttf") == str(font_path(face))


@pytest.mark.parametrize(
    "path",
    [
        "fonts/LICENSE.txt",
        "fonts/../fonts/x.ttf",
        "SourceSansPro-Regular.ttf",
        "fonts/SourceSansPro-Black.ttf",
    ],
)
def test_nothing_else_of_the_packages_is_served(path: str) -> None:
    assert FontFinder().find(path) is None
    assert FontFinder().find(path, find_all=True) == []


def test_an_unknown_face_is_refused() -> None:
    with pytest.raises(KeyError):
        font_path("ComicSans")
