"""Symbols: what stands for which stitch, and how many strokes it has.

Chart symbols of the Craft Yarn Council and JIS L 0201-1995 class 3 as the trade describes them: one slash
for each yarn over beyond the first, stems that meet for stitches worked together, a
filled dot for the slip stitch.
"""

from __future__ import annotations

import re

import pytest

from craft.charting.key import key_of, specimen
from craft.charting.model import Course, Into, Mark, Piece, Role, Sign, Start
from craft.charting.shapes import Body, SymbolSet, height_of, shape_of, width_of
from craft.charting.strokes import Pen, is_filled


def strokes(name: str, symbols: SymbolSet = SymbolSet.CYC, **more: str) -> int:
    """Strokes of a symbol standing alone."""
    one = specimen(Sign(name, Role.STITCH, Into.STITCH, (), **more))  # type: ignore[arg-type] # loops and post
    return Pen(symbols, 14).draw(one.sign, one.mark).count("M")


@pytest.mark.parametrize(("name", "slashes"), [("hdc", 0), ("dc", 1), ("tr", 2), ("dtr", 3), ("trtr", 4)])
def test_a_slash_for_each_yarn_over_beyond_the_first(name: str, slashes: int) -> None:
    assert shape_of(name).slashes == slashes
    assert strokes(name) == 2 + slashes  # stem, bar, slashes


def test_single_crochet_is_a_plus_or_a_cross() -> None:
    plus, cross = (
        Pen(each, 10).draw(Sign("sc", Role.STITCH), Mark(0, ((0, 0),), (0, -1), (1, 0))) for each in SymbolSet
    )
    upright = [float(x) for x in re.findall(r"(-?[\d.]+),", plus)]
    assert upright.count(0.0) == 2  # one stroke runs straight up
    assert all(abs(float(x)) > 1 for x in re.findall(r"(-?[\d.]+),", cross))
    assert strokes("sc") == strokes("sc", SymbolSet.JIS) == 2


@pytest.mark.parametrize(("name", "number"), [("sc2tog", 3), ("sc3tog", 4), ("dc2tog", 5), ("tr3tog", 10)])
def test_stitches_worked_together_meet_under_one_bar(name: str, number: int) -> None:
    assert strokes(name) == number


@pytest.mark.parametrize(
    ("name", "body", "stems"),
    [
        ("bobble", Body.LEAF, 5), ("4dc bobble", Body.LEAF, 4), ("3-dc cluster", Body.LEAF, 3),
        ("puff", Body.PUFF, 3), ("5 hdc puff", Body.PUFF, 5), ("popcorn", Body.POPCORN, 5),
        ("picot", Body.PICOT, 1), ("ch-3 picot", Body.PICOT, 1), ("wiggle", Body.UNKNOWN, 1),
    ],
)  # fmt: skip
def test_bundles_have_as_many_stems_as_their_name_says(name: str, body: Body, stems: int) -> None:
    assert (shape_of(name).body, shape_of(name).stems) == (body, stems)


def test_posts_and_loops_add_a_mark_at_the_foot() -> None:
    assert strokes("fpdc") == strokes("bpdc") == strokes("dc") + 1
    assert strokes("sc", loops="back") == strokes("sc", loops="front") == strokes("sc") + 1


def test_front_and_back_are_told_apart() -> None:
    pen = Pen(SymbolSet.CYC, 14)
    mark = Mark(0, ((0, 0),), (0, -2), (1, 0))
    front, back = (pen.draw(Sign(name, Role.STITCH), mark) for name in ("fpdc", "bpdc"))
    assert front != back
    loops = [pen.draw(Sign("sc", Role.STITCH, loops=each), mark) for each in ("front", "back")]
    assert loops[0] != loops[1]


def test_only_the_slip_stitch_is_filled() -> None:
    assert is_filled(Sign("sl st", Role.JOIN))
    assert not is_filled(Sign("ch", Role.CHAIN))


def test_heights_follow_the_trade() -> None:
    """Half double, double and treble as in craft.standards.terms: 1.40, 2.00, 2.85 single crochets."""
    assert [height_of(name) for name in ("sc", "hdc", "dc", "tr")] == [1.0, 1.4, 2.0, 2.85]
    assert width_of(shape_of("ch")) < width_of(shape_of("sc")) < width_of(shape_of("bobble"))


def test_every_sign_is_one_word_of_path_data() -> None:
    pen = Pen(SymbolSet.CYC, 14)
    for name in ("ch", "sl st", "sc", "dc", "fpdc", "dc3tog", "bobble", "puff", "popcorn", "picot", "esc",
                 "fsc", "rsc", "wiggle"):  # fmt: skip
        one = specimen(Sign(name, Role.STITCH, Into.STITCH, (), "back"))
        assert len(pen.draw(one.sign, one.mark).split()) == 1


def test_the_key_has_each_symbol_once_in_both_terms() -> None:
    signs = (
        Sign("ch", Role.FOUNDATION), Sign("ch", Role.STANDING), Sign("dc", Role.STITCH, colour="A"),
        Sign("dc", Role.STITCH, colour="B", shared=2), Sign("dc", Role.STITCH, loops="back"),
        Sign("sc2tog", Role.STITCH), Sign("fpdc", Role.STITCH), Sign("bobble", Role.STITCH),
    )  # fmt: skip
    piece = Piece("", Start.LINE, signs, (Course("0:0", "row", 1, 0, len(signs)),))
    found = {(entry.us, entry.uk): (entry.long_us, entry.long_uk, entry.number) for entry in key_of([piece])}
    assert found == {
        ("ch", "ch"): ("chain", "chain", 2),
        ("dc", "tr"): ("double crochet", "treble crochet", 2),
        ("dc blo", "tr blo"): (
            "double crochet in the back loop only", "treble crochet in the back loop only", 1,
        ),
        ("sc2tog", "dc2tog"): (
            "2 single crochet worked together", "2 double crochet worked together", 1,
        ),
        ("fpdc", "FPtr"): (
            "double crochet round the front post", "treble crochet round the front post", 1,
        ),
        ("bobble", "bobble"): ("bobble", "bobble", 1),
    }  # fmt: skip
