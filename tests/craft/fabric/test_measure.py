"""Sizes of worked parts against the geometry of the trade's worked examples."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.fabric import work
from craft.fabric.filled import filled_profile_of
from craft.fabric.measure import Gauge, measure
from craft.fabric.profile import profile_of
from craft.notation.tree import AsRound, How
from tests.craft.fabric.builder import (
    MAGIC_RING,
    NOWHERE,
    bare,
    ch,
    draft,
    every,
    inc,
    into,
    line,
    ring,
    row,
    times,
)
from tests.craft.fabric.plain_parts import disc, of_counts, worked

# Double cotton sc 12 x 13 to 10 cm: tech_editing section 3.7
BASKET = Gauge(100 / 12, 100 / 13)


def base(rounds: int) -> list[object]:
    lines = [line(1, MAGIC_RING, ring("sc", 6)), line(2, every(each=2))]
    return [*lines, *(line(n, times(6, bare(n - 2), inc())) for n in range(3, rounds + 1))]


def test_a_basket_base_of_thirteen_rounds_is_65_cm_round() -> None:
    # 13 rounds, 78 sts, fabric 65.0 cm: tech_editing section 3.7
    (part,) = measure(work(draft(*base(13))), BASKET)  # type: ignore[arg-type]  # lines
    assert part.shape == "disc"
    assert part.width == pytest.approx(650.0)
    assert part.diameter == pytest.approx(200.0)  # "base 20 cm": 13 rounds of 1/1.3 cm to each side
    assert part.height is None


def test_its_wall_of_twenty_rounds_is_15_cm_high() -> None:
    # 15 cm x 1.3 = 19.5, so 20 rounds: tech_editing section 3.7
    fabric = work(draft(*base(13), line(tuple(range(14, 34)), every())))  # type: ignore[arg-type]  # lines
    (part,) = measure(fabric, BASKET)
    assert part.shape == "tube"
    assert part.height == pytest.approx(20 / 13 * 100, rel=0.01)  # the first round also steps out a little
    assert not part.open_height


def test_a_ripple_of_forty_rows_is_flat() -> None:
    rows = [row(None, ch(31)), row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch"))]
    fabric = work(draft(*rows, row(tuple(range(2, 41)), every())))
    (part,) = measure(fabric, Gauge(5.0, 5.0))
    assert (part.shape, part.width, part.height, part.diameter) == ("flat", 150.0, 200.0, None)


def test_rows_of_dc_are_twice_as_high_as_sc() -> None:
    # dc 2 sc rows: the heights of craft.standards.terms; here one round of sc and two of dc
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", 40)), line((2, 3), every("dc"))))
    (part,) = measure(fabric, Gauge(5.0, 5.0))
    assert part.height == pytest.approx(25.0)


def test_without_a_gauge_it_is_an_estimate_and_says_so() -> None:
    (part,) = measure(work(draft(*base(3))))  # type: ignore[arg-type]  # lines
    assert part.estimated


def test_rows_until_it_measures_leave_the_height_open() -> None:
    fabric = work(
        draft(
            line(1, MAGIC_RING, ring("sc", 24)),
            line(2, every()),
            line(None, AsRound((2,), NOWHERE, until="until it measures 10 cm")),
        )
    )
    (part,) = measure(fabric, Gauge(5.0, 5.0))
    assert part.open_height


def test_a_part_that_was_not_worked_has_no_size() -> None:
    assert measure(work(draft(line(1, every()))), Gauge(5.0, 5.0)) == ()


# ------------------------------------------------------- the trade's worked examples, from text


def lengths(text: str, gauge: Gauge, size: int = 0, *, stuffed: bool = False) -> dict[str, float]:
    """Lengths of the first part in cm, by name."""
    shape = filled_profile_of if stuffed else profile_of
    found = next(each for each in measure(worked(text), gauge, shape=shape) if each.size == size)
    return {each.what.value: round(each.mm / 10, 2) for each in found.lengths}


HAT_GAUGE = Gauge(100 / 16, 100 / 12, "hdc")


def hat(crown: int, plain: int) -> str:
    first, last = crown + 1, crown + plain
    return disc(crown, 8, "hdc") + f"Rnds {first}-{last}: Hdc in each st around. ({8 * crown})\n"


@pytest.mark.parametrize(
    ("crown", "around"), [(6, 30.0), (7, 35.0), (8, 40.0), (9, 45.0), (10, 50.0), (11, 55.0)]
)
def test_hats_by_crown_rounds(crown: int, around: float) -> None:
    # hdc 16 x 12, 8 a round: trade notes section 3.2, table
    assert lengths(hat(crown, 4), HAT_GAUGE)["circumference"] == around


def test_a_hat_is_as_deep_as_crown_and_wall_together() -> None:
    # crown radius 8.3 cm and 17 rounds, 14.1 cm: 22.4 (trade notes section 3.2)
    assert lengths(hat(10, 17), HAT_GAUGE)["depth"] == pytest.approx(22.5, abs=0.05)


def test_a_sweater_half_by_the_base_rule() -> None:
    # 73 sts at 17 to 10 cm, twice: 85.9 cm (trade notes section 3.10, size XS)
    text = "Row 1: Ch 74, sc in 2nd ch from hook and in each ch across, turn. (73)\n"
    assert 2 * lengths(text, Gauge(100 / 17, 5))["width"] == pytest.approx(85.9, abs=0.05)


def test_size_by_size_each_is_measured_and_none_is_smaller_than_the_one_before() -> None:
    text = "Sizes: S (M, L)\nRnd 1: Ch 72 (80, 88), join with sl st to form a ring.\n"
    text += "Rnd 2: Ch 1, sc in each ch around, join. (72 (80, 88))\n"
    around = [lengths(text, Gauge(6.25, 6.25), size)["circumference"] for size in range(3)]
    assert around == [45.0, 50.0, 55.0]


def test_a_square_has_sides() -> None:
    text = "Ch 4, join with sl st to form a ring.\n"
    text += "Rnd 1: Ch 3, 2 dc in ring, [ch 2, 3 dc in ring] 3 times, ch 2, join."
    text += (
        "\nRnd 2: Ch 3, dc in next 2 sts, [(2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 3 sts] 3 times, "
    )
    text += "(2 dc, ch 2, 2 dc) in next ch-2 sp, join. (28 dc, 4 ch-2 sps)\n"
    found = lengths(text, Gauge(7, 14, "dc"))
    assert found["across"] == found["side"]
    assert found["side"] == pytest.approx(36 * 0.7 / 4, rel=0.15)


def test_handles_stand_away_from_the_body() -> None:
    text = "Ch 72, join with sl st to form a ring.\nRnds 1-4: Sc in each st around. (72)\n"
    text += (
        "Rnd 5: Sc in next 10 sts, ch 40, sk next 16 sts, sc in next 20 sts, ch 40, sk next 16 sts, sc in "
    )
    text += "next 10 sts. (40 sc, 80 ch)\nRnd 6: Sc in each st and ch around. (120)\n"
    assert lengths(text, Gauge(5, 5))["circumference"] == 36.0


def test_net_hangs_as_wide_as_what_it_hangs_from() -> None:
    text = "Ch 60, join with sl st to form a ring.\nRnd 1: Sc in each ch around. (60)\n"
    text += "Rnd 2: *Ch 5, sk next 2 sts, sc in next st; rep from * around. (20 sc, 20 ch-5 sps)\n"
    text += "Rnd 3: *Ch 5, sc in next ch-5 sp; rep from * around. (20 sc, 20 ch-5 sps)\n"
    found = lengths(text, Gauge(5, 5))
    assert found["circumference"] == 30.0
    # a loop of 25 mm over 15 mm hangs sqrt(12.5² - 7.5²) = 10 mm: twice, and one round of 5 mm
    assert found["height"] == pytest.approx(2.5)


def test_a_border_goes_round_all_four_sides() -> None:
    text = "Row 1: Ch 31, sc in 2nd ch from hook and in each ch across, turn. (30)\n"
    text += "Rows 2-30: Ch 1, sc in each st across, turn. (30)\nBorder\n"
    rows = lengths(text, Gauge(5, 5))
    assert (rows["width"], rows["length"]) == (15.0, 15.0)


def test_what_is_not_known_makes_lengths_at_least() -> None:
    text = disc(3, 6) + "Rnd 4: Blorb the flange.\nRnd 5: Sc in each st around. (24)\n"
    text += "Rnds 6-9: Sc in each st around. (24)\n"
    (found,) = measure(worked(text), Gauge(5, 5))
    assert [each.number for each in found.gaps] == [4, 5]
    assert found.height is None
    assert {each.what.value for each in found.lengths if each.at_least} == {"height", "depth"}


def test_filling_makes_a_toy_taller_than_its_flat_ends() -> None:
    text = of_counts([6, 12, 18, 24, 30, 36, *[36] * 6, 30, 24, 18, 12, 6])
    gauge = Gauge(100 / 22, 100 / 24)
    assert lengths(text, gauge, stuffed=True)["height"] > 1.1 * lengths(text, gauge)["height"]


def test_an_estimate_has_its_range() -> None:
    (found,) = measure(worked(disc(5, 6)))
    (across,) = found.lengths
    assert found.estimated
    assert across.low < across.mm < across.high


@settings(max_examples=25, deadline=None)
@given(stitches=st.floats(8, 30), rows=st.floats(8, 30), finer=st.floats(1.01, 2), counts=st.integers(4, 12))
def test_more_stitches_to_10_cm_make_a_smaller_piece(
    stitches: float, rows: float, finer: float, counts: int
) -> None:
    text = of_counts([counts, 2 * counts, 3 * counts, 3 * counts, 3 * counts])
    large = lengths(text, Gauge(100 / stitches, 100 / rows))
    small = lengths(text, Gauge(100 / stitches / finer, 100 / rows / finer))
    assert large.keys() == small.keys()
    assert all(small[name] <= large[name] for name in large)


@settings(max_examples=25, deadline=None)
@given(
    sizes=st.lists(st.integers(20, 200), min_size=2, max_size=4, unique=True).map(sorted),
    rows=st.integers(2, 9),
)
def test_a_size_with_more_stitches_is_no_smaller_in_anything(sizes: list[int], rows: int) -> None:
    first, *others = (str(size) for size in sizes)
    listed = f"{first} ({', '.join(others)})"
    text = f"Sizes: A ({', '.join('BCD'[: len(others)])})\n"
    text += f"Rnd 1: Ch {listed}, join with sl st to form a ring.\nRnd 2: Ch 1, sc in each ch around, join.\n"
    text += f"Rnds 3-{rows + 2}: Ch 1, sc in each st around, join.\n"
    by_size = [lengths(text, Gauge(5, 5), size) for size in range(len(sizes))]
    for smaller, larger in pairwise(by_size):
        assert smaller["circumference"] < larger["circumference"]
        assert all(smaller[name] <= larger[name] for name in smaller)
