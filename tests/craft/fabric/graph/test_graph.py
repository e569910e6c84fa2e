"""The stitch graph: counts, what every stitch is worked into, ends and gaps.

Expected places were followed by hand on paper, stitch by stitch.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from craft.fabric import work
from craft.fabric.graph import (
    Along,
    Flag,
    Into,
    StitchGraph,
    TooManyStitchesError,
    pieces,
    stitch_graph,
)
from craft.fabric.model import Fabric
from craft.notation import read
from tests.craft.fabric.graph.patterns import generated

DEMO = sorted((Path(__file__).parents[4] / "patterns" / "demo" / "texts").glob("*.txt"))


def graph_of(text: str, part: int = 0, size: int = 0) -> StitchGraph:
    return stitch_graph(work(read(text)), part, size)


def parents(graph: StitchGraph, round_index: int) -> list[tuple[int, ...]]:
    """What each stitch of a round is worked into."""
    found = graph.rounds[round_index]
    rows: dict[int, list[int]] = {stitch: [] for stitch in range(found.start, found.stop)}
    for child, parent in graph.into.tolist():
        if child in rows:
            rows[child].append(parent)
    return [tuple(row) for row in rows.values()]


def links(graph: StitchGraph, kind: Along) -> list[tuple[int, int]]:
    return [tuple(pair) for pair in graph.along[graph.along_kind == kind].tolist()]


def holds_together(fabric: Fabric, graph: StitchGraph, size: int) -> None:
    """What is true of every graph."""
    assert len(graph.into) == 0 or (graph.into[:, 1] < graph.size).all()
    for index, found in enumerate(graph.rounds):
        sized = fabric.sections[found.section].rounds[found.worked_index].per_size[size]
        if found.gap:
            assert sized is None
            continue
        assert sized is not None
        assert graph.counts(index) == dict(sized.tally)
        assert graph.position[found.start : found.stop].tolist() == list(range(found.stop - found.start))
        stitches = sum(count for name, count in sized.by_kind if not name.endswith(" sp"))
        spaces = sum(count for name, count in sized.by_kind if name.endswith(" sp"))
        assert len(found.tops) == stitches + spaces
        assert (graph.round_index[found.tops] == index).all()


def stands_on_the_round_below(graph: StitchGraph) -> None:
    """Every stitch hangs on the round just below it, or on the chain that its line begins with; in order."""
    apart = graph.round_index[graph.into[:, 0]] - graph.round_index[graph.into[:, 1]]
    plain = (
        np.isin(graph.into_kind, (Into.TOP, Into.SPACE, Into.POST)) & ~graph.has(Flag.JOIN)[graph.into[:, 0]]
    )
    own_chain = graph.has(Flag.FOUNDATION)[graph.into[:, 1]]
    assert (apart[plain & ~own_chain] == 1).all()
    for index, found in enumerate(graph.rounds[1:], 1):
        rows = plain & ~own_chain & (graph.round_index[graph.into[:, 0]] == index)
        steps = np.diff(graph.into[rows, 1]) * found.direction * graph.rounds[index - 1].direction
        assert (steps >= 0).sum() >= len(steps) - 2, "places are taken one after the other, round once"
        if len(steps):
            below = graph.rounds[index - 1].tops
            assert len(np.unique(graph.into[rows, 1])) >= 0.25 * len(below), "the whole round below is used"


@pytest.mark.parametrize("number", range(100))
def test_counts_are_those_of_the_worked_rounds(number: int) -> None:
    fabric = work(read(generated(number)))
    graph = stitch_graph(fabric)
    assert not any(found.gap for found in graph.rounds), "the pattern was meant to be clean"
    assert all(found.exact for found in graph.rounds)
    assert not (graph.into_kind == Into.UNKNOWN).any()
    holds_together(fabric, graph, 0)
    stands_on_the_round_below(graph)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_the_demo_patterns_hold_together_in_every_size(path: Path) -> None:
    fabric = work(read(path.read_text(encoding="utf-8")))
    for size in range(max(len(fabric.draft.sizes), 1)):
        for piece in pieces(fabric, size):
            graph = stitch_graph(fabric, piece, size)
            assert all(found.exact for found in graph.rounds)
            assert not (graph.into_kind == Into.UNKNOWN).any()
            holds_together(fabric, graph, size)


def test_increases_and_decreases() -> None:
    graph = graph_of(
        "Rnd 1: 4 sc in magic ring.\nRnd 2: *Sc in next st, 2 sc in next st; rep from * around.\n"
        "Rnd 3: (Sc, sc2tog) x 2\n"
    )
    assert parents(graph, 0) == [(-1,)] * 4
    assert set(graph.into_kind[:4].tolist()) == {Into.RING}
    assert parents(graph, 1) == [(0,), (1,), (1,), (2,), (3,), (3,)]
    assert parents(graph, 2) == [(4,), (5, 6), (7,), (8, 9)]
    assert graph.has(Flag.INCREASE).nonzero()[0].tolist() == [5, 6, 8, 9]
    assert graph.has(Flag.DECREASE).nonzero()[0].tolist() == [11, 13]
    assert graph.group[5] == graph.group[6] != graph.group[8]
    assert links(graph, Along.SPIRAL) == [(3, 4), (9, 10)]
    assert graph.pass_number[4:10].tolist() == [0, 0, 0, 1, 1, 1]


def test_rows_turn_and_a_turning_chain_that_counts_is_a_place() -> None:
    graph = graph_of(
        "Row 1: Ch 5, sc in 2nd ch from hook and in each ch across, turn. (4)\n"
        "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (4)\n"
        "Row 3: Ch 1, sc in each st across. (4)\n"
    )
    assert parents(graph, 0)[5:] == [(3,), (2,), (1,), (0,)]
    assert graph.has(Flag.FOUNDATION)[:5].all()
    assert parents(graph, 1) == [(8,), (), (), (7,), (6,), (5,)]
    assert graph.rounds[1].tops.tolist() == [11, 12, 13, 14]
    assert graph.has(Flag.COUNTS).nonzero()[0].tolist() == [11]
    assert parents(graph, 2)[1:] == [(14,), (13,), (12,), (11,)]
    assert [found.direction for found in graph.rounds] == [1, -1, 1]
    assert links(graph, Along.TURN) == [(8, 9), (14, 15)]


def test_a_granny_square_has_its_corners_in_spaces() -> None:
    graph = graph_of(generated(3))
    corner = graph.rounds[1]
    first = corner.start + 3
    assert [graph.name(n) for n in range(corner.start, first)] == ["sl st"] * 3
    space = graph.into[graph.into[:, 0] == first][0]
    assert graph.has(Flag.SPACE)[space[1]]
    assert graph.space[space[1]] == 0
    group = [n for n in range(corner.start, corner.stop) if graph.group[n] == graph.group[first + 2]]
    assert [graph.name(n) for n in group] == ["ch", "dc", "dc", "ch", "ch", "dc", "dc", "dc"]
    assert corner.joined
    assert links(graph, Along.JOIN)[1][1] == corner.tops[0]


def test_both_sides_of_a_foundation_chain() -> None:
    graph = graph_of(
        "Rnd 1: Ch 5, 2 sc in 2nd ch from hook, sc in next 2 ch, 4 sc in last ch, working along other side "
        "of ch, sc in next 2 ch, 2 sc in last ch. (12)\n"
    )
    assert parents(graph, 0)[5:] == [(3,), (3,), (2,), (1,), (0,), (0,), (0,), (0,), (1,), (2,), (3,), (3,)]
    assert graph.into_kind[-4:].tolist() == [Into.UNDERSIDE] * 4


def test_chain_spaces_as_a_whole_and_chain_by_chain() -> None:
    whole = graph_of(
        "Rnd 1: 6 sc in magic ring.\nRnd 2: *Ch 3, skip next st, sc in next st; rep from * around.\n"
        "Rnd 3: *3 sc in next ch-3 sp; rep from * around.\n"
    )
    assert parents(whole, 2) == [(7,)] * 3 + [(11,)] * 3 + [(15,)] * 3
    single = graph_of(
        "Rnd 1: 12 sc in magic ring.\nRnd 2: Sc in next 3 sts, ch 4, skip next 4 sts, sc in next 5 sts.\n"
        "Rnd 3: Sc in next 3 sts, sc in next 4 ch, sc in next 5 sts.\n"
    )
    assert parents(single, 2) == [(n,) for n in range(12, 24)]


def test_posts_loops_and_spikes_are_marked() -> None:
    graph = graph_of(
        "Row 1: Ch 6, sc in 2nd ch from hook and in each ch across. (5)\n"
        "Row 2: Ch 1, turn, sc in front loop only of each st across. (5)\n"
        "Row 3: Ch 1, turn, fpdc around next st, sc in next 3 sts, bpdc around last st. (5)\n"
    )
    assert graph.has(Flag.FRONT_LOOP).sum() == 5
    assert graph.has(Flag.FRONT_POST).sum() == graph.has(Flag.BACK_POST).sum() == 1
    assert (graph.into_kind == Into.POST).sum() == 2


def test_evenly_means_spread() -> None:
    graph = graph_of("Rnd 1: 12 sc in magic ring.\nRnd 2: Sc around, increasing 4 sts evenly. (16)\n")
    hung = np.bincount([row[0] for row in parents(graph, 1)], minlength=12)
    assert hung.tolist() == [2, 1, 1] * 4


def test_a_gap_stays_a_gap_and_the_rest_is_known() -> None:
    graph = graph_of(
        "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: Fribble the zog sideways. (12)\n"
        "Rnd 3: Sc in each st around. (12)\nRnd 4: Sc in each st around. (12)\n"
    )
    assert [found.gap for found in graph.rounds] == [False, True, False, False]
    assert graph.rounds[1].why
    assert parents(graph, 2) == [(-1,)] * 12
    assert set(graph.into_kind[6:18].tolist()) == {Into.UNKNOWN}
    assert parents(graph, 3) == [(n,) for n in range(6, 18)]
    assert links(graph, Along.SPIRAL) == [(17, 18)]


def test_sides_of_rows_are_followed_down_and_up() -> None:
    graph = graph_of(
        "Row 1: Ch 5, sc in 2nd ch from hook and in each ch across, turn. (4)\n"
        "Row 2: Ch 1, sc in each st across, turn. (4)\nRow 3: Ch 1, sc in each st across, turn. (4)\n"
        "Rnd 1: Ch 1, sc in next 4 sts, work 3 sc evenly along side, working along other side of ch, "
        "sc in next 4 ch, work 3 sc evenly along side, join.\n"
    )
    assert parents(graph, 3)[1:-1] == [
        (18,), (17,), (16,), (15,), (18,), (10,), (8,), (0,), (1,), (2,), (3,), (5,), (13,), (15,),
    ]  # fmt: skip


def test_colours_follow_the_line() -> None:
    graph = graph_of(
        "Rnd 1: With A, 6 sc in magic ring.\nRnd 2: Sc in next 3 sts, change to B, sc in next 3 sts.\n"
    )
    assert [graph.colours[n] for n in graph.colour.tolist()] == ["A"] * 9 + ["B"] * 3


def test_a_part_worked_onto_another_belongs_with_it() -> None:
    text = (
        "Base\nRnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n\n"
        "Sides\nRnd 3: Sc in each st around. (12)\n\n"
        "Handle\nRow 1: Ch 4, sc in 2nd ch from hook and in each ch across.\n"
    )
    fabric = work(read(text))
    assert pieces(fabric) == ((0, 1), (2,))
    graph = stitch_graph(fabric, (0, 1))
    assert parents(graph, 2) == [(n,) for n in range(6, 18)]


def test_too_many_stitches_are_refused() -> None:
    with pytest.raises(TooManyStitchesError, match="400000 stitches"):
        graph_of("Rnd 1: 400000 sc in magic ring.\n")
