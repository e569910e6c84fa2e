"""The worked fabric: what each round of a draft comes to, per size, and how far it is earned.

`craft.fabric.work(draft) -> Fabric`. Values are never taken from the print, except where `why`
says that the count was started again from it after a gap.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple, TypeAlias

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
    `sure`: False where the round below or the line is itself a guess (lace passed over in silence,
    a count started again), so that the misfit may be ours.
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
    sure: bool = True


class Cells(NamedTuple):
    """A run of equal places of an edge: `count` times `name` ("sc", "dc", "ch-sp", "ch").

    `chains`: length of the chain of a space, or of the chain that stands for a stitch. `tag`:
    "turning chain" for a starting or turning chain that counts as a stitch, "closing" for a stitch
    that ends a round in place of a chain loop and may be entered as one; "" otherwise.
    """

    name: str
    count: int  # type: ignore[assignment]  # hides tuple.count, which nobody needs here
    chains: int = 0
    tag: str = ""


class Block(NamedTuple):
    """Items of an edge that come `count` times over: a round of lace is a block, not a list.

    `group`: the items were worked into one place ("shell", "corner"); `name` is the maker's name for
    it or "". `stitches`, `spaces` and `chains` are the sums over one time.
    """

    items: tuple[Cells | Block, ...]
    count: int  # type: ignore[assignment]  # as in Cells
    stitches: int
    spaces: int
    chains: int
    group: bool = False
    name: str = ""


EdgeItem: TypeAlias = Cells | Block
Edge: TypeAlias = tuple[EdgeItem, ...]
"""A plain round of a million stitches is one item."""


class Stroke(NamedTuple):
    """`count` times one stitch that uses `uses` places of the round below and leaves `makes` tops.

    `makes` above one: so many stitches in each place. Chains are ("ch", 0, 0, n), places passed over
    ("skip", n, 0, 1), joins ("sl st", 0, 0, 1), and a change of colour ("colour X", 0, 0, 0).
    """

    name: str
    uses: int
    makes: int
    count: int  # type: ignore[assignment]  # as in Cells


class Passes(NamedTuple):
    """Strokes that come `times` over: the passes of a repeat."""

    strokes: tuple[Stroke | Passes, ...]
    times: int


class EachPlace(Passes):
    """The strokes of a group, in each of `times` places."""

    __slots__ = ()


Wrought: TypeAlias = tuple[Stroke | Passes, ...]


@dataclass(frozen=True, slots=True)
class SizedRound:
    """One round of one size as worked.

    `total`: places the next round finds (chains that count included, chain spaces not).
    `by_kind`: stitches by US name, spaces as "ch-2 sp". `tally`: all stitches made in this round,
    chains as "ch", joins as "sl st". `used` / `available`: places of the round below.
    `edge`: what the next round is worked into. `by_colour`: tally per colour label ("" unnamed).
    `wrought`: how stitches relate to the round below, in the order worked, for measuring, form and
    chart. `origin`: the `craft.fabric.line.Origin` that it was worked from, with which the stitch graph works
    the line again, place by place; no part of the value.
    """

    total: int
    by_kind: tuple[tuple[str, int], ...]
    tally: tuple[tuple[str, int], ...]
    used: int
    available: int
    edge: Edge
    by_colour: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()
    wrought: Wrought = ()
    origin: object = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class WorkedRound:
    """One round or row in the order worked; a line for five rounds gives five of these.

    `key`: stable within a fabric: section index, then running number ("0:5").
    `source`: the line whose steps were worked where it is another ("Row 7: as Row 5"), else None.
    `went_on_from`: set on the faulty round itself: what the round after it was worked from.
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
    source: Line | None = None


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
