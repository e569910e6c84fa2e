"""Settled shapes held against mathematics, with trimesh as the independent measure."""

from __future__ import annotations

import io
import math

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from craft.fabric import work
from craft.fabric.gauge import Gauge
from craft.fabric.graph import pieces
from craft.form import (
    VIEWS,
    CancelledError,
    Form,
    filling_for,
    fits_small_parts,
    glb_of,
    is_filled,
    paint,
    settle_piece,
    turning_data,
)
from craft.notation import read
from tests.craft.fabric.graph.patterns import generated
from tests.craft.form import bodies

SQUARE = Gauge(6.0, 6.0)
FLAT = Gauge(6.0, 6.0 * 6 / (2 * math.pi))
"""With six increases a round a disc lies flat where height / width is 6 / 2 pi (tech_editing 3.3)."""

GRANNY = generated(3)
BAG = (
    "Ch 13.\n"
    "Rnd 1: Sc in 2nd ch from hook, sc in next 10 ch, 3 sc in last ch; working along other side of chain, "
    "sc in next 10 ch, 2 sc in last ch. (26)\n"
    "Rnd 2: 2 sc in next st, sc in next 10 sts, 2 sc in each of next 3 sts, sc in next 10 sts, "
    "2 sc in each of next 2 sts. (32)\n"
    "Rnds 3-8: Sc in each st around. (32)\n"
    "Rnd 9: Sc in next 5 sts, ch 20, sk next 6 sts, sc in next 10 sts, ch 20, sk next 6 sts, "
    "sc in next 5 sts.\n"
    "Rnd 10: Sc in next 5 sts, sc in next 20 ch, sc in next 10 sts, sc in next 20 ch, sc in next 5 sts.\n"
)
YOKE = (
    "Sizes: XS (S, M, L, XL)\nYoke\nCh 40 (44, 48, 52, 56), join with sl st to form a ring.\n"
    "Rnd 1: Ch 1, sc in each ch around. (40 (44, 48, 52, 56))\n"
    "Rnd 2: (Sc in next 3 sts, 2 sc in next st) 10 (11, 12, 13, 14) times. (50 (55, 60, 65, 70))\n"
    "Rnds 3-5: Sc in each st around. (50 (55, 60, 65, 70))\n"
    "Rnd 6: (Sc in next 4 sts, 2 sc in next st) 10 (11, 12, 13, 14) times. (60 (66, 72, 78, 84))\n"
    "Rnds 7-9: Sc in each st around. (60 (66, 72, 78, 84))\n"
)


def shape(text: str, gauge: Gauge = SQUARE, size: int = 0) -> Form:
    fabric = work(read(text))
    return settle_piece(fabric, pieces(fabric, size)[0], size, gauge)


def body(form: Form, *, closed: bool = False) -> trimesh.Trimesh:
    return trimesh.Trimesh(form.position, form.closed_faces if closed else form.faces, process=False)


def around(form: Form, knots: NDArray[np.int32]) -> float:
    points = form.position[knots]
    return float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum())


def within(found: float, ideal: float, part: float = 0.03) -> bool:
    return abs(found / ideal - 1) <= part


def test_a_disc() -> None:
    form = shape(bodies.disc(12), FLAT)
    radius = 12 * FLAT.row_mm
    assert within(form.size_mm[0], 2 * radius)
    assert within(form.size_mm[1], 2 * radius)
    assert within(body(form).area, math.pi * radius**2)
    assert form.size_mm[2] < 0.05 * radius
    assert not form.worst()


def test_a_cylinder() -> None:
    form = shape(bodies.tube(48, 12))
    radius, height = 48 * 6 / (2 * math.pi), 11 * 6  # the first round's tops are its lower edge
    mesh = body(form, closed=True)
    assert mesh.is_watertight
    assert within(np.ptp(form.position[:, 0]), 2 * radius)
    assert within(np.ptp(form.position[:, 2]), height)
    assert within(body(form).area, 2 * math.pi * radius * height)
    assert within(mesh.volume, math.pi * radius**2 * height)


