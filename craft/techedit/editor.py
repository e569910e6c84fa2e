"""Running the checks over one pattern."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from craft.fabric.model import Fabric
from craft.notation.tree import Draft
from craft.techedit.case import Case
from craft.techedit.checks import CHECKS
from craft.techedit.facts import Facts, read_facts
from craft.techedit.finding import Finding, Level

__all__ = ["NotMade", "check", "not_checked"]

_ORDER = {Level.ERROR: 0, Level.WARNING: 1, Level.NOTE: 2}


@dataclass(frozen=True, slots=True)
class NotMade:
    """A check that was not made: its slug, its trade ids, and the facts that are missing."""

    check: str
    ids: tuple[str, ...]
    missing: tuple[str, ...]


def check(draft: Draft, fabric: Fabric, facts: Facts | None = None) -> list[Finding]:
    """All findings in the order of the text; `facts` are read from the text where none are given."""
    case = Case(draft, fabric, facts or read_facts(draft))
    found = [finding for item in CHECKS if not item.missing(case) for finding in item.run(case)]
    return sorted(_once(found), key=_place)


def not_checked(draft: Draft, fabric: Fabric, facts: Facts | None = None) -> list[NotMade]:
    """The checks that were not made because a fact is missing."""
    case = Case(draft, fabric, facts or read_facts(draft))
    missing = ((item, item.missing(case)) for item in CHECKS)
    return [NotMade(item.slug, item.ids, needs) for item, needs in missing if needs]


def _place(finding: Finding) -> tuple[int, int, str]:
    return finding.span.start, _ORDER[finding.level], finding.check


def _once(found: Iterable[Finding]) -> list[Finding]:
    """Each sentence once at each place."""
    return list({(finding.check, finding.span, finding.message): finding for finding in found}.values())
