"""Yarn and time of one piece per size as JSON, from the stitches of the fabric.

    {"yarn": {"s": [{"key": "A", "low_mm": 152000, "likely_mm": 178000, "safe_mm": 214000,
                     "likely_mg": 93700, "safe_mg": 112600, "balls": 2, "strands": 1, "notes": []}]},
     "minutes": {"s": 95}, "stitches": {"s": 2410}, "spare": {"s": {"": {"sc": 12}}}}

A yarn without length and mass on the shelf has no entry. Stitches in a colour that is none of the
pattern's yarns are counted with its first yarn and named under "spare".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any

from craft.costing.time import working_minutes
from craft.yardage import (
    ColourEstimate,
    Gauge,
    GaugeSource,
    InvalidYardageError,
    Working,
    Yarn,
    estimate,
)

__all__ = ["frozen_estimate"]


def frozen_estimate(facts: Mapping[str, Any], rounds: Mapping[str, Any]) -> dict[str, Any]:
    """Estimate every size from frozen facts and rounds."""
    yarns: dict[str, Any] = {}
    spare: dict[str, Any] = {}
    for size, by_colour in rounds["by_colour"].items():
        tallies, spare[size] = _by_yarn(by_colour, facts["yarns"])
        yarns[size] = _estimated(tallies, facts)
    return {
        "yarn": yarns,
        "spare": {size: left for size, left in spare.items() if left},
        "minutes": {size: _minutes(tally) for size, tally in rounds["tally"].items()},
        "stitches": {size: sum(tally.values()) for size, tally in rounds["tally"].items()},
    }


def _minutes(tally: Mapping[str, int]) -> int:
    """Whole minutes at the hook: the stitches alone, without making up and breaks."""
    return ceil(working_minutes(tally).median)


def _by_yarn(
    by_colour: Mapping[str, Mapping[str, int]], yarns: Sequence[Mapping[str, Any]]
) -> tuple[dict[str, dict[str, int]], dict[str, dict[str, int]]]:
    """Stitches by the pattern's yarn letters, and what bore a colour that is none of them."""
    tallies: dict[str, Counter[str]] = {}
    spare: dict[str, dict[str, int]] = {}
    if not yarns:
        return {}, {label: dict(tally) for label, tally in by_colour.items()}
    for label, tally in by_colour.items():
        key = _yarn_key(label, yarns)
        if key is None:
            spare[label] = dict(tally)
        tallies.setdefault(key or yarns[0]["key"], Counter()).update(tally)
    return {key: dict(tally) for key, tally in tallies.items()}, spare


def _yarn_key(label: str, yarns: Sequence[Mapping[str, Any]]) -> str | None:
    """The yarn that a colour word of the text means: its letter, its colour's name, or the only one."""
    if not label or len(yarns) == 1:
        key: str = yarns[0]["key"]
        return key
    plain = _plain(label)
    for yarn in yarns:
        names = {_plain(yarn["key"]), _plain(yarn["colour"]), _plain(yarn["description"])}
        if plain in names:
            return str(yarn["key"])
    return None


def _plain(label: str) -> str:
    words = label.casefold().replace("colour", " ").replace("color", " ").replace("yarn", " ")
    return " ".join(words.split())


def _estimated(tallies: Mapping[str, Mapping[str, int]], facts: Mapping[str, Any]) -> list[dict[str, Any]]:
    known = {each["key"]: yarn for each in facts["yarns"] if (yarn := _yarn(each)) is not None}
    asked = {key: tally for key, tally in tallies.items() if key in known and any(tally.values())}
    if not asked:
        return []
    gauge, hook_um = _gauge(facts), facts["hook_um"]
    if gauge is None and hook_um is None:
        return []
    try:
        answer = estimate(
            asked,
            yarns={key: known[key] for key in asked},
            gauge=gauge,
            hook_mm=None if hook_um is None else hook_um / 1000,
            working=Working(),
        )
    except InvalidYardageError:
        return []
    return [_entry(each) for each in answer.colours]


def _yarn(row: Mapping[str, Any]) -> Yarn | None:
    band = row["yarn"]
    if band is None or band["metres_per_100g"] is None:
        return None
    mass_mg = band["ball_mass_mg"]
    return Yarn(
        metres_per_100g=float(band["metres_per_100g"]),
        fibres={name: per_mille / 1000 for name, per_mille in band["fibres"]},
        ball_g=None if mass_mg is None else mass_mg / 1000,
        strands=row["strands"],
    )


def _gauge(facts: Mapping[str, Any]) -> Gauge | None:
    gauge = facts["gauge"]
    if gauge is None:
        return None
    per_100mm = 10 / gauge["over_mm"]
    rows = gauge["rows_tenths"]
    return Gauge(
        stitch=gauge["stitch"] or "sc",
        stitches_per_100mm=gauge["stitches_tenths"] * per_100mm,
        rows_per_100mm=rows * per_100mm if rows else None,
        source=GaugeSource.STATED,
        in_rounds=gauge["in_round"],
    )


def _entry(answer: ColourEstimate) -> dict[str, Any]:
    return {
        "key": answer.colour,
        "low_mm": ceil(answer.metres.low * 1000),
        "likely_mm": ceil(answer.metres.median * 1000),
        "safe_mm": ceil(answer.safe_m * 1000),
        "likely_mg": ceil(answer.grams.median * 1000),
        "safe_mg": ceil(answer.safe_g * 1000),
        "balls": answer.balls,
        "strands": answer.strands,
        "unknown": list(answer.unknown),
        "notes": [note.value for note in answer.notes],
    }