def test_a_cone() -> None:
    """Gaining r a round, the slope goes out by r w / 2 pi for every h along it."""
    form = shape(bodies.cone(3, 22))
    slant, radius = 23 * 6.0, 3 * 23 * 6 / (2 * math.pi)
    height = math.sqrt(slant**2 - radius**2)
    mesh = body(form, closed=True)
    assert mesh.is_watertight
    assert within(np.ptp(form.position[:, 0]), 2 * radius)
    assert within(body(form).area, math.pi * radius * slant)
    assert within(mesh.volume, math.pi * radius**2 * height / 3)


def test_a_ball() -> None:
    form = shape(bodies.ball(60, 6, 6))
    assert form.filled
    mesh = body(form, closed=True)
    assert mesh.is_watertight
    assert all(within(each, 120) for each in form.size_mm)
    assert within(mesh.area, 4 * math.pi * 60**2)
    assert within(mesh.volume, 4 / 3 * math.pi * 60**3)
    assert within(form.volume_mm3, mesh.volume, 1e-6)
    assert not form.worst()


def test_a_hyperbolic_disc_ruffles_with_its_growth() -> None:
    """One increase in three: each round is 4 / 3 of the one below (Taimina and Henderson, "Crocheting the
    Hyperbolic Plane", The Mathematical Intelligencer 23(2), 2001: a constant ratio from round to round).
    """
    form = shape(bodies.hyperbolic(3, 8))
    lengths = [around(form, curve.knots) for curve in form.net.curves]
    counts = [len(curve.knots) for curve in form.net.curves]
    assert counts == [6, 12, 16, 21, 28, 37, 49, 65], "4 / 3 of the one below, as far as whole groups go"
    assert all(within(length, count * 6, 0.09) for length, count in zip(lengths, counts, strict=True))
    assert lengths[-1] > 1.2 * 2 * math.pi * 8 * 6, "far more than lies flat"
    assert form.size_mm[2] > 2 * 6, "so it leaves the plane"


def test_a_granny_square_is_square_and_flat() -> None:
    form = shape(GRANNY)
    assert form.size_mm[2] < 0.1 * form.size_mm[0]
    corners = form.position[:, :2] - form.position[:, :2].mean(axis=0)
    reach = np.linalg.norm(corners, axis=1).max()
    sides = np.abs(corners @ np.array([[1, 1], [-1, 1]]) / math.sqrt(2)).max(axis=0)
    assert within(sides[0], sides[1], 0.05)
    assert reach > 1.25 * sides.mean(), "a circle would have 1"


def test_an_oval_bag_has_handles_that_stand_up() -> None:
    form = shape(BAG)
    in_round = {one.number: one.tops for one in form.graph.rounds}
    rim = form.position[form.net.knot[in_round[8]]][:, 2].max()
    handles = form.position[form.net.knot[form.graph.space >= 0]]
    assert handles[:, 2].max() > rim + 20
    assert abs(handles[:20, 2].max() - handles[20:, 2].max()) < 10, "both alike"


@pytest.mark.parametrize("size", range(5))
def test_a_yoke_grows_with_its_sizes(size: int) -> None:
    form = shape(YOKE, size=size)
    stitches = (60, 66, 72, 78, 84)[size]
    assert within(around(form, form.net.curves[-1].knots), stitches * 6, 0.06)
    assert not form.worst()


def test_rows_lie_flat_and_keep_their_measure() -> None:
    form = shape(generated(1))
    stitches = len(form.net.curves[0].knots)
    assert within(form.size_mm[0], max((stitches - 1) * 6, form.size_mm[0]))
    assert form.size_mm[2] < 1
    assert np.abs(form.strains.along).max() < 0.05


def test_a_gap_is_drawn_as_a_gap() -> None:
    form = shape(
        "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\nRnd 3: Fribble the zog. (18)\n"
        "Rnd 4: Sc in each st around. (18)\nRnd 5: Sc in each st around. (18)\n"
    )
    below, above = form.net.curves[1].knots, form.net.curves[2].knots
    assert form.position[above, 2].min() - form.position[below, 2].max() > 3
    assert form.graph.rounds[2].gap


