"""The checks, one module for each group of the trade's list."""

from __future__ import annotations

from types import ModuleType

from craft.techedit.checks import gauge, hooks, numbers, sizes, yarn
from craft.techedit.registry import Check

__all__ = ["CHECKS", "checks_of"]


def checks_of(module: ModuleType) -> tuple[Check, ...]:
    """The checks of one module in the order in which they stand."""
    return tuple(value for value in vars(module).values() if isinstance(value, Check))


MODULES: tuple[ModuleType, ...] = (yarn, hooks, gauge, sizes, numbers)

CHECKS: tuple[Check, ...] = tuple(check for module in MODULES for check in checks_of(module))
