"""The technical editor's checks: (draft, fabric, facts) -> findings.

    draft = notation.read(text)
    worked = fabric.work(draft)
    for finding in techedit.check(draft, worked):
        print(finding.line_number, finding.level, finding.says)

`not_checked` lists the checks that were not made and why. Nothing here changes a text: a finding may
carry a suggested rewrite, which was itself worked before it is offered.
"""

from __future__ import annotations

from craft.techedit.editor import NotMade, check, not_checked
from craft.techedit.facts import Facts, read_facts
from craft.techedit.finding import Finding, Level, Suggestion
from craft.techedit.messages import say
from craft.techedit.registry import Check

__all__ = [
    "Check",
    "Facts",
    "Finding",
    "Level",
    "NotMade",
    "Suggestion",
    "check",
    "not_checked",
    "read_facts",
    "say",
]
