"""Every form of repeat in the survey, and how each is ended (own examples)."""

from __future__ import annotations

import pytest

from craft.notation import read
from tests.craft.notation.describe import lines, steps, working

IN_AND_INC = "1 sc @ next 5 sc, 2 sc @ next 1 sc"


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        # open star
        ("*sc in next 5 sc, 2 sc in next sc; rep from * around.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * across.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc; repeat from * to end.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from *.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * 5 times.", f"*[{IN_AND_INC}] x5?"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * 4 more times.", f"*[{IN_AND_INC}] x4 more"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * 4 times more.", f"*[{IN_AND_INC}] x4 more"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * once more.", f"*[{IN_AND_INC}] x1 more"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * 6 times in all.", f"*[{IN_AND_INC}] x6"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * to last 3 sc.", f"*[{IN_AND_INC}] to last 3"),
        ("*sc in next 5 sc, 2 sc in next sc; rep from * to next corner.", f"*[{IN_AND_INC}] to corner"),
        # closed stars
        ("*sc in next 5 sc, 2 sc in next sc* repeat from * to * around.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc* repeat between * and * 3 times.", f"*[{IN_AND_INC}] x3?"),
        ("*sc in next 5 sc, 2 sc in next sc* x5.", f"*[{IN_AND_INC}] x5"),
        ("*sc in next 5 sc, 2 sc in next sc* to end of round.", f"*[{IN_AND_INC}] to end"),
        ("*sc in next 5 sc, 2 sc in next sc* (30)", f"*[{IN_AND_INC}] to end"),
        # brackets
        ("(sc in next 5 sc, 2 sc in next sc) 5 times.", f"([{IN_AND_INC}] x5"),
        ("(sc in next 5 sc, 2 sc in next sc) twice.", f"([{IN_AND_INC}] x2"),
        ("(sc in next 5 sc, 2 sc in next sc) x 5.", f"([{IN_AND_INC}] x5"),
        ("(sc in next 5 sc, 2 sc in next sc) x5.", f"([{IN_AND_INC}] x5"),
        ("(sc in next 5 sc, 2 sc in next sc) * 5.", f"([{IN_AND_INC}] x5"),
        ("(sc in next 5 sc, 2 sc in next sc) ×5 times.", f"([{IN_AND_INC}] x5"),
        ("(sc in next 5 sc, 2 sc in next sc) repeat 4 more times.", f"([{IN_AND_INC}] x4 more"),
        ("[sc in next 5 sc, 2 sc in next sc] 6 times.", f"[[{IN_AND_INC}] x6"),
        ("[sc in next 5 sc, 2 sc in next sc] around.", f"[[{IN_AND_INC}] to end"),
        ("[sc in next 5 sc, 2 sc in next sc] to last 3 sc.", f"[[{IN_AND_INC}] to last 3"),
        ("{sc in next 5 sc, 2 sc in next sc} five times.", "{[" + IN_AND_INC + "] x5"),
        # no mark, or a mark that is lost
        ("Ch 1, sc in next 5 sc, 2 sc in next sc, repeat around.", f"words[{IN_AND_INC}] to end"),
        ("Ch 1. Sc in next 5 sc. 2 sc in next sc. Repeat from * around.", f"none[{IN_AND_INC}] to end"),
        ("Ch 1. *Sc in next 5 sc. 2 sc in next sc. Join.", f"open[{IN_AND_INC}] to end"),
        ("Ch 1. *Sc in next 5 sc, 2 sc in next sc] 5 times.", f"*[{IN_AND_INC}] x5"),
        # endings
        (
            "*sc in next 5 sc, 2 sc in next sc; rep from * around, ending with 2 dc in last st.",
            f"*[{IN_AND_INC}] to end ending [2 dc @ last 1 st]",
        ),
        (
            "*sc in next 5 sc, **2 sc in next sc; rep from * around, ending last rep at **.",
            f"*[{IN_AND_INC}] to end stop 1",
        ),
        (
            "*sc in next 5 sc, **2 sc in next sc; rep from * once, then from * to ** once more.",
            f"*[{IN_AND_INC}] x1? stop 1 partial 1",
        ),
    ],
)
def test_repeats(words: str, reads: str) -> None:
    assert next(step for step in working(words) if "[" in step) == reads


