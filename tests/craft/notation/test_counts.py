"""Printed counts in all forms of the survey (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from tests.craft.notation.describe import count, lines, one, steps


@pytest.mark.parametrize(
    ("printed", "reads"),
    [
        ("(45 sc)", "45 sc"),
        ("(45 sts)", "45 total"),
        ("( 45 dc )", "45 dc"),
        ("(45sc)", "45 sc"),
        ("(45)", "45 total"),
        ("[45 sts]", "45 total"),
        ("[45]", "45 total"),
        ("{45 sts}", "45 total"),
        ("(45 dc, 9 ch-2 sps)", "45 dc, 9 ch-2 sp"),
        ("(9 sc + 9 shells)", "9 sc, 9 shell"),
        ("(45 sc and 9 loops)", "45 sc, 9 loop"),
        ("Turn. 45 dc.", "45 dc"),
        ("Join. 32 sc. 64 hdc and 96 dc.", "32 sc, 64 hdc, 96 dc"),
        ("= 45 sc", "45 sc"),
        ("= 45", "45 total"),
        ("– 45 hdc", "45 hdc"),
        ("—9 petals", "9 petal"),
        ("- 45 sts.", "45 total"),
        ("You should have 45 stitches.", "45 total"),
        ("(45 sc). Place marker.", "45 sc"),
        ("(45) Change to red.", "45 total"),
        ("—45 sc. Fasten off.", "45 sc"),
        ("(12 groups of 3 dc)", "12 group"),
    ],
)
def test_printed_counts(printed: str, reads: str) -> None:
    line = one(f"Rnd 4: sc in each st around. {printed}")
    assert count(line.stated) == reads
    assert steps(line.steps)[0] == "1 sc @ each all st"


def test_the_span_of_a_count_is_its_words() -> None:
    draft = read("Rnd 4: sc in each st around (45 sc).")
    stated = lines(draft)[0].stated
    assert stated is not None
    assert draft.text[stated.span.start : stated.span.end] == "(45 sc)"


def test_only_the_last_bracket_is_the_count() -> None:
    line = one("Rnd 3: (sc, inc) x 6 (18)")
    assert steps(line.steps) == ["([1 sc @ bare 1 st, 1 inc @ bare 1 st] x6"]
    assert count(line.stated) == "18 total"


def test_a_running_tally_is_kept_apart() -> None:
    line = one("Row 2: *sc in next sc; rep from * 9 times (19 sts so far), sc in last 5 sts (24 sc)")
    assert count(line.stated) == "24 sc"


def test_a_comment_is_no_count() -> None:
    assert one("Row 2: sc in each st across (this forms the rim).").stated is None


def test_a_bare_number_of_stitches_is_a_step_where_work_follows() -> None:
    line = one("Row 2: ch 1. 2 sc. Ch 1. 3 sc in next st.")
    assert steps(line.steps)[1] == "1 sc @ bare 2 st"
    assert line.stated is None


def test_whether_the_turning_chain_is_in_the_count() -> None:
    stated = one("Row 2: dc in each st across. (45 dc counting turning ch)").stated
    assert stated is not None
    assert stated.chain_included is True


def test_the_round_that_a_count_is_for() -> None:
    stated = one("Rows 2–5: Ch 1, sc2tog, sc in each st across, turn—25 sc at end of Row 5.").stated
    assert stated is not None
    assert (count(stated), stated.round_number) == ("25 sc", 5)


def test_counts_in_several_sizes() -> None:
    text = "Sizes: S (M, L)\nCh 41 (46, 51).\nRow 1: Sc in 2nd ch from hook and in each ch across. {}"
    for printed in ("40 (45, 50) sc.", "[40 (45, 50) sts]", "- 40 (45-50) sc", "(40, 45, 50 sc)"):
        line = lines(read(text.format(printed)))[-1]
        assert count(line.stated).startswith("40/45/50"), printed
