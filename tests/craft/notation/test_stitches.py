"""Stitches, shaping, chains, joins, colours and remarks (own examples)."""

from __future__ import annotations

import pytest

from craft.notation.tree import Remark
from tests.craft.notation.describe import one, steps, working


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        ("4 sc.", "1 sc @ bare 4 st"),
        ("4sc.", "1 sc @ bare 4 st"),
        ("sc 4.", "1 sc @ bare 4 st"),
        ("1tr.", "1 tr @ bare 1 st"),
        ("dc 4 in same st.", "4 dc @ same 1 st~"),
        ("4 half double crochets in the next 4 stitches.", "4 hdc @ next 4 st"),
        ("five double crochet in next st.", "5 dc @ next 1 st"),
        ("4 s c.", "1 sc @ bare 4 st"),
        ("1 s.c. in next st.", "1 sc @ next 1 st"),
        ("2 SC [DC] in next stitch.", "2 sc @ next 1 st"),
        ("inc.", "1 inc @ bare 1 st"),
        ("inc x 5.", "1 inc @ bare 5 st"),
        ("5 inc.", "1 inc @ bare 5 st"),
        ("5-inc.", "1 inc @ bare 5 st"),
        ("inc 5 times.", "1 inc @ bare 5 st"),
        ("inc in next st.", "1 inc @ next 1 st"),
        ("dec X 4.", "1 sc2tog @ bare 4 st"),
        ("dec.", "1 sc2tog @ bare 1 st"),
        ("invdec.", "1 sc2tog @ bare 1 st"),
        ("sc2tog.", "1 sc2tog @ bare 1 st"),
        ("sc2tog 4 times.", "1 sc2tog @ bare 4 st"),
        ("2 sc tog.", "1 sc2tog @ bare 1 st"),
        ("sc 2 tog.", "1 sc2tog @ bare 1 st"),
        ("hdc2tog over next 2 sts.", "1 hdc2tog @ next 2 st"),
        ("sc2tog around.", "1 sc2tog @ each all st"),
        ("increase 6 evenly.", "evenly 6 total all"),
        ("inc 6 sts evenly around.", "evenly 6 total all"),
        ("dec 1 st at each end of row.", "evenly -2 total all"),
        ("work 36 sc evenly around.", "36 sc @ ends all edge"),
        ("skip 2.", "skip next 2 st"),
        ("sk next 2 dc.", "skip next 2 dc"),
        ("miss 2 ch.", "skip next 2 ch"),
        ("pass over 2 sts.", "skip next 2 st"),
        ("skip next ch-1 sp.", "skip next 1 ch-sp1"),
        ("ch3.", "ch 3"),
        ("Ch-1.", "ch 1"),
        ("3ch.", "ch 3"),
        ("2 chain.", "ch 2"),
        ("chain 12.", "ch 12"),
        ("ch 3 (counts as dc).", "ch 3 counts 1 dc"),
        ("ch 5 (counts as dc and ch 2).", "ch 5 counts 1 dc 2 ch-sp"),
        ("ch 1 (does not count as a st).", "ch 1 counts not"),
        ("ch 2 counts as first hdc.", "ch 2 counts 1 hdc"),
        ("sl st in next 3 sts.", "1 sl st @ next 3 st"),
        ("turn.", "turn"),
        ("do not turn.", "no turn"),
        ("fasten off.", "fasten off"),
        ("finish off.", "fasten off"),
        ("leave last 4 sts unworked.", "leave 4"),
        ("leave rem sts unworked.", "leave all"),
        ("leave last sc unworked.", "leave 1"),
        ("work in pattern to last 4 sts.", "1 in pattern @ each all st keep 4"),
        ("nupp in next st.", "1 nupp? @ next 1 st"),
        ("picot.", "1 picot @ bare 1 st"),
    ],
)
def test_steps(words: str, reads: str) -> None:
    assert working(words) == [reads]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        ("Sc in each st around; join with sl st to first sc.", "join first 1 sc"),
        ("Sc in each st around, sl st in first sc.", "join first 1 sc"),
        ("Dc in each st around; ss in top of ch 3.", "join named 1 turning ch3"),
        ("Sc in each st around; join.", "join"),
        ("Dc in each st around; join in top of beg ch.", "join named 1 turning ch"),
    ],
)
def test_joins(words: str, reads: str) -> None:
    assert working(words)[-1] == reads


