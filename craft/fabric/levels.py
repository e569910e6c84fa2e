"""The rounds of one part in one size as lengths: how long each is around, how high, what it starts from.

This is what measurements, flatness and profile share. A chain is taken to be as long as a stitch is wide
(common practice: a chain of n gives a row of n stitches).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Final

from craft.fabric.gauge import Gauge, height_in_sc
from craft.fabric.model import Fabric, Passes, SizedRound, Stroke, WorkedRound, WorkedSection, Wrought
from craft.notation.tree import Kind, Turn

__all__ = ["Level", "PartLevels", "Start", "part_levels", "runs_of"]


WIDEST_RING: Final = 1.8
"""Times the room of a flat first round: ours; a granny square begins with 1.4."""


class Start(StrEnum):
    """What the first round of a part is worked into."""

    RING = "ring"  # a ring: the part grows from its middle
    OVAL = "oval"  # both sides of a chain
    AROUND = "around"  # a chain joined into a ring, another part, or what is not known
    ROWS = "rows"


@dataclass(frozen=True, slots=True)
class Level:
    """One round or row. Lengths in mm.

    `count`: stitches that it is wide, chains of spaces and bridges included; `around`: its length;
    `height`; `name` its commonest stitch, `colours` its colour labels, that of most stitches first.
    `loose`: chain loops longer than what they span, so that `around` is how wide it hangs and `opens_to`
    how far it can be pulled. `handles`: stitches of chain bridges that stand away from the body and are not
    in `around`. `gap`: the round was not worked out; all lengths are 0. `corners`: places in which three or
    more are made. `chains`: those of spaces, within `count`.
    """

    key: str
    number: int | None
    kind: str
    count: int
    around: float
    height: float
    name: str = ""
    colours: tuple[str, ...] = ()
    loose: bool = False
    opens_to: float = 0.0
    handles: int = 0
    gap: bool = False
    open_ended: bool = False
    joined: bool = False
    turned: bool = False
    corners: int = 0
    chains: int = 0


@dataclass(frozen=True, slots=True)
class PartLevels:
    """One part in one size. `straight`: stitches of each straight side of an oval; `sides`: corners that
    every round has (4: a square from the middle), 0 for a round piece. `entered`: length of the edge that
    the first round is worked into, in mm (0 for a ring).
    """

    section_index: int
    size: int
    title: str
    start: Start
    levels: tuple[Level, ...]
    gauge: Gauge
    straight: int = 0
    sides: int = 0
    entered: float = 0.0

    @property
    def known(self) -> tuple[Level, ...]:
        return tuple(level for level in self.levels if not level.gap)

    @property
    def gaps(self) -> tuple[Level, ...]:
        return tuple(level for level in self.levels if level.gap)

    @property
    def turned(self) -> bool:
        """Whether most rounds are turned, which undoes the lean of the stitches."""
        return 2 * sum(level.turned for level in self.known) > len(self.known)

    @property
    def joined(self) -> bool:
        return 2 * sum(level.joined for level in self.known) > len(self.known)


def part_levels(fabric: Fabric, gauge: Gauge) -> Iterator[PartLevels]:
    """Every part that has a round worked out, size by size."""
    for section in fabric.sections:
        for size in range(max(len(fabric.draft.sizes), 1)):
            part = _part(section, size, gauge)
            if part is not None:
                yield part


def _part(section: WorkedSection, size: int, gauge: Gauge) -> PartLevels | None:
    worked = [each for each in section.rounds if not _lacks(each, size)]
    chain, rounds = _foundation(worked, size)
    levels = _levels(rounds, size, gauge)
    first = next((sized for each in rounds if (sized := each.per_size[size])), None)
    if first is None or not any(not level.gap for level in levels):
        return None
    start = _start(rounds, first, chain, begins_with_gap=levels[0].gap)
    if start is Start.RING and _is_wide_ring(levels):
        start = Start.AROUND
    return PartLevels(
        section.index,
        size,
        section.section.title,
        start,
        levels,
        gauge,
        straight=_straight(levels) if start is Start.OVAL else 0,
        sides=_sides(levels) if start is Start.RING else 0,
        entered=_entered(first, levels) if start is Start.AROUND else 0.0,
    )


def _lacks(worked: WorkedRound, size: int) -> bool:
    """Whether this size has no such round, though others have."""
    others = any(sized is not None for sized in worked.per_size)
    return (worked.per_size[size] is None and others) or not worked.line.steps


def _foundation(worked: Sequence[WorkedRound], size: int) -> tuple[int, list[WorkedRound]]:
    """The chain that a part begins with, and the rounds worked into it."""
    chain, rounds = 0, list(worked)
    while rounds and (sized := rounds[0].per_size[size]) and _is_foundation(sized):
        chain = sized.total
        rounds.pop(0)
    return chain, rounds


def _is_foundation(sized: SizedRound) -> bool:
    return all(name == "ch" for name, _ in sized.by_kind)


def _is_wide_ring(levels: Sequence[Level]) -> bool:
    """Whether so many stitches are worked into a ring that it is no middle but an edge, as of a tube. A
    ruffle begins wide too, but goes on growing.
    """
    first = levels[0]
    grows = len(levels) > 1 and 2 * (levels[1].count - first.count) >= first.count
    return not grows and first.around > WIDEST_RING * 2 * math.pi * first.height


def _entered(first: SizedRound, levels: Sequence[Level]) -> float:
    """Length of the edge that the first round is worked into; its own where that is not known."""
    level = next(each for each in levels if not each.gap)
    known = first.used > 2 and not levels[0].gap
    return level.around * first.used / level.count if known else level.around


def _start(rounds: Sequence[WorkedRound], first: SizedRound, chain: int, *, begins_with_gap: bool) -> Start:
    if rounds[0].kind != Kind.ROUND.value:
        return Start.ROWS
    if begins_with_gap:
        return Start.AROUND
    own = sum(stroke.count * times for stroke, times in runs_of(first.wrought) if stroke.name == "ch")
    used = sum(s.uses * s.count * times for s, times in runs_of(first.wrought) if s.name != "skip")
    if used <= 2 and first.total >= 3:
        return Start.RING
    return Start.OVAL if (chain or own) and used >= 1.5 * max(chain, own) else Start.AROUND


def _straight(levels: Sequence[Level]) -> int:
    """Stitches of one straight side: an oval of n + n ends gains n a round, so its first round is both
    sides and one such gain (tech_editing 3.8: round n = 2 S - 4 + 6 n).
    """
    gains = [b.count - a.count for a, b in pairwise(levels) if not (a.gap or b.gap)]
    rate = gains[0] if gains and gains[0] > 0 else 6
    return max(0, (levels[0].count - rate) // 2)


def _sides(levels: Sequence[Level]) -> int:
    """The corners that each round from the second on has, if they are three to eight and the same in most."""
    corners = [level.corners for level in levels[1:] if not level.gap]
    for number in (4, 3, 5, 6, 8):
        if len(corners) >= 1 and corners.count(number) >= max(1, 2 * len(corners) / 3):
            return number
    return 0


# ------------------------------------------------------------------------------- one round


def _levels(rounds: Sequence[WorkedRound], size: int, gauge: Gauge) -> tuple[Level, ...]:
    levels: list[Level] = []
    handles = 0
    for worked in rounds:
        sized = worked.per_size[size]
        if sized is None or not sized.total:
            levels.append(Level(worked.key, worked.number, worked.kind, 0, 0.0, 0.0, gap=True))
            continue
        handles += _handles(sized.wrought)
        before = levels[-1] if levels else None
        levels.append(_level(worked, sized, gauge, before, handles))
    return tuple(levels)


def _level(worked: WorkedRound, sized: SizedRound, gauge: Gauge, before: Level | None, handles: int) -> Level:
    stitches = sum(count for name, count in sized.by_kind if not name.endswith(" sp"))
    spaces = [(_chains(name), count) for name, count in sized.by_kind if name.endswith(" sp")]
    chained = sum(chains * count for chains, count in spaces)
    count = max(1, stitches + chained - handles)
    around = count * gauge.stitch_mm
    number_of_spaces = sum(number for _, number in spaces)
    loose = (
        before is not None
        and not before.gap
        and not handles
        and 2 * chained > count
        and max((chains for chains, _ in spaces), default=0) >= 3
        and around > before.around
    )
    width, height = around, _height(sized, gauge)
    if loose and before is not None:
        width = before.around
        height = max(height, _loop_height(chained * gauge.stitch_mm, width, number_of_spaces))
    return Level(
        worked.key,
        worked.number,
        worked.kind,
        round(width / gauge.stitch_mm) if loose else count,
        width,
        0.0 if worked.repeats is None else height,
        _commonest(sized),
        _colours(sized),
        loose,
        around if loose else width,
        handles,
        open_ended=worked.repeats is None,
        joined=any(stroke.name == "sl st" and not stroke.uses for stroke, _ in runs_of(sized.wrought)),
        turned=worked.kind == Kind.ROW.value
        or any(isinstance(s, Turn) and s.turn for s in worked.line.steps),
        corners=_corners(sized),
        chains=chained,
    )


def _chains(name: str) -> int:
    """The n of "ch-n sp"; 1 where none is said."""
    digits = "".join(letter for letter in name if letter.isdigit())
    return int(digits) if digits else 1


def _loop_height(chained_mm: float, width: float, spaces: int) -> float:
    """How far loops hang: each is two straight sides over its share of the width."""
    side, half = chained_mm / spaces / 2, width / spaces / 2
    return math.sqrt(max(side * side - half * half, 0.0))


def _height(sized: SizedRound, gauge: Gauge) -> float:
    """Height of a round in mm: the mean of its stitches."""
    counted = [(count, name) for name, count in sized.by_kind if not name.endswith(" sp") and name != "ch"]
    total = sum(count for count, _ in counted)
    if not total:
        return gauge.row_mm
    in_sc = sum(count * height_in_sc(_known(name, gauge)) for count, name in counted) / total
    return gauge.row_mm * in_sc / height_in_sc(gauge.stitch)


def _known(name: str, gauge: Gauge) -> str:
    """A stitch that the text leaves to the pattern is taken for the one of the gauge."""
    return gauge.stitch if name in {"in pattern", "st"} else name


def _colours(sized: SizedRound) -> tuple[str, ...]:
    stitches = [(-sum(n for _, n in tally), label) for label, tally in sized.by_colour if label]
    return tuple(label for _, label in sorted(stitches))


def _commonest(sized: SizedRound) -> str:
    return max(((count, name) for name, count in sized.by_kind if not name.endswith(" sp")), default=(0, ""))[
        1
    ]


def runs_of(wrought: Wrought, times: int = 1) -> Iterator[tuple[Stroke, int]]:
    """The strokes with how many times over they come, repeats within repeats multiplied; not in order of work
    beyond one pass.
    """
    for stroke in wrought:
        if isinstance(stroke, Passes):
            yield from runs_of(stroke.strokes, times * stroke.times)
        else:
            yield stroke, times


def _handles(wrought: Wrought) -> int:
    """Chains of long bridges beyond the stitches that they pass over: handles, not buttonholes or net."""
    bridges = list(_bridges(wrought))
    if not 0 < sum(times for _, _, times in bridges) <= 4:
        return 0
    return sum((chains - passed) * times for chains, passed, times in bridges)


def _bridges(wrought: Iterable[Stroke | Passes], times: int = 1) -> Iterator[tuple[int, int, int]]:
    """(chains, stitches passed over, times) of every long chain beside a skip."""
    strokes = list(wrought)
    for at, stroke in enumerate(strokes):
        if isinstance(stroke, Passes):
            yield from _bridges(stroke.strokes, times * stroke.times)
        elif stroke.name == "ch" and stroke.count >= 8:
            beside = [
                s for s in strokes[max(0, at - 1) : at + 2] if isinstance(s, Stroke) and s.name == "skip"
            ]
            if beside and stroke.count > (passed := beside[0].uses * beside[0].count) >= 3:
                yield stroke.count, passed, times


def _corners(sized: SizedRound) -> int:
    """Places of a round in which it turns a corner: its longest spaces, or where three are made in one."""
    spaces = [(_chains(name), count) for name, count in sized.by_kind if name.endswith(" sp")]
    if spaces:
        longest = max(chains for chains, _ in spaces)
        return sum(count for chains, count in spaces if chains == longest)
    return sum(s.count * times for s, times in runs_of(sized.wrought) if s.uses == 1 and s.makes in {3, 5})
