"""The file: safe XML without script or style, its words escaped, legible in grey."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from craft.charting import Style, Words, inks, lay_out, sheets_of, svg_of, symbol_svg
from craft.charting.inks import LEAST_CONTRAST, contrast_with_white
from craft.charting.key import key_of, specimen
from tests.craft.charting.written import GRANNY, HEXAGON, SCARF, piece

SVG = "{http://www.w3.org/2000/svg}"
NASTY = "\"><script>alert(1)</script> & 'onload=x"


def test_words_are_escaped_and_nothing_runs_or_styles() -> None:
    two = "Rnd 1: With A, 6 sc in magic ring. (6)\nRnd 2: With B, 2 sc in each st around. (12)\n"
    style = Style(inks=inks([("A", "#ffffff"), ("B", "")]), prefix="c", links={"0:0": NASTY})
    svg = svg_of(lay_out(piece(two)), Words(NASTY, NASTY, {}, NASTY), style)
    tree = ET.fromstring(svg)
    names = {element.tag.removeprefix(SVG) for element in tree.iter()}
    assert names <= {"svg", "title", "desc", "g", "path", "circle", "text", "a"}
    assert not any(key == "style" or key.startswith("on") for each in tree.iter() for key in each.attrib)
    assert tree.findtext(f"{SVG}title") == NASTY
    assert tree.attrib["role"] == "group"  # it holds links, which no image may


def test_a_drawing_without_links_is_one_image_with_its_words() -> None:
    tree = ET.fromstring(svg_of(lay_out(piece(HEXAGON)), Words("Hexagon", "Four rounds."), Style()))
    assert tree.attrib["role"] == "img"
    assert tree.attrib["aria-labelledby"] == "chart-title chart-desc"
    assert tree.findtext(f"{SVG}desc") == "Four rounds."


def test_each_course_has_its_number_its_key_and_its_link() -> None:
    placed = lay_out(piece(HEXAGON))
    links = {course.key: f"#words-{course.number}" for course in placed.piece.courses}
    tree = ET.fromstring(svg_of(placed, Words("a", "b"), Style(links=links)))
    groups = list(tree.iter(f"{SVG}g"))
    assert [group.attrib["data-course"] for group in groups] == ["0:0", "0:1", "0:2", "0:3"]
    assert [group.findtext(f"{SVG}a/{SVG}text") for group in groups] == ["1", "2", "3", "4"]
    assert [group.find(f"{SVG}a").attrib["href"] for group in groups] == [f"#words-{n}" for n in range(1, 5)]  # type: ignore[union-attr] # each has one


def test_a_sheet_draws_only_what_lies_on_it() -> None:
    placed = lay_out(piece(SCARF))
    sheets = sheets_of(placed, 60, 100)
    whole = svg_of(placed, Words("a", "b"), Style())
    one = svg_of(placed, Words("a", "b"), Style(), sheets[0], ("60mm", "100mm"))
    assert len(one) < len(whole) / 2
    tree = ET.fromstring(one)
    assert (tree.attrib["width"], tree.attrib["height"]) == ("60mm", "100mm")
    assert tree.find(f"{SVG}path[@class='chart-guide']") is not None


@pytest.mark.parametrize("colour", ["#ffffff", "#fff8dc", "#ffd700", "#24577a", "#000000", "#bfe3ff"])
def test_every_yarn_shows_on_white_paper(colour: str) -> None:
    """WCAG 2.2, 1.4.3: 4.5 : 1; its own examples: white on white 1 : 1, black on white 21 : 1."""
    ink = inks([("A", colour)])["A"]
    assert contrast_with_white(ink.hex_colour) >= LEAST_CONTRAST
    assert contrast_with_white("#ffffff") == pytest.approx(1.0)
    assert contrast_with_white("#000000") == pytest.approx(21.0)


def test_colours_are_told_apart_in_grey_by_letter_and_by_thickness() -> None:
    two = "Rnd 1: With A, 6 sc in magic ring. (6)\nRnd 2: With B, 2 sc in each st around. (12)\n"
    found = inks([("A", "#808080"), ("B", "#808080")])
    assert found["A"].weight != found["B"].weight
    tree = ET.fromstring(svg_of(lay_out(piece(two)), Words("a", "b"), Style(inks=found)))
    assert [text.text for text in tree.iter(f"{SVG}text")] == ["1 A", "2 B"]


def test_a_colour_that_is_no_colour_is_replaced() -> None:
    assert inks([("A", "red;}")])["A"].hex_colour.startswith("#")


def test_symbols_of_the_key_are_hidden_from_screen_readers() -> None:
    for entry in key_of([piece(GRANNY)]):
        tree = ET.fromstring(symbol_svg(specimen(entry.sign), Style()))
        assert tree.attrib["aria-hidden"] == "true"
        assert len(list(tree)) == 1
