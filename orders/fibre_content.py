"""Fibre content by mass for a label: heaviest first, whole per cents that add to a hundred. No database.

Names and shares by mass in falling order are what textile labels carry (Regulation (EU) 1007/2011 and its
version kept in UK law; US FTC, "Threading Your Way Through the Labeling Requirements"). Places add rules of
their own (a least share that is named, official names, other languages): check the one in force.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

__all__ = ["FibreContent", "FibreShare", "fibre_content"]

WHOLE = 100


@dataclass(frozen=True, slots=True)
class FibreShare:
    """One fibre as the ball band names it, whole per cent; 0 stands for less than half a per cent."""

    name: str
    per_cent: int


@dataclass(frozen=True, slots=True)
class FibreContent:
    """`unknown`: yarns whose fibre nobody wrote down; while there is one, no shares are given."""

    shares: tuple[FibreShare, ...]
    unknown: tuple[str, ...]


def fibre_content(yarns: Iterable[tuple[str, int, Sequence[tuple[str, int]]]]) -> FibreContent:
    """Add up (name of the yarn, mass in mg, ((fibre, per mille), ...)); masses above nought."""
    masses: dict[str, int] = defaultdict(int)
    unknown: list[str] = []
    for name, mass_mg, fibres in yarns:
        if not fibres and name not in unknown:
            unknown.append(name)
        for fibre, per_mille in fibres:
            masses[fibre] += mass_mg * per_mille
    if unknown or not masses:
        return FibreContent((), tuple(unknown))
    return FibreContent(tuple(_shares(masses)), ())


def _shares(masses: dict[str, int]) -> list[FibreShare]:
    """Whole per cents by the largest remainder, so that they add to a hundred; ties by name."""
    total = sum(masses.values())
    whole = {name: mass * WHOLE // total for name, mass in masses.items()}
    rest = {name: mass * WHOLE % total for name, mass in masses.items()}
    missing = WHOLE - sum(whole.values())
    for name in sorted(rest, key=lambda each: (-rest[each], each))[:missing]:
        whole[name] += 1
    order = sorted(masses, key=lambda name: (-masses[name], name))
    return [FibreShare(name, whole[name]) for name in order]
