"""A new piece as the pattern suggests it: size, yarn by the estimate, notions, minutes from the stitches."""

from dataclasses import dataclass

from orders.models import ExtraKind, Piece, PieceExtra, PieceYarn
from patterns import revisions
from patterns.models import Revision
from patterns.selectors import published_patterns
from yarns.amounts import Unit

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
        extras=tuple(_extra(notion) for notion in revisions.notions(revision)),
        without_mass=tuple(need.label for need in needs if not need.likely_mg),
    )


def _yarn(need: revisions.YarnNeed) -> PieceYarn:
    likely_mg = need.likely_mg or 0
    return PieceYarn(
        part_key=need.key,
        label=need.label[:80],
        colour_id=need.colour_id,
        mass_mg=likely_mg,
        reserve_mg=max(likely_mg, need.safe_mg or 0),
        from_pattern=bool(likely_mg),
    )


def _extra(notion: revisions.NotionNeed) -> PieceExtra:
    return PieceExtra(
        kind=ExtraKind.NOTION,
        label=notion.text[:80],
        supply_id=notion.supply_id,
        unit=Unit.PIECE,
        quantity=notion.quantity,
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
