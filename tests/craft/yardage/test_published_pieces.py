"""The estimate against what published and weighed pieces took.

Source: see pieces.json. Some pieces took part in fitting the constants, so this is a check of level and of
honest bounds end to end, not a blind test; the fit itself left each piece out in turn.
"""

import json
import math
import re
import statistics
from pathlib import Path
from typing import Any

import pytest

from craft.yardage import (
    ColourEstimate,
    Extras,
    Gauge,
    Yarn,
    estimate,
    length_rule,
    model_gauge,
    tally_for_area,
)

PIECES: list[dict[str, Any]] = json.loads(
    Path(__file__).with_name("pieces.json").read_text(encoding="utf-8")
)["pieces"]
CONTRADICTED = {"p09"}  # its stated figure looks doubled: it would mean 75 in of yarn per square inch
NO_ENDS = Extras(ends=0, joins=0)
METRES_PER_INCH = 0.0254
WORSTED = Yarn(168.0, {"acrylic": 1.0})


def predicted(piece: dict[str, Any]) -> ColourEstimate:
    heights = re.search(r"row heights used: sc ([\d.]+), dc ([\d.]+)", piece["note"])
    gauge = Gauge(
        piece["cell_stitch"],
        100 / piece["cell_w_mm"],
        100 / piece["cell_h_mm"],
        row_heights_mm={"sc": float(heights[1]), "dc": float(heights[2])} if heights else {},
    )
    fibres = {} if piece["fibre"] == "blend" else {piece["fibre"]: 1.0}
    yarn = Yarn(100 * piece["m_per_g"], fibres)
    extras = Extras(ends=0, joins=0, carried_stitches=piece["carry"] or 0)
    return estimate({"": piece["counts"]}, yarns={"": yarn}, gauge=gauge, extras={"": extras}).colour("")


def test_the_sample_is_whole() -> None:
    assert len(PIECES) == 35
    assert {piece["grade"] for piece in PIECES} == {"X", "U", "S"}


def test_median_level_is_right() -> None:
    ratios = [predicted(piece).metres.median / piece["used_m"] for piece in PIECES]
    assert 0.93 <= statistics.median(ratios) <= 1.07


def test_eighty_per_cent_ranges_hold_at_least_three_quarters_of_the_pieces() -> None:
    inside = [
        spread.low <= piece["used_m"] <= spread.high
        for piece in PIECES
        for spread in [predicted(piece).metres]
    ]
    assert sum(inside) / len(inside) >= 0.75


def test_the_safe_length_runs_out_at_most_one_time_in_twenty() -> None:
    kept = [piece for piece in PIECES if piece["id"] not in CONTRADICTED]
    short = [piece["id"] for piece in kept if piece["used_m"] > predicted(piece).safe_m]
    assert len(short) / len(kept) <= 0.05, short


def test_every_stitch_of_the_sample_is_known() -> None:
    assert all(length_rule(name) for piece in PIECES for name in piece["counts"])


@pytest.mark.parametrize("name", ["sc", "hdc", "dc"])
def test_squares_unravelled_and_measured(name: str) -> None:
    # Source: windchilde.com/bluedepth: 5 x 5 in on a 5 mm hook in worsted took 785.5 in of yarn in sc,
    # 802 in hdc and 790 in dc, foundation chain included; gauge not stated, so it is worked out.
    measured_in = {"sc": 785.5, "hdc": 802.0, "dc": 790.0}[name]
    gauge = model_gauge(name, 5.0, WORSTED.tex)
    tally = tally_for_area(name, 127.0, 127.0, gauge)
    tally["ch"] = round(127.0 / gauge.width_mm)
    assert_inside(tally, gauge, measured_in * METRES_PER_INCH)


# Source: the same page: 5 in of foundation, or of one row on its chain, with the inches of yarn it took.
@pytest.mark.parametrize(
    ("names", "row", "measured_in"),
    [
        (("ch",), "sc", 25.5),
        (("fsc",), "sc", 80.0),
        (("fhdc",), "hdc", 87.0),
        (("fdc",), "dc", 82.0),
        (("ch", "sc"), "sc", 53.0),
        (("ch", "hdc"), "hdc", 78.5),
        (("ch", "dc"), "dc", 102.0),
    ],
)
def test_strips_unravelled_and_measured(names: tuple[str, ...], row: str, measured_in: float) -> None:
    gauge = model_gauge(row, 5.0, WORSTED.tex)
    count = round(127.0 / gauge.width_mm)
    assert_inside(dict.fromkeys(names, count), gauge, measured_in * METRES_PER_INCH)