def test_the_worst_stitches_are_named() -> None:
    text = bodies.rounds([6, 12, 18, 60, 18, 12])
    form = shape(text)
    worst = form.worst(3)
    assert worst
    assert {one.round_number for one in worst} <= {3, 4, 5, 6}
    assert all(abs(one.part) > 0.25 for one in worst)


def test_progress_is_told_and_the_work_can_be_stopped() -> None:
    told: list[float] = []

    def tell(part: float) -> bool:
        told.append(part)
        return len(told) < 3

    fabric = work(read(bodies.ball(60, 6, 6)))
    with pytest.raises(CancelledError):
        settle_piece(fabric, (0,), 0, SQUARE, progress=tell)
    assert len(told) == 3
    assert told == sorted(told)


def test_the_file_is_read_by_an_independent_reader() -> None:
    form = shape(bodies.disc(5) + "Rnd 6: With B, sc in each st around. (30)\n")
    data = glb_of(form, {"": (200, 180, 150), "B": (10, 60, 90)}, "disc")
    scene = trimesh.load_scene(io.BytesIO(data), file_type="glb")
    (mesh,) = scene.geometry.values()
    assert len(mesh.faces) == 3 * form.graph.size
    assert within(max(mesh.extents) * 1000, form.size_mm[0], 0.1)
    colours = {tuple(colour[:3]) for colour in mesh.visual.vertex_attributes["color"].tolist()}
    assert colours == {(200, 180, 150), (10, 60, 90)}


def test_pictures_and_turning_data_hold_every_stitch() -> None:
    form = shape(bodies.disc(5))
    for view in VIEWS.values():
        painting = paint(form, {"": (200, 180, 150)}, view)
        assert painting.points.shape == (90, 5, 2)
        assert painting.points.min() >= 0
        assert painting.points[:, :, 0].max() <= painting.width
    data = turning_data(form, {})
    assert data["patches"] == 90
    assert len(data["corners"]) == 4 * 90 * 5 * 3 * 2 // 3


@pytest.mark.parametrize(
    ("words", "filled"),
    [
        ("Stuff the body firmly.", True),
        ("Begin to stuff.", True),
        ("Do not stuff.", False),
        ("Leave without stuffing.", False),
        ("Fasten off.", False),
    ],
)
def test_whether_a_part_is_filled_is_in_its_words(words: str, filled: bool) -> None:
    fabric = work(read(f"Body\n{bodies.disc(4)}{words}\n\nWing\n{bodies.disc(3)}"))
    assert is_filled(fabric, (0,)) is filled
    assert not is_filled(fabric, (1,))


def test_filling_goes_with_the_volume() -> None:
    """A ball of 12 cm holds 0.905 l; 25 to 70 g a litre (common practice, no source)."""
    found = filling_for(4 / 3 * math.pi * 60**3)
    assert round(found.low, 1) == 22.6
    assert round(found.high, 1) == 63.3
    assert not found.measured
    assert filling_for(1e6, 2).grams == 2 * filling_for(1e6).grams


@pytest.mark.parametrize(
    ("size_mm", "answer"),
    [
        ((57.0, 31.0, 31.0), "fits"),  # as long and as wide as the cylinder: 16 CFR 1501.4, 57.1 x 31.7 mm
        ((58.0, 20.0, 20.0), "does not fit"),  # stands out of it
        ((40.0, 33.0, 10.0), "does not fit"),  # wider than the bore
        ((10.0, 31.0, 20.0), "fits"),  # in any order
    ],
)
def test_the_small_parts_cylinder(size_mm: tuple[float, float, float], answer: str) -> None:
    assert fits_small_parts(size_mm) == answer


def test_near_the_limit_the_answer_is_maybe() -> None:
    assert fits_small_parts((58.0, 31.0, 20.0), doubt=0.05) == "may fit"
    assert fits_small_parts((70.0, 31.0, 20.0), doubt=0.05) == "does not fit"
