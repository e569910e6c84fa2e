"""`work(draft) -> Fabric`: every round of every part and size, by the readings that its lines fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from craft.fabric.hand import NO_ROUND_BELOW, NOTHING, Below, Question, Setting
from craft.fabric.line import Outcome
from craft.fabric.model import (
    Counts,
    Fabric,
    SectionReading,
    SizedRound,
    Verdict,
    WorkedRound,
    WorkedSection,
)
from craft.fabric.readings import Choice, choose, words
from craft.fabric.rounds import Planned, plan
from craft.fabric.section import LOOK_AHEAD, Row, Worker
from craft.fabric.tally import add_tally, as_pairs
from craft.fabric.verdict import MEANING_WORDS, Meaning, stated_counts, stated_total
from craft.notation.tree import (
    Chain,
    Draft,
    Group,
    HouseRules,
    Join,
    Line,
    Repeat,
    Section,
    StatedCount,
    Work,
)

__all__ = ["work"]

STARTED_AGAIN = "started again from your count"
MOST_KEPT = 200  # rounds of earlier parts that "rep last rnd" and "as 2nd row" may mean


@dataclass(slots=True)
class _Work:
    """A draft being worked. `prior`: readings that earlier parts have settled."""

    draft: Draft
    size_count: int
    parts: dict[str, Sequence[Line]] = field(default_factory=dict)
    prior: dict[Question, int] = field(default_factory=dict)
    belows: list[Below] = field(default_factory=list)
    planned: list[Planned] = field(default_factory=list)
    last_number: int = 0
    stands_for: dict[int, tuple[tuple[str, int], ...]] = field(default_factory=dict)
    worker: Worker = field(default_factory=lambda: Worker(1))


def work(draft: Draft) -> Fabric:
    """Work a draft. Never raises, whatever the draft holds; what could not be worked says why."""
    state = _Work(draft, max(len(draft.sizes), 1))
    state.worker = Worker(state.size_count)
    sections = tuple(_section(state, index, section) for index, section in enumerate(draft.sections))
    return Fabric(draft, sections, *_sums(sections, state.size_count))


def _section(state: _Work, index: int, section: Section) -> WorkedSection:
    lines = [line for line in section.lines if isinstance(line, Line)]
    state.worker.setting = _setting(state, section, lines)
    state.worker.memo.clear()
    planned = plan(lines, state.size_count, state.parts, state.planned)
    choice = _choose(state, section, planned)
    _settle_priors(state, choice)
    if lines:
        state.parts[section.title.strip().lower()] = lines
        state.belows = choice.belows
        state.worker.left = state.worker.ended_left
        state.planned = [*state.planned[-MOST_KEPT:], *planned]
    meaning, supported = _meaning(choice.rows)
    rounds = tuple(
        _worked_round(state, index, number, row, choice, meaning, supported)
        for number, row in enumerate(choice.rows)
    )
    rounds = _one_verdict_a_line(rounds)
    return WorkedSection(
        section, index, rounds, _reading(index, choice, meaning), _make(section, state.size_count)
    )


def _choose(state: _Work, section: Section, planned: Sequence[Planned]) -> Choice:
    """Work a section as a piece of its own; one that begins with no chain or ring goes on with the part
    before it.
    """
    nothing = [NOTHING] * state.size_count
    before = state.belows if any(below.known for below in state.belows) else nothing
    first_number = next((p.number for p in planned if p.number is not None), None)
    goes_on = section.continues or (
        first_number is not None and first_number > 1 and first_number == state.last_number + 1
    )
    choice = choose(state.worker, planned, before if goes_on else nothing, state.prior)
    if before is not nothing and not goes_on and not _joins_first(planned) and _begins_in_the_air(choice):
        state.worker.start_sure = False
        other = choose(state.worker, planned, before, state.prior)
        state.worker.start_sure = True
        if not _begins_in_the_air(other):
            choice = other
    state.last_number = next((p.number for p in reversed(planned) if p.number is not None), state.last_number)
    return choice


def _joins_first(planned: Sequence[Planned]) -> bool:
    """Whether the part begins by joining yarn to a place: it may be anywhere."""
    steps = planned[0].cycle[0] if planned and planned[0].cycle else ()
    for step in steps:
        if isinstance(step, Join):
            return True
        if isinstance(step, (Work, Group, Chain, Repeat)):
            return False
    return False


def _begins_in_the_air(choice: Choice) -> bool:
    """Whether the first round that makes stitches could not be worked for want of a round below."""
    for row in choice.rows:
        for outcome in row.outcomes:
            if outcome is not None and outcome.made:
                return outcome.sized is None and outcome.why == NO_ROUND_BELOW
    return False


def _settle_priors(state: _Work, choice: Choice) -> None:
    """A reading that lines have settled is the first tried in the parts that follow."""
    for question, votes in choice.votes.items():
        if question in choice.answers and votes >= 2:
            state.prior[question] = choice.answers[question]


def _make(section: Section, size_count: int) -> Counts:
    return section.make * size_count if len(section.make) == 1 else tuple(section.make[:size_count])


# ------------------------------------------------------------------------------- the setting


def _setting(state: _Work, section: Section, lines: Sequence[Line]) -> Setting:
    rules: dict[int, bool] = {}
    for house in (state.draft.rules, section.rules):
        rules.update(dict(house.chain_counts))
    for line in lines:
        said = state.worker.scan(line.steps).stands_for
        if said is not None:
            state.stands_for.setdefault(*said)
    joined = _joined(state.draft.rules, section.rules)
    return Setting(rules, _hints(state.worker, lines), joined, dict(state.stands_for))


def _joined(draft: HouseRules, section: HouseRules) -> bool | None:
    return section.joined if section.joined is not None else draft.joined


def _hints(worker: Worker, lines: Sequence[Line]) -> dict[int, bool]:
    """Chain lengths that the places named show to count (worked into at the end of a row, joined to), or
    not to (joined to the first stitch instead).
    """
    votes: dict[int, int] = {}
    for line in lines:
        seen = worker.scan(line.steps)
        for chains in seen.turning:
            votes[chains] = votes.get(chains, 0) + 1
        counts = seen.hint[0]
        if counts is not None and seen.first_chain > 1:
            votes[seen.first_chain] = votes.get(seen.first_chain, 0) + (1 if counts else -1)
    return {chains: vote > 0 for chains, vote in votes.items() if vote}


# --------------------------------------------------------------------- what the counts count


def _meaning(rows: Sequence[Row]) -> tuple[dict[Meaning, int], Meaning]:
    """How many printed counts agree only when they count more than stitches; the commonest such."""
    votes = dict.fromkeys(Meaning, 0)
    for row in rows:
        if row.agrees() is False:
            for meaning in list(Meaning)[1:]:
                votes[meaning] += bool(row.agrees(meaning))
    best = max(list(Meaning)[1:], key=lambda meaning: votes[meaning])
    return votes, best


# --------------------------------------------------------------------------------- one round


def _worked_round(
    state: _Work,
    index: int,
    number: int,
    row: Row,
    choice: Choice,
    votes: dict[Meaning, int],
    best: Meaning,
) -> WorkedRound:
    planned = row.planned
    verdict, why, reading = _verdict(row, number, choice, votes)
    per_size = tuple(_sized(outcome) for outcome in row.outcomes)
    stated = stated_counts(planned.line.stated, state.size_count) if planned.last else ()
    return WorkedRound(
        key=f"{index}:{number}",
        line=planned.line,
        section_index=index,
        kind=planned.kind.value,
        number=planned.number,
        repeats=planned.repeats,
        per_size=per_size,
        stated=stated,
        verdict=verdict,
        why=why,
        reading=reading,
        misfits=tuple(m for o in row.outcomes if o is not None and o.sized is not None for m in o.misfits),
        restarted=row.restarted,
        went_on_from=row.went_on_from,
        source=planned.source,
    )


def _one_verdict_a_line(rounds: tuple[WorkedRound, ...]) -> tuple[WorkedRound, ...]:
    """Rounds in the middle of a line that stands for several share the verdict on its printed count; where
    they make that count too, it is theirs as well.
    """
    agreed: dict[int, WorkedRound] = {}
    for worked in rounds:
        if worked.stated and worked.verdict is Verdict.AGREES:
            agreed[id(worked.line)] = worked
    differing = {
        id(worked.line) for worked in rounds if worked.stated and worked.verdict is not Verdict.AGREES
    }
    return tuple(
        _sharing(worked, agreed[id(worked.line)])
        if worked.verdict is Verdict.UNSTATED
        and id(worked.line) in agreed
        and id(worked.line) not in differing
        else worked
        for worked in rounds
    )


def _sharing(worked: WorkedRound, last: WorkedRound) -> WorkedRound:
    if not any(worked.per_size):
        return worked
    same = all(
        one is None or other is None or one.total == other.total
        for one, other in zip(worked.per_size, last.per_size, strict=True)
    )
    if same and worked.line.label.numbers:
        return replace(worked, verdict=Verdict.AGREES, stated=last.stated)
    return replace(
        worked, verdict=Verdict.AGREES, why=worked.why or "the printed count is for the last of these rounds"
    )


def _sized(outcome: Outcome | None) -> SizedRound | None:
    return outcome.sized if outcome is not None else None


def _verdict(
    row: Row, number: int, choice: Choice, votes: dict[Meaning, int]
) -> tuple[Verdict, str | None, str | None]:
    """(verdict, why, reading)."""
    reading, why = _reading_of(row, choice), _why(row)
    stated = row.planned.line.stated
    if stated is None or not row.planned.last:
        return Verdict.UNSTATED, why, reading
    if _unworked_size(row, stated):
        return Verdict.NOT_CHECKED, why or "could not be worked out", reading
    agrees = row.agrees()
    if agrees:
        return Verdict.AGREES, why, reading
    if agrees is None:
        return Verdict.NOT_CHECKED, why or "what the printed count counts is not known", reading
    meaning = next((one for one in list(Meaning)[1:] if row.agrees(one)), None)
    if meaning is not None and votes[meaning] >= 2:
        return Verdict.AGREES, why, _both(reading, MEANING_WORDS[meaning])
    doubt = _only_if(row, number, choice, meaning) or _doubt(row, choice.rows[number + 1 :])
    return (Verdict.NOT_CHECKED, doubt, reading) if doubt else (Verdict.DIFFERS, why, reading)


def _unworked_size(row: Row, stated: StatedCount) -> bool:
    """Whether a size that has a printed count could not be worked; a dash for its count leaves it out."""
    sizes = row.planned.line.label.sizes
    return any(
        outcome is not None and outcome.sized is None and stated_total(stated, size, sizes) is not None
        for size, outcome in enumerate(row.outcomes)
        if size in row.planned.last
    )


def _only_if(row: Row, number: int, choice: Choice, meaning: Meaning | None) -> str | None:
    """The reading under which alone the print would agree, while no other line speaks for it."""
    if meaning is Meaning.WITH_SPACES:
        return f"agrees only if {MEANING_WORDS[meaning]}"
    if number in choice.torn:
        return f"agrees only if {choice.torn[number]} (not said)"
    return "agrees only if the round before makes what is printed there" if row.torn else None


def _doubt(row: Row, later: Sequence[Row]) -> str | None:
    """Why a count that differs may be our own misreading. A line whose numbers all stand in itself can be
    held against its print whatever lies below, unless the two are far apart; and so can one that fits the
    round below, and one from whose worked count a later line comes out as printed.
    """
    for size in row.planned.last if not row.confirmed else ():
        outcome = row.outcomes[size]
        if outcome is None or outcome.sized is None or row.size_agrees(size, Meaning.STITCHES) is not False:
            continue
        shaky = list(outcome.doubts)
        if not row.sure[size]:
            shaky.append("a round before this one does not fit, so its count is not sure")
        near = _near(row, size, outcome.sized.total)
        plain = not outcome.doubts and not outcome.misfits  # by a few: a misreading below is seldom so near
        held = (near and (outcome.fixed or plain)) or _borne_out(row, later, size)
        if shaky and not held:
            return shaky[0]
    return None


def _borne_out(row: Row, later: Sequence[Row], size: int) -> bool:
    """Whether a line further on, worked from what this one makes, has the count it prints."""
    before = row
    for one in later[:LOOK_AHEAD]:
        outcome = one.outcomes[size]
        if before.went_on_from == "printed" or one.restarted or outcome is None or outcome.sized is None:
            return False
        if outcome.fixed or outcome.misfits or outcome.doubts:
            return False
        if size in one.planned.last and one.planned.line.stated is not None:
            return bool(one.size_agrees(size, Meaning.STITCHES))
        before = one
    return False


def _near(row: Row, size: int, total: int) -> bool:
    stated = row.planned.line.stated
    printed = stated_total(stated, size, row.planned.line.label.sizes) if stated is not None else None
    return printed is not None and abs(printed - total) <= max(3, printed // 8)


def _both(one: str | None, two: str) -> str:
    return f"{one}; {two}" if one else two


def _why(row: Row) -> str | None:
    if row.restarted:
        first = next((o.why for o in row.outcomes if o is not None and o.why), None)
        return f"{first}; {STARTED_AGAIN}" if first else STARTED_AGAIN
    for outcome in row.outcomes:
        if outcome is not None and outcome.why:
            return outcome.why
    if row.planned.repeats is None and row.planned.target is None:
        return "the number of rows depends on your piece; the count is carried on"
    return None


def _reading_of(row: Row, choice: Choice) -> str | None:
    """The readings that this round hangs on, in the maker's words."""
    notes: list[str] = []
    for outcome in row.outcomes:
        if outcome is None:
            continue
        for question, answer in outcome.asked:
            text = words(question, answer)
            if text and text not in notes:
                notes.append(text)
        for note in outcome.notes:
            if note not in notes:
                notes.append(note)
    if row.overridden is not None:
        notes.append(f"here only: {words(*row.overridden)}, as nothing else fits the round below")
    return "; ".join(notes) or None


