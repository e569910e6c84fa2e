"""The demo's shelf: invented makers, their yarns and supplies, lots with a little history."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta

from django.db import transaction

from workroom.demo import Cast
from yarns import ledger
from yarns.acts import NO_PURPOSE
from yarns.amounts import Amount, grams, pieces
from yarns.catalogue import place_named, supplier_named
from yarns.demo_under_way import under_way
from yarns.models import (
    Colour,
    Movement,
    Ownership,
    Parcel,
    PurposeKind,
    SetAside,
    Supply,
    SupplyKind,
    Yarn,
)
from yarns.parcels import close_parcel, open_parcel


@dataclass(frozen=True, slots=True)
class _Yarn:
    maker: str
    name: str
    weight: int | None
    fibres: tuple[tuple[str, int], ...]
    ball: tuple[int, int | None]
    hook_mm: str
    care: str
    colours: tuple[tuple[str, str, str, str], ...]
    put_up: str = "ball"


_WASH_30 = "Machine wash 30 °C, mild; dry flat"
_WASH_60 = "Machine wash 60 °C; dry flat"
_BY_HAND = "Wash by hand; dry flat"

YARNS = (
    _Yarn(
        "Sandpiper Mill",
        "Tideline Worsted",
        4,
        (("wool", 800), ("nylon", 200)),
        (100, 190),
        "5",
        _WASH_30,
        (
            ("Harbour", "12", "#27456b", "2000000000121"),
            ("Foam", "02", "#e6e8df", "2000000000022"),
            ("Rust Buoy", "31", "#a94f2d", "2000000000312"),
            ("Kelp", "44", "#56613b", "2000000000442"),
        ),
    ),
    _Yarn(
        "Sandpiper Mill",
        "Breakwater Cotton",
        4,
        (("cotton", 1000),),
        (100, 170),
        "5",
        _WASH_60,
        (
            ("Sailcloth", "01", "#efe9da", "2000000001012"),
            ("Slate Roof", "17", "#5a646d", "2000000001173"),
            ("Marigold", "23", "#d79a2b", "2000000001234"),
        ),
    ),
    _Yarn(
        "Old Rope Walk",
        "Hempen",
        4,
        (("cotton", 600), ("hemp", 400)),
        (100, 160),
        "5",
        _WASH_30,
        (("Raw Cord", "R1", "#c9b68f", ""), ("Tar", "R9", "#3b3530", "")),
    ),
    _Yarn(
        "Pennywort Yarns",
        "Pocket DK Cotton",
        3,
        (("cotton", 1000),),
        (50, 125),
        "3.5",
        _WASH_60,
        (
            ("Gull White", "100", "#f3f1ea", "2000000002002"),
            ("Pebble", "108", "#a7a39a", "2000000002088"),
            ("Yolk", "120", "#e0a526", "2000000002200"),
            ("Coral", "131", "#d6705a", "2000000002316"),
        ),
    ),
    _Yarn(
        "Pennywort Yarns",
        "Lane DK",
        3,
        (("wool", 1000),),
        (50, 112),
        "4.5",
        _BY_HAND,
        (("Damson", "7", "#5b2f4d", ""), ("Oat", "3", "#cbb892", "")),
    ),
    _Yarn(
        "Long Strand",
        "Fen Fingering",
        1,
        (("merino", 750), ("nylon", 250)),
        (100, 420),
        "3",
        _WASH_30,
        (("Reed Bed", "", "#7d8352", ""), ("Dusk", "", "#655a7b", "")),
        "hank",
    ),
    _Yarn(
        "Old Rope Walk",
        "Bollard",
        5,
        (("cotton", 800), ("polyester", 200)),
        (1000, 900),
        "8",
        _WASH_30,
        (("Undyed", "", "#e4dcc6", ""),),
        "cone",
    ),
    _Yarn("", "Mystery pink from the attic", None, (), (0, None), "", "", (("Pink", "", "#d99aa5", ""),)),
)

SUPPLIES = (
    (SupplyKind.EYES, "Brightbead", "Safety eyes black", "9 mm", "pc"),
    (SupplyKind.FILLING, "Downy Dock", "Toy filling, polyester", "", "mg"),
    (SupplyKind.BUTTON, "", "Wooden buttons", "20 mm", "pc"),
    (SupplyKind.LABEL, "", "Sewn-in labels Two Gulls", "15 x 40 mm", "pc"),
)

PLACES = ("Shelf A", "Shelf B", "Shelf C", "Box 1", "Box 2 (sealed)", "Drawer")


@dataclass(frozen=True, slots=True)
class _Lot:
    """`days`: received so many days ago; `parcel`: which parcel it came in, "" for none."""

    thing: str
    dye_lot: str
    amount: Amount
    place: str
    price_minor: int | None
    days: int
    parcel: str = ""
    ownership: Ownership = Ownership.OURS
    owner_note: str = ""
    marks: tuple[str, ...] = ()
    set_aside: SetAside = SetAside.NO


LOTS = (
    _Lot("Tideline Worsted Harbour", "4471", grams(1000), "Shelf A", 7800, 96, "march"),
    _Lot("Tideline Worsted Harbour", "4518", grams(300), "Shelf A", 2340, 40, "may"),
    _Lot("Tideline Worsted Foam", "4402", grams(800), "Shelf A", 6240, 96, "march"),
    _Lot("Tideline Worsted Rust Buoy", "4460", grams(600), "Shelf A", 4680, 40, "may"),
    _Lot("Tideline Worsted Kelp", "4488", grams(400), "Shelf A", 3120, 12, "june"),
    _Lot("Breakwater Cotton Sailcloth", "B210", grams(1200), "Shelf B", 6600, 96, "march"),
    _Lot("Breakwater Cotton Slate Roof", "B198", grams(500), "Shelf B", 2750, 96, "march"),
    _Lot("Breakwater Cotton Slate Roof", "B224", grams(500), "Shelf B", 2850, 12, "june"),
    _Lot("Breakwater Cotton Marigold", "B205", grams(400), "Shelf B", 2200, 40, "may"),
    _Lot("Hempen Raw Cord", "H77", grams(1500), "Shelf C", 10350, 70, "rope"),
    _Lot("Hempen Tar", "H64", grams(500), "Shelf C", 3450, 70, "rope"),
    _Lot("Pocket DK Cotton Gull White", "P15", grams(500), "Box 1", 3200, 96, "penny"),
    _Lot("Pocket DK Cotton Pebble", "P15", grams(300), "Box 1", 1920, 96, "penny"),
    _Lot("Pocket DK Cotton Yolk", "P12", grams(150), "Box 1", 960, 96, "penny"),
    _Lot("Pocket DK Cotton Coral", "P18", grams(100), "Box 1", 640, 30, "penny 2"),
    _Lot("Lane DK Damson", "L3", grams(350), "Box 2 (sealed)", 2275, 30, "penny 2"),
    _Lot("Lane DK Oat", "L9", grams(250), "Box 2 (sealed)", 1625, 30, "penny 2"),
    _Lot("Fen Fingering Reed Bed", "", grams(200), "Drawer", 4400, 55, "", marks=("hand_dyed",)),
    _Lot("Fen Fingering Dusk", "", grams(100), "Drawer", 2200, 55, "", marks=("hand_dyed",)),
    _Lot("Bollard Undyed", "C1", grams(1000), "Shelf C", 3900, 70, "rope"),
    _Lot(
        "Mystery pink from the attic Pink",
        "",
        grams(230),
        "Box 2 (sealed)",
        None,
        8,
        marks=("second_hand", "no_band"),
        set_aside=SetAside.WAITING,
    ),
    _Lot(
        "Lane DK Oat",
        "L2",
        grams(300),
        "Box 2 (sealed)",
        None,
        20,
        ownership=Ownership.CUSTOMER,
        owner_note="for the blue-boat blanket order",
    ),
    _Lot("Safety eyes black 9 mm", "BB-2291", pieces(100), "Drawer", 1400, 96, "penny"),
    _Lot("Toy filling, polyester", "", grams(2000), "Shelf C", 1500, 96, "penny"),
    _Lot("Wooden buttons 20 mm", "", pieces(50), "Drawer", 1250, 40, "may"),
    _Lot("Sewn-in labels Two Gulls 15 x 40 mm", "", pieces(200), "Drawer", 3200, 120),
)

PARCELS = {
    "march": ("Sandpiper Mill", 850),
    "may": ("Sandpiper Mill", 590),
    "june": ("Sandpiper Mill", 590),
    "rope": ("Old Rope Walk", 1200),
    "penny": ("Pennywort Yarns", 720),
    "penny 2": ("Pennywort Yarns", 495),
}


def make(cast: Cast) -> None:
    """Put it all there; a second run finds it and adds nothing."""
    with transaction.atomic():
        things = dict(_things())
        for name in PLACES:
            place_named(name)
        for number, lot in sorted(enumerate(LOTS), key=lambda each: -each[1].days):
            _receive(cast, number, lot, things[lot.thing])
        _close_parcels()
        _history(cast)
        under_way(cast, {number: _lot(number) for number in range(len(LOTS))})


def _things() -> Iterator[tuple[str, Colour | Supply]]:
    for each in YARNS:
        yarn = _yarn(each)
        for name, code, shade, gtin in each.colours:
            colour, _made = Colour.objects.get_or_create(
                yarn=yarn,
                name=name,
                code=code,
                defaults={"hex_swatch": shade, "gtin": gtin.zfill(14) if gtin else ""},
            )
            yield f"{each.name} {name}", colour
    for kind, maker, name, size, unit in SUPPLIES:
        supply, _made = Supply.objects.get_or_create(
            kind=kind, maker=maker, name=name, size=size, defaults={"counts_in": unit}
        )
        yield f"{name} {size}".strip(), supply


def _yarn(each: _Yarn) -> Yarn:
    mass_g, length_m = each.ball
    yarn, _made = Yarn.objects.get_or_create(
        maker=each.maker,
        name=each.name,
        defaults={
            "weight_category": each.weight,
            "fibres": [list(part) for part in each.fibres],
            "put_up": each.put_up,
            "ball_mass_mg": mass_g * 1000 or None,
            "ball_length_mm": length_m * 1000 if length_m else None,
            "hook_um": round(float(each.hook_mm) * 1000) if each.hook_mm else None,
            "care": each.care,
        },
    )
    return yarn


def _moment(cast: Cast, days: int, hour: int = 9) -> datetime:
    return datetime.combine(cast.today - timedelta(days=days), time(hour), UTC)


def _receive(cast: Cast, number: int, lot: _Lot, thing: Colour | Supply) -> None:
    act = ledger.Act(cast.assistant, f"demo:lot:{number}", at=_moment(cast, lot.days))
    if Movement.objects.filter(key=act.key).exists():
        return
    place = place_named(lot.place)
    parcel = _parcel(cast, lot)
    ledger.receive(
        ledger.Arrival(
            thing=thing,
            amount=lot.amount,
            received_on=cast.today - timedelta(days=lot.days),
            dye_lot=lot.dye_lot,
            place_id=place.pk if place else None,
            supplier_id=parcel.supplier_id if parcel else None,
            parcel_id=parcel.pk if parcel else None,
            price_paid_minor=lot.price_minor,
            ownership=lot.ownership,
            owner_note=lot.owner_note,
            set_aside=lot.set_aside,
            hand_dyed="hand_dyed" in lot.marks,
            second_hand="second_hand" in lot.marks,
            no_band="no_band" in lot.marks,
        ),
        act,
    )


def _parcel(cast: Cast, lot: _Lot) -> Parcel | None:
    if not lot.parcel:
        return None
    supplier, _postage = PARCELS[lot.parcel]
    return open_parcel(
        cast.assistant,
        f"demo:parcel:{lot.parcel}",
        supplier=supplier_named(supplier),
        received_on=cast.today - timedelta(days=lot.days),
        slip_number=f"{supplier[0]}{1000 + lot.days}",
    )


def _close_parcels() -> None:
    for key, (_supplier, postage_minor) in PARCELS.items():
        parcel = Parcel.objects.get(key=f"demo:parcel:{key}")
        if parcel.closed_at is None:
            close_parcel(parcel, postage_minor, parcel.slip_number)


SWATCH = ledger.Purpose(PurposeKind.SWATCH, "", "gauge swatches")
SAMPLE = ledger.Purpose(PurposeKind.SAMPLE, "", "photo sample")


def _history(cast: Cast) -> None:
    """A few entries of every kind, so that the lot pages have something to show. In their order."""

    def act(name: str, days: int, why: str = "", purpose: ledger.Purpose = NO_PURPOSE) -> ledger.Act:
        return ledger.Act(cast.assistant, f"demo:{name}", why, purpose, _moment(cast, days, 15))

    def sample(number: int, amount: Amount, days: int) -> None:
        ledger.issue(_lot(number), amount, act(f"sample {number}", days, purpose=SAMPLE))

    harbour, foam = _lot(0), _lot(2)
    sample(0, grams(118), 80)
    sample(2, grams(96), 80)
    ledger.issue(harbour, grams(24), act("harbour swatch", 79, purpose=SWATCH))
    ledger.give_back(harbour, grams(9), act("harbour back", 78, purpose=SWATCH))
    sample(5, grams(140), 66)
    sample(11, grams(46), 64)
    sample(22, pieces(12), 64)
    wrong = ledger.issue(foam, grams(200), act("foam slip", 60, "for the hats"))
    ledger.undo(wrong.pk, act("foam undone", 60, "wrong lot: it was Harbour"))
    sample(9, grams(210), 50)
    ledger.weigh(harbour, ledger.Weighing(grams(862), scale_step_mg=1000), act("harbour weighed", 40))
    ledger.weigh(
        _lot(19),
        ledger.Weighing(grams(742), tare_mg=60_000, scale_step_mg=2000),
        act("cone weighed", 14),
    )
    ledger.write_off(_lot(15), grams(12), act("damson moth", 10, "moth in the outer layer"))


def _lot(number: int) -> int:
    return Movement.objects.get(key=f"demo:lot:{number}").lot_id
