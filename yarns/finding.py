"""What somebody means who scans or types into the one field of the receiving page."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from django.utils.translation import gettext as _

from craft.standards.codes import (
    GTIN_LENGTHS,
    InvalidCodeError,
    gtin_shown,
    read_gtin,
    read_label_code,
)
from yarns.models import Colour, Lot, Supply, Yarn
from yarns.shelving import plain

MOST_COLOURS: Final = 9
MOST_YARNS: Final = 4
MOST_WORDS: Final = 6
AGAIN: Final = frozenset({"+", "="})


@dataclass(frozen=True, slots=True)
class Found:
    """What was found. One of: `thing` (nothing more to choose), `again` (the last lot anew), choices.

    `says`: a sentence for the person, such as why a barcode can't be right. `gtin`: an unknown barcode, to
    be kept with the colour that it turns out to be. `words`: what was typed, for a new name.
    """

    thing: Colour | Supply | None = None
    again: bool = False
    says: str = ""
    gtin: str = ""
    words: str = ""
    colours: list[Colour] = field(default_factory=list)
    supplies: list[Supply] = field(default_factory=list)
    yarns: list[Yarn] = field(default_factory=list)


def find(typed: str, gtin: str = "") -> Found:
    """Read what was typed: "+", a barcode, a label of ours, or words of a name.

    `gtin`: an unknown barcode scanned before, for which the words now name the yarn.
    """
    words = " ".join(typed.replace("\x00", "").split())[:120]
    if words in AGAIN:
        return Found(again=True)
    if _like_a_barcode(words):
        return _by_barcode(words)
    labelled = _by_label(words)
    return labelled or _by_words(words, gtin)


def _like_a_barcode(words: str) -> bool:
    digits = words.replace(" ", "").replace("-", "")
    return digits.isascii() and digits.isdigit() and len(digits) >= min(GTIN_LENGTHS)


def _by_barcode(words: str) -> Found:
    try:
        gtin = read_gtin(words)
    except InvalidCodeError as refusal:
        return Found(says=str(refusal), words=words)
    colour = Colour.objects.select_related("yarn").filter(gtin=gtin).first()
    thing = colour or Supply.objects.filter(gtin=gtin).first()
    if thing is not None:
        return Found(thing=thing)
    says = _("The barcode %(code)s is new here. Which yarn is it?") % {"code": gtin_shown(gtin)}
    return Found(says=says, gtin=gtin)


def _by_label(words: str) -> Found | None:
    try:
        code = read_label_code(words)
    except InvalidCodeError:
        return None
    lot = Lot.objects.select_related("colour__yarn", "supply").filter(code=code).first()
    return Found(thing=lot.thing) if lot else None


def _by_words(words: str, gtin: str) -> Found:
    parts = plain(words).split()[:MOST_WORDS]
    if not parts:
        return Found(gtin=gtin)
    colours, supplies = _colours(parts), _supplies(parts)
    yarns = _yarns(parts) or list(dict.fromkeys(colour.yarn for colour in colours))[:MOST_YARNS]
    if gtin:  # it has no colour here yet, or the barcode would have been known
        return Found(words=words, gtin=gtin, yarns=yarns, colours=colours)
    if len(colours) + len(supplies) == 1:
        return Found(thing=(colours or supplies)[0])
    says = _("Nothing here is called “%(words)s”.") % {"words": words}
    return Found(
        says="" if colours or supplies else says,
        words=words,
        colours=colours,
        supplies=supplies,
        yarns=yarns,
    )


def _colours(parts: list[str]) -> list[Colour]:
    rows = Colour.objects.values_list("pk", "yarn__maker", "yarn__name", "name", "code")
    wanted = _holding(parts, rows)[:MOST_COLOURS]
    found = Colour.objects.select_related("yarn").in_bulk(wanted)
    return [found[pk] for pk in wanted]


def _supplies(parts: list[str]) -> list[Supply]:
    rows = Supply.objects.values_list("pk", "maker", "name", "size", "kind")
    wanted = _holding(parts, rows)[:MOST_COLOURS]
    found = Supply.objects.in_bulk(wanted)
    return [found[pk] for pk in wanted]


def _yarns(parts: list[str]) -> list[Yarn]:
    """Yarns that a new colour could be of.

    Where not all words are the yarn's, the ones at the end may be the new colour's name.
    """
    rows = list(Yarn.objects.values_list("pk", "maker", "name"))
    for upto in range(len(parts), 0, -1):
        wanted = _holding(parts[:upto], rows)[:MOST_YARNS]
        if wanted:
            found = Yarn.objects.in_bulk(wanted)
            return [found[pk] for pk in wanted]
    return []


def _holding(parts: list[str], rows: Iterable[tuple[int, *tuple[str, ...]]]) -> list[int]:
    """Ids of the rows whose words hold every part, by their words.

    In Python, because accents and capitals have to count for nothing in any script, and the
    databases differ in that.
    """
    named = ((plain(" ".join(words)), pk) for pk, *words in rows)
    return [pk for words, pk in sorted(named) if all(part in words for part in parts)]
