"""What a lot carries for the lists: the words to sort by and look in, the figures to add up."""

import unicodedata
from collections.abc import Iterable
from typing import Final

from yarns.amounts import MG_PER_G
from yarns.models import Colour, Lot, Place, Supplier, Supply, Yarn

NAME_LENGTH: Final = 220
UM_PER_MM: Final = 1000
SHELF_FACTS: Final = ("shelf_name", "search_text", "weight_category", "um_per_g")


def plain(text: str) -> str:
    """Small letters without accents, single blanks: "Crème  Brûlée" and "creme brulee" are one."""
    split = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in split if not unicodedata.combining(sign))
    return " ".join(bare.split())


def write_shelf_facts(lot: Lot) -> None:
    """Copy onto the lot what lists sort by, search in and add up; saving is the caller's."""
    lot.shelf_name = plain(f"{lot.thing} {lot.dye_lot}")[:NAME_LENGTH]
    lot.search_text = plain(" ".join(_all_words(lot)))
    yarn = lot.colour.yarn if lot.colour else None
    rate = yarn.mm_per_mg if yarn else None
    lot.weight_category = yarn.weight_category if yarn else None
    lot.um_per_g = None if rate is None else round(rate * UM_PER_MM * MG_PER_G)


def _all_words(lot: Lot) -> Iterable[str]:
    yield from (lot.code, lot.dye_lot, lot.owner_note, lot.notes)
    yield from (str(lot.place or ""), str(lot.supplier or ""))
    if lot.colour is not None:
        yield from _colour_words(lot.colour)
    if lot.supply is not None:
        yield from (str(lot.supply), lot.supply.get_kind_display(), lot.supply.gtin)


def _colour_words(colour: Colour) -> Iterable[str]:
    yarn = colour.yarn
    yield from (yarn.maker, yarn.name, colour.name, colour.code, colour.gtin, yarn.weight_name)
    yield from (name for name, _share in yarn.fibres)


def reshelve(of: Yarn | Colour | Supply | Place | Supplier) -> None:
    """Copy anew onto every lot that this thing's facts stand in."""
    lots = Lot.objects.filter(**_which(of)).select_related("colour__yarn", "supply", "place", "supplier")
    changed = []
    for lot in lots.iterator(chunk_size=500):
        write_shelf_facts(lot)
        changed.append(lot)
    Lot.objects.bulk_update(changed, SHELF_FACTS, batch_size=500)


def _which(of: Yarn | Colour | Supply | Place | Supplier) -> dict[str, object]:
    field = {
        Yarn: "colour__yarn",
        Colour: "colour",
        Supply: "supply",
        Place: "place",
        Supplier: "supplier",
    }[type(of)]
    return {field: of}