@pytest.mark.parametrize(
    "words",
    [
        "Ch 5, join with sl st to form a ring.",
        "Ch 5. Join with sl st to first ch.",
        "Ch 5; join to form ring.",
    ],
)
def test_a_chain_joined_is_a_ring(words: str) -> None:
    assert steps(one(words).steps) == ["ring of ch 5"]


@pytest.mark.parametrize("words", ["Magic ring.", "Make a magic ring.", "MR.", "Adjustable ring."])
def test_a_ring_of_yarn(words: str) -> None:
    assert steps(one(words).steps) == ["ring"]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        ("With A, ch 25.", ["with A", "ch 25"]),
        ("With MC, 1 sc in 2nd ch from hook.", ["with MC", "1 sc @ hook 1 ch ordinal 2"]),
        ("1 sc in next sc. Join B. 1 sc in next sc.", ["1 sc @ next 1 sc", "join B", "1 sc @ next 1 sc"]),
        ("Join white with sl st to any ch-2 sp.", ["join white", "join named 1 ch-sp2 of any"]),
        ("Join B with sc in first st.", ["join B", "1 sc @ first 1 st"]),
        ("Sc in next 4 sts, change to white.", ["1 sc @ next 4 st", "change white"]),
        ("1 sc in each st across. Break A.", ["1 sc @ each all st", "break A"]),
    ],
)
def test_colours(words: str, reads: list[str]) -> None:
    assert working(words) == reads


def test_the_other_side_of_the_chain() -> None:
    words = "1 sc in next 5 ch, 3 sc in last ch, working on other side of chain, 1 sc in next 4 ch."
    assert working(words)[2] == "rotate"


@pytest.mark.parametrize(
    "words",
    [
        "Stuff firmly.",
        "(this forms the rim)",
        "Sew the ears between rounds 9 and 10, 6 sts apart.",
        "leaving a long tail for sewing.",
        "with right side facing,",
        "being careful not to twist ch.",
    ],
)
def test_words_that_change_no_count_are_kept_as_remarks(words: str) -> None:
    line = one(f"Row 4: 1 sc in each st across. {words}")
    assert steps(line.steps) == ["1 sc @ each all st"]
    assert any(isinstance(step, Remark) for step in line.steps)


def test_what_is_not_understood_is_shown_in_its_place() -> None:
    text = "Row 4: 1 sc in next sc. Wiggle 2 dc sideways hither. Turn."
    line = one(text)
    (unread,) = [step for step in line.steps if type(step).__name__ == "Unread"]
    assert "Wiggle" in text[unread.span.start : unread.span.end]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        (
            "Draw up a loop in each of next 2 sc. Yoh and draw through all 3 loops on hook.",
            "1 sc2tog @ next 2 sc",
        ),
        (
            (
                "(Yoh and draw up a loop in next st. Yoh and draw through 2 loops on hook) twice. "
                "Yoh and draw through all 3 loops on hook - dc2tog made."
            ),
            "1 dc2tog @ next 2 st",
        ),
        (
            (
                "(Yoh and draw up a loop in same st. Yoh and draw through 2 loops on hook) 3 times. "
                "Yoh and draw through all loops on hook."
            ),
            "1 cluster @ same 1 st",
        ),
        (
            "Insert hook in next st, yo and pull up a loop, yo and draw through both loops.",
            "1 sc @ next 1 st",
        ),
    ],
)
def test_stitches_spelled_out_as_hand_movements(words: str, reads: str) -> None:
    assert working(words) == [reads]


def test_older_full_stops_part_steps_not_rounds() -> None:
    words = "Ch 1. *1 sc in next sc. 2 sc in next sc. Rep from * around. Join with sl st to first sc. 24 sc."
    line = one(f"3rd rnd: {words}")
    assert steps(line.steps) == [
        "ch 1",
        "*[1 sc @ next 1 sc, 2 sc @ next 1 sc] to end",
        "join first 1 sc",
    ]
    assert line.stated is not None
