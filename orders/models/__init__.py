"""Rows of the orders room: what is made, what it costs, where it is sold."""

from orders.models.batches import Batch, BatchAllocation, BatchState, TimeEntry, Timer
from orders.models.fairs import Fair
from orders.models.labels import LabelProfile
from orders.models.pieces import ExtraKind, Piece, PieceExtra, PieceYarn
from orders.models.rates import Ending, Tax, WorkroomRates

__all__ = [
    "Batch",
    "BatchAllocation",
    "BatchState",
    "Ending",
    "ExtraKind",
    "Fair",
    "LabelProfile",
    "Piece",
    "PieceExtra",
    "PieceYarn",
    "Tax",
    "TimeEntry",
    "Timer",
    "WorkroomRates",
]
