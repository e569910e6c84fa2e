"""US and UK terms, older print, house rules, and stitches that the pattern defines (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from tests.craft.notation.describe import lines, steps


@pytest.mark.parametrize(
    ("text", "terms", "known_by"),
    [
        ("US terms used.\nRow 1: dc in each st.", "us", "stated"),
        ("Terms: UK\nRow 1: dc in each st.", "uk", "stated"),
        ("Written in British crochet terms.\nRow 1: dc in each st.", "uk", "stated"),
        ("Row 1: sc in each st.", "us", "words"),
        ("Row 1: htr in each st.", "uk", "words"),
        ("Tension: 18 sts.\nRow 1: miss 2 sts, dc in each st.", "uk", "words"),
        ("Row 1: dc in each st.", None, "default"),
    ],
)
def test_terms(text: str, terms: str | None, known_by: str) -> None:
    draft = read(text)
    assert (draft.terms, draft.terms_from) == (terms, known_by)


def test_the_maker_is_believed_over_the_words() -> None:
    draft = read("Row 1: htr in each st.", terms="us")
    assert (draft.terms, draft.terms_from) == ("us", "asked")


@pytest.mark.parametrize(
    ("uk", "us"),
    [
        ("1 dc in next st.", "1 sc @ next 1 st"),
        ("1 htr in next st.", "1 hdc @ next 1 st"),
        ("1 tr in next st.", "1 dc @ next 1 st"),
        ("1 dtr in next st.", "1 tr @ next 1 st"),
        ("tr2tog over next 2 sts.", "1 dc2tog @ next 2 st"),
        ("fptr around next st.", "1 fpdc @ next 1 st"),
        ("1 treble crochet in next st.", "1 dc @ next 1 st"),
    ],
)
def test_uk_stitches_are_kept_by_their_us_names(uk: str, us: str) -> None:
    (line,) = lines(read(f"Row 1: {uk}", terms="uk"))
    assert steps(line.steps) == [us]


def test_a_double_crochet_of_a_uk_text_is_a_us_single_crochet() -> None:
    (line,) = lines(read("UK terms.\nRow 1: 1 dc in each st across. (20 dc)"))
    assert steps(line.steps) == ["1 sc @ each all st"]


def _defined(text: str) -> tuple[str, int, int]:
    (definition,) = read(text).definitions
    return definition.name, definition.stitch.uses, definition.stitch.makes


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (
            (
                "Abbreviations: 4tcl = (Yoh. Draw up a loop in next st. Yoh and draw through 2 loops "
                "on hook) 4 times. Yoh and draw through 5 loops on hook."
            ),
            ("4tcl", 4, 1),
        ),
        (
            (
                "Abbreviations: Pod = (Yoh and draw up a loop. Yoh and draw through 2 loops on hook) 5 "
                "times in indicated st. Yoh and draw through all loops on hook."
            ),
            ("pod", 1, 1),
        ),
        ("Special Stitches\nShell: 5 dc in one st.", ("shell", 1, 5)),
        ("Special Stitches\nV-stitch: (dc, ch 1, dc) in indicated st.", ("v-stitch", 1, 2)),
        ("Special Stitches\nPicot: ch 3, sl st in 3rd ch from hook.", ("picot", 0, 0)),
        ("Special Stitches\nPopcorn: 5 dc in same st, drop loop from hook, insert hook.", ("popcorn", 1, 1)),
        (
            (
                "Abbreviations: Cross = Worked over 3 sts: Skip next 2 sts. 1 dc in next st. Ch 1. "
                "1 dc in first skipped st."
            ),
            ("cross", 3, 2),
        ),
    ],
)
def test_definitions(text: str, found: tuple[str, int, int]) -> None:
    assert _defined(text) == found


def test_a_defined_name_is_read_in_the_work() -> None:
    text = (
        "Abbreviations: 4tcl = (Yoh. Draw up a loop in next st. Yoh and draw through 2 loops on hook) 4 "
        "times. Yoh and draw through 5 loops on hook.\n\n"
        "Row 2: 4tcl over next 4 sts. Ch 3. 4 tcl over next 4 sts."
    )
    (line,) = lines(read(text))
    assert steps(line.steps) == ["1 4tcl @ next 4 st", "ch 3", "1 4tcl @ next 4 st"]


def test_one_loop_may_be_part_of_the_name() -> None:
    text = "Abbreviations: Scb = Single crochet in back loop only\n\nRow 2: 1 scb in each st across."
    (line,) = lines(read(text))
    assert steps(line.steps) == ["1 sc @ each all st back"]


def test_a_stitch_may_be_named_where_it_is_first_made() -> None:
    text = "Rnd 2: (1 dc, ch 1, 1 dc) in next st - V-st made, ch 2; join.\nRnd 3: V-st in next ch-1 sp; join."
    _, second = lines(read(text))
    assert steps(second.steps)[0] == "1 v-st @ next 1 ch-sp1"


def test_a_note_about_the_turning_chain_is_a_rule_of_the_house() -> None:
    draft = read(
        "Notes: Ch 3 at beg of row counts as dc. Ch 1 does not count as a st.\n\nRow 1: dc in each st."
    )
    assert draft.rules.chain_counts == ((1, False), (3, True))


def test_rounds_in_a_spiral() -> None:
    assert read("Note: Work in continuous rounds, do not join.\n\nRnd 1: 6 sc in ring.").rules.joined is False
    assert read("Note: Join all rnds with sl st to first sc.\n\nRnd 1: 6 sc in ring.").rules.joined is True


def test_a_rule_said_once_and_throughout() -> None:
    draft = read(
        "Row 1: Ch 2 (counts as hdc here and throughout), hdc in each st.\nRow 2: Ch 2, hdc in each st."
    )
    assert draft.rules.chain_counts == ((2, True),)
