"""Texts that once made the edit stumble: nothing raises, whatever stands where a number should."""

from __future__ import annotations

import pytest

from craft import fabric, notation, techedit

STUMBLES = [
    "Title: Tideline Beanie\nFinished circumference: 0 cm\nFinished height: 21 cm\n",
    "Finished size: 0 cm (9 in) wide\n",
    "Finished size: 24 cm (0 in) wide\n",
    "Rnd 2: inc x 6 (12, +½)\n",
    "Special stitches: Bobble: (yo, in 6 ()\n",
    "Gauge: 0 sc and 0 rows = 0 cm\nFinished size: 0 cm wide, 0 cm long\n",
    "Yarn: A: Gull DK, 0 g / 0 m, 0 balls; needs 0 m\n",
    "Hook: 0 mm (H-8)\nNotions: 0 buttons (0 mm)\n",
    "Yarn: Gull DK, 0% wool, 100% of 1/0 g\nGauge: 1/0 sts = 1/0 in\n",
    "Sizes: ()\nTo fit: 0 (0, 0) cm\nEase: -0 cm\n",
]


@pytest.mark.parametrize("text", STUMBLES)
def test_no_number_makes_it_stumble(text: str) -> None:
    for whole in (text, f"{text}Rnd 1: 6 sc in magic ring (6)\n", f"Rnd 1: 6 sc in magic ring (6)\n{text}"):
        draft = notation.read(whole)
        worked = fabric.work(draft)
        found = techedit.check(draft, worked)
        assert all(0 <= finding.span.start <= finding.span.end <= len(whole) for finding in found)
        assert all(finding.says for finding in found)
