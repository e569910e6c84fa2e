"""Which cautions are due, and care that suits every fibre. Common practice, sources beside the rules."""

from decimal import Decimal

import pytest

from craft.standards.abbreviations import ABBREVIATIONS, MARKS, abbreviation
from craft.standards.care import CARE_WORDS, FIBRE_CARE, care_for, care_word
from craft.standards.cautions import CAUTION_RULES, PieceFacts, PieceKind, cautions_for
from craft.standards.fibres import FIBRES


def slugs(kind: PieceKind | frozenset[PieceKind], facts: PieceFacts) -> list[str]:
    return [caution.slug for caution in cautions_for(kind, facts)]


def test_a_baby_toy_with_eyes() -> None:
    # Source: 16 CFR 1501: a warning does not excuse a small part in a thing for under threes.
    due = slugs(PieceKind.TOY, PieceFacts(youngest_months=0, small_parts=True, stuffed=True))
    assert "small-parts-for-infants" in due
    assert "small-parts" not in due
    assert {"soft-toy-from-birth", "stuffing-closed", "cot", "baby-ends"} <= set(due)


def test_a_toy_for_a_schoolchild_with_eyes_gets_the_age_line() -> None:
    due = slugs(PieceKind.TOY, PieceFacts(youngest_months=72, small_parts=True))
    assert due == ["small-parts", "soft-toy-from-birth", "local-rules"]


def test_small_parts_are_asked_for_when_not_known() -> None:
    assert "small-parts-unknown" in slugs(PieceKind.TOY, PieceFacts())
    assert "small-parts-unknown" in slugs(PieceKind.BLANKET, PieceFacts(youngest_months=6))
    assert "small-parts-unknown" not in slugs(PieceKind.TOY, PieceFacts(small_parts=False))


# Source: Finnish Safety Agency on EN 14682: none at hood or neck to 7 years; shorter ends to 14.
@pytest.mark.parametrize(
    ("months", "slug"), [(6, "clothing-cord"), (83, "clothing-cord"), (84, "older-child-cord")]
)
def test_ties_on_children_clothes(months: int, slug: str) -> None:
    facts = PieceFacts(youngest_months=months, small_parts=False, longest_cord_mm=Decimal(300))
    assert slug in slugs(PieceKind.HAT, facts)


def test_no_cord_caution_for_an_adult() -> None:
    assert slugs(PieceKind.HAT, PieceFacts(longest_cord_mm=Decimal(300))) == []


@pytest.mark.parametrize(("length_mm", "due"), [(220, False), (221, True)])
def test_toy_cords_over_220_mm(length_mm: int, *, due: bool) -> None:
    # Source: EN 71-1:2005+A8, 5.4, as quoted: free length at most 220 mm.
    facts = PieceFacts(small_parts=False, longest_cord_mm=Decimal(length_mm))
    assert ("toy-cord" in slugs(PieceKind.TOY, facts)) is due


@pytest.mark.parametrize(
    ("fibres", "slug"),
    [
        ({"cotton": 0.9, "polyester": 0.1}, "heat-synthetic"),
        ({}, "heat-fibre-unknown"),
    ],
)
def test_anything_that_melts_is_kept_from_heat(fibres: dict[str, float], slug: str) -> None:
    assert slug in slugs(PieceKind.KITCHEN, PieceFacts(fibres=fibres))


def test_a_cotton_pot_holder_still_says_how_to_use_it() -> None:
    assert slugs(PieceKind.KITCHEN, PieceFacts(fibres={"cotton": 1.0})) == ["heat-use", "local-rules"]


def test_hanging_load_is_asked_for_until_tested() -> None:
    assert slugs(PieceKind.HANGING, PieceFacts()) == ["hanging-load", "hanging-place", "local-rules"]
    tested = PieceFacts(load_tested_kg=Decimal(4))
    assert slugs(PieceKind.HANGING, tested) == ["hanging-place", "local-rules"]


def test_long_making_minds_the_hands_without_law() -> None:
    assert slugs(PieceKind.HOME, PieceFacts(making_minutes=60)) == ["hands"]
    assert slugs(PieceKind.HOME, PieceFacts(making_minutes=59)) == []


def test_made_for_play_is_a_toy_whatever_it_is_called() -> None:
    # Source: guidance to Directive 2009/48/EC as quoted: a disclaimer does not turn a soft toy into
    # a non-toy.
    assert "soft-toy-from-birth" in slugs(PieceKind.HOME, PieceFacts(for_play=True, small_parts=False))


def test_a_piece_of_two_kinds_gets_both() -> None:
    both = frozenset({PieceKind.BAG, PieceKind.KITCHEN})
    assert {"bag-load", "heat-fibre-unknown"} <= set(slugs(both, PieceFacts()))


def test_slugs_are_unique_and_sentences_end() -> None:
    names = [rule.slug for rule in CAUTION_RULES]
    assert len(names) == len(set(names))
    assert all(rule.sentence.endswith(".") for rule in CAUTION_RULES)


def test_the_strictest_fibre_sets_the_care() -> None:
    chosen = [word.slug for word in care_for(["cotton", "wool"])]
    assert chosen == ["wash-hand", "bleach-not", "dry-flat", "iron-cool", "professional-mild"]


def test_the_ball_band_wins_over_the_usual_care() -> None:
    assert care_for(["wool"], band=["wash-30-mild"])[0] == care_word("wash-30-mild")


def test_order_is_wash_bleach_dry_iron_professional() -> None:
    # Source: ISO 3758:2012, order of its scope; SGS SafeGuardS 074/18 on ASTM D5489-18.
    order = [word.operation for word in care_for(["silk"])]
    assert order == ["wash", "bleach", "dry", "iron", "professional"]


def test_every_fibre_has_care_and_every_care_exists() -> None:
    known = {word.slug for word in CARE_WORDS}
    assert set(FIBRE_CARE) == {each.name for each in FIBRES}
    assert all(slug in known for row in FIBRE_CARE.values() for slug in row)


def test_case_tells_a_colour_from_a_ring() -> None:
    # Source: Craft Yarn Council list (MC main colour) and pollyplum.com (mc magic circle).
    main, ring = abbreviation("MC"), abbreviation("mc")
    assert main is not None
    assert ring is not None
    assert (main.meaning, ring.short) == ("main colour", "mc")
    assert abbreviation("SL ST") == abbreviation("sl st")
    assert abbreviation("xyz") is None


def test_abbreviations_are_unique() -> None:
    names = [name for each in ABBREVIATIONS for name in (each.short, *each.also)]
    assert len(names) == len(set(names))
    assert all(mark.meanings and mark.source for mark in MARKS)
