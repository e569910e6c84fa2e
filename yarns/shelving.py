"""What a lot is called on the shelf: the words that lists sort by and searches look in."""

import unicodedata
from collections.abc import Iterable

from yarns.models import Colour, Lot, Place, Supplier, Supply, Yarn

NAME_LENGTH = 220


def plain(text: str) -> str:
    """Small letters without accents, single blanks: "Crème  Brûlée" and "creme brulee" are one."""
    split = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in split if not unicodedata.combining(sign))
    return " ".join(bare.split())


def shelf_words(lot: Lot) -> tuple[str, str]:
    """The name to sort by and the text to search in."""
    name = plain(f"{lot.thing} {lot.dye_lot}")[:NAME_LENGTH]
    return name, plain(" ".join(_all_words(lot)))


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
    """Write the words anew for every lot that this thing's name stands in."""
    lots = Lot.objects.filter(**_which(of)).select_related("colour__yarn", "supply", "place", "supplier")
    changed = []
    for lot in lots.iterator(chunk_size=500):
        lot.shelf_name, lot.search_text = shelf_words(lot)
        changed.append(lot)
    Lot.objects.bulk_update(changed, ["shelf_name", "search_text"], batch_size=500)


def _which(of: Yarn | Colour | Supply | Place | Supplier) -> dict[str, object]:
    field = {
        Yarn: "colour__yarn",
        Colour: "colour",
        Supply: "supply",
        Place: "place",
        Supplier: "supplier",
    }[type(of)]
    return {field: of}
