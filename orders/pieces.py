"""Writes on pieces and on the workroom's rates."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import F

from orders.models import LabelProfile, Piece, PieceExtra, PieceYarn, WorkroomRates
from orders.refusals import EditedMeanwhileError
from patterns.models import Revision

__all__ = ["PieceFacts", "label_profile_save", "piece_create", "piece_edit", "piece_price", "rates_save"]


@dataclass(frozen=True, slots=True)
class PieceFacts:
    """A piece as its form has it; yarns and extras are rows that are not saved yet."""

    title: str
    minutes: int
    revision: Revision | None = None
    size_key: str = ""
    notes: str = ""
    price_minor: int | None = None
    active: bool = True
    yarns: Sequence[PieceYarn] = ()
    extras: Sequence[PieceExtra] = ()


def piece_create(facts: PieceFacts, key: UUID) -> Piece:
    """Write a new piece; the same key twice gives the first one."""
    first = Piece.objects.filter(key=key).first()
    if first is not None:
        return first
    try:
        with transaction.atomic():
            piece = Piece.objects.create(
                key=key, revision=facts.revision, size_key=facts.size_key, **_columns(facts)
            )
            _write_parts(piece, facts)
    except IntegrityError:
        return Piece.objects.get(key=key)
    return piece


def piece_edit(piece: Piece, facts: PieceFacts, version: int) -> None:
    """Change a piece that stands at `version`. Raises EditedMeanwhileError where somebody was quicker."""
    with transaction.atomic():
        done = Piece.objects.filter(pk=piece.pk, version=version).update(
            version=F("version") + 1, **_columns(facts)
        )
        if not done:
            raise EditedMeanwhileError
        piece.yarns.all().delete()
        piece.extras.all().delete()
        _write_parts(piece, facts)


def piece_price(piece: Piece, price_minor: int | None) -> None:
    """Put a price on the tag, or take it off."""
    Piece.objects.filter(pk=piece.pk).update(price_minor=price_minor, version=F("version") + 1)


def _columns(facts: PieceFacts) -> dict[str, Any]:
    return {
        "title": facts.title,
        "minutes": facts.minutes,
        "notes": facts.notes,
        "price_minor": facts.price_minor,
        "active": facts.active,
    }


def _write_parts(piece: Piece, facts: PieceFacts) -> None:
    for part in facts.yarns:
        part.piece = piece
    for extra in facts.extras:
        extra.piece = piece
    PieceYarn.objects.bulk_create(facts.yarns)
    PieceExtra.objects.bulk_create(facts.extras)


def rates_save(values: dict[str, Any], version: int) -> None:
    """Write the rates over those of `version` (0: there were none). Raises EditedMeanwhileError."""
    _save_only_row(WorkroomRates, values, version)


def label_profile_save(values: dict[str, Any], version: int) -> None:
    """Write what stands on labels over that of `version`. Raises EditedMeanwhileError."""
    _save_only_row(LabelProfile, values, version)


def _save_only_row(model: type[WorkroomRates | LabelProfile], values: dict[str, Any], version: int) -> None:
    if version:
        rows = model.objects.filter(pk=1, version=version)
        if not rows.update(version=version + 1, **values):
            raise EditedMeanwhileError
        return
    try:
        with transaction.atomic():
            model.objects.create(pk=1, **values)
    except IntegrityError as error:
        raise EditedMeanwhileError from error
