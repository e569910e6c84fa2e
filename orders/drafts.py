"""A new piece as the pattern suggests it: size, yarn by the estimate, notions, minutes from the stitches."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from orders.models import ExtraKind, Piece, PieceExtra, PieceYarn
from patterns import revisions
from patterns.models import Revision
from patterns.selectors import published_patterns
from yarns.amounts import Unit

G_MG: Final = 1_000
TENTH_G_MG: Final = 100
TOOLS: Final = re.compile(
    r"\b(needles?|hooks?|markers?|scissors|tape measure|pins?|row counter)\b", re.IGNORECASE
)
FILLING: Final = re.compile(r"\b(?:filling|stuffing|fill)\b.*?(\d{1,4}(?:[.,]\d)?)\s*g\b", re.IGNORECASE)

__all__ = ["PieceDraft", "draft_of", "find_revision", "newer_revision", "pattern_choices"]


@dataclass(frozen=True, slots=True)
class PieceDraft:
    """Rows that are not saved. `minutes` 0: the pattern gives no estimate of time."""

    title: str
    minutes: int
    yarns: tuple[PieceYarn, ...]
    extras: tuple[PieceExtra, ...]
    without_mass: tuple[str, ...]


def pattern_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Published patterns with their sizes: [("Beanie", [("7:m", "Beanie, M"), ...]), ...]."""
    return [
        (
            pattern.published.title,
            [
                (f"{pattern.published.pk}:{size.key}", piece_title(pattern.published, size.key))
                for size in revisions.sizes(pattern.published)
            ],
        )
        for pattern in published_patterns()
        if pattern.published is not None
    ]


def find_revision(text: str) -> tuple[Revision, str] | None:
    """The revision and size that a choice like "7:m" names; None where there is no such thing."""
    number, _colon, size_key = text.partition(":")
    if not (number.isascii() and number.isdigit() and len(number) < 12):
        return None
    revision = Revision.objects.select_related("pattern").filter(pk=int(number)).first()
    if revision is None or size_key not in {size.key for size in revisions.sizes(revision)}:
        return None
    return revision, size_key


def piece_title(revision: Revision, size_key: str) -> str:
    """The pattern's title, with the size where there are several."""
    if len(revisions.sizes(revision)) == 1:
        return revision.title
    return f"{revision.title}, {revisions.size_info(revision, size_key).label}"


def draft_of(revision: Revision, size_key: str) -> PieceDraft:
    """What the pattern says of one piece of this size. Raises UnknownSizeError."""
    needs = revisions.materials(revision, size_key)
    return PieceDraft(
        title=piece_title(revision, size_key)[:120],
        minutes=revisions.estimated_minutes(revision, size_key),
        yarns=tuple(_yarn(need) for need in needs),
        extras=tuple(_extra(n) for n in revisions.notions(revision) if not _is_tool(n)),
        without_mass=tuple(need.label for need in needs if not need.likely_mg),
    )


def _yarn(need: revisions.YarnNeed) -> PieceYarn:
    likely_mg = _round(need.likely_mg or 0, TENTH_G_MG)
    return PieceYarn(
        part_key=need.key,
        label=need.key if need.yarn_id else need.label[:80],
        colour_id=need.colour_id,
        mass_mg=likely_mg,
        reserve_mg=max(likely_mg, _round_up(need.safe_mg or 0, G_MG)),
        from_pattern=bool(likely_mg),
    )


def _round(mass_mg: int, step_mg: int) -> int:
    """An estimate is no finer than a scale; what is something stays something."""
    return max(step_mg, (mass_mg + step_mg // 2) // step_mg * step_mg) if mass_mg else 0


def _round_up(mass_mg: int, step_mg: int) -> int:
    return -(-mass_mg // step_mg) * step_mg


def _is_tool(notion: revisions.NotionNeed) -> bool:
    """What a pattern asks for and keeps: it is no part of the piece and costs it nothing."""
    return notion.supply_id is None and notion.price_minor is None and bool(TOOLS.search(notion.text))


def _extra(notion: revisions.NotionNeed) -> PieceExtra:
    """A filling with its grams ("toy filling, about 25 g") is weighed, anything else counted."""
    mass = FILLING.search(notion.text)
    if mass and notion.quantity == 1 and notion.price_minor is None:
        grams_mg = int(Decimal(mass[1].replace(",", ".")) * G_MG)
        kind, unit, quantity = ExtraKind.FILLING, Unit.MILLIGRAM, grams_mg
    else:
        kind, unit, quantity = ExtraKind.NOTION, Unit.PIECE, notion.quantity
    return PieceExtra(
        kind=kind,
        label=notion.text[:80],
        supply_id=notion.supply_id,
        unit=unit,
        quantity=quantity,
        price_minor=notion.price_minor,
    )


def newer_revision(piece: Piece) -> Revision | None:
    """The published revision, where the piece is costed from an older one that still has its size."""
    if piece.revision is None:
        return None
    published = piece.revision.pattern.published
    if published is None or published.pk == piece.revision_id:
        return None
    has_size = piece.size_key in {size.key for size in revisions.sizes(published)}
    return published if has_size else None
