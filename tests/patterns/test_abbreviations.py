"""The abbreviations that are used, and no others. Meanings: the trade's list in craft.standards."""

from collections.abc import Callable

import pytest

from patterns.checking import check
from patterns.freezing import freeze
from patterns.models import Pattern
from patterns.selectors import source_of


def used(pattern: Pattern) -> dict[str, str]:
    revision = freeze(pattern, check(source_of(pattern), pattern.terms))
    return {each["short"]: each["meaning"] for each in revision.facts["abbreviations"]}


def test_only_what_stands_in_the_rounds(pattern: Pattern) -> None:
    assert used(pattern) == {"rnd": "round", "sc": "single crochet", "st": "stitch"}


def test_two_words_plurals_and_capitals(make_pattern: Callable[..., Pattern]) -> None:
    text = "Rnd 1: Ch 4, join with sl st to form a ring; ch 3, 11 dc in ring; join. (12 sts)\n"
    assert set(used(make_pattern(text=text))) == {"ch", "dc", "rnd", "sl st", "st"}


def test_any_number_worked_together(make_pattern: Callable[..., Pattern]) -> None:
    text = (
        "Row 1: Ch 4, sc in 2nd ch from hook, sc in next 2 ch. (3 sts)\nRow 2: Ch 1, turn, sc3tog. (1 st)\n"
    )
    assert used(make_pattern(text=text))["sc3tog"] == "single crochet 3 stitches together"


def test_uk_terms_have_uk_meanings(make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(
        text="Rnd 1: 6 dc in a magic ring. (6 sts)\nRnd 2: 2 htr in each st around. (12 sts)\n"
    )
    Pattern.objects.filter(pk=pattern.pk).update(terms="uk")
    pattern.refresh_from_db()
    found = used(pattern)
    assert found["dc"] == "double crochet"
    assert found["htr"] == "half treble crochet"
    assert "sc" not in found


@pytest.mark.parametrize("word", ["between", "the", "m"])
def test_ordinary_words_are_no_abbreviations(word: str, make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(text=f"Rnd 1: 6 sc in a magic ring {word}. (6 sts)\n")
    assert word not in used(pattern)


def test_special_stitches_are_not_listed_twice(make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(
        text="Rnd 1: 6 sc in a magic ring. (6 sts)\nRnd 2: *Bo in next st; rep from * around. (6 sts)\n",
        special_stitches="bo: 5 dc in one place, closed together",
    )
    pattern.refresh_from_db()
    assert "bo" not in used(pattern)
    assert "dc" in used(pattern)
