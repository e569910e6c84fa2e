"""Where the hook goes, in the wordings of the survey (own examples)."""

from __future__ import annotations

import pytest

from tests.craft.notation.describe import working


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        # every stitch
        ("hdc in each st around.", "1 hdc @ each all st"),
        ("hdc in each st across.", "1 hdc @ each all st"),
        ("1 hdc in each st to end of row.", "1 hdc @ each all st"),
        ("sc around.", "1 sc @ each all st"),
        ("1 sc in every sc around.", "1 sc @ each all sc"),
        ("sc in ea st.", "1 sc @ each all st"),
        ("2 sc in next sc around.", "2 sc @ each all sc"),
        ("sc in each st to last 3 sts.", "1 sc @ each all st keep 3"),
        ("sc in each st across to last st.", "1 sc @ each all st keep 1"),
        ("sc in each st until 2 sts remain.", "1 sc @ each all st keep 2"),
        ("sc across to last 3 sts.", "1 sc @ each all st keep 3"),
        ("sc in each st to next corner.", "1 sc @ each all st until corner"),
        ("sc in each sc to marker.", "1 sc @ each all sc until marker"),
        ("sc in each st to 1 st before next marker.", "1 sc @ each all st keep 1 until marker"),
        ("dc in each dc to last sc and dc.", "1 dc @ each all dc keep 2"),
        ("sc in each remaining st.", "1 sc @ each all st"),
        ("dc in every other st around.", "1 dc @ each all st every 2"),
        ("sc in each dc and ch-1 sp across.", "1 sc @ each all dc|ch-sp1"),
        ("sc in each sc or ch-1 sp to end of row.", "1 sc @ each all sc|ch-sp1"),
        # the next ones
        ("sc in next 4 sts.", "1 sc @ next 4 st"),
        ("sc in next 4.", "1 sc @ next 4 st"),
        ("1 dc in each of next 4 dc.", "1 dc @ next 4 dc"),
        ("1 dc each of next 4 dc.", "1 dc @ next 4 dc"),
        ("sc next 4 sts.", "1 sc @ next 4 st"),
        ("sc in 4 sts.", "1 sc @ next 4 st"),
        ("1 sc. in next st.", "1 sc @ next 1 st"),
        ("hdc to in next st.", "1 hdc @ next 1 st"),
        ("6 dc in next sc.", "6 dc @ next 1 sc"),
        ("1 sc in each of first 5 sc.", "1 sc @ first 5 sc"),
        ("1 sc in each of last 5 sc.", "1 sc @ last 5 sc"),
        ("2 sc in first st.", "2 sc @ first 1 st"),
        ("2 sc in last st.", "2 sc @ last 1 st"),
        # the same place
        ("dc in same st.", "1 dc @ same 1 st"),
        ("dc in same sp as joining.", "1 dc @ same 1 sp"),
        ("1 sc in same sp as last sl st.", "1 sc @ same 1 sp"),
        # rings, chains, spaces
        ("6 sc in ring.", "6 sc @ ring 1 ring"),
        ("work 6 sc into the magic ring.", "6 sc @ ring 1 ring"),
        ("1 sc in 2nd ch from hook.", "1 sc @ hook 1 ch ordinal 2"),
        ("sc in second ch from hook.", "1 sc @ hook 1 ch ordinal 2"),
        ("2 dc in next ch-3 sp.", "2 dc @ next 1 ch-sp3"),
        ("2 dc in ch3 loop.", "2 dc @ next 1 ch-sp3"),
        ("2 dc in 3-ch lp.", "2 dc @ next 1 ch-sp3"),
        ("2 dc in next 1ch space.", "2 dc @ next 1 ch-sp1"),
        ("sc in next ch-sp.", "1 sc @ next 1 ch-sp"),
        ("3 sc in next corner ch-2 sp.", "3 sc @ next 1 ch-sp2 of corner"),
        ("1 dc in each of next 2 ch-1 sps.", "1 dc @ next 2 ch-sp1"),
        ("1 dc in top of turning ch.", "1 dc @ named 1 turning ch"),
        ("1 dc in top of ch-3.", "1 dc @ named 1 turning ch3"),
        ("1 dc in 3rd ch of beg ch-5.", "1 dc @ named 1 turning ch5 ordinal 3"),
        # inside a group, between stitches
        ("sc in 3rd dc of next shell.", "1 sc @ next 1 dc ordinal 3 of shell"),
        ("sc in center dc of next 5-dc group.", "1 sc @ next 1 dc of group"),
        ("2 dc between next 2 hdc.", "2 dc @ next 1 gap"),
        ("3 dc in sp between next 2 dc.", "3 dc @ next 1 gap"),
        ("2 dc in each space between 3-dc groups.", "2 dc @ each all gap3"),
        # loops, posts, rows below
        ("sc in back loop of each st around.", "1 sc @ each all st back"),
        ("sc in back loops only of next 5 sts.", "1 sc @ next 5 st back"),
        ("sc in next 5 sts in front loop only.", "1 sc @ next 5 st front"),
        ("scbl in each st around.", "1 sc @ each all st back"),
        ("FPdc around next dc.", "1 fpdc @ next 1 dc"),
        ("1 dcfp around post of next st.", "1 fpdc @ next 1 st"),
        ("fpdc around next dc 2 rows below.", "1 fpdc @ next 1 dc below 2"),
        ("sc in next st in row below.", "1 sc @ next 1 st below 1"),
        # places passed over or marked before
        ("1 dc in first skipped st.", "1 dc @ first 1 st of skipped"),
        ("3 sc in marked st.", "3 sc @ named 1 st of marked"),
        ("3 sc in corner.", "3 sc @ named 1 corner"),
        ("1 dc in any ch-1 sp.", "1 dc @ named 1 ch-sp1 of any"),
        # edges
        ("21 sc evenly along side.", "21 sc @ ends all edge"),
        ("sc along edge.", "1 sc @ ends all edge"),
    ],
)
def test_places(words: str, reads: str) -> None:
    assert working(words) == [reads]


