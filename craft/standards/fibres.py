"""Fibres: density, agreed moisture regain, and how they take heat.

`density` in g/cm3, standard textbook values. Regain is water by dry mass, in per cent: `regain_eu`
the agreed allowance of Regulation (EU) 1007/2011, Annex IX, `regain_us` US commercial practice
(ASTM D1909 as quoted), `regain_room` about what the fibre holds at 20 °C and 65 % relative humidity
(Morton and Hearle as quoted). Conventions differ; carry the region and let a user edit it.

Sources named in `source`:
  EU       Regulation (EU) 1007/2011 Annex IX, and a table of official regains by a test-instrument
  maker ASTM     Bioresources and Bioprocessing 2020, table 10, citing ASTM D1909-13 and Morton and
  Hearle TC       textilecalculation.blogspot.com, 2015/08 MEMORY   from memory, no source at hand
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

__all__ = [
    "AVERAGE_DENSITY",
    "FIBRES",
    "Fibre",
    "blend_density",
    "blend_regain",
    "fibre",
    "is_plant_or_animal",
    "synthetic_share",
]


@dataclass(frozen=True, slots=True)
class Fibre:
    """One fibre. `origin` is "plant", "animal", "regenerated" or "synthetic"."""

    name: str
    origin: str
    density: Decimal
    regain_eu: Decimal | None
    regain_us: Decimal | None
    regain_room: Decimal | None
    also: tuple[str, ...]
    source: str


def _fibre(
    name: str,
    origin: str,
    density: str,
    regains: tuple[str | None, str | None, str | None],
    also: tuple[str, ...] = (),
    source: str = "EU, ASTM",
) -> Fibre:
    eu, us, room = (None if value is None else Decimal(value) for value in regains)
    return Fibre(name, origin, Decimal(density), eu, us, room, also, source)


FIBRES: tuple[Fibre, ...] = (
    _fibre(
        "wool",
        "animal",
        "1.31",
        ("17.0", "13.6", "16"),
        ("merino", "lambswool", "alpaca", "mohair", "cashmere"),
    ),
    _fibre("cotton", "plant", "1.52", ("8.5", "8.5", "7.5")),
    _fibre("linen", "plant", "1.50", ("12", "12", "7"), ("flax", "hemp"), "EU, ASTM; density MEMORY"),
    _fibre("silk", "animal", "1.34", ("11", "11", "10")),
    _fibre(
        "viscose",
        "regenerated",
        "1.52",
        ("13", "11", None),
        ("rayon", "bamboo", "lyocell", "modal"),
        "EU, TC",
    ),
    _fibre("nylon", "synthetic", "1.14", ("6.25", "4.0", None), ("polyamide",), "EU (staple), TC"),
    _fibre("acrylic", "synthetic", "1.17", ("2", "1.5", None), (), "EU, TC"),
    _fibre("polyester", "synthetic", "1.38", ("1.5", "0.4", None), ("recycled polyester",), "EU, TC"),
    _fibre("elastane", "synthetic", "1.20", ("1.5", "1.3", None), ("spandex",), "MEMORY"),
    _fibre("metallised", "synthetic", "1.40", (None, None, None), ("metallic", "lurex"), "MEMORY"),
)

AVERAGE_DENSITY: Final = Decimal("1.30")
"""g/cm3 where the fibre is not known: between acrylic and cotton; one step either way moves a
length by 2 %.
"""

_BY_NAME: dict[str, Fibre] = {name: each for each in FIBRES for name in (each.name, *each.also)}


def fibre(name: str) -> Fibre | None:
    """Return a fibre by its generic name or a common name of its kind, or None."""
    return _BY_NAME.get(name.strip().lower())


def blend_density(shares: Mapping[str, float]) -> Decimal:
    """Return the density of a blend, g/cm3: total mass by total volume, shares by mass (any scale).

    Fibres not in the table count with AVERAGE_DENSITY; no shares give it too.
    """
    total = sum(shares.values())
    if total <= 0:
        return AVERAGE_DENSITY
    volume = sum(Decimal(str(share)) / _density(name) for name, share in shares.items())
    return Decimal(str(total)) / volume


def blend_regain(parts: Sequence[tuple[Decimal, Decimal]]) -> Decimal:
    """Return the regain of a blend from (dry mass share, regain) pairs, in the unit of the
    regains.
    """
    total = sum((share for share, _ in parts), Decimal(0))
    if total <= 0:
        raise ValueError("A blend needs at least one fibre with a share above nought.")
    return sum((share * regain for share, regain in parts), Decimal(0)) / total


def synthetic_share(shares: Mapping[str, float]) -> float:
    """Return the share by mass of fibres that soften or melt with heat, 0 to 1; unknown fibres
    count as such.
    """
    total = sum(shares.values())
    if total <= 0:
        return 0.0
    return sum(share for name, share in shares.items() if not is_plant_or_animal(name)) / total


def is_plant_or_animal(name: str) -> bool:
    """Tell whether a fibre is cotton, linen, wool, silk or their kin; regenerated fibres are not
    counted.
    """
    found = fibre(name)
    return found is not None and found.origin in {"plant", "animal"}


def _density(name: str) -> Decimal:
    found = fibre(name)
    return AVERAGE_DENSITY if found is None else found.density