def test_a_corner_to_corner_swatch_unravelled() -> None:
    # Source: bluefrogcreek.com corner-to-corner guide: 25 blocks of 19.05 mm took 516 in.
    gauge = Gauge("dc", 100 / 6.35, 100 / 12.7)
    assert_inside({"dc": 75, "ch": 75, "sl st": 25}, gauge, 516 * METRES_PER_INCH)


# Source: a craft magazine's swatch experiment: 20 x 20 stitches in a chunky wool of 120 yd/100 g on
# 6 mm, in of width and height, grams. The fit calls these its misses: they used far less, so 95 %
# is asked for here.
@pytest.mark.parametrize(
    ("name", "wide_in", "high_in", "used_g"), [("sc", 6.25, 5.75, 19), ("hdc", 6.75, 9.25, 28)]
)
def test_chunky_wool_swatches_lie_inside_19_in_20(
    name: str, wide_in: float, high_in: float, used_g: float
) -> None:
    yarn = Yarn(120 * 0.9144, {"wool": 1.0})
    gauge = Gauge(name, 2000 / (wide_in * 25.4), 2000 / (high_in * 25.4))
    found = estimate({"": {name: 400}}, yarns={"": yarn}, gauge=gauge, extras={"": NO_ENDS}).colour("")
    used_m = used_g * yarn.metres_per_100g / 100
    assert abs(statistics.NormalDist(0, 1).inv_cdf(0.975) * found.sigma) >= abs(
        _log_ratio(found.metres.median, used_m)
    )


def test_yarn_per_area_is_nearly_the_same_in_all_plain_stitches() -> None:
    # Source: windchilde.com squares: hdc 1.02 and dc 1.01 of sc; re-made swatch at thesnugglery.net: dc 0.84.
    areas = {}
    for name in ("sc", "hdc", "dc"):
        gauge = model_gauge(name, 5.0, WORSTED.tex)
        tally = tally_for_area(name, 1270.0, 1270.0, gauge)
        areas[name] = estimate({"": tally}, yarns={"": WORSTED}, gauge=gauge).metres.median
    assert 0.84 <= areas["hdc"] / areas["sc"] <= 1.02
    assert 0.84 <= areas["dc"] / areas["sc"] <= 1.02


# Source: medians of 1,376 published gauges: m/100 g, hook mm, stitch, width mm, row mm.
@pytest.mark.parametrize(
    ("length", "hook_mm", "name", "width_mm", "row_mm"),
    [
        (250, 4.0, "sc", 6.0, 5.2),
        (168, 5.0, "sc", 7.8, 6.8),
        (168, 5.0, "hdc", 7.8, 10.2),
        (168, 5.0, "dc", 7.8, 14.5),
        (116, 6.0, "sc", 8.5, 7.8),
        (116, 6.0, "dc", 8.5, 15.6),
        (70, 8.0, "sc", 12.7, 11.3),
    ],
)
def test_modelled_gauge_is_near_the_published_median(
    length: float, hook_mm: float, name: str, width_mm: float, row_mm: float
) -> None:
    gauge = model_gauge(name, hook_mm, 100_000 / length)
    assert gauge.rows_per_100mm is not None
    assert gauge.width_mm == pytest.approx(width_mm, rel=0.15)
    assert 100 / gauge.rows_per_100mm == pytest.approx(row_mm, rel=0.15)


def assert_inside(tally: dict[str, int], gauge: Gauge, measured_m: float) -> None:
    found = estimate({"": tally}, yarns={"": WORSTED}, gauge=gauge, extras={"": NO_ENDS}).metres
    assert found.low <= measured_m <= found.high, found


def _log_ratio(predicted_m: float, used_m: float) -> float:
    return math.log(predicted_m / used_m)
