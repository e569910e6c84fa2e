"""An amount of stock with its unit. Yarn and filling are weighed, eyes and buttons are counted.

`Amount(31_000, Unit.MILLIGRAM)` is 31 g. The unit travels with the number, so that grams are
never added to pieces and nobody has to guess whether a number means grams or milligrams.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.db import models
from django.utils.formats import number_format
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

MG_PER_G: Final = 1000


class Unit(models.TextChoices):
    MILLIGRAM = "mg", _("by weight")
    PIECE = "pc", _("by the piece")


@dataclass(frozen=True, slots=True)
class Amount:
    """`count` milligrams or pieces; negative where something goes out."""

    count: int
    unit: Unit

    def __str__(self) -> str:
        return shown(self)

    @property
    def grams(self) -> Decimal:
        """The mass in grams. Raises ValueError for pieces."""
        if self.unit is not Unit.MILLIGRAM:
            raise ValueError("Pieces have no mass here.")
        return Decimal(self.count) / MG_PER_G


def milligrams(count: int) -> Amount:
    return Amount(count, Unit.MILLIGRAM)


def grams(mass_g: Decimal | int) -> Amount:
    """An amount from grams, to the nearest milligram."""
    return milligrams(round(Decimal(mass_g) * MG_PER_G))


def pieces(count: int) -> Amount:
    return Amount(count, Unit.PIECE)


def shown(amount: Amount) -> str:
    """The amount for people, by locale: "31 g", "31.4 g", "4 pieces"; no digits that say nothing."""
    if amount.unit is Unit.PIECE:
        number = number_format(amount.count)
        return ngettext("%s piece", "%s pieces", abs(amount.count)) % number
    mass_g = Decimal(amount.count).scaleb(-3).normalize()
    places = max(0, -int(mass_g.as_tuple().exponent))
    return f"{number_format(mass_g, decimal_pos=places)}\u00a0g"
