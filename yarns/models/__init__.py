"""Rows of the yarn room: what there is to know of a yarn, and how much of it lies on the shelf."""

from yarns.models.buying import Purchase, PurchaseLine, PurchaseState, RestockRule
from yarns.models.catalogue import Colour, Place, Supplier, Supply, SupplyKind, Yarn
from yarns.models.counting import CountedLot, Stocktake, StocktakeState
from yarns.models.stock import (
    LabelCode,
    Lot,
    Movement,
    MovementKind,
    Ownership,
    Parcel,
    Promise,
    PromiseState,
    PurposeKind,
    SetAside,
)

__all__ = [
    "Colour",
    "CountedLot",
    "LabelCode",
    "Lot",
    "Movement",
    "MovementKind",
    "Ownership",
    "Parcel",
    "Place",
    "Promise",
    "PromiseState",
    "Purchase",
    "PurchaseLine",
    "PurchaseState",
    "PurposeKind",
    "RestockRule",
    "SetAside",
    "Stocktake",
    "StocktakeState",
    "Supplier",
    "Supply",
    "SupplyKind",
    "Yarn",
]
