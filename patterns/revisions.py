"""What stands in a revision, for the rooms above: sizes, yarn, notions, stitches and time per size.

Nothing here computes a design: it reads what was frozen when the pattern was published.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Any

from patterns.models import Revision

__all__ = [
    "NotionNeed",
    "SizeInfo",
    "UnknownSizeError",
    "YarnNeed",
    "estimated_minutes",
    "materials",
    "notions",
    "size_info",
    "sizes",
    "stitches",
    "tally",
]


class UnknownSizeError(LookupError):
    """The revision has no size of that key."""

    def __init__(self, key: str) -> None:
        super().__init__(f"There is no size “{key}” in this pattern.")
        self.key = key


@dataclass(frozen=True, slots=True)
class SizeInfo:
    """One size. `key` is stable from revision to revision; the rest are the designer's words."""

    key: str
    label: str
    to_fit: str
    finished: str


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """Yarn of one piece. Lengths in whole metres, masses in mg (None: not known), of all strands.

    `likely_m` is the estimate, `safe_m` what to have at hand so as not to run out nineteen times in
    twenty; 0 where nothing could be estimated (`known` is False then).
    """

    key: str
    label: str
    likely_m: int
    safe_m: int
    likely_mg: int | None
    safe_mg: int | None
    balls: int | None
    yarn_id: int | None
    colour_id: int | None
    strands: int
    yarn_name: str
    colour: str

    @property
    def known(self) -> bool:
        return self.likely_m > 0


@dataclass(frozen=True, slots=True)
class NotionNeed:
    """A notion of one piece. `price_minor`: of one, in minor units of the workroom's currency."""

    text: str
    quantity: int
    price_minor: int | None
    supply_id: int | None


def sizes(revision: Revision) -> tuple[SizeInfo, ...]:
    """All sizes in printing order; one with the key "one" for a pattern of one size."""
    return tuple(SizeInfo(**size) for size in revision.facts["sizes"])


def size_info(revision: Revision, size_key: str) -> SizeInfo:
    """One size. Raises UnknownSizeError."""
    for size in sizes(revision):
        if size.key == size_key:
            return size
    raise UnknownSizeError(size_key)


def materials(revision: Revision, size_key: str) -> tuple[YarnNeed, ...]:
    """Every yarn of the pattern, in its order, with what one piece of this size takes."""
    size_info(revision, size_key)
    estimated = {each["key"]: each for each in revision.estimate["yarn"].get(size_key, ())}
    return tuple(_need(yarn, estimated.get(yarn["key"], {})) for yarn in revision.facts["yarns"])


def notions(revision: Revision) -> tuple[NotionNeed, ...]:
    """What one piece takes besides yarn."""
    return tuple(NotionNeed(**notion) for notion in revision.facts["notions"])


def tally(revision: Revision, size_key: str) -> dict[str, int]:
    """Stitches of one piece by US name, all colours together."""
    size_info(revision, size_key)
    return dict(revision.rounds["tally"].get(size_key, {}))


def stitches(revision: Revision, size_key: str) -> int:
    """All stitches of one piece."""
    return sum(tally(revision, size_key).values())


def estimated_minutes(revision: Revision, size_key: str) -> int:
    """Minutes at the hook for one piece; 0 where no stitch was counted."""
    size_info(revision, size_key)
    return int(revision.estimate["minutes"].get(size_key, 0))


def yarn_name(yarn: Mapping[str, Any]) -> str:
    """Maker and yarn, or the description where no yarn of the shelf is named."""
    band = yarn["yarn"]
    return f"{band['maker']} {band['name']}".strip() if band else yarn["description"]


def _need(yarn: Mapping[str, Any], entry: Mapping[str, Any]) -> YarnNeed:
    name = yarn_name(yarn)
    return YarnNeed(
        key=yarn["key"],
        label=f"{yarn['key']}: {name}" + (f", {yarn['colour']}" if yarn["colour"] else ""),
        likely_m=ceil(entry.get("likely_mm", 0) / 1000),
        safe_m=ceil(entry.get("safe_mm", 0) / 1000),
        likely_mg=entry.get("likely_mg"),
        safe_mg=entry.get("safe_mg"),
        balls=entry.get("balls"),
        yarn_id=yarn["yarn_id"],
        colour_id=yarn["colour_id"],
        strands=yarn["strands"],
        yarn_name=name,
        colour=yarn["colour"],
    )
