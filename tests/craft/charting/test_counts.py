"""Counts in a chart are those of the text: on the demo's patterns, on own ones, on a hundred drawn ones."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.charting import Piece, Role, Style, Words, from_plain, lay_out, shortened, svg_of, to_plain
from craft.charting.from_fabric import pieces_of
from craft.fabric import Fabric, work
from craft.notation import read
from tests.craft.charting.written import FANS, GRANNY, HEXAGON, OVAL, SCARF, YOKE, rounds, rows

DEMO = Path(__file__).parents[3] / "patterns" / "demo" / "texts"
SVG = "{http://www.w3.org/2000/svg}"


def drawn_in(svg: str) -> Counter[str]:
    """How many signs the file draws for each course: the words of its path data."""
    found: Counter[str] = Counter()
    for group in ET.fromstring(svg).iter(f"{SVG}g"):
        for path in group.iter(f"{SVG}path"):
            found[group.attrib["data-course"].removesuffix("-0")] += len(path.attrib["d"].split())
    return found


def named_in(piece: Piece) -> dict[str, Counter[str]]:
    """What each course is made of, by the names of the stitches; a foundation counts with its line."""
    found: dict[str, Counter[str]] = {}
    for course in piece.courses:
        names = Counter(sign.name for sign in piece.signs[course.start : course.stop])
        found.setdefault(course.key.removesuffix("-0"), Counter()).update(names)
    return found


def tallies(fabric: Fabric, size: int) -> dict[str, Counter[str]]:
    """What each round is made of, as the text comes to."""
    sized = ((worked.key, worked.per_size[size]) for worked in fabric.rounds)
    return {key: Counter(dict(one.tally)) for key, one in sized if one is not None}


def hold(text: str) -> int:
    """Hold every part and size of a text against its chart; how many signs were drawn."""
    fabric, number = work(read(text)), 0
    for size in range(max(len(fabric.draft.sizes), 1)):
        expected = tallies(fabric, size)
        for piece in pieces_of(fabric, size):
            placed = lay_out(piece)
            drawn, named = drawn_in(svg_of(placed, Words("a", "b"), Style())), named_in(piece)
            assert len(placed.marks) == len(piece.signs)
            for course in piece.courses:
                key = course.key.removesuffix("-0")
                assert named[key] == expected.get(key, Counter()), (key, text)
                assert drawn[key] == sum(named[key].values())
            number += len(piece.signs)
    return number


@pytest.mark.parametrize("name", sorted(path.stem for path in DEMO.glob("*.txt")))
def test_every_pattern_of_the_demo_is_drawn_stitch_for_stitch(name: str) -> None:
    assert hold((DEMO / f"{name}.txt").read_text()) > 100


@pytest.mark.parametrize("text", [GRANNY, FANS, HEXAGON, OVAL, YOKE, SCARF])
def test_lace_squares_ovals_and_sizes_are_drawn_stitch_for_stitch(text: str) -> None:
    assert hold(text) > 50


@given(st.one_of(rounds(), rows()))
@settings(max_examples=100, deadline=None)
def test_a_hundred_patterns_are_drawn_stitch_for_stitch(text: str) -> None:
    assert hold(text) > 0


@given(rows())
@settings(max_examples=8, deadline=None)
def test_totals_stand_with_their_courses(text: str) -> None:
    fabric = work(read(text))
    totals = {worked.key: one.total for worked in fabric.rounds if (one := worked.per_size[0])}
    (piece,) = pieces_of(fabric)
    assert {course.key: course.total for course in piece.courses if course.number is not None} == totals


def test_folded_courses_stay_counted() -> None:
    (whole,) = pieces_of(work(read(SCARF)))
    folded = shortened(whole)
    told = [course for course in folded.courses if course.repeated]
    assert [(course.label, course.like, len(course.repeated)) for course in told] == [("5–60", "3–4", 56)]
    keys = {key for course in folded.courses for key in (course.repeated or (course.key,))}
    assert keys == {course.key for course in whole.courses}
    by_key = {course.key: course for course in whole.courses}
    drawn = len(folded.signs) + sum(
        by_key[key].stop - by_key[key].start for course in told for key in course.repeated
    )
    assert drawn == len(whole.signs)


def test_what_stands_above_folded_courses_stands_on_stitches_like_those_below_it() -> None:
    (whole,) = pieces_of(work(read(SCARF)))
    folded = shortened(whole)
    last, above = folded.courses[-3], folded.courses[-1]
    feet = [sign.feet[0] for sign in folded.signs[above.start : above.stop] if sign.role is Role.STITCH]
    assert len(feet) == 23
    assert all(last.start <= foot < last.stop for foot in feet)
    assert feet == sorted(feet, reverse=True)  # the last row is turned


def test_a_short_piece_is_not_folded() -> None:
    (piece,) = pieces_of(work(read("\n".join(SCARF.split("\n")[:3]))))
    assert shortened(piece) is piece


@pytest.mark.parametrize("text", [GRANNY, OVAL, YOKE])
def test_a_piece_comes_back_from_plain_values_as_it_was(text: str) -> None:
    for piece in pieces_of(work(read(text))):
        assert from_plain(to_plain(piece)) == piece


def test_a_part_that_is_too_large_is_refused_unexpanded() -> None:
    text = "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: 5000 sc in each st around. (30000)\n"
    (piece,) = pieces_of(work(read(text)), most=20_000)
    assert (piece.refused, piece.signs) == (30_006, ())
