"""Group S, damage: letters and digits that a scanner mixed up. Never changed in silence, only offered."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Line, Span
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name
from craft.techedit.finding import Level, Suggestion
from craft.techedit.registry import Hit, check
from craft.techedit.rework import fits

# What stands there and what it was: S scanned as 5, O as 0, l as 1, "in" as 10.
_SLIPS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"(?<![\w.])(?P<n>\d{1,3})5(?P<c>[Cc])\b"), r"\g<n> sc"),
    (re.compile(r"(?<![\w.])(?P<n>\d{1,3}) ?5[Tt](?P<c>[Ss5]?)\b(?!itch)"), r"\g<n> sts"),
    (re.compile(r"(?<![\w.])5[Cc]\b(?=,? (?:in|around|across|to)\b)"), "sc"),
    (re.compile(r"(?<![\w.])(?P<n>\d{1,3})[Oo]\b(?= (?:sc|hdc|dc|tr|sts?|ch)\b)"), r"\g<n>0"),
    (re.compile(r"(?<![\w.])[lI](?P<n>\d{1,2})\b(?= (?:sc|hdc|dc|tr|sts?|ch)\b)"), r"1\g<n>"),
    (re.compile(r"(?<=\bsc )10(?= (?:next|each|same|first|last)\b)"), "in"),
    (re.compile(r"(?<=\bdc )10(?= (?:next|each|same|first|last)\b)"), "in"),
)
_SIGNS = re.compile(r"5[CcTt]|\d[Oo]\b|\b[lI]\d| 10 ")  # most texts have none
_MOST = 6


@check("scanned-letters", "S1", Level.WARNING)
def scanned_letters(case: Case) -> Iterator[Hit]:
    """Letters that a scanner took for digits are offered to be put right, never changed in silence.

    Why: "245C" is 24 sc, and a pattern that counts 245 of anything stops every maker.

    Wrong:
        Rnd 1: 12 sc in magic ring (12)
        Rnd 2: 2 sc in each st around (245C)
    Right:
        Rnd 1: 12 sc in magic ring (12)
        Rnd 2: 2 sc in each st around (24 sc)

    Limits: knows S read as 5, O as 0, l as 1 and "in" as 10 beside stitches. The rewrite is worked
    first and offered only where its line then comes out.

    Trade checks: S1.
    """
    if not _SIGNS.search(case.text):
        return
    found = 0
    for line in case.lines:
        for pattern, right in _SLIPS:
            for match in pattern.finditer(case.text, line.label.span.end, line.span.end):
                found += 1
                if found <= _MOST:
                    yield _hit(case, line, match, match.expand(right))


def _hit(case: Case, line: Line, match: re.Match[str], right: str) -> Hit:
    span = Span(match.start(), match.end())
    change = Suggestion(span, right)
    changed = case.reworker.rework([change])
    rounds = [r for r in changed.rounds if r.line.line_number == line.line_number] if changed else []
    mends = bool(rounds) and all(fits(r) and any(r.per_size) for r in rounds)
    values = {"words": match[0], "right": right, "here": line_name(line)}
    return Hit(span, values, suggestion=change if mends else None)
