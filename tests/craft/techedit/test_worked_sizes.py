"""Finished measurements against the rounds: what is off is told word for word, what is near is not."""

from __future__ import annotations

import pytest

from craft import fabric, notation, techedit
from craft.techedit import Finding
from tests.craft.fabric.plain_parts import disc, of_counts

CHECKS = {"width-against-gauge", "length-against-gauge", "gauge-explains-no-size"}


def findings(text: str) -> list[Finding]:
    draft = notation.read(text)
    return [f for f in techedit.check(draft, fabric.work(draft)) if f.check in CHECKS]


def hat(finished: str, gauge: str = "16 hdc and 12 rows = 10 cm") -> str:
    """80 stitches at 16 to 10 cm: 50 cm around; crown and 17 rounds: 22.5 cm deep (trade notes 3.2)."""
    facts = f"Title: Pebble Hat\nGauge: {gauge}\nFinished size: {finished}\n"
    return facts + disc(10, 8, "hdc") + "Rnds 11-27: Hdc in each st around. (80)\n"


def sized(around: str, deep: str) -> str:
    facts = "Title: Pebble Cowl\nSizes: S (M, L)\nGauge: 16 sc and 16 rows = 10 cm\n"
    facts += f"Finished circumference: {around} cm\nFinished height: {deep} cm\n"
    return facts + (
        "Rnd 1: Ch 72 (80, 88), join with sl st to form a ring.\n"
        "Rnd 2: Ch 1, sc in each ch around, join (72, 80, 88)\n"
        "Rnds 3-41: Ch 1, sc in each st around, join (72, 80, 88)\n"
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            hat("56 cm around, 22.5 cm deep"),
            (
                "“56 cm” (around), yet by stitches and gauge the piece comes to 50 cm around. Mend the "
                "measurement, the counts or the gauge."
            ),
        ),
        (
            hat("50 cm around, 28 cm deep"),
            (
                "“28 cm” (deep), yet by rounds and gauge the piece comes to 22.5 cm deep. Mend the "
                "measurement, the rounds or the gauge."
            ),
        ),
        (
            sized("45 (50, 64)", "25"),
            (
                "“45 (50, 64) cm” (finished circumference) gives 64 cm for size L, yet by stitches and gauge "
                "that size comes to 55 cm around. Mend the measurement, the counts or the gauge."
            ),
        ),
    ],
)
def test_what_is_off_is_told(text: str, says: str) -> None:
    assert [f.says for f in findings(text)] == [says]


@pytest.mark.parametrize(
    "text",
    [
        hat("50 cm around, 22.5 cm deep"),
        hat("52 cm (20 1/2 in) around, 23 cm (9 in) deep"),  # one part in ten is let pass
        hat("56 cm around", "16 sc and 12 rows = 10 cm"),  # the gauge is of another stitch
        hat("56 cm around").replace(
            "Rnds 11", "Fold the brim up.\nRnds 11"
        ),  # what is folded is not measured
        hat("56 cm around") + "EAR FLAP\n" + disc(16, 8, "hdc"),  # the piece is more than one part
        sized("45 (50, 55)", "25"),
        # how high a closed part is, its filling says
        "Title: Pebble Ball\nGauge: 16 sc and 16 rows = 10 cm\nFinished size: 30 cm high\n"
        + of_counts([6, 12, 18, 24, 30, 36, *[36] * 6, 30, 24, 18, 12, 6]),
    ],
)
def test_what_is_near_or_not_known_is_not(text: str) -> None:
    assert findings(text) == []


def test_all_sizes_off_alike_is_told_once_as_a_slip_of_the_gauge() -> None:
    found = findings(sized("58 (64, 70)", "25"))
    assert [f.check for f in found] == ["gauge-explains-no-size"]


def test_lengths_off_alike_in_all_sizes_are_told_as_a_slip_of_the_row_gauge() -> None:
    (found,) = findings(sized("45 (50, 55)", "33"))
    assert found.check == "gauge-explains-no-size"
    assert found.says == (
        "All sizes of “finished height” are 32% longer than their rounds at 16 to 10 cm. A row gauge of 12.1 "
        "would give the printed sizes: look at the gauge."
    )