def test_a_repeat_inside_a_repeat() -> None:
    assert working("*ch 3, (dc in next st, ch 1) 3 times; rep from * around.") == [
        "*[ch 3, ([1 dc @ next 1 st, ch 1] x3] to end"
    ]


def test_two_levels_of_stars() -> None:
    words = (
        "*sc in next sc, **ch 1, skip next sc; rep from ** 3 times more, 3 sc in next sc; rep from * around."
    )
    assert working(words) == [
        "*[1 sc @ next 1 sc, **[ch 1, skip next 1 sc] x3 more, 3 sc @ next 1 sc] to end"
    ]


def test_the_same_stars_may_be_repeated_twice() -> None:
    words = "*Sc in next 2 sc, ch 1.* Rep from * to * to last 4 sc. Ch 3. Rep from * to * once."
    assert working(words) == [
        "*[1 sc @ next 2 sc, ch 1] to last 4",
        "ch 3",
        "*[1 sc @ next 2 sc, ch 1] x1?",
    ]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        (
            "(3 dc, ch 2, 3 dc) in corner sp.",
            "{1 dc @ bare 3 st, ch 2, 1 dc @ bare 3 st} @ next 1 sp of corner",
        ),
        ("[sc, ch 3, sc] in next sc.", "{1 sc @ bare 1 st, ch 3, 1 sc @ bare 1 st} @ next 1 sc"),
        (
            "(3 dc. Ch 1) in each of next 2 ch-1 sps.",
            "{1 dc @ bare 3 st, ch 1} @ next 2 ch-sp1",
        ),
        ("(1 dc. Ch 1. 1 dc) all in next st.", "{1 dc @ bare 1 st, ch 1, 1 dc @ bare 1 st} @ next 1 st"),
        ("(dc, ch 1) 4 times in next st.", "{([1 dc @ bare 1 st, ch 1] x4} @ next 1 st"),
        ("[sc in next dc, ch 3] across next 5 dc.", "[[1 sc @ next 1 dc, ch 3] x5"),
    ],
)
def test_groups_in_one_place(words: str, reads: str) -> None:
    assert working(words) == [reads]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        ("As 2nd row.", "as 2"),
        ("Repeat Row 3.", "as 3"),
        ("Same as rnd 3.", "as 3"),
        ("Rep rows 2-5 four times more.", "as 2-3-4-5 x4 more"),
        ("[Rep rows 2-5] 7 times.", "[[as 2-3-4-5] x7"),
        ("Rep 2nd and 3rd rows twice.", "as 2-3 x2?"),
        ("Rep last row 4 times more.", "as last 1 x4 more"),
        ("Rep last 2 rows until work measures 20 cm.", "as last 2 'until work measures 20 cm'"),
        ("Cont in pat until work measures 20 cm.", "as set 'until work measures 20 cm'"),
        ("As given for Back.", "as set of Back"),
    ],
)
def test_references_to_other_rounds(words: str, reads: str) -> None:
    assert working(words) == [reads]


@pytest.mark.parametrize(
    ("words", "rounds", "reads"),
    [
        ("Work 6 rows even.", (6,), ["1 in pattern @ each all st"]),
        ("With A, work 2 rows sc.", (2,), ["with A", "1 sc @ each all st"]),
    ],
)
def test_rows_given_by_their_number(words: str, rounds: tuple[int], reads: list[str]) -> None:
    found = lines(read(f"Row 1: 1 sc in each st across.\n{words}"))
    assert found[-1].label.stated_number_of_rounds == rounds
    assert steps(found[-1].steps) == reads
