"""Which of the trade's readings a section is worked by.

Each question that the lines raise (does ch 3 count, is "5 times" five more, ...) is tried both ways over
the whole section. A line speaks for a reading by fitting the round below under it, and by its printed
count. What a line's own print says never decides how that line is worked: for a line with a count, only
the other lines are heard.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from craft.fabric.hand import VALUES, Below, Question
from craft.fabric.rounds import Planned
from craft.fabric.section import Row, Worker

__all__ = ["Choice", "choose", "words"]

MOST_QUESTIONS = 8


@dataclass(slots=True)
class Choice:
    """A section as worked by the readings chosen. `torn`: rows (by index) whose print agrees only under
    the reading not taken, while no other line speaks; with what would have to hold. `votes`: how
    many lines spoke for each answer.
    """

    rows: list[Row]
    belows: list[Below]
    answers: dict[Question, int]
    torn: dict[int, str] = field(default_factory=dict)
    votes: dict[Question, int] = field(default_factory=dict)


def choose(
    worker: Worker, plan: Sequence[Planned], start: Sequence[Below], prior: Mapping[Question, int]
) -> Choice:
    """Work a section by the readings that its lines fit best."""
    rows, belows = worker.section(plan, prior, start)
    choice = Choice(rows, belows, dict(prior))
    tried: set[Question] = set()
    while not _perfect(choice.rows) and len(tried) < MOST_QUESTIONS:
        # the chains skipped first: what they count for shows apart from the turning chains of the rows behind
        asked = sorted(_asked(choice.rows), key=lambda one: one[0] != "skipped")
        question = next((q for q in asked if q not in tried), None)
        if question is None:
            break
        tried.add(question)
        _try(worker, plan, start, choice, question)
    return choice


def _perfect(rows: Sequence[Row]) -> bool:
    return all(row.fits and row.agrees() is not False for row in rows)


def _asked(rows: Sequence[Row]) -> dict[Question, set[int]]:
    """The questions raised, and the answers that were used."""
    asked: dict[Question, set[int]] = {}
    for row in rows:
        for outcome in row.outcomes:
            if outcome is not None:
                for question, answer in outcome.asked:
                    if question[0] != "unread":
                        asked.setdefault(question, set()).add(answer)
    return asked


def _try(
    worker: Worker,
    plan: Sequence[Planned],
    start: Sequence[Below],
    choice: Choice,
    question: Question,
) -> None:
    used = _asked(choice.rows)[question]
    values = VALUES.get(question[0], (0, 1))
    for value in values:
        if used == {value}:
            continue
        rows, belows = worker.section(plan, {**choice.answers, question: value}, start)
        _compare(choice, rows, belows, question, value)


def _compare(choice: Choice, rows: list[Row], belows: list[Below], question: Question, value: int) -> None:
    """Take the other reading if more lines speak for it; line by line where it hangs on few."""
    base = choice.rows
    prints = [_print_speaks(one, two) for one, two in zip(base, rows, strict=True)]
    fits = sum(int(two.fits) - int(one.fits) for one, two in zip(base, rows, strict=True))
    borne_out = sum(_borne_out(one, two) for one, two in zip(base, rows, strict=True))
    total = fits + borne_out + sum(prints)
    choice.votes[question] = choice.votes.get(question, 0) + total
    taken = total >= 2 or (fits >= 1 and total >= 1)
    mixed: list[Row] = []
    for index, (one, two) in enumerate(zip(base, rows, strict=True)):
        use = taken
        if one.planned.line.stated is not None and one.totals != two.totals:
            others = total - prints[index]
            use = others >= 1
            other = one if use else two
            if others == 0 and other.agrees() and not (two if use else one).agrees():
                choice.torn[index] = words(question, int(not value) if use else value)
            else:
                choice.torn.pop(index, None)
        mixed.append(two if use else one)
    choice.rows = mixed
    if taken:
        choice.answers[question] = value
        choice.belows = belows


def _borne_out(one: Row, two: Row) -> int:
    """+1 where only the second makes what the rounds behind it need, -1 where only the first does.

    It is they that speak, not the print of the round itself, so it counts for that round as well.
    """
    first = one.borne_out and bool(two.agrees())
    second = two.borne_out and bool(one.agrees())
    return int(first) - int(second)


def _print_speaks(one: Row, two: Row) -> int:
    """+1 where only the second agrees with the print, -1 where only the first does."""
    first, second = one.agrees(), two.agrees()
    return int(bool(second)) - int(bool(first)) if first is not None or second is not None else 0


def words(question: Question, answer: int) -> str:  # noqa: PLR0911 - a list of cases
    """A reading in the maker's words."""
    kind, number = question
    if kind == "chain":
        return (
            f"the starting ch {number} counts as a stitch"
            if answer
            else f"the starting ch {number} does not count as a stitch"
        )
    if kind == "skipped":
        return "" if answer else f"the {number} chains skipped at the start do not count as a stitch"
    if kind == "more":
        return "“N times” after a star means N more" if answer else "“N times” after a star means N in all"
    if kind == "swap":
        return (
            "a number behind the stitch is so many places"
            if answer
            else "a number behind the stitch goes into one place"
        )
    if kind == "kind":
        return "“each sc” passes other stitches over" if answer else "“each sc” takes every stitch"
    if kind == "gap":
        return "" if answer == 1 else f"{answer} stitches lie between two gaps"
    if kind == "kept":
        return "" if answer else "“each st” takes all; what follows goes along another piece"
    if kind == "inner":
        return (
            f"ch-{number} spaces are passed over",
            f"a ch-{number} space is one place",
            f"the chains of a ch-{number} space are worked into one by one",
        )[answer]
    return ""
