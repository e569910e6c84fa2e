"""Rows of the orders room: what is made, what it costs, where it is sold."""

from orders.models.batches import Batch, BatchAllocation, BatchState, TimeEntry, Timer
from orders.models.fairs import Expectation, Fair, FairResult, Keeps
from orders.models.labels import LabelProfile
from orders.models.pieces import ExtraKind, Piece, PieceExtra, PieceYarn
from orders.models.rates import Ending, Tax, WorkroomRates

__all__ = [
    "Batch",
    "BatchAllocation",
    "BatchState",
    "Ending",
    "Expectation",
    "ExtraKind",
    "Fair",
    "FairResult",
    "Keeps",
    "LabelProfile",
    "Piece",
    "PieceExtra",
    "PieceYarn",
    "Tax",
    "TimeEntry",
    "Timer",
    "WorkroomRates",
]
