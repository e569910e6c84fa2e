"""Where stitches lie: rounds about their middle, rows above each other, stitches over their feet."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, hypot, pi

import pytest
from hypothesis import given, settings

from craft.charting.corners import corners_of
from craft.charting.layout import lay_out, only
from craft.charting.model import Course, Placed, Point, Role, Start
from craft.charting.sheets import LARGEST_MM, OVERLAP, SMALLEST_MM, sheets_of
from tests.craft.charting.hand import Hand
from tests.craft.charting.written import FANS, GRANNY, HEXAGON, OVAL, SCARF, YOKE, piece, rounds

DISC = "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n" + "".join(
    f"Rnd {n}: [Sc in next {n - 2} sts, 2 sc in next st] 6 times. ({6 * n})\n" for n in range(3, 9)
)


def tops(placed: Placed, course: Course) -> list[Point]:
    return [
        placed.marks[i].top
        for i in range(course.start, course.stop)
        if placed.piece.signs[i].role is Role.STITCH
    ]


def courses(placed: Placed) -> Iterator[Course]:
    return (course for course in placed.piece.courses if course.number is not None)


def test_rounds_of_a_disc_are_circles_and_stitches_evenly_spaced() -> None:
    placed = lay_out(piece(DISC))
    for course in courses(placed):
        points = tops(placed, course)
        radii = [hypot(*point) for point in points]
        assert max(radii) - min(radii) < 0.3
        steps = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
        assert max(steps) < 2 * min(steps)
    assert placed.ring is not None
    assert placed.piece.start is Start.RING


@given(rounds())
@settings(max_examples=15, deadline=None)
def test_a_round_goes_once_around_anticlockwise(text: str) -> None:
    placed = lay_out(piece(text))
    for course in courses(placed):
        points = tops(placed, course)
        turns = [(atan2(-b[1], b[0]) - atan2(-a[1], a[0])) % (2 * pi) for a, b in pairwise(points)]
        assert sum(turns) < 2 * pi + 1e-6


def test_increases_stand_over_the_stitch_that_they_share() -> None:
    placed = lay_out(piece(DISC))
    for index, sign in enumerate(placed.piece.signs):
        if sign.shared == 2:
            (foot,), top = placed.marks[index].feet, placed.marks[index].top
            assert hypot(foot[0] - top[0], foot[1] - top[1]) < 2.2


def test_rows_go_to_and_fro_and_upwards() -> None:
    placed = lay_out(piece(FANS))
    ways = [tops(placed, course)[-1][0] > tops(placed, course)[0][0] for course in courses(placed)]
    assert ways == [False, True, False]  # row 1 runs from right to left
    heights = [sum(y for _, y in tops(placed, c)) / len(tops(placed, c)) for c in courses(placed)]
    assert heights == sorted(heights, reverse=True)
    numbers = [placed.numbers[course.key][0] > 0 for course in courses(placed)]
    assert numbers == [True, False, True]  # each number where its row begins


def test_a_fan_rises_from_one_stitch() -> None:
    placed = lay_out(piece(FANS))
    first = next(course for course in courses(placed))
    fan = [i for i in range(first.start, first.stop) if placed.piece.signs[i].shared == 7][:7]
    assert len({placed.marks[i].feet for i in fan}) == 1
    xs = [placed.marks[i].top[0] for i in fan]
    assert xs == sorted(xs, reverse=True)
    assert min(a - b for a, b in pairwise(xs)) > 0.5


def test_a_granny_square_is_square() -> None:
    square = piece(GRANNY)
    assert corners_of(square).number == 4
    box = lay_out(square).box
    assert box.width == pytest.approx(box.height, rel=0.12)
    placed = lay_out(square)
    last = square.courses[-1]
    far = [
        hypot(*placed.marks[i].top)
        for i in range(last.start, last.stop)
        if corners_of(square).of.get(i) is not None
    ]
    sides = [hypot(*point) for point in tops(placed, last)]
    assert len(far) == 8  # the two chains of each corner
    assert min(far) > sum(sides) / len(sides)


@pytest.mark.parametrize(("text", "number"), [(HEXAGON, 6), (DISC, 0), (OVAL, 0), (YOKE, 0)])
def test_corners_are_found_where_there_are_some(text: str, number: int) -> None:
    assert corners_of(piece(text)).number == number


def test_an_oval_has_straight_sides_and_its_handles_lie_outside_what_they_pass() -> None:
    placed = lay_out(piece(OVAL))
    assert placed.piece.start is Start.OVAL
    assert placed.box.width > placed.box.height + 3
    first = next(course for course in courses(placed))
    upper = [point for point in tops(placed, first) if point[1] < 0]
    lower = [point for point in tops(placed, first) if point[1] > 0]
    assert len(upper) == pytest.approx(len(lower), abs=3)
    handle = [i for i, sign in enumerate(placed.piece.signs) if sign.role is Role.CHAIN]
    assert len(handle) == 40
    assert all(placed.marks[i].room > 0.2 for i in handle)


@pytest.mark.parametrize("size", range(5))
def test_a_yoke_is_drawn_in_each_of_its_sizes(size: int) -> None:
    placed = lay_out(piece(YOKE, size))
    assert placed.piece.start is Start.CHAIN_RING
    assert sum(sign.role is Role.FOUNDATION for sign in placed.piece.signs) == 60 + 4 * size
    radii = [sum(hypot(*p) for p in tops(placed, c)) / len(tops(placed, c)) for c in courses(placed)]
    assert radii == sorted(radii)


def test_a_round_that_was_not_read_is_a_gap_and_the_work_goes_on_beyond_it() -> None:
    text = DISC.replace("Rnd 5: [Sc in next 3 sts, 2 sc in next st] 6 times.", "Rnd 5: Blorb the flange.")
    placed = lay_out(piece(text))
    (gap,) = [course for course in placed.piece.courses if course.gap]
    assert gap.number == 5
    assert set(placed.bands) == {gap.key}
    inner = max(hypot(*point) for point in placed.bands[gap.key].inner)
    outer = min(hypot(*point) for point in placed.bands[gap.key].outer)
    for course in courses(placed):
        radii = [hypot(*point) for point in tops(placed, course)]
        assert not radii or max(radii) < inner or min(radii) > outer


def test_one_repeat_has_its_bracket() -> None:
    placed = lay_out(piece(DISC))
    assert placed.repeats == 6
    first, last = placed.bracket[0], placed.bracket[-1]
    turn = (atan2(-last[1], last[0]) - atan2(-first[1], first[0])) % (2 * pi)
    assert turn == pytest.approx(2 * pi / 6, rel=0.2)
    assert min(hypot(*point) for point in placed.bracket) > max(hypot(*mark.top) for mark in placed.marks)


def test_chains_of_a_space_hang_in_an_arc_as_long_as_they_are() -> None:
    hand = Hand(Start.RING).course("round", "o:sc " * 6)
    placed = lay_out(hand.course("round", "sc ch ch ch ch ch " * 6).piece())
    chains = [i for i, sign in enumerate(placed.piece.signs) if sign.role is Role.CHAIN][:5]
    stitches = [hypot(*mark.top) for mark in placed.marks[6:] if placed.piece.signs[mark.sign].name == "sc"]
    middle = hypot(*placed.marks[chains[2]].top)
    assert middle > max(stitches)
    assert middle > hypot(*placed.marks[chains[0]].top)


def test_a_part_of_a_chart_keeps_its_places() -> None:
    placed = lay_out(piece(DISC))
    keys = frozenset(course.key for course in placed.piece.courses[:3])
    part = only(placed, keys)
    assert part.marks == placed.marks
    assert len(part.piece.courses) == 3
    assert part.box.width < placed.box.width


def test_nothing_is_laid_out_for_nothing() -> None:
    placed = lay_out(Hand(Start.RING).piece())
    assert placed.marks == ()
    assert placed.box.width > 0


# ---------------------------------------------------------------------------------- sheets of paper


def test_a_small_chart_goes_on_one_sheet_no_larger_than_need_be() -> None:
    placed = lay_out(piece(HEXAGON))
    (sheet,) = sheets_of(placed, 166, 226)
    assert sheet.width_mm <= placed.box.width * LARGEST_MM + 0.01
    assert (sheet.guides_x, sheet.guides_y) == ((), ())


def test_a_large_chart_is_cut_into_sheets_that_overlap_and_leave_nothing_out() -> None:
    placed = lay_out(piece(SCARF))
    sheets = sheets_of(placed, 60, 100)
    assert len(sheets) > 2
    assert all(sheet.width_mm <= 60.01 and sheet.height_mm <= 100.01 for sheet in sheets)
    assert all(sheet.width_mm / sheet.window.width == pytest.approx(SMALLEST_MM) for sheet in sheets)
    assert all(any(sheet.window.has(mark.top) for sheet in sheets) for mark in placed.marks)
    upper, lower = sheets[0].window, next(sheet.window for sheet in sheets if sheet.row == 2)
    assert upper.bottom - lower.top >= OVERLAP - 0.01
    assert [sheet.number for sheet in sheets] == list(range(1, len(sheets) + 1))


def test_neighbouring_sheets_share_their_guides() -> None:
    placed = lay_out(piece(SCARF))
    by_place = {(sheet.row, sheet.column): sheet for sheet in sheets_of(placed, 60, 100)}
    assert by_place[1, 1].guides_y[-1] == by_place[2, 1].guides_y[0]


EDGED = """Mat:
Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10)
Rows 2-8: Ch 1, turn, sc in each st across. (10)

Border:
Rnd 1: Ch 1, 3 sc in first st, sc in next 8 sts, 3 sc in last st, work 6 sc evenly along side, 3 sc in \
corner, 8 sc evenly along bottom, 3 sc in corner, 6 sc evenly along side, join with sl st in first sc. (40)
"""


def test_an_edging_goes_all_around_its_rows() -> None:
    placed = lay_out(piece(EDGED))
    rows = [point for course in courses(placed) if course.kind == "row" for point in tops(placed, course)]
    edging = [point for course in courses(placed) if course.kind == "round" for point in tops(placed, course)]
    assert len(edging) == 40
    left, right = min(x for x, _ in rows), max(x for x, _ in rows)
    high, low = min(y for _, y in rows), max(y for _, y in rows)
    assert all(not (left < x < right and high < y < low) for x, y in edging)
    assert sum(x < left for x, _ in edging) == pytest.approx(sum(x > right for x, _ in edging), abs=4)
    assert max(y for _, y in edging) > low
