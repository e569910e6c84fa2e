"""The values of a stitch graph: arrays over stitches, edges between them, and rounds."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import IntEnum, IntFlag

import numpy as np
from numpy.typing import NDArray

__all__ = ["Along", "Flag", "GraphRound", "Into", "StitchGraph"]


class Flag(IntFlag):
    """What a stitch is besides its name."""

    TOP = 1  # a place for the next round
    SPACE = 2  # a chain of a chain space
    TURNING = 4  # a chain of a starting or turning chain
    COUNTS = 8  # the top chain of one that counts as a stitch
    FOUNDATION = 16  # a chain of a foundation, a closed ring of chains among them
    JOIN = 32  # the slip stitch that joins a round
    FRONT_POST = 64
    BACK_POST = 128
    FRONT_LOOP = 256
    BACK_LOOP = 512
    SPIKE = 1024  # worked into a round further down
    CLOSING = 2048  # ends a round of loops in place of the last chains
    INCREASE = 4096  # one of several stitches in one place
    DECREASE = 8192  # worked over several places


class Into(IntEnum):
    """How a stitch hangs on what it is worked into."""

    TOP = 0
    SPACE = 1  # in a chain space: the parent is its middle chain
    POST = 2  # round the post of the parent
    SPIKE = 3
    UNDERSIDE = 4  # the other side of a foundation chain
    RING = 5  # no parent: a ring that takes any number
    SIDE = 6  # the end of a row
    UNKNOWN = 7  # no parent: what lies below is not known


class Along(IntEnum):
    """How two neighbours of one edge meet."""

    NEXT = 0
    JOIN = 1  # last and first stitch of a joined round
    SPIRAL = 2  # last stitch of a round, first of the next
    TURN = 3  # last stitch of a row, first of the next


@dataclass(frozen=True, slots=True)
class GraphRound:
    """One round or row. `key` as in `WorkedRound`; `worked_index`: its place in the rounds of its section;
    `line`: index of its printed line in the section.

    `start`, `stop`: its stitches (none in a gap). `gap`: it was not worked out, `why` says so. `restarted`:
    the round below it is known by its printed count alone. `direction`: 1 as the first round goes, -1 back.
    `tops`: the places that the next round finds, in the order made, a chain space by its middle chain.
    `repeats`: 1, or None for "until it measures". `exact`: every place was followed, none was shared out.
    """

    key: str
    section: int
    worked_index: int
    line: int
    number: int | None
    kind: str
    start: int
    stop: int
    gap: bool
    restarted: bool
    joined: bool
    spiral: bool
    direction: int
    tops: NDArray[np.int32]
    repeats: int | None = 1
    exact: bool = True
    why: str | None = None


@dataclass(frozen=True, slots=True, eq=False)
class StitchGraph:
    """Every stitch of a part in one size, in the order made; each chain is a stitch of its own.

    Over the N stitches: `kind` (into `names`, US), `round_index` (into `rounds`), `position` along the round,
    `colour` (into `colours`, "" unnamed), `flags` (`Flag`), `group` (stitches in one place share a number),
    `repeat` and `pass_number` (outermost repeat of the line, its pass), `space` (chains of one space share a
    number); -1 for none. `into` (E, 2): child and parent, -1 where there is none, with `into_kind`. `along`
    (A, 2): neighbours, with `along_kind`.
    """

    names: tuple[str, ...]
    colours: tuple[str, ...]
    kind: NDArray[np.int16]
    round_index: NDArray[np.int32]
    position: NDArray[np.int32]
    colour: NDArray[np.int16]
    flags: NDArray[np.uint16]
    group: NDArray[np.int32]
    repeat: NDArray[np.int32]
    pass_number: NDArray[np.int32]
    space: NDArray[np.int32]
    into: NDArray[np.int32]
    into_kind: NDArray[np.int8]
    along: NDArray[np.int32]
    along_kind: NDArray[np.int8]
    rounds: tuple[GraphRound, ...]

    @property
    def size(self) -> int:
        """The number of stitches."""
        return len(self.kind)

    def name(self, stitch: int) -> str:
        return self.names[int(self.kind[stitch])]

    def has(self, flag: Flag) -> NDArray[np.bool_]:
        """Which stitches carry a flag."""
        found: NDArray[np.bool_] = (self.flags & int(flag)) != 0
        return found

    def counts(self, round_index: int) -> dict[str, int]:
        """Stitches made in a round by US name: the round's `tally`."""
        found = self.rounds[round_index]
        counted = Counter(self.kind[found.start : found.stop].tolist())
        return {self.names[kind]: number for kind, number in counted.items()}
