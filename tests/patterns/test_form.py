"""The page of the settled shape: who sees it, what it says, its files, and work that takes a while."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
import trimesh
from django.conf import LazySettings
from django.test import Client
from PIL import Image

from patterns.checking import check
from patterns.models import Pattern
from patterns.selectors import source_of
from patterns.shapes import Asked, asked_for, keeping, kept, progress_of, stop, work_now
from tests.patterns.examples import DISC

ADDRESS = "/desk/patterns/small-disc/form/"
GAUGE = {
    "gauge_stitches_tenths": 160, "gauge_rows_tenths": 160, "gauge_stitch": "sc", "gauge_in_round": True,
}  # fmt: skip
BALL = (
    "Body\nRnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n"
    "Rnd 3: Sc in each st around. (12)\nRnd 4: (Sc2tog) 6 times. (6)\nStuff firmly.\n"
)

MakePattern = Callable[..., Pattern]


@pytest.fixture(autouse=True)
def shelf(settings: LazySettings, tmp_path: Path) -> Path:
    settings.DATA = tmp_path
    return tmp_path / "shapes"


def asked(pattern: Pattern, size: int = 0, part: int = 0) -> Asked:
    pattern.refresh_from_db()
    found = asked_for(pattern, check(source_of(pattern), pattern.terms), size, part)
    assert found is not None
    return found


def words(content: bytes) -> str:
    return " ".join(content.decode().split())


# -------------------------------------------------------------------------------- the page


def test_it_shows_the_shape_its_sizes_and_its_files(
    designer_client: Client, make_pattern: MakePattern
) -> None:
    pattern = make_pattern(**GAUGE)
    page = words(designer_client.get(ADDRESS).content)
    key = asked(pattern).key
    assert f"key={key}" in page
    assert "Settled shape" in page
    assert "Outside, about" in page
    assert "No stitch is more than a quarter off its size." in page
    assert kept(key) is not None


def test_a_seller_may_look(seller_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(**GAUGE)
    assert seller_client.get(ADDRESS).status_code == 200


def test_a_seller_is_offered_no_page_that_would_refuse_her(
    seller_client: Client, make_pattern: MakePattern
) -> None:
    make_pattern(**GAUGE)
    page = words(seller_client.get(ADDRESS).content)
    links = re.findall(r'href="(/desk/patterns/[^"?#]*)', page)
    assert [link for link in links if seller_client.get(link).status_code == 403] == []


def test_a_stranger_and_an_assistant_see_nothing(
    client: Client, assistant_client: Client, make_pattern: MakePattern
) -> None:
    make_pattern(**GAUGE)
    for path in ("", "state/", "turning.json", "picture.png", "shape.glb"):
        assert client.get(ADDRESS + path).status_code == 302
        assert assistant_client.get(ADDRESS + path).status_code == 403
    assert client.post(f"{ADDRESS}stop/").status_code == 302
    assert assistant_client.post(f"{ADDRESS}stop/").status_code == 403


def test_only_reading_but_for_stopping(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(**GAUGE)
    assert designer_client.post(ADDRESS).status_code == 405
    assert designer_client.get(f"{ADDRESS}stop/").status_code == 405


@pytest.mark.parametrize("said", ["size=9", "size=x", "part=99", "part=-1", "size=²"])
def test_what_it_cannot_use_is_as_if_not_said(
    designer_client: Client, make_pattern: MakePattern, said: str
) -> None:
    make_pattern(**GAUGE)
    assert designer_client.get(f"{ADDRESS}?{said}").status_code == 200


@pytest.mark.parametrize("key", ["", "x", "0" * 64, "../" * 21 + "a", "g" * 64])
def test_no_file_for_a_key_that_is_not_there(
    designer_client: Client, make_pattern: MakePattern, key: str
) -> None:
    make_pattern(**GAUGE)
    for path in ("turning.json", "picture.png", "shape.glb"):
        assert designer_client.get(ADDRESS + path, {"key": key}).status_code == 404


def test_a_text_without_rounds_has_no_shape(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(text="Just a note to myself.\n")
    assert "No shape yet" in words(designer_client.get(ADDRESS).content)


def test_a_part_that_is_stuffed_says_how_much(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(text=BALL, **GAUGE)
    page = words(designer_client.get(ADDRESS).content)
    assert "Filling" in page
    assert "not measured yet" in page
    assert "common practice, no source" in page
    assert "16 CFR 1501.4" in page, "a ball of two centimetres can be swallowed"


def test_a_gap_is_said(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(text=DISC + "Rnd 9: Fribble the zog. (40)\nRnd 10: Sc in each st around. (40)\n", **GAUGE)
    assert "could not be worked out" in words(designer_client.get(ADDRESS).content)


def test_without_a_gauge_sizes_are_called_a_guess(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern()
    assert "sizes are a guess" in words(designer_client.get(ADDRESS).content)


# -------------------------------------------------------------------------------- the files


def test_the_files_are_what_they_say(designer_client: Client, make_pattern: MakePattern) -> None:
    pattern = make_pattern(**GAUGE)
    designer_client.get(ADDRESS)
    key = {"key": asked(pattern).key}
    turning = json.loads(designer_client.get(f"{ADDRESS}turning.json", key).content)
    assert turning["patches"] > 0
    picture = Image.open(io.BytesIO(designer_client.get(f"{ADDRESS}picture.png", key).content))
    assert picture.size == (900, 675)
    assert designer_client.get(f"{ADDRESS}picture.png", {**key, "view": "below"}).status_code == 404
    answer = designer_client.get(f"{ADDRESS}shape.glb", key)
    assert answer["Content-Type"] == "model/gltf-binary"
    assert 'filename="small-disc.glb"' in answer["Content-Disposition"]
    scene = trimesh.load_scene(io.BytesIO(answer.content), file_type="glb")
    assert sum(len(mesh.faces) for mesh in scene.geometry.values()) == 3 * turning["patches"]


def test_a_changed_text_is_another_shape(make_pattern: MakePattern) -> None:
    pattern = make_pattern(**GAUGE)
    before = asked(pattern).key
    Pattern.objects.filter(pk=pattern.pk).update(text=BALL)
    assert asked(pattern).key != before


# ------------------------------------------------------------------- work that takes a while


def test_large_pieces_are_worked_out_behind_the_page(
    designer_client: Client, make_pattern: MakePattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[str] = []
    monkeypatch.setattr("patterns.views.form.QUICK", 1)
    monkeypatch.setattr("patterns.views.form.work_soon", lambda wanted: begun.append(wanted.key))
    pattern = make_pattern(**GAUGE)
    page = words(designer_client.get(ADDRESS).content)
    assert begun == [asked(pattern).key]
    assert "is being worked out" in page or "are being worked out" in page
    assert "<progress" in page
    assert "Look again" in page


def test_how_far_it_is_and_that_it_is_done(designer_client: Client, make_pattern: MakePattern) -> None:
    pattern = make_pattern(**GAUGE)
    wanted = asked(pattern)
    assert keeping._take(wanted.key)
    keeping._path(wanted.key, ".part").write_text("0.4", encoding="ascii")
    answer = designer_client.get(f"{ADDRESS}state/")
    assert 'value="40"' in answer.content.decode()
    assert "HX-Refresh" not in answer
    keeping._path(wanted.key, ".part").unlink()
    work_now(wanted)
    assert designer_client.get(f"{ADDRESS}state/")["HX-Refresh"] == "true"


def test_it_can_be_stopped(designer_client: Client, make_pattern: MakePattern) -> None:
    pattern = make_pattern(**GAUGE)
    wanted = asked(pattern)
    assert keeping._take(wanted.key)
    answer = designer_client.post(f"{ADDRESS}stop/", {"size": "0", "part": "0"})
    assert answer.status_code == 302
    assert keeping._path(wanted.key, ".stop").exists()
    keeping._work(wanted)
    assert kept(wanted.key) is None
    assert progress_of(wanted.key) is None
    page = words(designer_client.get(answer["Location"]).content)
    assert "Work it out" in page


def test_work_that_breaks_is_not_begun_again_by_itself(
    designer_client: Client, make_pattern: MakePattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_pattern(**GAUGE)
    tries: list[str] = []

    def breaks(*_: object, **__: object) -> None:
        tries.append("once more")
        raise ZeroDivisionError

    monkeypatch.setattr(keeping, "settle_piece", breaks)
    assert "has not been worked out" in words(designer_client.get(ADDRESS).content)
    designer_client.get(ADDRESS)
    assert len(tries) == 1
    designer_client.get(f"{ADDRESS}?again=1")
    assert len(tries) == 2


def test_two_hands_do_not_work_at_the_same_shape(make_pattern: MakePattern) -> None:
    key = asked(make_pattern(**GAUGE)).key
    assert keeping._take(key)
    assert not keeping._take(key)
    stop("0" * 64)  # nobody works at that
    assert not keeping._path("0" * 64, ".stop").exists()


def test_work_that_died_is_taken_over(make_pattern: MakePattern, monkeypatch: pytest.MonkeyPatch) -> None:
    key = asked(make_pattern(**GAUGE)).key
    assert keeping._take(key)
    monkeypatch.setattr(keeping, "STALE_S", -1)
    assert progress_of(key) is None
    assert keeping._take(key)


def test_the_oldest_shapes_are_let_go(
    make_pattern: MakePattern, monkeypatch: pytest.MonkeyPatch, shelf: Path
) -> None:
    monkeypatch.setattr(keeping, "MOST_KEPT", 1)
    pattern = make_pattern(**GAUGE)
    first = asked(pattern)
    work_now(first)
    Pattern.objects.filter(pk=pattern.pk).update(text=BALL)
    second = asked(pattern)
    work_now(second)
    assert kept(second.key) is not None
    assert kept(first.key) is None
    assert not list(shelf.glob(f"{first.key}*"))
