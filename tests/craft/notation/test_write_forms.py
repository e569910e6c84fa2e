"""House style, one size, and no repeats: other words and other steps, the same work."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.fabric import Fabric, with_passes, work
from craft.notation import HouseStyle, read, same, write
from craft.notation.tree import Draft, Span
from craft.notation.writing import without_spans, write_within
from craft.notation.writing.alike import plain
from craft.notation.writing.of_size import line_of_size
from craft.notation.writing.sizes_in_words import without_size_marks

from .describe import lines
from .drawn import drafts, fitting, texts
from .written_examples import BAND, SHAWL

STYLES = [
    HouseStyle(),
    HouseStyle(repeats="brackets", increases="inc"),
    HouseStyle(repeats="stars", increases="spelled", round_word="Round"),
    HouseStyle(counts="dash", times="times", numbers="after", each_of=True, skip="sk", spelled_joins=False),
    HouseStyle(decreases="dec", bare_total=False, round_word="R"),
]


def worked(fabric: Fabric, size: int = 0) -> list[Any]:
    """What every round comes to."""
    return [
        (one.number, sized and (sized.total, sized.tally))
        for section in fabric.sections
        for one in section.rounds
        for sized in (one.per_size[size],)
    ]


def counts(draft: Draft) -> list[list[Any]]:
    """What every round of every size comes to."""
    fabric = work(draft)
    return [worked(fabric, size) for size in range(max(1, len(draft.sizes)))]


# ----------------------------------------------------------------------------------- any pattern


@given(st.one_of(texts(), texts(sizes=3)))
@settings(max_examples=20, deadline=None)
def test_any_text_reads_back_as_it_was(text: str) -> None:
    draft = read(text)
    assert without_spans(read(write(draft))) == without_spans(draft)


@given(st.one_of(texts(), texts(sizes=3)))
@settings(max_examples=20, deadline=None)
def test_any_text_comes_back_from_the_other_terms(text: str) -> None:
    draft = read(text)
    assert same(read(write(read(write(draft, terms="uk")), terms="us")), draft)


@given(fitting(), st.sampled_from(STYLES))
@settings(max_examples=20, deadline=None)
def test_a_style_changes_no_count_and_is_there_to_stay(text: str, style: HouseStyle) -> None:
    draft = read(text)
    once = write(draft, style=style)
    assert counts(read(once)) == counts(draft)
    assert write(read(once), style=style) == once


@given(texts(sizes=3), st.integers(0, 2))
@settings(max_examples=20, deadline=None)
def test_one_size_holds_the_numbers_of_that_size(text: str, position: int) -> None:
    draft = read(text)
    alone = read(write(draft, size=draft.sizes[position]))
    wanted = [line_of_size(line, position) for line in lines(draft)]
    assert alone.sizes == ()
    assert [plain(line, alone.text) for line in lines(alone)] == [
        plain(line, draft.text) for line in wanted if line
    ]


@pytest.mark.parametrize("position", [0, 1, 2])
@pytest.mark.parametrize("text", [SHAWL, BAND])
def test_one_size_comes_to_what_it_comes_to_among_all(text: str, position: int) -> None:
    draft = read(text)
    alone = read(write(draft, size=draft.sizes[position]))
    assert [one for one in worked(work(alone)) if one[1]] == [
        one for one in worked(work(draft), position) if one[1]
    ]


@given(fitting())
@settings(max_examples=15, deadline=None)
def test_without_repeats_the_counts_are_the_same(text: str) -> None:
    draft = read(text)
    assert counts(read(write(with_passes(draft), expanded=True))) == counts(draft)


@given(drafts())
@settings(max_examples=20, deadline=None)
def test_a_draft_built_from_values_can_be_written(draft: Draft) -> None:
    again = read(write(draft))
    assert without_spans(again)[-1] == without_spans(draft)[-1]


# ------------------------------------------------------------------------------------- examples


@pytest.mark.parametrize(
    ("line", "style", "written"),
    [
        ("*sc, inc; rep from * 5 times more.", HouseStyle(repeats="brackets"), "(sc, inc) x 6."),
        ("*sc, inc; rep from * around.", HouseStyle(repeats="brackets"), "(sc, inc) around."),
        (
            "[sc, (dc, ch 1) in next st] x 6",
            HouseStyle(repeats="brackets"),
            "[sc, (dc, ch 1) in next st] x 6.",
        ),
        ("(sc, inc) x 6", HouseStyle(repeats="stars"), "*sc, inc; rep from * 6 times in all."),
        ("(sc, inc) around", HouseStyle(repeats="stars"), "*sc, inc; rep from * around."),
        ("*sc, inc; rep from * 5 times.", HouseStyle(repeats="brackets"), "*sc, inc; rep from * 5 times."),
        ("2 sc in next st, 2 sc in each of next 3 sts", HouseStyle(increases="inc"), "Inc, 3 inc."),
        ("2 dc in next st, 2 sc in ring", HouseStyle(increases="inc"), "2 dc in next st, 2 sc in ring."),
        ("inc, inc x 3", HouseStyle(increases="spelled"), "2 sc in next st, 2 sc in next 3 sts."),
        ("(sc 5) around", HouseStyle(numbers="before"), "(sc 5) around."),
        ("sc 3, sc in next 3 sts", HouseStyle(each_of=True), "3 sc, sc in each of next 3 sts."),
        ("sc2tog, sc2tog over next 2 sts", HouseStyle(decreases="dec"), "Dec, dec over next 2 sts."),
    ],
)
def test_forms_of_a_line(line: str, style: HouseStyle, written: str) -> None:
    assert write(read(f"Rnd 4: {line}\n"), style=style) == f"Rnd 4: {written}\n"


def test_five_times_that_may_be_six_are_left_alone() -> None:
    text = "Rnd 4: *sc, inc; rep from * 5 times.\n"
    assert write(read(text), style=HouseStyle(repeats="brackets")) == text


def test_one_size_of_a_whole_pattern() -> None:
    written = write(read(SHAWL), size="M")
    assert "Sizes: M\n" in written
    assert "Finished width: 140 cm" in written
    assert "Rnd 1: Make a magic ring, 7 sc in ring. (7)" in written
    assert "Rnd 4" not in written
    assert "L only" not in written
    assert "All sizes" not in written
    assert "Row 1 (RS): With A, ch 46," in written
    assert "Rnd 4: *Sc in next 2 sts" in write(read(SHAWL), size="L").replace("*sc", "*Sc")


def test_a_size_that_the_pattern_has_not() -> None:
    with pytest.raises(ValueError, match="no size \u201cXL\u201d; its sizes are: S, M, L"):
        write(read(SHAWL), size="XL")


def test_a_line_that_a_size_leaves_out() -> None:
    text = "Sizes: S (M, L)\n\nRnd 1: 6 (7, 8) sc in ring.\nRnd 2: Inc x 0 (2, 3), sc 4 (3, 2).\n"
    assert write(read(text), size="S").endswith("Rnd 1: 6 sc in ring.\nRnd 2: 4 sc.\n")


def test_rounds_and_passes_written_out() -> None:
    text = (
        "Rnd 1: 6 sc in magic ring.\nRnd 2: *2 sc in next st; rep from * around. (12)\n"
        "Rnds 3-4: (sc, ch 1) x 2, 10 sc. (12)\n"
    )
    assert write(with_passes(read(text)), expanded=True) == (
        "Rnd 1: 6 sc in magic ring.\n"
        f"Rnd 2: {', '.join(['2 sc in next st'] * 6)}. (12)\n"
        "Rnd 3: Sc, ch 1, sc, ch 1, 10 sc.\n"
        "Rnd 4: Sc, ch 1, sc, ch 1, 10 sc. (12)\n"
    )


def test_a_repeat_of_open_steps_stays() -> None:
    text = "Rnd 2: (sc in each st to last 2 sts, ch 1) x 2.\n"
    assert "(sc in each st to last 2 sts, ch 1) x 2" in write(read(text), expanded=True)


def test_a_repeat_that_only_the_fabric_can_count_stays_without_it() -> None:
    text = "Rnd 2: *sc, inc; rep from * around.\n"
    assert write(read(text), expanded=True) == text


def test_the_last_pass_stops_where_it_did() -> None:
    text = "Row 2: *sc, **ch 2; rep from * 2 times more, ending last rep at **.\n"
    assert write(read(text), expanded=True) == "Row 2: Sc, ch 2, sc, ch 2, sc.\n"


def test_marks_of_sizes_go_and_other_words_stay() -> None:
    assert without_size_marks("Sizes M and L only:\n\nOnly now: the brim\n") == "\nOnly now: the brim\n"


def test_only_a_stretch_of_the_text() -> None:
    head, body, tail = (
        "Sizes: S (M, L)\n\n",
        "Body\nRnd 1: 6 (7, 8) sc in ring\n",
        "\nCare\nWash by hand, sc.\n",
    )
    draft = read(head + body + tail)
    within = Span(len(head), len(head) + len(body))
    whole, stretch = write_within(draft, within)
    assert whole == head + stretch + tail
    assert stretch == "Body\nRnd 1: 6 (7, 8) sc in ring.\n"
    assert write_within(draft, within, terms="uk", size="M")[1] == "Body\nRnd 1: 7 dc in ring.\n"
