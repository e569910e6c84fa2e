"""A revision made ready to show."""

import pytest
from django.utils import translation

from patterns.edition import Edition, Item, edition, gauge_sentence
from patterns.models import Pattern, Revision
from patterns.revisions import UnknownSizeError

GAUGE = {"stitches_tenths": 135, "rows_tenths": 160, "over_mm": 100, "stitch": "sc", "in_round": None,
         "after_washing": None}  # fmt: skip


def rounds(shown: Edition) -> list[tuple[str, str, str]]:
    return [(item.label, item.body, item.count) for part in shown.parts for item in part.items]


def test_all_sizes_and_one(published: Revision) -> None:
    assert rounds(edition(published)) == [
        ("Rnd 1", "6 (8, 10) sc in a magic ring.", "6 (8, 10) sts"),
        ("Rnd 2", "2 sc in each st around.", "12 (16, 20) sts"),
    ]
    assert rounds(edition(published, "m")) == [
        ("Rnd 1", "8 sc in a magic ring.", "8 sts"),
        ("Rnd 2", "2 sc in each st around.", "16 sts"),
    ]


def test_a_size_that_is_not_there(published: Revision) -> None:
    with pytest.raises(UnknownSizeError):
        edition(published, "xl")


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({}, "13.5 sts and 16 rows of sc to 10 cm (4 in)"),
        ({"in_round": True, "after_washing": True},
         "13.5 sts and 16 rounds of sc to 10 cm (4 in), worked in the round, after washing"),
        ({"rows_tenths": None, "stitch": "", "in_round": False}, "13.5 sts to 10 cm (4 in), worked flat"),
        ({"over_mm": 50}, "13.5 sts and 16 rows of sc to 5 cm (2 in)"),
        ({"over_mm": 75}, "13.5 sts and 16 rows of sc to 7.5 cm (3 in)"),
    ],
)  # fmt: skip
def test_the_gauge_in_words(change: dict[str, object], sentence: str) -> None:
    assert gauge_sentence(GAUGE | change) == sentence
    assert gauge_sentence(None) == ""


def test_yarn_with_its_band_and_amounts(published: Revision) -> None:
    """A yard is 0.9144 m exactly, so 190 m are 208 yd."""
    (row,) = edition(published).yarns
    assert row.band == "Medium (4); 80% wool, 20% nylon; 100 g = 190 m (208 yd) a ball"
    assert [amount.size.label for amount in row.amounts] == ["S", "M", "L"]
    for amount in row.amounts:
        assert amount.likely_m <= amount.safe_m
        assert amount.safe_yd >= amount.safe_m / 0.9144


def test_hook_level_and_terms_in_words(published: Revision) -> None:
    shown = edition(published)
    assert (shown.hook, shown.terms, shown.level) == ("5 mm (US H-8)", "US terms", "")


def test_a_load_that_was_tested_is_printed(full_pattern: Pattern, publish: object) -> None:
    Pattern.objects.update(load_tested_g=4500, kind="bag", cautions="Mine first.")
    assert callable(publish)
    first, second, *_others = edition(publish(full_pattern)).cautions
    assert first == "Mine first."
    assert second.startswith("It held 4.5 kg hung overnight")


@pytest.mark.parametrize(
    ("label", "count", "css"),
    [
        ("Rnd 1", "6 sts", ""),
        ("Rnds 10–15 (16, 17)", "6 sts", "wide-label"),
        ("Rnd 1", "24 sc, 24 ch-5 sps", "long"),
        ("Rnd 1", "24 sc, 24 ch-5 sps, 12 shells, 6 picots", "below"),
    ],
)
def test_room_on_paper_goes_by_length(label: str, count: str, css: str) -> None:
    assert Item("round", "words", label, count).paper_css == css


def test_sentences_follow_the_language_in_force(published: Revision) -> None:
    with translation.override("en-gb"):
        assert edition(published).terms == "US terms"
