"""Whatever the text: nothing raises, every span lies in it, and inner spans lie in outer ones."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.notation import read
from craft.notation.tree import Draft, Group, Line, Repeat, Span, Step

PATTERN = """Sizes: S (M, L)
Gauge: 18 sc = 10 cm
Abbreviations: pod = (Yoh and draw up a loop) 3 times in same st. Yoh and draw through all loops on hook

Crown (make 2)
With MC, ch 41 (46, 51). Join with sl st to form a ring.
1st rnd: (RS). Ch 3 (counts as dc). 1 dc in each ch around. Join with sl st to top of ch 3. 41 (46, 51) dc.
2nd and alt rnds: Ch 1. *1 sc in next 3 sts, **2 sc in next st; rep from * to last 2 sts, ending at **. Join.
Rnds 3-6 (4 rnds): [dc in next 2, (dc, ch 2, dc) in next ch-2 sp] 6 times, sk next st; fpdc around next dc.
Size L only: Next rnd: pod in next st, Sc2tog over next 2 sts. Draw up a loop in each of next 2 sts.
Rep last 2 rnds until work measures 20 cm, leaving a long tail. Fasten off.
Row 7: working in back loops only, inc x 3, dec, 5 (6, 7) hdc in corner sp - 24 (30, 36) hdc
"""

WORDS = [
    *sorted(set(PATTERN.replace("\n", " \n ").split(" "))),
    *("½", "🧶", "(", "[", ")", "]", "*", "**", "\n", "–"),
]


def check_spans(draft: Draft) -> None:
    """Every span lies in the text; steps lie in their line and inner steps in outer ones."""
    whole = Span(0, len(draft.text))
    for section in draft.sections:
        _inside(section.span, whole)
        for line in section.lines:
            _inside(line.span, whole)
            if isinstance(line, Line):
                _inside(line.label.span, line.span)
                for step in line.steps:
                    _check_step(step, line.span)
                for stated in (line.stated, *line.inner):
                    if stated is not None:
                        _inside(stated.span, line.span)


def _check_step(step: Step, outer: Span) -> None:
    _inside(step.span, outer)
    if isinstance(step, Repeat | Group):
        for inner in step.steps:
            _inside(inner.span, outer)


def _inside(inner: Span, outer: Span) -> None:
    assert outer.start <= inner.start <= inner.end <= outer.end, (inner, outer)


def test_the_spans_of_a_whole_pattern() -> None:
    check_spans(read(PATTERN))


@given(st.text())
@settings(max_examples=300, deadline=None)
def test_random_text(text: str) -> None:
    check_spans(read(text))


@given(st.lists(st.sampled_from(WORDS), max_size=120))
@settings(max_examples=400, deadline=None)
def test_words_of_the_trade_in_any_order(words: list[str]) -> None:
    check_spans(read(" ".join(words)))


@given(st.integers(0, 2**32), st.integers(1, 30))
@settings(max_examples=200, deadline=None)
def test_damaged_patterns(seed: int, damages: int) -> None:
    rng = random.Random(seed)
    letters = list(PATTERN)
    for _ in range(damages):
        at = rng.randrange(len(letters))
        letters[at] = rng.choice(["", " ", "\n", "(", ")", "[", "*", "5", "s", ".", ",", "–", "\x00", "é"])
    check_spans(read("".join(letters)))


@pytest.mark.parametrize(
    "text",
    [
        "(" * 5000,
        ")" * 5000,
        "[(" * 2000 + ")]" * 2000,
        "Rnd 1: " + "(" * 300 + "sc" + ")" * 300,
        "*" * 5000,
        "Rnd 1: " + "corner " * 3000,
        "Rnd 1: sc in sp " + "between sp " * 2000,
        "Rnd 1: " + "(yoh " * 500 + ")" * 500,
        "Rnd 1: " + "in next st, " * 2000,
        "Rnd " + "1-2, " * 3000,
        "9" * 20000,
        "Rnd 999999999999999999999: sc 99999999999999999999",
        "Rnd 1: " + "join. " * 3000,
        "\x00\x01\x02" * 1000,
        "🧶" * 3000,
        "Abbreviations: " + "a = b; " * 2000,
    ],
)
def test_hostile_texts(text: str) -> None:
    check_spans(read(text))
