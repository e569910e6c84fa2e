"""What is frozen: words and counts of every line, facts, yarn by the stitches, the next version."""

from collections.abc import Callable
from typing import Any

import pytest

from craft.yardage import Gauge, Working, Yarn, estimate
from patterns.checking import check
from patterns.freezing import freeze, suggested_version
from patterns.freezing.estimate import _minutes
from patterns.freezing.facts import special_stitches
from patterns.models import Kind, Notion, Pattern, PatternYarn, Revision
from patterns.selectors import source_of
from tests.patterns.examples import DISC


def frozen(pattern: Pattern) -> Revision:
    pattern.refresh_from_db()
    return freeze(pattern, check(source_of(pattern), pattern.terms))


def items(revision: Revision) -> list[dict[str, Any]]:
    return [item for section in revision.rounds["sections"] for item in section["items"]]


def test_every_line_has_label_words_count_and_totals(pattern: Pattern) -> None:
    first, second, third = items(frozen(pattern))
    assert (first["label"], first["body"]) == ("Rnd 1", "6 sc in a magic ring.")
    assert [item["count"] for item in (first, second, third)] == ["6 sts", "12 sts", "18 sts"]
    assert third["totals"] == [[18]]
    assert third["body"] == "[Sc in next st, 2 sc in next st] 6 times."
    assert frozen(pattern).rounds["sections"][0]["title"] == "Disc"


def test_a_count_that_is_not_printed_is_filled_in(make_pattern: Callable[..., Pattern]) -> None:
    bare = make_pattern(text="Rnd 1: 6 sc in a magic ring.\nRnd 2: 2 sc in each st around.\n")
    assert [item["count"] for item in items(frozen(bare))] == ["6 sts", "12 sts"]


def test_sizes_are_kept_by_key_and_counts_in_their_order(full_pattern: Pattern) -> None:
    revision = frozen(full_pattern)
    assert revision.rounds["sizes"] == ["s", "m", "l"]
    assert items(revision)[1]["totals"] == [[12, 16, 20]]
    assert items(revision)[1]["count"] == "12 (16, 20) sts"
    assert revision.rounds["tally"] == {"s": {"sc": 18}, "m": {"sc": 24}, "l": {"sc": 30}}


def test_notes_between_the_rounds_stay_in_their_place(make_pattern: Callable[..., Pattern]) -> None:
    text = DISC + "Stuff the disc lightly.\nRnd 4: Sc in each st around. (18 sts)\n"
    assert [item["what"] for item in items(frozen(make_pattern(text=text)))] == [
        "round", "round", "round", "note", "round",
    ]  # fmt: skip


def test_yarn_is_estimated_from_the_stitches_the_gauge_and_the_ball(full_pattern: Pattern) -> None:
    """Against craft.yardage asked directly: no number is typed twice."""
    entry = frozen(full_pattern).estimate["yarn"]["l"][0]
    answer = estimate(
        {"A": {"sc": 30}},
        yarns={"A": Yarn(190.0, {"wool": 0.8, "nylon": 0.2}, 100.0)},
        gauge=Gauge("sc", 14.0, 16.0, in_rounds=True),
        hook_mm=5.0,
        working=Working(),
    ).colour("A")
    assert entry["likely_mm"] == pytest.approx(answer.metres.median * 1000, abs=1)
    assert entry["safe_mm"] == pytest.approx(answer.safe_m * 1000, abs=1)
    assert entry["balls"] == answer.balls == 1
    assert entry["low_mm"] < entry["likely_mm"] < entry["safe_mm"]


def test_without_a_yarn_of_the_shelf_nothing_is_guessed(pattern: Pattern) -> None:
    PatternYarn.objects.create(pattern=pattern, key="A", description="any worsted")
    assert frozen(pattern).estimate["yarn"] == {"one": []}


def test_colours_go_to_their_yarns(make_pattern: Callable[..., Pattern], yarn: object) -> None:
    text = (
        "Rnd 1: With A, 6 sc in a magic ring. (6 sts)\nRnd 2: With white, 2 sc in each st around. (12 sts)\n"
    )
    pattern = make_pattern(text=text, hook_um=5000)
    for key, colour in (("A", "Harbour"), ("B", "White")):
        PatternYarn.objects.create(pattern=pattern, key=key, yarn=yarn, colour=colour)
    revision = frozen(pattern)
    assert [each["key"] for each in revision.estimate["yarn"]["one"]] == ["A", "B"]
    assert revision.estimate["spare"] == {}


def test_time_is_counted_stitch_by_stitch() -> None:
    """Fourteen single crochet and ten double a minute: PACE_PER_MINUTE of craft.costing.time."""
    assert _minutes({"sc": 140, "dc": 20}) == 12
    assert _minutes({}) == 0


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("bobble (bo): 5 dc in one place", [{"name": "bobble (bo)", "how": "5 dc in one place"}]),
        ("V-st = dc, ch 1, dc", [{"name": "V-st", "how": "dc, ch 1, dc"}]),
        ("shell: 5 dc\n in one st", [{"name": "shell", "how": "5 dc in one st"}]),
        ("Work loosely", [{"name": "", "how": "Work loosely"}]),
        ("", []),
    ],
)
def test_special_stitches_are_told_name_from_way(words: str, found: list[dict[str, str]]) -> None:
    assert special_stitches(words) == found


def test_cautions_fit_the_kind_and_never_ask_the_reader(pattern: Pattern) -> None:
    Pattern.objects.filter(pk=pattern.pk).update(kind=Kind.TOY, stuffed=True, small_parts=None)
    slugs = {caution["slug"] for caution in frozen(pattern).facts["cautions"]}
    assert {"soft-toy-from-birth", "stuffing-closed", "local-rules"} <= slugs
    assert "small-parts-unknown" not in slugs


def test_the_first_version_and_the_rules_for_the_next(full_pattern: Pattern) -> None:
    before = frozen(full_pattern)
    before.version = "1.4.2"
    assert suggested_version(None, before) == "1.0.0"
    Pattern.objects.filter(pk=full_pattern.pk).update(introduction="Another band.")
    assert suggested_version(before, frozen(full_pattern)) == "1.4.3"
    Pattern.objects.filter(pk=full_pattern.pk).update(gauge_stitch="hdc")
    assert suggested_version(before, frozen(full_pattern)) == "2.0.0", "other amounts of yarn"
    Pattern.objects.filter(pk=full_pattern.pk).update(gauge_stitch="sc", hook_um=5500)
    assert suggested_version(before, frozen(full_pattern)) == "1.5.0", "a measurement"
    Notion.objects.create(pattern=full_pattern, text="buttons", quantity=2)
    assert suggested_version(before, frozen(full_pattern)) == "2.0.0", "another thing to buy"
