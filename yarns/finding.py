"""What somebody means who scans or types into the one field of the receiving page."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

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
class Choice:
    """One thing that may be meant. `what`: as the next step takes it ("colour-4", "yarn-3", "new").

    `name`: the name that a new colour or yarn would begin with; `gtin`: the barcode it would carry.
    """

    what: str
    label: str
    detail: str = ""
    hex_swatch: str = ""
    is_new: bool = False
    name: str = ""
    gtin: str = ""

    @property
    def query(self) -> str:
        """For the address of the next step."""
        carried = {"what": self.what, "name": self.name, "gtin": self.gtin}
        return urlencode({key: value for key, value in carried.items() if value})


@dataclass(frozen=True, slots=True)
class Found:
    """What was found. One of: `thing` (nothing more to choose), `again` (the last lot anew), choices.

    `says`: a sentence for the person, such as why a barcode can't be right. `gtin`: an unknown barcode,
    to be kept with the colour that it turns out to be. `typed`: what stays in the field.
    """

    thing: Colour | Supply | None = None
    again: bool = False
    says: str = ""
    gtin: str = ""
    typed: str = ""
    choices: tuple[Choice, ...] = ()


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
        return Found(says=str(refusal), typed=words)
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
    # A barcode that is still unknown belongs to no colour that is here: only a new one can be meant.
    things: list[Colour | Supply] = [] if gtin else [*_colours(parts), *_supplies(parts)]
    if len(things) == 1:
        return Found(thing=things[0])
    says = _("Nothing here is called “%(words)s”.") % {"words": words}
    return Found(
        says="" if things or gtin else says,
        gtin=gtin,
        choices=(
            *map(_known, things),
            *_new_colours(words, parts, things, gtin),
            Choice("new", _("New yarn"), words, is_new=True, name=words, gtin=gtin),
        ),
    )


def _known(thing: Colour | Supply) -> Choice:
    if isinstance(thing, Colour):
        detail = f"{thing.name} {thing.code}".strip()
        return Choice(f"colour-{thing.pk}", str(thing.yarn), detail, thing.hex_swatch)
    return Choice(f"supply-{thing.pk}", str(thing))


def _new_colours(
    words: str, parts: list[str], things: Sequence[Colour | Supply], gtin: str
) -> Iterator[Choice]:
    """New colours of the yarns named; what is not the yarn's name is the colour's."""
    yarns, left = _yarns(parts)
    name = " ".join(words.split()[len(parts) - left :]) if left else ""
    of_things = [thing.yarn for thing in things if isinstance(thing, Colour)]
    for yarn in list(dict.fromkeys([*yarns, *of_things]))[:MOST_YARNS]:
        yield Choice(f"yarn-{yarn.pk}", str(yarn), _("new colour"), is_new=True, name=name, gtin=gtin)


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


def _yarns(parts: list[str]) -> tuple[list[Yarn], int]:
    """Yarns whose names hold the words, and how many words at the end were left out to find them."""
    rows = list(Yarn.objects.values_list("pk", "maker", "name"))
    for left in range(len(parts)):
        wanted = _holding(parts[: len(parts) - left], rows)[:MOST_YARNS]
        if wanted:
            found = Yarn.objects.in_bulk(wanted)
            return [found[pk] for pk in wanted], left
    return [], 0


def _holding(parts: list[str], rows: Iterable[tuple[int, *tuple[str, ...]]]) -> list[int]:
    """Ids of the rows whose words hold every part, by their words.

    In Python, because accents and capitals have to count for nothing in any script, and the
    databases differ in that.
    """
    named = ((plain(" ".join(words)), pk) for pk, *words in rows)
    return [pk for words, pk in sorted(named) if all(part in words for part in parts)]