def _reading(index: int, choice: Choice, meaning: dict[Meaning, int]) -> SectionReading:
    asked: dict[Question, int] = {}
    for row in choice.rows:
        for outcome in row.outcomes:
            for question, answer in outcome.asked if outcome is not None else ():
                asked.setdefault(question, answer)
    chains = tuple((n, bool(a)) for (kind, n), a in asked.items() if kind == "chain")
    more = next((bool(a) for (kind, _), a in asked.items() if kind == "more"), None)
    said = "; ".join(filter(None, (words(q, a) for q, a in asked.items())))
    return SectionReading(index, chains, more, said or None)


# --------------------------------------------------------------------------------- the sums


def _sums(
    sections: Sequence[WorkedSection], size_count: int
) -> tuple[
    tuple[tuple[tuple[str, int], ...], ...],
    tuple[tuple[tuple[str, tuple[tuple[str, int], ...]], ...], ...],
]:
    """Every stitch of the whole piece, per size and per size and colour."""
    tallies, colours = [], []
    for size in range(size_count):
        total: dict[str, int] = {}
        coloured: dict[str, dict[str, int]] = {}
        for section in sections:
            times = section.make[size] if size < len(section.make) else 1
            for worked in section.rounds:
                sized = worked.per_size[size]
                if sized is None:
                    continue
                many = (times or 1) * (worked.repeats or 1)
                add_tally(total, sized.tally, many)
                for label, pairs in sized.by_colour:
                    add_tally(coloured.setdefault(label, {}), pairs, many)
        tallies.append(as_pairs(total))
        colours.append(tuple((label, as_pairs(made)) for label, made in coloured.items()))
    return tuple(tallies), tuple(colours)
