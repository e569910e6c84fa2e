"""The checks, one module for each group of the trade's list."""

from __future__ import annotations

from types import ModuleType

from craft.techedit.checks import (
    arithmetic,
    colour,
    damage,
    edges,
    editions,
    front,
    gauge,
    hooks,
    language,
    making_up,
    marks,
    multiples,
    notes,
    numbers,
    positions,
    references,
    shape,
    sizes,
    special,
    terms,
    turning,
    yarn,
)
from craft.techedit.registry import Check

__all__ = ["CHECKS", "checks_of"]


def checks_of(module: ModuleType) -> tuple[Check, ...]:
    """The checks of one module in the order in which they stand."""
    return tuple(value for value in vars(module).values() if isinstance(value, Check))


MODULES: tuple[ModuleType, ...] = (
    front,
    yarn,
    hooks,
    gauge,
    sizes,
    terms,
    special,
    notes,
    numbers,
    arithmetic,
    marks,
    positions,
    multiples,
    turning,
    colour,
    references,
    shape,
    edges,
    making_up,
    language,
    damage,
    editions,
)

CHECKS: tuple[Check, ...] = tuple(check for module in MODULES for check in checks_of(module))
