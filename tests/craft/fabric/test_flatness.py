"""Flatness against the flat-circle rule and published combinations that are worked flat."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.fabric.flatness import Band, Flatness, WhyOpen, band_of, drift_of, flatness_of
from craft.fabric.gauge import Gauge
from tests.craft.fabric.plain_parts import disc, of_counts, part

SQUARE = Gauge(6.25, 6.25, in_round=True)  # 16 x 16 to 10 cm


def per_10_cm(stitches: float, rows: float, stitch: str = "sc") -> Gauge:
    return Gauge(100 / stitches, 100 / rows, stitch, in_round=True)


def judged(text: str, gauge: Gauge = SQUARE) -> Flatness:
    found = flatness_of(part(text, gauge))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("stitches", "rows", "stitch", "usual"),
    [
        (16, 16, "sc", 6.28), (14, 16, "sc", 5.50), (12, 13, "sc", 5.80), (16, 12, "hdc", 8.38),
        (16, 8.5, "dc", 11.83), (14, 7, "dc", 12.57), (14, 5, "tr", 17.59),
    ],
)  # fmt: skip
def test_the_rate_that_lies_flat(stitches: float, rows: float, stitch: str, usual: float) -> None:
    # exact rates of trade notes section 3.3: 2 pi x stitch gauge / row gauge
    found = judged(disc(5, round(usual), stitch), per_10_cm(stitches, rows, stitch))
    assert found.usual == pytest.approx(usual, abs=0.01)


@pytest.mark.parametrize(
    ("added", "stitch", "gauge", "index", "band"),
    [
        # six a round in sc is the common rule (standards section 6b) and lies flat in practice
        (6, "sc", per_10_cm(16, 16), 0.955, Band.FLAT),
        # the commonest worsted gauge with six a round, worked flat (trade notes section 3.3)
        (6, "sc", per_10_cm(13, 15), 1.10, Band.FLAT),
        # hdc with ten a round, worked flat by 41 of 60 published patterns (standards.proportions)
        (10, "hdc", per_10_cm(16, 12.3, "hdc"), 1.22, Band.MAY_WAVE),
        # eight a round in square sc is the documented ruffle (stitchwhisperdesigns.com, will it lie flat)
        (8, "sc", per_10_cm(16, 16), 1.273, Band.RUFFLES),
        (12, "dc", per_10_cm(16, 8.5, "dc"), 1.014, Band.FLAT),
        (5, "sc", per_10_cm(16, 16), 0.796, Band.BOWL),
    ],
)
def test_ordinary_work_is_not_condemned_and_ruffles_are_seen(
    added: int, stitch: str, gauge: Gauge, index: float, band: Band
) -> None:
    found = judged(disc(8, added, stitch), gauge)
    assert found.index == pytest.approx(index, abs=0.01)
    assert found.band is band
    assert found.why_open is None


@pytest.mark.parametrize(
    ("index", "band"),
    [
        (0.79, Band.BOWL), (0.80, Band.CUPS), (0.899, Band.CUPS), (0.90, Band.FLAT), (1.15, Band.FLAT),
        (1.151, Band.MAY_WAVE), (1.25, Band.MAY_WAVE), (1.251, Band.RUFFLES),
    ],
)  # fmt: skip
def test_the_bands_are_ours_and_stand_where_the_notes_put_them(index: float, band: Band) -> None:
    assert band_of(index) is band


def test_the_cone_that_too_few_stitches_make() -> None:
    # half-angle arcsin(N / N0): 6 -> 73, 5 -> 53 degrees (standards section 6c)
    assert judged(disc(8, 6)).half_angle == pytest.approx(72.7, abs=0.2)
    assert judged(disc(8, 5)).half_angle == pytest.approx(52.7, abs=0.3)


def test_judged_from_the_size_reached_not_from_one_round() -> None:
    # 6, 12, 18, then a round of 27: a leap in one round alone
    found = judged(of_counts([6, 12, 18, 27, 30, 36, 42, 48]))
    assert found.rounds[3].index > 1.0
    assert found.band is Band.FLAT


def test_nothing_is_said_of_two_rounds_or_of_a_tube() -> None:
    assert flatness_of(part(of_counts([6, 12]), SQUARE)) is None
    tube = "Ch 40, join with sl st to form a ring.\nRnds 1-9: Sc in each st around. (40)\n"
    assert flatness_of(part(tube, SQUARE)) is None


def test_the_wall_of_a_basket_is_not_part_of_its_base() -> None:
    found = judged(of_counts([6, 12, 18, 24, 30, 36, 36, 36, 36, 36, 36]))
    assert [each.level.number for each in found.rounds] == [1, 2, 3, 4, 5, 6]
    assert found.band is Band.FLAT


def test_an_oval_has_its_straight_sides_taken_off() -> None:
    text = (
        "Ch 21.\nRnd 1: Sc in 2nd ch from hook, sc in next 18 ch, 3 sc in last ch; working along other side "
    )
    text += "of chain, sc in next 18 ch, 2 sc in last ch. (42)\n"
    for number in range(2, 7):
        plain = f"sc in next {number - 2} sts, " if number > 2 else ""
        inc = f"[{plain}2 sc in next st]"
        text += (
            f"Rnd {number}: {inc} once, sc in next 18 sts, {inc} 3 times, sc in next 18 sts, {inc} 2 times.\n"
        )
    found = judged(text)
    assert found.band is Band.FLAT
    assert found.grows == pytest.approx(6.0)
    # without the straight sides 72 stitches on six rounds would be called a ruffle
    assert found.rounds[-1].level.around / (2 * math.pi * found.rounds[-1].distance) > 1.5


def test_a_square_from_the_middle_has_the_room_of_a_square() -> None:
    # 12 dc a round, 3 in each corner (standards section 6b): room 8 d, not 2 pi d
    text = "Rnd 1: Ch 3, 2 dc in ring, [ch 2, 3 dc in ring] 3 times, ch 2, join. (12 dc, 4 ch-2 sps)\n"
    text += "Rnd 2: Ch 3, dc in next 2 sts, [(2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 3 sts] 3 times, "
    text += "(2 dc, ch 2, 2 dc) in next ch-2 sp, join. (28 dc, 4 ch-2 sps)\n"
    text += "Rnd 3: Ch 3, dc in next 4 sts, [(2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 7 sts] 3 times, "
    text += "(2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 2 sts, join. (44 dc, 4 ch-2 sps)\n"
    found = judged("Ch 4, join with sl st to form a ring.\n" + text, per_10_cm(14, 7, "dc"))
    assert found.part.sides == 4
    last = found.rounds[-1]
    assert last.needs == pytest.approx(8 * last.distance)


@pytest.mark.parametrize(
    ("gauge", "why"),
    [
        (replace(SQUARE, in_round=False), WhyOpen.FLAT_GAUGE),
        (replace(SQUARE, in_round=None), WhyOpen.NOT_SAID),
        (replace(SQUARE, width_spread=0.18, height_spread=0.18), WhyOpen.ESTIMATE),
        (per_10_cm(16, 8.5, "dc"), WhyOpen.OTHER_STITCH),
    ],
)
def test_without_a_gauge_in_the_round_a_range_and_no_verdict(gauge: Gauge, why: WhyOpen) -> None:
    found = judged(disc(8, 6), gauge)
    assert (found.band, found.why_open) == (None, why)
    assert found.low < found.index < found.high
    assert Band.FLAT in found.bands


def test_chains_leave_the_verdict_open() -> None:
    text = "Rnd 1: 12 dc in a magic ring. (12)\n"
    text += "Rnd 2: *Dc in next st, ch 2; rep from * around. (12 dc, 12 ch-2 sps)\n"
    text += "Rnd 3: *3 dc in next ch-2 sp, ch 1; rep from * around. (36 dc, 12 ch-1 sps)\n"
    found = judged(text, per_10_cm(14, 7, "dc"))
    assert found.why_open is WhyOpen.LACE
    assert found.high == pytest.approx(found.index)


def test_rounds_after_a_gap_are_not_judged() -> None:
    found = judged(disc(4, 6) + "Rnd 5: Blorb the flange.\nRnd 6: Sc in each st around. (36)\n")
    assert [each.level.number for each in found.rounds] == [1, 2, 3, 4]


@settings(max_examples=30, deadline=None)
@given(added=st.integers(4, 14), width=st.floats(2, 15), tall=st.floats(0.6, 1.6), scale=st.floats(0.3, 4))
def test_the_index_does_not_change_with_the_scale_and_grows_with_the_stitches(
    added: int, width: float, tall: float, scale: float
) -> None:
    gauge = Gauge(width, width * tall, in_round=True)
    large = Gauge(width * scale, width * tall * scale, in_round=True)
    found = flatness_of(part(disc(4, added), gauge))
    if found is None:  # so few stitches for their height that it is no disc
        return
    again, more = flatness_of(part(disc(4, added), large)), flatness_of(part(disc(4, added + 1), gauge))
    assert again is not None
    assert more is not None
    assert again.index == pytest.approx(found.index)
    assert more.index > found.index


# -------------------------------------------------------------------------- lean and drift


def test_spiral_sc_walks_half_a_stitch_a_round() -> None:
    # 20 rounds of sc = 10 stitches = 6.25 cm at 16 to 10 cm (trade notes section 3.6)
    found = drift_of(
        part("Rnd 1: 20 sc in a magic ring. (20)\nRnds 2-20: Sc in each st around. (20)\n", SQUARE)
    )
    assert found is not None
    assert (found.rounds, found.stitches, found.joined) == (20, 10.0, False)
    assert found.mm == pytest.approx(62.5)
    assert found.degrees == pytest.approx(26.6, abs=0.05)


@pytest.mark.parametrize(("height", "degrees"), [(6.25, 26.6), (1.5 * 6.25, 18.4), (2 * 6.25, 14.0)])
def test_lean_by_height(height: float, degrees: float) -> None:
    # arctan(0.5 width / height): 26.6, 18.4, 14.0 degrees (trade notes section 3.6)
    found = drift_of(part(of_counts([20, 20, 20, 20]), Gauge(6.25, height)))
    assert found is not None
    assert found.degrees == pytest.approx(degrees, abs=0.05)


def test_turning_each_round_undoes_the_lean() -> None:
    text = "Ch 20, join with sl st to form a ring.\nRnds 1-8: Ch 1, sc in each st around, join, turn. (20)\n"
    assert drift_of(part(text, SQUARE)) is None
