"""What a row names: its yarn, colour or supply, found or made."""

from dataclasses import dataclass, field
from typing import Any, Final

from django.utils.translation import gettext as _

from yarns.amounts import Unit
from yarns.lists import cells
from yarns.lists.cells import BadCellError, Row
from yarns.models import Colour, Supply, SupplyKind, Yarn
from yarns.models.catalogue import PutUp

Key = tuple[str, ...]
UM_PER_MM: Final = 1000


def folded(*names: str) -> Key:
    """How names are compared: without regard to capitals, as the tables do."""
    return tuple(name.lower() for name in names)


@dataclass(frozen=True, slots=True)
class Known:
    """What the house knows already and what a list adds to it, by folded names. Unsaved rows have no pk."""

    yarns: dict[Key, Yarn] = field(default_factory=dict)
    colours: dict[Key, Colour] = field(default_factory=dict)
    supplies: dict[Key, Supply] = field(default_factory=dict)
    barcodes: dict[str, Key] = field(default_factory=dict)

    @classmethod
    def here(cls) -> "Known":
        """Everything that is in the tables now; three queries."""
        known = cls()
        for yarn in Yarn.objects.all():
            known.yarns[folded(yarn.maker, yarn.name)] = yarn
        for colour in Colour.objects.select_related("yarn"):
            known.add_colour(colour)
        for supply in Supply.objects.all():
            known.add_supply(supply)
        return known

    def add_colour(self, colour: Colour) -> None:
        key = folded(colour.yarn.maker, colour.yarn.name, colour.name, colour.code)
        self.colours[key] = colour
        self._keep_barcode(colour.gtin, key)

    def add_supply(self, supply: Supply) -> None:
        key = folded(supply.kind, supply.maker, supply.name, supply.size)
        self.supplies[key] = supply
        self._keep_barcode(supply.gtin, key)

    def _keep_barcode(self, gtin: str, key: Key) -> None:
        if not gtin:
            return
        if self.barcodes.setdefault(gtin, key) != key:
            raise BadCellError(_("Its barcode belongs to another colour or supply."))

    def save_new(self) -> None:
        """Save what a list added, yarns first."""
        for yarn in self.yarns.values():
            if yarn._state.adding:
                yarn.save()
        for colour in self.colours.values():
            if colour._state.adding:
                colour.yarn = colour.yarn  # takes the key that its yarn has just got
                colour.save()
        for supply in self.supplies.values():
            if supply._state.adding:
                supply.save()

    @property
    def new(self) -> tuple[int, int, int]:
        """How many yarns, colours and supplies are not saved yet."""
        tables: tuple[dict[Key, Any], ...] = (self.yarns, self.colours, self.supplies)
        yarns, colours, supplies = (sum(row._state.adding for row in table.values()) for table in tables)
        return yarns, colours, supplies


def yarn_of(row: Row, known: Known) -> Yarn:
    """The yarn of maker and name, made from the row's other columns where it is new."""
    maker = cells.words(row, "maker", 80)
    name = cells.words(row, "yarn or supply" if "yarn or supply" in row else "yarn", 80, needed=True)
    key, band = folded(maker, name), _band(row)  # read every time, so that no bad cell goes by
    if key not in known.yarns:
        known.yarns[key] = Yarn(maker=maker, name=name, **band)
    return known.yarns[key]


def _band(row: Row) -> dict[str, Any]:
    hook = cells.thousandths(row, "hook mm")
    if hook is not None and not 0 < hook <= 50 * UM_PER_MM:
        raise cells.refuse("hook mm", row["hook mm"], _("a hook is up to 50 mm."))
    return {
        "weight_category": cells.weight(row),
        "fibres": cells.fibres(row),
        "put_up": cells.choice(row, "wound as", PutUp) if row.get("wound as") else PutUp.BALL,
        "ball_mass_mg": _above_nought(row, "ball g"),
        "ball_length_mm": _above_nought(row, "ball m"),
        "measured_mm_per_g": _above_nought(row, "measured m per g"),
        "hook_um": hook,
        "care": cells.words(row, "care", 160),
        "notes": row.get("yarn notes", "").strip(),
    }


def _above_nought(row: Row, column: str) -> int | None:
    found = cells.thousandths(row, column)
    if found is not None and not 0 < found < 2**31:
        raise cells.refuse(column, row[column], _("it has to be above nought, and not beyond all measure."))
    return found


def colour_of(row: Row, known: Known) -> Colour:
    """The colour that a row names, with its yarn."""
    yarn = yarn_of(row, known)
    name = cells.words(row, "colour", 80, needed=True)
    code = cells.words(row, "colour number", 40)
    key = folded(yarn.maker, yarn.name, name, code)
    colour = Colour(yarn=yarn, name=name, code=code, hex_swatch=cells.shade(row), gtin=cells.barcode(row))
    if key not in known.colours:
        known.add_colour(colour)
    return known.colours[key]


def supply_of(row: Row, known: Known) -> Supply:
    """The supply that a row names. Its kind stands under "kind"; without one it is "other"."""
    kind = cells.choice(row, "kind", SupplyKind) if row.get("kind") else SupplyKind.OTHER
    maker = cells.words(row, "maker", 80)
    name = cells.words(row, "yarn or supply", 80, needed=True)
    size = cells.words(row, "size", 40)
    key = folded(kind, maker, name, size)
    if key not in known.supplies:
        counts_in = cells.unit(row, Unit.PIECE)
        supply = Supply(
            kind=kind, maker=maker, name=name, size=size, counts_in=counts_in, gtin=cells.barcode(row)
        )
        known.add_supply(supply)
    return known.supplies[key]


def thing_of(row: Row, known: Known) -> Colour | Supply:
    """What a row is of: its kind says so; without one, what has no colour and is counted is a supply."""
    kind = row.get("kind", "").strip().casefold()
    pieces = cells.unit(row, Unit.MILLIGRAM) is Unit.PIECE
    is_supply = kind != "yarn" if kind else pieces and not row.get("colour")
    return supply_of(row, known) if is_supply else colour_of(row, known)
