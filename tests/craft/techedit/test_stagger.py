"""Stacked increases and the staggered rounds offered for them (trade notes section 3.4)."""

from __future__ import annotations

import pytest

from craft import fabric, notation, techedit
from craft.fabric.increases import stacks_of
from craft.techedit import Finding


def stacked(text: str) -> Finding:
    draft = notation.read(text)
    (found,) = [f for f in techedit.check(draft, fabric.work(draft)) if f.check == "increases-stacked"]
    return found


def doily(group: str, rounds: int = 12) -> str:
    """A flat disc of six; `group` with {k} for its plain stitches."""
    lines = [f"Rnd {n}: {group.format(k=n - 2)} ({6 * n})" for n in range(3, rounds + 1)]
    return (
        "Title: Harbour Doily\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n" + "\n".join(lines) + "\n"
    )


STAR = "*sc in next 4 sts, 2 sc in next st; rep from * 4 more times, sc in next 2 sts"


@pytest.mark.parametrize(
    ("group", "offered"),
    [
        ("(sc {k}, inc) x 6", "sc 2, inc, (sc 4, inc) x 5, sc 2"),
        (
            "[Sc in next {k} sts, 2 sc in next st] 6 times.",
            "Sc in next 2 sts, 2 sc in next st, [sc in next 4 sts, 2 sc in next st] 5 times, sc in next 2 st",
        ),
        ("*sc in next {k} sts, 2 sc in next st; rep from * around.", STAR),
        ("Ch 1, *sc in next {k} sts, 2 sc in next st; rep from * 5 more times, join.", STAR),
    ],
)
def test_every_other_round_is_offered_staggered_with_the_same_counts(group: str, offered: str) -> None:
    text = doily(group)
    suggestion = stacked(text).suggestion
    assert suggestion is not None
    assert offered in suggestion.text.split("\n")[2]
    start, end = suggestion.span
    worked = fabric.work(notation.read(text[:start] + suggestion.text + text[end:]))
    assert [r.per_size[0].total for r in worked.rounds if r.per_size[0]] == [6 * n for n in range(1, 13)]
    assert {r.verdict.value for r in worked.rounds} == {"agrees"}
    assert stacks_of(worked.sections[0].rounds) == ()


def test_rounds_whose_numbers_are_words_are_told_and_not_rewritten() -> None:
    text = doily("(sc in next {k} sts, inc) x 6")
    for k, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"], 1
    ):
        text = text.replace(f"next {k} sts", f"next {word} sts")
    assert stacked(text).suggestion is None


def test_a_hexagon_that_is_meant_is_left_alone() -> None:
    draft = notation.read(doily("(sc {k}, inc) x 6").replace("Harbour Doily", "Harbour Hexagon Doily"))
    assert not [f for f in techedit.check(draft, fabric.work(draft)) if f.check == "increases-stacked"]
