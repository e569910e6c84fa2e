"""A part ball by its weight: how long it is, and how far scale and air can mislead.

Sources: length = mass x band length / band mass, uncertain by half a scale step (constructed example,
31 g of a 50 g ball of 125 m); mass follows the water in the fibre, length = g x (1 + regain of the
band) / (1 + regain now) x m per g, regains from Regulation (EU) 1007/2011 by
`craft.standards.fibres`. A mismatch under 5 % of wool or 3 % of cotton is taken as weather, not
loss: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from craft.standards.fibres import fibre

__all__ = [
    "InvalidWeighingError",
    "PartBall",
    "conditioned_mass",
    "part_ball",
    "scale_step",
    "weather_share",
]


class InvalidWeighingError(ValueError):
    """A weighing that can't be right; the sentence says why."""


@dataclass(frozen=True, slots=True)
class PartBall:
    """What a weighing says. `net_g`: without cone or bag. Lengths None where the band's are unknown.

    `length_m` is rounded to the last digit that `uncertain_m` (half a scale step, in metres) leaves.
    `weather_g`: by how much damp or dry air may have moved the scale, either way.
    """

    net_g: Decimal
    length_m: Decimal | None
    uncertain_m: Decimal | None
    weather_g: Decimal


_WEATHER: Final[Mapping[str, Decimal]] = {"wool": Decimal("0.05"), "cotton": Decimal("0.03")}
"""By common practice. Other fibres: a third of the agreed regain, never under 1 % (derived)."""

_UNKNOWN_WEATHER: Final = _WEATHER["wool"]
_LEAST_WEATHER: Final = Decimal("0.01")


def part_ball(
    gross_g: Decimal,
    tare_g: Decimal,
    step_g: Decimal,
    m_per_g: Decimal | None,
    fibres: Mapping[str, float],
) -> PartBall:
    """Work out a part ball from the scale. `step_g`: the scale's smallest step.

    Raises InvalidWeighingError.
    """
    net = gross_g - tare_g
    if net < 0:
        raise InvalidWeighingError(
            f"The empty cone or bag ({tare_g} g) weighs more than all together ({gross_g} g)."
        )
    weather = (net * weather_share(fibres)).quantize(Decimal("0.1"))
    if m_per_g is None:
        return PartBall(net, None, None, weather)
    uncertain = step_g / 2 * m_per_g
    return PartBall(net, _no_finer(net * m_per_g, uncertain), uncertain, weather)


def scale_step(typed: Decimal) -> Decimal:
    """Return the step of a scale that showed this figure, by its last digit: 31 gives 1, 31.4 gives 0.1."""
    return Decimal(1).scaleb(min(0, int(typed.as_tuple().exponent)))


def weather_share(fibres: Mapping[str, float]) -> Decimal:
    """Return the share of a mass that damp or dry air may account for. `fibres`: shares adding to 1."""
    total = Decimal(str(sum(fibres.values())))
    if total <= 0:
        return _UNKNOWN_WEATHER
    weighed = (Decimal(str(share)) * _weather_of(name) for name, share in fibres.items())
    return sum(weighed, Decimal(0)) / total


def conditioned_mass(mass_g: Decimal, regain_band: Decimal, regain_now: Decimal) -> Decimal:
    """Return what a ball of a band's mass weighs in a room where the fibre holds `regain_now`."""
    return mass_g * (1 + regain_now) / (1 + regain_band)


def _weather_of(name: str) -> Decimal:
    found = fibre(name)
    if found is None or found.regain_eu is None:
        return _UNKNOWN_WEATHER
    by_practice = _WEATHER.get(found.name)
    return by_practice or max(_LEAST_WEATHER, (found.regain_eu / 300).quantize(Decimal("0.01")))


def _no_finer(length_m: Decimal, uncertain_m: Decimal) -> Decimal:
    """Round to the decimal place in which the uncertainty's first digit stands."""
    place = uncertain_m.adjusted() if uncertain_m else -2
    return length_m.quantize(Decimal(1).scaleb(place)) + Decimal(0).scaleb(min(0, place))
