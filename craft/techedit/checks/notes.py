"""Group H: notes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import (
    AsRound,
    FastenOff,
    Join,
    Kind,
    Line,
    Repeat,
    Span,
    Turn,
    Work,
)
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted, steps_words
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check
from craft.techedit.rules import lines_against_rule, stated_rules

# --------------------------------------------------------------------------------------- H1

_CONSTRUCTION = (
    "join", "joined", "joining", "spiral", "continuous", "continuously", "rounds", "turn", "turning",
)  # fmt: skip


@check("construction-not-stated", "H1", Level.NOTE)
def construction_not_stated(case: Case) -> Iterator[Hit]:
    """The pattern says whether rounds are joined or run on in a spiral, and whether rows are turned.

    Why: a maker who joins a spiral gets a seam and a stitch too many.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: sc in each st around (18)
    Right:
        Notes: Work in a continuous spiral, do not join.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: sc in each st around (18)

    Limits: silent as soon as any word of joining, turning or a spiral stands in the text. The note
    names the reading that was used.

    Trade checks: H1.
    """
    worked = [line for line in case.lines if line.label.numbers]
    if len(worked) < 4 or case.says_any(*_CONSTRUCTION):
        return
    kinds = {line.label.kind for line in worked}
    if len(kinds) == 1:
        kind = kinds.pop()
        yield Hit(worked[1].label.span, {"kind": f"{kind.value}s"}, kind.value)


# --------------------------------------------------------------------------------------- H2


@check("chain-rule-not-followed", "H2", Level.ERROR)
def chain_rule_not_followed(case: Case) -> Iterator[Hit]:
    """What the notes say of the turning chain is what the counts need.

    Why: notes that say "does not count" over counts that come out only if it does make every row
    one short.

    Wrong:
        Notes: Ch 3 does not count as a stitch.
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, skip first st, dc in next 18 sts, turn (19)
        Row 3: Ch 3, skip first st, dc in next 18 sts, turn (19)
        Row 4: Ch 3, skip first st, dc in next 18 sts, turn (19)
    Right:
        Notes: Ch 3 counts as a stitch.
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 18 sts, turn (19)
        Row 4: Ch 3, dc in next 18 sts, turn (19)

    Limits: said where two lines or more agree only against the note, and none agrees only with it.

    Trade checks: H2.
    """
    stated = [rules for rules in stated_rules(case.draft) if rules.chain_counts and rules.span]
    lines = lines_against_rule(case)
    span = stated[0].span if stated else None
    if span is not None and lines and not case.in_work(span.start):
        rules = stated[0]
        variant = "does" if rules.chain_counts[0][1] else "does-not"
        yield Hit(span, {"note": quoted(case, *span), "lines": len(lines)}, variant)


# --------------------------------------------------------------------------------------- H3


@check("joins-against-note", "H3 L5", Level.WARNING)
def joins_against_note(case: Case) -> Iterator[Hit]:
    """A spiral has no joins: notes that say "do not join" are kept in the rounds.

    Why: "do not join" above and "join with sl st" below cannot both be done.

    Wrong:
        Notes: Work in a continuous spiral. Do not join.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6, join with sl st to first sc (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6 (30)
    Right:
        Notes: Work in a continuous spiral. Do not join.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Rnd 3: (sc, inc) x 6 (18)
        Rnd 4: (sc 2, inc) x 6 (24)
        Rnd 5: (sc 3, inc) x 6, join with sl st to first sc, fasten off (30)

    Limits: a join in the last round of a part closes it and is fine; said only where most rounds of
    the part have none.

    Trade checks: H3, L5.
    """
    for section, lines in zip(case.sections, case.lines_by_section, strict=True):
        joined = section.rules.joined
        rounds = [line for line in lines if line.label.kind is Kind.ROUND]
        if joined is not False or len(rounds) < 4:
            continue
        said = section.rules.span.start if section.rules.span else 0
        inner = [
            line
            for line in rounds[1:-1]
            if _ends_joined(line) and line.label.numbers != (1,) and line.span.start > said
        ]
        for line in inner if len(inner) * 4 <= len(rounds) else ():
            join = next(step for step in line.steps if isinstance(step, Join))
            yield Hit(join.span, {"here": line_name(line)}, round_number=_number(line))


def _ends_joined(line: Line) -> bool:
    """Whether the last step that moves the hook joins the round."""
    moving = [step for step in line.steps if isinstance(step, (Join, Turn, Work, Repeat))]
    joins = [step for step in line.steps if isinstance(step, Join)]
    return bool(joins) and len(moving) > 1 and moving[-1] is joins[-1] and not _closes(line)


def _closes(line: Line) -> bool:
    return any(isinstance(step, FastenOff) for step in line.steps)


def _number(line: Line) -> int | None:
    return line.label.numbers[0] if line.label.numbers else None


# ----------------------------------------------------------------------------------- H4, H6

_FIRST_THINGS = re.compile(
    r"\b(?:before (?:you )?(?:begin|start)(?:ning|ing)?\b|read (?:through )?(?:all|the whole)"
    r"|throughout the pattern"
    r"|ch(?:ain)? \d (?:counts|does not count) as|(?:hook|gauge) is (?:loose|tight))",
    re.IGNORECASE,
)


@check("note-too-late", "H4", Level.WARNING)
def note_too_late(case: Case) -> Iterator[Hit]:
    """A note stands before the line that needs it.

    Why: "ch 3 counts as a stitch" after the last row comes when all rows are worked.

    Wrong:
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 18 sts, fasten off (19)
        Note: Ch 3 counts as a stitch throughout.
    Right:
        Note: Ch 3 counts as a stitch throughout.
        Row 1: Ch 21, dc in 4th ch from hook and in each ch across, turn (19)
        Row 2: Ch 3, dc in next 18 sts, turn (19)
        Row 3: Ch 3, dc in next 18 sts, fasten off (19)

    Limits: looks for notes on the whole work (what a chain counts as, what to read before
    beginning) that stand after the last line of all parts.

    Trade checks: H4.
    """
    if len(case.lines) < 3:
        return
    last = case.lines[-1]
    for span in case.note_spans:
        if span.start < last.span.end:
            continue
        match = _FIRST_THINGS.search(case.text, span.start, span.end)
        if match:
            yield Hit(
                Span(match.start(), match.end()), {"words": match[0], "first": line_name(case.lines[0])}
            )
            return


@check("as-established-too-soon", "H6", Level.WARNING)
def as_established_too_soon(case: Case) -> Iterator[Hit]:
    """The words "As established" and "work even" come only after something is established.

    Why: a first row that says "work even" has nothing to be even with.

    Wrong:
        Row 1: Work even as established.
        Row 2: Ch 1, sc in each st across, turn (10)
    Right:
        Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
        Row 2: Work even as established.

    Limits: looks at the first line of the pattern's first part.

    Trade checks: H6.
    """
    first = next((lines[0] for lines in case.lines_by_section if lines), None)
    if first is None or case.sections[0].continues:
        return
    for step in first.steps[:1]:
        again = isinstance(step, AsRound) and not step.numbers and not step.last and step.part is None
        in_pattern = isinstance(step, Work) and step.stitch.name == "in pattern"
        if again or in_pattern:
            yield Hit(step.span, {"words": steps_words(case, first), "here": line_name(first)})
