"""House rules that the counts contradict: what the pattern says of its chains, worked the other way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from craft import fabric
from craft.fabric.model import Verdict, WorkedRound
from craft.notation.tree import Chain, Draft, HouseRules
from craft.techedit.case import Case

__all__ = ["lines_against_rule", "stated_rules"]

_FEWEST = 2


def stated_rules(draft: Draft) -> Iterator[HouseRules]:
    """The rules of the whole pattern, then those of its parts."""
    yield draft.rules
    for section in draft.sections:
        yield section.rules


def lines_against_rule(case: Case) -> frozenset[int]:
    """`id(line)` of the lines that come out only against the stated rule, where at least two do and
    none comes out only with it; else empty.
    """
    return case.once("lines against rule", _lines_against_rule)


def _lines_against_rule(case: Case) -> frozenset[int]:
    stated = any(rules.chain_counts for rules in stated_rules(case.draft))
    if not stated or _said_in_a_line(case):
        return frozenset()
    wrong = [
        worked
        for worked in case.fabric.rounds
        if worked.verdict is Verdict.DIFFERS and any(isinstance(s, Chain) for s in worked.line.steps[:3])
    ]
    if len(wrong) < _FEWEST:
        return frozenset()
    other = fabric.work(_flipped(case.draft))
    pairs = list(zip(case.fabric.rounds, other.rounds, strict=False))
    won = frozenset(id(one.line) for one, two in pairs if _agrees(two) and not _agrees(one))
    lost = any(_agrees(one) and not _agrees(two) for one, two in pairs)
    return won if len(won) >= _FEWEST and not lost else frozenset()


def _said_in_a_line(case: Case) -> bool:
    """Whether the rule stands in a line of work ("ch 3 (counts as dc here and throughout)"), which
    may speak of that part alone.
    """
    spans = [rules.span for rules in stated_rules(case.draft) if rules.chain_counts and rules.span]
    return any(case.in_work(span.start) for span in spans)


def _agrees(worked: WorkedRound) -> bool:
    return worked.verdict is Verdict.AGREES and not worked.misfits


def _flipped(draft: Draft) -> Draft:
    """The draft with every stated chain rule turned round."""
    sections = tuple(replace(section, rules=_turned(section.rules)) for section in draft.sections)
    return replace(draft, rules=_turned(draft.rules), sections=sections)


def _turned(rules: HouseRules) -> HouseRules:
    pairs = tuple((chains, not counts) for chains, counts in rules.chain_counts)
    return replace(rules, chain_counts=pairs)
