"""One section worked under one set of answers: every planned round of every size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from craft.fabric.edge import sizes_of
from craft.fabric.hand import NOTHING, VALUES, Below, Question, Setting
from craft.fabric.line import LEFT, Outcome, work_steps
from craft.fabric.model import Cells, Edge, Fault, SizedRound
from craft.fabric.places import FREE
from craft.fabric.rounds import Planned
from craft.fabric.scan import Scan, scan
from craft.fabric.verdict import Meaning, holds, stated_total
from craft.notation.tree import Kind, Numbers, Step

__all__ = ["LOOK_AHEAD", "Row", "Worker"]

LOOK_AHEAD = 4  # rounds tried from both counts after a faulty line
MOST_CYCLES = 500

Belows = list[Below]
Olders = list[dict[int, Edge]]


@dataclass(slots=True)
class Row:
    """One planned round of all sizes, as worked. `overridden`: the question answered otherwise here only,
    because nothing else fits the round below. `sure`: the count of the round below is earned: no round since
    the last agreeing print failed to fit. `torn`: its print agrees if the round before is as printed.
    `borne_out`: it differs, and the rounds behind it fit its print; `confirmed`: they fit
    what was worked, though that was not sure.
    """

    planned: Planned
    outcomes: list[Outcome | None]
    restarted: bool = False
    went_on_from: str | None = None
    overridden: tuple[Question, int] | None = None
    sure: tuple[bool, ...] = ()
    torn: bool = False
    borne_out: bool = False
    confirmed: bool = False
    known: dict[tuple[int, Meaning], bool | None] = field(default_factory=dict)

    @property
    def fits(self) -> bool:
        return self.overridden is None and all(o.fits for o in self.outcomes if o is not None)

    def agrees(self, meaning: Meaning = Meaning.STITCHES) -> bool | None:
        """Whether the printed count is what was worked; None where there is nothing to compare."""
        planned = self.planned
        stated = planned.line.stated
        if stated is None or not planned.last:
            return None
        answers = [
            self.size_agrees(size, meaning)
            for size in planned.last
            if self.outcomes[size] is not None and not self.left_out(size)
        ]
        if False in answers:
            return False
        return True if answers and None not in answers else None

    def left_out(self, size: int) -> bool:
        """Whether a size has no such round: nothing to work, and a dash for its count."""
        outcome, stated = self.outcomes[size], self.planned.line.stated
        return (
            outcome is not None
            and outcome.sized is None
            and stated is not None
            and stated_total(stated, size, self.planned.line.label.sizes) is None
        )

    def size_agrees(self, size: int, meaning: Meaning) -> bool | None:
        """The same for one size."""
        key = size, meaning
        if key not in self.known:
            self.known[key] = self._holds(size, meaning)
        return self.known[key]

    def _holds(self, size: int, meaning: Meaning) -> bool | None:
        planned, outcome = self.planned, self.outcomes[size]
        stated = planned.line.stated
        if stated is None or size not in planned.last:
            return None
        if outcome is None or outcome.sized is None or not outcome.made:
            return None
        return holds(stated, outcome.sized, size, meaning, planned.line.label.sizes)

    @property
    def totals(self) -> tuple[int | None, ...]:
        return tuple(o.sized.total if o is not None and o.sized is not None else None for o in self.outcomes)


@dataclass(slots=True)
class _Run:
    """A section while it is worked. `apart`: rows, by index, told otherwise than the work goes on."""

    plan: Sequence[Planned]
    answers: Mapping[Question, int]
    belows: Belows
    olders: Olders
    rows: list[Row] = field(default_factory=list)
    apart: dict[int, Row] = field(default_factory=dict)


@dataclass(slots=True)
class Worker:
    """Works sections of one draft; keeps what it has worked, so that a second reading costs only the lines
    that it changes.
    """

    size_count: int
    setting: Setting = field(default_factory=Setting)
    scans: dict[int, Scan] = field(default_factory=dict)
    memo: dict[tuple[object, ...], list[Outcome]] = field(default_factory=dict)
    kept: list[object] = field(default_factory=list)
    start_sure: bool = True  # False where a part is only taken to go on with the one before
    ended_left: dict[int, Edge] = field(default_factory=dict)
    left: dict[int, Edge] = field(default_factory=dict)  # what the parts before left unworked, by size

    def scan(self, steps: Sequence[Step]) -> Scan:
        found = self.scans.get(id(steps))
        if found is None:
            found = self.scans[id(steps)] = scan(steps)
            self.kept.append(steps)  # ids stay theirs while they are kept
        return found

    # --------------------------------------------------------------------------- a section

    def section(
        self, plan: Sequence[Planned], answers: Mapping[Question, int], start: Sequence[Below]
    ) -> tuple[list[Row], Belows]:
        """Work all planned rounds from `start`; -> the rows and what lies below at the end."""
        run = _Run(plan, answers, list(start), self._olders(len(start)))
        sure = (self.start_sure,) * self.size_count
        for index, planned in enumerate(plan):
            row = self.row(planned, answers, run.belows, run.olders)
            row.sure = sure
            if run.rows:
                self._enter_chains(run.rows[-1], row)
            run.rows.append(self._told_apart(run, index, row))
            self._go_on(run, index, row)
            sure = _still_sure(row)
        self.ended_left = {size: older[LEFT] for size, older in enumerate(run.olders) if LEFT in older}
        return run.rows, run.belows

    def _olders(self, sizes: int) -> Olders:
        return [{LEFT: self.left[size]} if size in self.left else {} for size in range(sizes)]

    def _told_apart(self, run: _Run, index: int, row: Row) -> Row:
        """The row as it is told: where its own print helped to settle what it is worked from, as the
        other rows alone would have it.
        """
        other = run.apart.pop(index, None)
        if other is None:
            return row
        other.sure = row.sure
        return other

    def _enter_chains(self, before: Row, row: Row) -> None:
        """Chains of the round below that were worked into one by one count in its total."""
        for size, outcome in enumerate(row.outcomes):
            under = before.outcomes[size]
            if outcome is not None and outcome.entered and under is not None and under.sized is not None:
                sized = replace(under.sized, total=under.sized.total + outcome.entered)
                before.known.clear()
                before.outcomes[size] = replace(under, sized=sized)

    def _go_on(self, run: _Run, index: int, row: Row) -> None:
        """Set what the next round is worked into."""
        faulty = row.agrees() is False
        one_loop = bool(row.planned.cycle) and self.scan(row.planned.cycle[-1]).one_loop
        for size, outcome in enumerate(row.outcomes):
            if outcome is None:
                continue
            if one_loop:
                run.olders[size][FREE] = run.belows[size].edge
            if outcome.sized is None and outcome.made:
                run.belows[size] = self._start_again(row, size)
                row.restarted |= run.belows[size].known
                continue
            run.belows[size] = outcome.below
            if outcome.left:
                run.olders[size][LEFT] = outcome.left
            if row.planned.number is not None and outcome.sized is not None:
                run.olders[size][row.planned.number] = outcome.sized.edge
        if faulty:
            self._after_fault(run, index, row)

    def _start_again(self, row: Row, size: int) -> Below:
        stated = row.planned.line.stated
        if stated is None or size not in row.planned.last:
            return NOTHING
        total = stated_total(stated, size, row.planned.line.label.sizes)
        if not total:
            return NOTHING
        return Below((Cells("st", total),), guessed=True)

    def _after_fault(self, run: _Run, index: int, row: Row) -> None:
        """After a count that differs, the next rounds are tried from both; those that fit decide.

        How a round is told never hangs on its own print: for it, only the others are heard.
        """
        printed = self._printed(row, run.belows)
        if printed is None:
            return
        row.went_on_from = "worked"
        differing = [size for size in row.planned.last if row.size_agrees(size, Meaning.STITCHES) is False]
        shaky = any(not row.sure[size] or row.outcomes[size].doubts for size in differing)  # type: ignore[union-attr]  # these were worked
        ones = self._ahead(run, index, list(run.belows))
        twos = self._ahead(run, index, list(printed))
        fits = sum(int(two.fits) - int(one.fits) for one, two in zip(ones, twos, strict=True))
        speaks = [
            int(bool(two.agrees())) - int(bool(one.agrees())) for one, two in zip(ones, twos, strict=True)
        ]
        taken = _second(fits, sum(speaks), shaky=shaky)
        row.confirmed = shaky and not taken
        if taken:
            row.went_on_from = "printed"
            row.borne_out = _second(fits, sum(speaks), shaky=False)
            run.belows[:] = printed
        for step, (one, two) in enumerate(zip(ones, twos, strict=True), 1):
            alone = _second(fits, sum(speaks) - speaks[step - 1], shaky=shaky)
            if alone is not taken:
                told = two if alone else one
                told.torn = bool((one if alone else two).agrees())
                run.apart[index + step] = told

    def _ahead(self, run: _Run, index: int, belows: Belows) -> list[Row]:
        """The next rounds as they would be worked from these edges."""
        rows: list[Row] = []
        for planned in run.plan[index + 1 : index + 1 + LOOK_AHEAD]:
            row = self.row(planned, run.answers, belows, run.olders)
            if rows:
                self._enter_chains(rows[-1], row)
            rows.append(row)
            belows = [o.below if o is not None else b for o, b in zip(row.outcomes, belows, strict=True)]
        return rows

    def _printed(self, row: Row, belows: Belows) -> Belows | None:
        """The edges that the printed counts would make, where these are plain."""
        stated = row.planned.line.stated
        if stated is None:
            return None
        printed = list(belows)
        for size, outcome in enumerate(row.outcomes):
            if outcome is None or outcome.sized is None or size not in row.planned.last:
                continue
            total = stated_total(stated, size, row.planned.line.label.sizes)
            edge = outcome.sized.edge
            if not total or any(name.endswith(" sp") for name, _ in outcome.sized.by_kind):
                return None
            name = next((item.name for item in edge if type(item) is Cells), "st")
            printed[size] = belows[size]._replace(edge=(Cells(name, total),), guessed=True)
        return printed

    # --------------------------------------------------------------------------- one round

    def row(self, planned: Planned, answers: Mapping[Question, int], belows: Belows, olders: Olders) -> Row:
        outcomes: list[Outcome | None] = []
        overridden = None
        for size in range(self.size_count):
            if planned.sizes and size not in planned.sizes:
                outcomes.append(None)
                continue
            outcome, other = self._round(planned, answers, size, belows[size], olders[size])
            overridden = overridden or other
            outcomes.append(outcome)
        return Row(planned, outcomes, overridden=overridden)

    def _round(
        self,
        planned: Planned,
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> tuple[Outcome, tuple[Question, int] | None]:
        if planned.why is not None:
            return Outcome(None, NOTHING, fits=False, why=planned.why), None
        if len(planned.cycle) == 1 and planned.repeats is not None:
            if planned.at_left and LEFT in older:
                return self._at_left(planned, answers, size, below, older), None
            if planned.at_left and planned.after_cut:
                below = NOTHING  # the piece below is done: the stitches joined to are those of another
            return self._steps(planned.kind, planned.cycle[0], answers, size, below, older)
        return self._open(planned, answers, size, below, older), None

    def _at_left(
        self,
        planned: Planned,
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> Outcome:
        steps = planned.cycle[0]
        hint = self.scan(steps).hint
        return work_steps(
            self.setting, answers, size, planned.kind, steps, below, older, hint=hint, at_left=True
        )

    def _open(
        self,
        planned: Planned,
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> Outcome:
        """As in "Until it measures": the rows are open, the count must come back to itself; or rows until a
        count is reached.
        """
        target = _of(planned.target, size) if planned.target else None
        at = below
        outcome: Outcome | None = None
        start = _total(below)
        for _ in range(MOST_CYCLES):
            for steps in planned.cycle:
                outcome, _other = self._steps(planned.kind, steps, answers, size, at, older)
                if outcome.sized is None:
                    return outcome
                at = outcome.below
                if target is not None and outcome.sized.total == target:
                    return outcome
            if target is None:
                break
            if _passed(start, target, _total(at)):
                return (
                    replace(outcome, sized=None, below=NOTHING, why=f"{target} is not reached by these rows")
                    if outcome
                    else Outcome(None, NOTHING, fits=False)
                )
        if outcome is None:
            return Outcome(None, NOTHING, fits=False, why="there is no row to repeat")
        changes = start is not None and _total(at) != start and below.known
        if changes and planned.target is None and outcome.fits:
            why = "each pass changes the count, and how often it is worked depends on your piece"
            return replace(outcome, sized=None, below=NOTHING, why=why)
        return outcome

    def _steps(
        self,
        kind: Kind,
        steps: tuple[Step, ...],
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> tuple[Outcome, tuple[Question, int] | None]:
        outcome = self._once(kind, steps, answers, size, below, older)
        if outcome.fits or not outcome.asked or not outcome.misfits:
            return outcome, None
        return self._forced(outcome, kind, steps, answers, size, below, older)

    def _forced(
        self,
        outcome: Outcome,
        kind: Kind,
        steps: tuple[Step, ...],
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> tuple[Outcome, tuple[Question, int] | None]:
        """Where the section's reading does not fit the round below and exactly one other does, that is
        taken for this line.
        """
        fitting: list[tuple[Outcome, tuple[Question, int]]] = []
        for question, answer in outcome.asked[:4]:
            if question[0] == "unread":
                continue
            for other in VALUES.get(question[0], (0, 1)):
                if other == answer:
                    continue
                tried = self._once(kind, steps, {**answers, question: other}, size, below, older)
                if tried.fits and tried.sized is not None:
                    fitting.append((tried, (question, other)))
        if len({one.sized.total for one, _ in fitting if one.sized is not None}) == 1 and not below.guessed:
            return fitting[0]
        return outcome, None

    def _once(
        self,
        kind: Kind,
        steps: tuple[Step, ...],
        answers: Mapping[Question, int],
        size: int,
        below: Below,
        older: Mapping[int, Edge],
    ) -> Outcome:
        seen = self.scan(steps)
        key = (id(steps), size if seen.varies else -1, below)
        known = self.memo.setdefault(key, []) if not seen.older else []
        for outcome in known:
            if all(answers.get(question, answer) == answer for question, answer in outcome.asked):
                return _for_size(outcome, size)
        hint = seen.hint
        outcome = work_steps(self.setting, answers, size, kind, steps, below, older, hint=hint)
        known.append(outcome)
        return outcome


def _still_sure(row: Row) -> tuple[bool, ...]:
    """For each size, whether the count that goes on is earned after this round."""
    return tuple(_sure_after(row, size) for size in range(len(row.outcomes)))


def _sure_after(row: Row, size: int) -> bool:
    outcome = row.outcomes[size]
    if outcome is None or not outcome.made:
        return row.sure[size] and (outcome is None or size not in row.planned.last)
    agrees = row.size_agrees(size, Meaning.STITCHES)
    if agrees:
        return True
    if size in row.planned.last and (row.restarted or row.went_on_from == "printed"):
        return True
    if agrees is False:
        return row.sure[size] and not outcome.doubts
    if outcome.fixed and not outcome.misfits and outcome.sized is not None and _stitches(outcome.sized) >= 4:
        return True  # its own numbers give the count, whatever lay below
    misfits = any(one.fault is not Fault.MISSING_PLACE for one in outcome.misfits)  # the next such was taken
    return row.sure[size] and not outcome.doubts and not misfits


def _stitches(sized: SizedRound) -> int:
    """The stitches of a round, slip stitches apart: those may only bring the hook somewhere."""
    return sized.total - dict(sized.by_kind).get("sl st", 0)


def _second(fits: int, prints: int, *, shaky: bool) -> bool:
    """Whether the rounds that follow speak for the printed count: by their fit, else by their prints. Where
    what was worked is `shaky`, the print is taken unless they speak against it.
    """
    return fits > 0 or (fits == 0 and (prints > 0 or (shaky and prints == 0)))


def _for_size(outcome: Outcome, size: int) -> Outcome:
    if outcome.misfits and outcome.misfits[0].size != size:
        return replace(outcome, misfits=tuple(replace(one, size=size) for one in outcome.misfits))
    return outcome


def _of(numbers: Numbers | None, size: int) -> int | None:
    if not numbers:
        return None
    return numbers[0] if len(numbers) == 1 else numbers[size] if size < len(numbers) else None


def _total(below: Below) -> int | None:
    if not below.known:
        return None
    return sum(sizes_of(item)[0] for item in below.edge)


def _passed(start: int | None, target: int, now: int | None) -> bool:
    if now is None or start is None or now == start:
        return True
    return now > target if target > start else now < target