@pytest.mark.parametrize(
    ("words", "reads"),
    [
        (
            "sc in 2nd ch from hook and in each ch across.",
            ["1 sc @ hook 1 ch ordinal 2", "1 sc @ each all ch"],
        ),
        ("dc in 4th and 5th ch from hook.", ["1 dc @ hook 1 ch ordinal 4", "1 dc @ hook 1 ch ordinal 5"]),
        ("sc in same st and next 2 sts.", ["1 sc @ same 1 st", "1 sc @ next 2 st"]),
        ("sl st in next 2 dc and ch-1 sp.", ["1 sl st @ next 2 dc", "1 sl st @ next 1 ch-sp1"]),
        (
            "3 sc in 2nd ch from hook and in next 5 ch.",
            ["3 sc @ hook 1 ch ordinal 2", "1 sc @ next 5 ch"],
        ),
        (
            "dc in 4th ch from hook (skipped 3 ch count as dc) and in each ch across.",
            ["1 dc @ hook 1 ch ordinal 4", "counts True 1 dc", "1 dc @ each all ch"],
        ),
    ],
)
def test_several_places_for_one_stitch(words: str, reads: list[str]) -> None:
    assert working(words) == reads


def test_loops_hold_for_all_that_follows() -> None:
    assert working("Ch 1. Working in back loops only, 1 sc in each of next 5 sc. 2 sc in last sc.") == [
        "ch 1",
        "1 sc @ next 5 sc back",
        "2 sc @ last 1 sc back",
    ]


def test_a_place_may_be_named_first() -> None:
    assert working("In next ch-2 sp work (2 dc, ch 2, 2 dc).") == [
        "{1 dc @ bare 2 st, ch 2, 1 dc @ bare 2 st} @ next 1 ch-sp2"
    ]
    assert working("In each st around, 2 dc.") == ["2 dc @ each all st"]
