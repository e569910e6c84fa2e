"""What an act on the stock book is made of: who, why, what for, and what comes in."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from workroom.models import Person
from yarns.amounts import Amount
from yarns.models import Colour, Ownership, PurposeKind, SetAside, Supply


@dataclass(frozen=True, slots=True)
class Purpose:
    """What stock goes to. `key` is the other room's own text, `label` what people read."""

    kind: PurposeKind = PurposeKind.NONE
    key: str = ""
    label: str = ""


NO_PURPOSE: Final = Purpose()


@dataclass(frozen=True, slots=True)
class Act:
    """Who does it, why, and the key (at most 80 signs) under which it counts once.

    `at`: the instant, UTC; None means now.
    """

    person: Person
    key: str
    why: str = ""
    purpose: Purpose = NO_PURPOSE
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Arrival:
    """A lot as it comes in: what, how much, and what the slip says. Money in minor units.

    `code`: the label that it carries already, from another workroom's list; "" for a new one.
    """

    thing: Colour | Supply
    amount: Amount
    received_on: date
    dye_lot: str = ""
    place_id: int | None = None
    supplier_id: int | None = None
    parcel_id: int | None = None
    purchase_line_id: int | None = None
    price_paid_minor: int | None = None
    postage_share_minor: int = 0
    ownership: Ownership = Ownership.OURS
    owner_note: str = ""
    hand_dyed: bool = False
    second_hand: bool = False
    no_band: bool = False
    set_aside: SetAside = SetAside.NO
    tare_mg: int = 0
    notes: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class Weighing:
    """What the scale says without cone or bag. `seen`: the balance that the weigher had before them."""

    net: Amount
    tare_mg: int = 0
    scale_step_mg: int | None = None
    seen: int | None = None
