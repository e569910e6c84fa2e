"""Reads of the orders room."""

from collections.abc import Iterable, Sequence
from datetime import date

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from orders.models import Batch, BatchState, Fair, Piece, WorkroomRates
from orders.sheets import Costing, Question, cost_of
from orders.shelf import Shelf
from orders.uses import Use, uses_of

__all__ = [
    "OPEN_STATES",
    "all_pieces",
    "batch_or_404",
    "batches",
    "costings",
    "current_rates",
    "fair_or_404",
    "fairs_from",
    "load_shelf",
    "past_fairs",
    "piece_or_404",
    "question_of",
    "rates_or_blank",
    "uses_for",
]

OPEN_STATES = (BatchState.PLANNED, BatchState.STARTED)
_PARTS = ("yarns__colour__yarn", "extras__supply")


def current_rates() -> WorkroomRates | None:
    """The rates; None before anybody said what an hour is worth."""
    return WorkroomRates.objects.filter(pk=1).first()


def rates_or_blank() -> WorkroomRates:
    """The rates; where there are none yet, rates at which an hour is worth nothing (not saved)."""
    return current_rates() or WorkroomRates(wage_per_hour_minor=0, margin_bp=0)


def all_pieces() -> QuerySet[Piece]:
    """Pieces with their yarns and extras at hand, those still made first."""
    return Piece.objects.select_related("revision__pattern__published").prefetch_related(*_PARTS)


def piece_or_404(pk: int) -> Piece:
    return get_object_or_404(all_pieces(), pk=pk)


def load_shelf(pieces: Iterable[Piece]) -> Shelf:
    """The shelf for all that these pieces are made of, in one query."""
    parts = list(pieces)
    return Shelf.load(
        colours=[y.colour_id for piece in parts for y in piece.yarns.all() if y.colour_id],
        supplies=[e.supply_id for piece in parts for e in piece.extras.all() if e.supply_id],
    )


def uses_for(piece: Piece, shelf: Shelf, rates: WorkroomRates) -> tuple[Use, ...]:
    return uses_of(piece.yarns.all(), piece.extras.all(), shelf, rates.yarn_waste_bp)


def question_of(piece: Piece, rates: WorkroomRates) -> Question:
    """The sheet as it stands, nothing asked otherwise."""
    return Question(piece.minutes, rates.wage_per_hour_minor, rates.margin_bp, piece.price_minor)


def costings(pieces: Sequence[Piece], rates: WorkroomRates, currency: str) -> dict[int, Costing]:
    """Cost sheets of many pieces by their id, the shelf read once."""
    shelf = load_shelf(pieces)
    return {
        piece.pk: cost_of(uses_for(piece, shelf, rates), rates, question_of(piece, rates), currency)
        for piece in pieces
    }


# ---------------------------------------------------------------------------------- batches


def batches() -> QuerySet[Batch]:
    """Batches with piece and fair at hand; the next due first."""
    return Batch.objects.select_related("piece", "fair", "started_by", "closed_by")


def batch_or_404(code: str) -> Batch:
    return get_object_or_404(batches(), code=code)


# ------------------------------------------------------------------------------------ fairs


def fairs_from(today: date) -> QuerySet[Fair]:
    """Fairs that are to come or going on, the next first."""
    return Fair.objects.filter(ends_on__gte=today)


def past_fairs(today: date) -> QuerySet[Fair]:
    return Fair.objects.filter(ends_on__lt=today).order_by("-starts_on")


def fair_or_404(pk: int) -> Fair:
    return get_object_or_404(Fair, pk=pk)
