"""What is written reads back as the same draft, in its own terms and through the other ones."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.notation import HouseStyle, read, same, write
from craft.notation.writing import without_spans
from craft.notation.writing.set_over import name_in, set_over

from .describe import lines, steps
from .test_any_text import PATTERN, WORDS
from .written_examples import LINES, SHAWL

TEXTS = [SHAWL, PATTERN, *(f"Row 4: {line}\n" for line in LINES), *(f"Rnd 4: {line}\n" for line in LINES)]


@pytest.mark.parametrize("text", TEXTS)
def test_reading_again_gives_the_same_draft(text: str) -> None:
    draft = read(text)
    assert without_spans(read(write(draft))) == without_spans(draft)


@pytest.mark.parametrize("text", TEXTS)
def test_to_the_other_terms_and_back_is_the_same_draft(text: str) -> None:
    draft = read(text)
    there = read(write(draft, terms="uk"))
    assert there.terms == "uk"
    assert same(read(write(there, terms="us")), draft)


@pytest.mark.parametrize("text", TEXTS)
def test_writing_twice_changes_nothing_more(text: str) -> None:
    once = write(read(text))
    assert write(read(once)) == once


def test_two_drafts_that_differ_in_one_number_are_not_the_same() -> None:
    assert not same(read("Rnd 1: 6 sc in ring (6)"), read("Rnd 1: 7 sc in ring (6)"))
    assert not same(read("Rnd 1: 6 sc in ring. Stuff."), read("Rnd 1: 6 sc in ring. Sew."))


def test_a_line_in_house_style() -> None:
    text = "3rd rnd: Ch 1. *1 sc in each of next 2 sc. 2 sc in next sc. Rep from * around. Join. 24 sc.\n"
    assert write(read(text)) == (
        "Rnd 3: Ch 1, *sc in next 2 sc, 2 sc in next sc; rep from * around. Join. (24 sc)\n"
    )


def test_uk_terms_name_themselves_and_use_their_own_words() -> None:
    text = "Rnd 2: Skip next st, dc2tog over next 2 sts, tr in next st, sl st in first st. (3 dc)\n"
    assert write(read(text), terms="uk") == (
        "Terms: UK (set over from US)\n"
        "Rnd 2: Miss next st, tr2tog over next 2 sts, dtr in next st. Join with ss to first st. (3 tr)\n"
    )


def test_what_a_text_says_of_its_terms_is_turned_with_them() -> None:
    text = "Written in UK terms.\n\nRnd 1: 6 dc in ring. (6 dc)\n"
    assert write(read(text), terms="us") == "Written in US terms.\n\nRnd 1: 6 sc in ring. (6 sc)\n"


def test_terms_that_were_asked_for_are_stated() -> None:
    draft = read("Rnd 1: 6 dc in ring.\n", terms="uk")
    assert write(draft).startswith("Terms: UK\n")
    assert same(read(write(draft)), draft)


def test_words_that_no_step_holds_stay() -> None:
    text = "Row 2: Sc loosely in each st across, then rest a while. Pull tightly. (12)\n"
    for word in ("loosely", "rest a while", "Pull tightly"):
        assert word in write(read(text))


def test_a_definition_is_set_over_with_its_lines() -> None:
    text = (
        "Abbreviations\n3-dc cl = (yo, insert hook in st, draw up a loop) 3 times, draw through all loops\n\n"
    )
    there = write(read(text + "Row 1: 3-dc cl in next st, dc in last st.\n"), terms="uk")
    assert "3-tr cl = (yo" in there
    assert "Row 1: 3-tr cl in next st, tr in last st." in there


@pytest.mark.parametrize(
    ("us", "uk"),
    [
        # The two systems' names: "Crochet hook, yarn and stitch conversions" (see craft.standards.terms)
        ("single crochet (sc)", "double crochet (dc)"),
        ("Half double crochet, HDC", "Half treble crochet, HTR"),
        ("double crochet, dc, dcs", "treble crochet, tr, trs"),
        ("treble, tr", "double treble, dtr"),
        ("dtr, sl st, ch 2", "trtr, sl st, ch 2"),
        ("fpdc, BPdc, sc2tog, scblo, fsc", "fptr, BPtr, dc2tog, dcblo, fdc"),
        ("Half Double Crochet", "Half Treble Crochet"),
        ("Color A, etc., hold yarn double", "Color A, etc., hold yarn double"),
        ("Desc scene discreet street", "Desc scene discreet street"),
    ],
)
def test_words_are_set_over_one_name_at_a_time(us: str, uk: str) -> None:
    assert set_over(us, of="us", to="uk") == uk
    assert set_over(uk, of="uk", to="us") == us


def test_names_in_uk_terms() -> None:
    assert [name_in("uk", name) for name in ("sc", "dc2tog", "fpdc", "inc", "bobble")] == [
        "dc",
        "tr2tog",
        "fptr",
        "inc",
        "bobble",
    ]


@given(st.lists(st.sampled_from(WORDS), max_size=60))
@settings(max_examples=40, deadline=None)
def test_any_words_of_the_trade_are_kept(words: list[str]) -> None:
    draft = read("Rnd 1: 6 sc in ring\n" + " ".join(words))
    assert without_spans(read(write(draft))) == without_spans(draft)


def test_the_forms_that_a_house_may_have() -> None:
    text = "Rnds 2-3: (sc 2, 2 sc in next st) 6 times. (24)\nRnd 4: skip next st, sl st in first st.\n"
    style = HouseStyle(round_word="Round", counts="dash", times="times", numbers="after", skip="sk")
    assert write(read(text), style=style) == (
        "Rounds 2-3: (sc 2, 2 sc in next st) 6 times. \u2014 24 sts.\n"
        "Round 4: Sk next st, sl st in first st.\n"
    )
    assert steps(lines(read(write(read(text), style=style)))[0].steps) == steps(lines(read(text))[0].steps)
