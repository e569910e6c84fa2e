"""The worked fabric: what each round of a draft comes to, per size, and how far it is earned.

`craft.fabric.work(draft) -> Fabric`. Values are never taken from the print, except where `why`
says that the count was started again from it after a gap.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from craft.notation.tree import Draft, Line, Section, Span

Counts: TypeAlias = tuple[int | None, ...]
"""One value per size (one value for a pattern of one size); None where that size lacks the round."""


class Verdict(StrEnum):
    AGREES = "agrees"
    DIFFERS = "differs"
    UNSTATED = "unstated"
    NOT_CHECKED = "not checked"


class Fault(StrEnum):
    """Why a round does not fit the one below."""

    LEFT_OVER = "left over"  # places of the round below not used
    TOO_FEW = "too few"  # the line asks for more places than there are
    REPEAT_MISFIT = "repeat misfit"  # the repeat does not divide what is left
    MISSING_PLACE = "missing place"  # a named place (ch-3 sp, shell) is not in the round below


@dataclass(frozen=True, slots=True)
class Misfit:
    """A round that does not use the round below exactly, for one size.

    `available`: places below; `used`: places the line uses as far as it could be worked;
    `left`: available - used (negative: short); `span` the step at fault, `repeat_uses` /
    `repeat_makes` what one pass of the repeat at fault uses and makes, `passes` how many were done.
    """

    fault: Fault
    size: int
    available: int
    used: int
    left: int
    span: Span
    made: int | None = None
    repeat_uses: int | None = None
    repeat_makes: int | None = None
    passes: int | None = None


@dataclass(frozen=True, slots=True)
class Cells:
    """A run of equal places of an edge: `count` times `name` ("sc", "dc", "ch-sp", "ch").

    `chains`: length of the chain of a space. `joined`: False for a chain that may be entered one by
    one. An edge is a tuple of runs: a plain round of a million stitches is one run.
    """

    name: str
    count: int
    chains: int = 0


Edge: TypeAlias = tuple[Cells, ...]


@dataclass(frozen=True, slots=True)
class SizedRound:
    """One round of one size as worked.

    `total`: places the next round finds (chains that count included, chain spaces not).
    `by_kind`: stitches by US name, spaces as "ch-2 sp". `tally`: all stitches made in this round,
    chains as "ch", joins as "sl st". `used` / `available`: places of the round below.
    `edge`: what the next round is worked into. `by_colour`: tally per colour label ("" unnamed).
    `wrought`: how stitches relate to the round below, as runs (name, uses, makes, count), for
    measuring, form and chart.
    """

    total: int
    by_kind: tuple[tuple[str, int], ...]
    tally: tuple[tuple[str, int], ...]
    used: int
    available: int
    edge: Edge
    by_colour: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()
    wrought: tuple[tuple[str, int, int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class WorkedRound:
    """One round or row in the order worked; a line for five rounds gives five of these.

    `key`: stable within a fabric: section index, then running number ("0:5").
    `number`: printed number or None. `repeats`: 1, or None for "until it measures".
    `per_size`: None where not worked out (then `why` says so) or where a size lacks the round.
    `stated`: the printed count per size by kind ("total", "sc", "ch-1 sp"), () when none.
    `why`: reason for not checked / for a restart / for a caveat, in the trade's words, else None.
    `reading`: which reading was used where several exist ("the starting ch 3 counts as a stitch"),
    else None.
    """

    key: str
    line: Line
    section_index: int
    kind: str
    number: int | None
    repeats: int | None
    per_size: tuple[SizedRound | None, ...]
    stated: tuple[tuple[str, Counts], ...]
    verdict: Verdict
    why: str | None = None
    reading: str | None = None
    misfits: tuple[Misfit, ...] = ()
    restarted: bool = False
    went_on_from: str | None = None  # after a faulty line: "worked" or "printed"


@dataclass(frozen=True, slots=True)
class SectionReading:
    """The readings chosen once for a section, and by how many lines each fits."""

    section_index: int
    chain_counts: tuple[tuple[int, bool], ...] = ()
    times_more: bool | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class WorkedSection:
    section: Section
    index: int
    rounds: tuple[WorkedRound, ...]
    reading: SectionReading
    make: Counts = (1,)


@dataclass(frozen=True, slots=True)
class Fabric:
    """`tally[size]` sums every stitch made, the section's `make` included; `by_colour` likewise."""

    draft: Draft
    sections: tuple[WorkedSection, ...]
    tally: tuple[tuple[tuple[str, int], ...], ...]
    by_colour: tuple[tuple[tuple[str, tuple[tuple[str, int], ...]], ...], ...] = ()

    @property
    def rounds(self) -> tuple[WorkedRound, ...]:
        """All rounds in the order of the text."""
        return tuple(r for section in self.sections for r in section.rounds)
