"""Putting facts, rounds, findings and estimate together into one revision."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from patterns.abbreviations import abbreviations_used
from patterns.checking import READER_VERSION, Checked, Remark
from patterns.freezing.estimate import frozen_estimate
from patterns.freezing.facts import frozen_facts, frozen_sizes
from patterns.freezing.rounds import frozen_rounds
from patterns.models import Pattern, Revision

__all__ = ["freeze", "suggested_version"]

_VERSION: Final = re.compile(r"^(\d{1,4})\.(\d{1,4})\.(\d{1,4})$")
_NUMBER: Final = re.compile(r"\d+")


def freeze(pattern: Pattern, checked: Checked, *, version: str = "", changes: str = "") -> Revision:
    """A revision of the pattern as it stands, not yet kept and not yet numbered."""
    sizes = frozen_sizes(pattern, checked.sizes)
    rounds = frozen_rounds(checked, [size["key"] for size in sizes])
    facts = frozen_facts(pattern, minutes=None)
    estimate = frozen_estimate(facts, rounds)
    minutes = max(estimate["minutes"].values(), default=None)
    facts = {
        **frozen_facts(pattern, minutes=minutes),
        "sizes": sizes,
        "abbreviations": abbreviations_used(rounds, facts, checked.draft),
    }
    return Revision(
        pattern=pattern,
        version=version,
        title=pattern.title,
        text=pattern.text,
        facts=facts,
        rounds=rounds,
        findings=[_finding(remark) for remark in checked.remarks],
        estimate=estimate,
        reader_version=READER_VERSION,
        changes=changes.strip(),
    )


def _finding(remark: Remark) -> dict[str, Any]:
    return {
        "check": remark.check,
        "level": remark.level.value,
        "line": remark.line,
        "says": remark.says,
        "aside": remark.aside,
    }


def suggested_version(before: Revision | None, now: Revision) -> str:
    """The next version: major when object or amounts change, minor when a count or measurement does,
    patch when only words do.
    """
    if before is None:
        return "1.0.0"
    match = _VERSION.match(before.version)
    major, minor, patch = (int(part) for part in match.groups()) if match else (1, 0, 0)
    if _object(before) != _object(now):
        return f"{major + 1}.0.0"
    if _numbers(before) != _numbers(now):
        return f"{major}.{minor + 1}.0"
    return f"{major}.{minor}.{patch + 1}"


def _object(revision: Revision) -> tuple[Any, ...]:
    """What makes it the same object in the same amounts: kind, sizes, yarns, notions."""
    facts: Mapping[str, Any] = revision.facts
    return (
        facts["kind"],
        [size["key"] for size in facts["sizes"]],
        [(yarn["key"], yarn["yarn_id"], yarn["strands"]) for yarn in facts["yarns"]],
        [(notion["text"], notion["quantity"]) for notion in facts["notions"]],
        revision.estimate["yarn"],
    )


def _numbers(revision: Revision) -> tuple[Any, ...]:
    """Every count and measurement: worked totals, numbers in the lines, gauge, hook, finished sizes."""
    facts: Mapping[str, Any] = revision.facts
    lines = [
        (item.get("totals"), _NUMBER.findall(item.get("body", "")))
        for section in revision.rounds["sections"]
        for item in section["items"]
    ]
    return lines, facts["gauge"], facts["hook_um"], [size["finished"] for size in facts["sizes"]]
