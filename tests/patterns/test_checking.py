"""The door to the technical edit: remarks with their places in the field, counts by line, nothing raised."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft import notation
from craft.fabric.model import Verdict
from craft.techedit.finding import Level
from patterns.checking import check
from patterns.source import compose
from tests.patterns.examples import DISC, DISC_WRONG, THREE_SIZES


def test_a_right_text_agrees_line_by_line() -> None:
    checked = check(compose(DISC), "us")
    assert [(count.line, count.totals, count.verdict) for count in checked.rounds] == [
        (2, (6,), Verdict.AGREES),
        (3, (12,), Verdict.AGREES),
        (4, (18,), Verdict.AGREES),
    ]
    assert checked.blocking == ()


def test_a_count_that_differs_is_found_where_it_stands() -> None:
    checked = check(compose(DISC_WRONG), "us")
    (remark,) = checked.blocking
    assert remark.level is Level.ERROR
    assert (remark.line, remark.field) == (4, "text")
    assert "18" in remark.says
    assert "19" in DISC_WRONG[remark.start : remark.end]
    assert remark.rewrite is not None
    mended = DISC_WRONG[: remark.rewrite.start] + remark.rewrite.text + DISC_WRONG[remark.rewrite.end :]
    assert mended == DISC


def test_places_are_the_same_with_facts_above_the_text() -> None:
    bare = check(compose(DISC_WRONG), "us").blocking[0]
    headed = check(compose(DISC_WRONG, notes="Work in a spiral."), "us").blocking[0]
    assert (headed.line, headed.column, headed.start, headed.end) == (
        bare.line, bare.column, bare.start, bare.end,
    )  # fmt: skip
    assert headed.key == bare.key


def test_sizes_from_the_field_serve_the_text() -> None:
    checked = check(compose(THREE_SIZES, sizes=("S", "M", "L")), "us")
    assert checked.sizes == ("S", "M", "L")
    assert [count.totals for count in checked.rounds] == [(6, 8, 10), (12, 16, 20)]
    assert checked.blocking == ()


def test_a_size_with_a_dash_leaves_the_round_out() -> None:
    line = "Rnd 3: [Sc in next – (3, 4) sts, 2 sc in next st] – (4, 4) times. (– (20, 24) sts)\n"
    text = THREE_SIZES + line
    checked = check(compose(text, sizes=("S", "M", "L")), "us")
    assert checked.rounds[-1].totals == (None, 20, 24)
    assert checked.rounds[-1].verdict is Verdict.AGREES
    assert checked.blocking == ()


def test_what_is_set_aside_stays_aside_until_its_line_changes() -> None:
    remark = check(compose(DISC_WRONG), "us").blocking[0]
    reasons = [(remark.check, remark.words, "the last one is the join")]
    aside = check(compose(DISC_WRONG), "us", reasons)
    assert aside.blocking == ()
    assert aside.set_aside[0].aside == "the last one is the join"
    assert check(compose(DISC_WRONG.replace("6 times. (19", "6  times. (19")), "us", reasons).blocking == ()
    assert check(compose(DISC_WRONG.replace("(19 sts)", "(20 sts)")), "us", reasons).blocking != ()


def test_a_line_for_several_rounds_has_one_count() -> None:
    checked = check(compose(f"{DISC}Rnds 4–8: Sc in each st around. (18 sts)\n"), "us")
    last = checked.rounds[-1]
    assert (last.line, last.number, last.last_number, last.shown) == (5, 4, 8, "18")
    assert last.verdict is Verdict.AGREES


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   \n\n",
        "🧶🧶🧶",
        "Fry the onions in butter. Add 2 carrots (diced) and 1 litre of stock. Simmer 20 minutes.",
        "مرحبا",
        "Rnd",
        "((((((((((",
        "*" * 500,
    ],
)
def test_what_is_no_pattern_is_honestly_not_checked(text: str) -> None:
    checked = check(compose(text), "us")
    assert not checked.broken
    assert all(count.verdict is not Verdict.AGREES for count in checked.rounds)
    assert checked.blocking == ()


def test_should_the_edit_break_the_words_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(text: str, terms: str | None = None) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(notation, "read", breaks)
    text = f"Notes: a text of its own, that no other test has read.\n{DISC}"
    checked = check(compose(text), "us")
    assert checked.broken
    assert checked.source.text == text
    assert (checked.remarks, checked.rounds) == ((), ())


@settings(deadline=None, max_examples=60)
@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=300))
def test_no_text_breaks_it(text: str) -> None:
    checked = check(compose(text.replace("\r", "").replace("\0", "")), "us")
    assert not checked.broken
    for remark in checked.remarks:
        assert 0 <= remark.start <= remark.end
        assert remark.line >= 1
