"""House style: one form for each idea. What is left at "keep" stays as the maker has it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

__all__ = ["HouseStyle", "Terms"]

Terms: TypeAlias = Literal["us", "uk"]


@dataclass(frozen=True, slots=True)
class HouseStyle:
    """How a pattern is written out.

    The first two fields say which steps a line has, so a draft in another form of them is another tree
    that means the same; all others change words only.

    `repeats`: "brackets" for `(sc, inc) x 6`, "stars" for `*sc, inc; rep from * around`.
    `increases`: "inc", or "spelled" for `2 sc in next st`.
    `decreases`: "sc2tog", or "dec".
    `round_word`: "Rnd", "Round" or "R". `row_word`: "Row".
    `counts`: "brackets" for `(24 sc)`, "dash" for ` — 24 sc`. `bare_total`: `(24)` for `(24 sts)`.
    `times`: "x" for `x 6`, "times" for `6 times`.
    `numbers`: "before" for `5 sc`, "after" for `sc 5`.
    `each_of`: `sc in each of next 5 sts` for `sc in next 5 sts`.
    `skip`: "skip" or the short "sk"; UK terms have "miss" for both.
    `spelled_joins`: `join with sl st to first sc` for `sl st in first sc`.
    """

    repeats: Literal["keep", "brackets", "stars"] = "keep"
    increases: Literal["keep", "inc", "spelled"] = "keep"
    decreases: Literal["sc2tog", "dec"] = "sc2tog"
    round_word: Literal["Rnd", "Round", "R"] = "Rnd"
    row_word: Literal["Row"] = "Row"
    counts: Literal["brackets", "dash"] = "brackets"
    bare_total: bool = True
    times: Literal["x", "times"] = "x"
    numbers: Literal["before", "after"] = "before"
    each_of: bool = False
    skip: Literal["sk", "skip"] = "skip"
    spelled_joins: bool = True
