"""Repeats "around" get the number that the round below leaves them."""

from __future__ import annotations

import pytest

from craft.fabric import with_passes
from craft.notation import read
from craft.notation.tree import Line, Repeat


def passes(text: str) -> list[object]:
    """The number of every repeat at the head of the lines."""
    return [
        step.times.number
        for section in with_passes(read(text)).sections
        for line in section.lines
        if isinstance(line, Line)
        for step in line.steps
        if isinstance(step, Repeat)
    ]


@pytest.mark.parametrize(
    ("line", "number"),
    [
        ("*sc, inc; rep from * around", (6,)),
        ("(sc 2, dec) around", (3,)),
        ("sc 2, *ch 1, sk next st, dc in next st; rep from * to last 2 sts, sc 2", (4,)),
        ("*sc, **ch 3, sk next st; rep from * around, ending last rep at **", (6,)),
        ("*sc 5, inc; rep from * around", (2,)),
    ],
)
def test_passes_on_twelve_stitches(line: str, number: tuple[int, ...]) -> None:
    assert passes(f"Rnd 1: 12 sc in magic ring.\nRnd 2: {line}.\n") == [number]


def test_a_number_for_every_size() -> None:
    text = "Sizes: S (M, L)\n\nRnd 1: 12 (14, 16) sc in magic ring.\nRnd 2: *sc, inc; rep from * around.\n"
    assert passes(text) == [(6, 7, 8)]


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 2: *sc, inc; rep from * around.\n",  # no round below
        "Rnd 1: 9 sc in ring.\nRnd 2: *flumble in next 2 sts; rep from * around, ending with 2 dc.\n",
        "Rnd 1: 6 sc in ring.\nRnd 2: *inc; rep from * around.\nRnd 3: As Rnd 2.\n",  # worked over two widths
    ],
)
def test_what_is_not_certain_stays(text: str) -> None:
    assert passes(text)[:1] in ([None], [])
