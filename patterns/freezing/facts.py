"""The facts of a revision as JSON, all that a page or a paper prints beside the rounds.

Numbers as in the rows (hook in micrometres, gauge in tenths, lengths in mm); words as typed. Yarns
carry what the shelf knew of them on the day, so that a later change of the shelf changes nothing here.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from craft.standards.cautions import Caution, PieceFacts, PieceKind, cautions_for
from patterns.models import ONE_SIZE, Kind, Pattern, PatternYarn

__all__ = ["ASKS_THE_DESIGNER", "cautions_of", "frozen_facts", "frozen_sizes", "special_stitches"]

ASKS_THE_DESIGNER: Final = frozenset(
    {"small-parts-unknown", "heat-fibre-unknown", "hanging-load", "bag-load"}
)
"""Cautions that ask for a fact; they stand on the publishing page and never in print."""

_KINDS: Final[Mapping[str, frozenset[PieceKind]]] = {
    Kind.SCARF: frozenset({PieceKind.GARMENT}),
    Kind.OTHER: frozenset(),
}
_SPECIAL: Final = re.compile(r"^\s*([^:=]{1,60}?)\s*(?::|=|\s[-–—]\s)\s*(.+)$")


def frozen_facts(pattern: Pattern, *, minutes: int | None) -> dict[str, Any]:
    """The facts; `minutes`: time at the hook for one piece of the largest size, for the cautions."""
    yarns = list(pattern.yarns.select_related("yarn", "shade"))
    return {
        **_words(pattern),
        "kind": pattern.kind,
        "level": pattern.level,
        "terms": pattern.terms,
        "hook_um": pattern.hook_um,
        "gauge": _gauge(pattern),
        "load_tested_g": pattern.load_tested_g,
        "sizes": frozen_sizes(pattern),
        "special_stitches": special_stitches(pattern.special_stitches),
        "yarns": [_yarn(each) for each in yarns],
        "notions": list(
            pattern.notions.values("text", "quantity", "price_minor", "supply_id").order_by("position", "pk")
        ),
        "photos": list(pattern.photos.values("digest", "width", "height", "alt")),
        "cautions": [
            {"slug": each.slug, "text": each.sentence}
            for each in cautions_of(pattern, minutes=minutes)
            if each.slug not in ASKS_THE_DESIGNER
        ],
    }


def _words(pattern: Pattern) -> dict[str, str]:
    names = ("title", "introduction", "skills", "notes", "finishing", "care", "licence")
    words = {name: getattr(pattern, name).strip() for name in names}
    return {**words, "own_cautions": pattern.cautions.strip()}


def frozen_sizes(pattern: Pattern, read: tuple[str, ...] = ()) -> list[dict[str, str]]:
    """The sizes by key; those that the text names where the fields hold none; else one size."""
    names = ("key", "label", "to_fit", "finished")
    rows = [{name: str(getattr(row, name)) for name in names} for row in pattern.sizes.all()]
    if rows:
        return rows
    if len(read) > 1:
        return [
            {"key": f"s{place}", "label": label, "to_fit": "", "finished": ""}
            for place, label in enumerate(read, 1)
        ]
    return [{"key": ONE_SIZE, "label": "One size", "to_fit": "", "finished": ""}]


def _gauge(pattern: Pattern) -> dict[str, Any] | None:
    if not pattern.gauge_stitches_tenths:
        return None
    return {
        "stitches_tenths": pattern.gauge_stitches_tenths,
        "rows_tenths": pattern.gauge_rows_tenths,
        "over_mm": pattern.gauge_over_mm,
        "stitch": pattern.gauge_stitch,
        "in_round": pattern.gauge_in_round,
        "after_washing": pattern.gauge_after_washing,
    }


def _yarn(row: PatternYarn) -> dict[str, Any]:
    frozen: dict[str, Any] = {
        "key": row.key,
        "description": row.description.strip(),
        "colour": row.colour.strip() or (row.shade.name if row.shade else ""),
        "hex": row.shade.hex_swatch if row.shade else "",
        "strands": row.strands,
        "alternatives": row.alternatives.strip(),
        "yarn_id": row.yarn_id,
        "colour_id": row.shade_id,
        "yarn": None,
    }
    if row.yarn is not None:
        yarn = row.yarn
        frozen["yarn"] = {
            "maker": yarn.maker,
            "name": yarn.name,
            "weight": yarn.weight_name,
            "weight_category": yarn.weight_category,
            "fibres": yarn.fibres,
            "ball_mass_mg": yarn.ball_mass_mg,
            "ball_length_mm": yarn.ball_length_mm,
            "metres_per_100g": None if yarn.metres_per_100g is None else str(yarn.metres_per_100g),
        }
    return frozen


def special_stitches(words: str) -> list[dict[str, str]]:
    """Lines such as "bobble (bo): 5 dc in one place" as name and way; a line without is a note."""
    found: list[dict[str, str]] = []
    for line in words.splitlines():
        if match := _SPECIAL.match(line):
            found.append({"name": match[1], "how": match[2].strip()})
        elif line.strip() and found:
            found[-1]["how"] += f" {line.strip()}"
        elif line.strip():
            found.append({"name": "", "how": line.strip()})
    return found


def cautions_of(pattern: Pattern, *, minutes: int | None) -> tuple[Caution, ...]:
    """What the piece should carry, and what the designer should still say, by the trade's rules."""
    kinds = _KINDS.get(pattern.kind) if pattern.kind in _KINDS else None
    return cautions_for(
        frozenset({PieceKind(pattern.kind)}) if kinds is None else kinds,
        PieceFacts(
            youngest_months=pattern.youngest_months,
            small_parts=pattern.small_parts,
            stuffed=pattern.stuffed,
            longest_cord_mm=_decimal(pattern.longest_cord_mm),
            fibres=_fibres(pattern),
            load_tested_kg=_decimal(pattern.load_tested_g, "0.001"),
            making_minutes=minutes,
        ),
    )


def _decimal(number: int | None, unit: str = "1") -> Decimal | None:
    return None if number is None else number * Decimal(unit)


def _fibres(pattern: Pattern) -> dict[str, float]:
    """Fibres of all yarns together; a yarn that is not known leaves the whole not known."""
    shares: dict[str, float] = {}
    for row in pattern.yarns.select_related("yarn"):
        if row.yarn is None or not row.yarn.fibre_shares:
            return {}
        for name, share in row.yarn.fibre_shares.items():
            shares[name] = max(share, shares.get(name, 0.0))
    total = sum(shares.values())
    return {name: share / total for name, share in shares.items()}
