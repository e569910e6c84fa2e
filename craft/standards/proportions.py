"""Stitch proportions, turning chains and flat circles.

Heights and turning chains of single stitches stand in `craft.standards.terms`; here is what follows
from them. The chain ladder (1 : 2 : 3 : 4) exaggerates heights: measured gauges give dc = 2 sc, not
3.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from craft.standards.terms import stitch

__all__ = [
    "CIRCLE_RULES",
    "CircleRule",
    "circle_rounds",
    "circle_rule",
    "relative_height",
    "stitches_added_per_round",
]


@dataclass(frozen=True, slots=True)
class CircleRule:
    """Stitches that a flat circle gains a round. `usual` is the common rule, `low`-`high` the range
    reported.
    """

    stitch: str
    usual: int
    low: int
    high: int
    source: str


CIRCLE_RULES: tuple[CircleRule, ...] = (
    CircleRule("sc", 6, 6, 8, "craftymaria.blogspot.com 2009/06; mkcarroll.com 2009/5"),
    CircleRule(
        "hdc",
        8,
        8,
        10,
        "craftymaria.blogspot.com 2009/06; published patterns count 10 (41) and 8 (19)",
    ),
    CircleRule(
        "dc",
        12,
        10,
        14,
        "craftymaria.blogspot.com 2009/06; mkcarroll.com 2009/5; one tutorial uses 8",
    ),
    CircleRule("tr", 16, 12, 18, "12-14 mkcarroll.com 2009/5; 16-18 from memory, no source at hand"),
)
_BY_STITCH = {rule.stitch: rule for rule in CIRCLE_RULES}


def circle_rule(us_name: str) -> CircleRule:
    """Return the trade's rule for a stitch (US name). Raises KeyError where the trade has none."""
    return _BY_STITCH[us_name]


def relative_height(us_name: str) -> float:
    """Return the row height of a stitch in single crochets. Raises UnknownTermError."""
    return stitch(us_name).height


def stitches_added_per_round(width: float, height: float) -> float:
    """Return how many stitches lie a flat circle each round: 2 pi x height / width, in any one
    unit.

    Fewer and the edge cups, more and it ruffles.
    """
    return 2 * math.pi * height / width


def circle_rounds(rounds: int, added_per_round: float) -> tuple[int, ...]:
    """Return the stitch count of each round of the roundest flat circle: the nearest whole to n x
    added.

    With 2 pi added: 6, 13, 19, 25, 31, 38, 44, 50 (mspremiseconclusion.wordpress.com, 2018).
    """
    return tuple(math.floor(number * added_per_round + 0.5) for number in range(1, rounds + 1))
