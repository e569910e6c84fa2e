"""Sizes of worked parts against the geometry of the trade's worked examples."""

from __future__ import annotations

import math

import pytest

from craft.fabric import work
from craft.fabric.measure import Gauge, measure
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
    assert part.diameter == pytest.approx(650.0 / math.pi)
    assert part.height is None


def test_its_wall_of_twenty_rounds_is_15_cm_high() -> None:
    # 15 cm x 1.3 = 19.5, so 20 rounds: tech_editing section 3.7
    fabric = work(draft(*base(13), line(tuple(range(14, 34)), every())))  # type: ignore[arg-type]  # lines
    (part,) = measure(fabric, BASKET)
    assert part.shape == "tube"
    assert part.height == pytest.approx(20 / 13 * 100)
    assert not part.open_height


def test_a_ripple_of_forty_rows_is_flat() -> None:
    rows = [row(None, ch(31)), row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch"))]
    fabric = work(draft(*rows, row(tuple(range(2, 41)), every())))
    (part,) = measure(fabric, Gauge(5.0, 5.0))
    assert (part.shape, part.width, part.height, part.diameter) == ("flat", 150.0, 200.0, None)


def test_rows_of_dc_are_twice_as_high_as_sc() -> None:
    # hdc 1.4 and dc 2 sc rows: the heights of craft.standards.terms
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", 40)), line((2, 3), every("dc"))))
    (part,) = measure(fabric, Gauge(5.0, 5.0))
    assert part.height == pytest.approx(20.0)


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
