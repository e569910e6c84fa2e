"""What is under way in the demo: an order of which part came, a stocktake half done."""

from collections.abc import Mapping
from datetime import timedelta

from workroom.demo import Cast
from yarns import ledger
from yarns.amounts import grams
from yarns.catalogue import place_named, supplier_named
from yarns.models import Colour, Purchase, RestockRule, Stocktake, Supply, Yarn
from yarns.parcels import add_lot, open_parcel
from yarns.purchases import Wish, order_things
from yarns.stocktakes import Found, save_count, start_stocktake


def under_way(cast: Cast, lots: Mapping[int, int]) -> None:
    """Put it there once. `lots`: ids by their number in the demo's list."""
    _on_its_way(cast)
    _half_a_stocktake(cast, lots)
    _minimums()


def _minimums() -> None:
    """What the studio never wants to be without."""
    eyes = Supply.objects.get(kind="eyes", name="Safety eyes black")
    white = Colour.objects.get(yarn__name="Pocket DK Cotton", name="Gull White")
    for which, minimum in (({"supply": eyes}, 100), ({"colour": white}, grams(500).count)):
        RestockRule.objects.get_or_create(**which, defaults={"minimum": minimum})


ORDERED = (
    ("Harbour", grams(500), 3900),
    ("Foam", grams(300), 2340),
    ("Gorse", grams(400), 3120),
)
"""Of Tideline Worsted, a week ago; all of the Foam and part of the Harbour came. Gorse was never here."""

CAME = (("Harbour", grams(200), "4533"), ("Foam", grams(300), "4419"))


def _on_its_way(cast: Cast) -> None:
    supplier = supplier_named("Sandpiper Mill")
    if supplier is None or Purchase.objects.exists():
        return
    supplier.lead_days = 9
    supplier.save(update_fields=["lead_days"])
    yarn = Yarn.objects.get(name="Tideline Worsted")
    gorse = {"code": "27", "hex_swatch": "#c9a227"}
    Colour.objects.get_or_create(yarn=yarn, name="Gorse", defaults=gorse)
    wishes = [
        Wish(Colour.objects.get(yarn=yarn, name=name), amount, price) for name, amount, price in ORDERED
    ]
    day = cast.today - timedelta(days=8)
    purchase = order_things(supplier, wishes, cast.assistant, "demo:order", ordered_on=day)
    purchase.reference, purchase.expected_on = "SM-20417", cast.today + timedelta(days=2)
    purchase.save(update_fields=["reference", "expected_on"])
    _part_of_it_came(cast, purchase)


def _part_of_it_came(cast: Cast, purchase: Purchase) -> None:
    shelf = place_named("Shelf A")
    parcel = open_parcel(
        cast.assistant,
        "demo:part parcel",
        supplier=purchase.supplier,
        received_on=cast.today,
        slip_number="SM-20417/1",
        purchase=purchase,
    )
    for name, amount, dye_lot in CAME:
        colour = Colour.objects.get(yarn__name="Tideline Worsted", name=name)
        arrival = ledger.Arrival(
            colour, amount, cast.today, dye_lot=dye_lot, place_id=shelf.pk if shelf else None
        )
        add_lot(parcel, arrival, ledger.Act(cast.assistant, f"demo:came:{name}"))


FOUND = ((6, 500, 0), (7, 473, 73), (8, 398, 98))
"""Lots of shelf B as they were counted: number, grams, of them by the scale. Two are still to count."""


def _half_a_stocktake(cast: Cast, lots: Mapping[int, int]) -> None:
    shelf = place_named("Shelf B")
    if shelf is None or Stocktake.objects.exists():
        return
    stocktake = start_stocktake(cast.assistant, "demo:stocktake", [shelf])
    for number, mass_g, weighed_g in FOUND:
        found = Found(grams(mass_g), weighed_g * 1000, shelf.pk)
        save_count(stocktake, lots[number], found, cast.assistant, 0)
