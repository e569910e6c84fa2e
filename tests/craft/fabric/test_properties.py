"""The run-length worker against a plain one that sets stitch beside stitch, on random small patterns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from craft.fabric import work
from craft.fabric.edge import edge_of, node_of, reverse, take
from craft.fabric.model import Block, Cells, Edge, Fabric
from craft.notation.tree import Chain, How, Repeat, Skip, Step, Work
from tests.craft.fabric.builder import (
    MAGIC_RING,
    around,
    bare,
    ch,
    dec,
    draft,
    every,
    inc,
    into,
    line,
    ring,
    row,
    skip,
    times,
)

# ------------------------------------------------------------------------- stitch by stitch


@dataclass
class Plain:
    """The hook on a list of single places; -1 where the round below has run out."""

    below: list[str]
    at: int = 0
    out: list[str] = field(default_factory=list)
    short: bool = False

    def take(self, number: int) -> None:
        for _ in range(number):
            while self.at < len(self.below) and self.below[self.at].startswith("ch"):
                self.at += 1
            if self.at >= len(self.below):
                self.short = True
                return
            self.at += 1

    def take_space(self) -> None:
        while self.at < len(self.below) and not self.below[self.at].startswith("ch"):
            self.at += 1
        if self.at >= len(self.below):
            self.short = True
        self.at += 1

    def left(self) -> int:
        return sum(not place.startswith("ch") for place in self.below[self.at :])

    def run(self, steps: Sequence[Step]) -> None:
        for step in steps:
            if isinstance(step, Repeat):
                assert step.times.number is not None
                for _ in range(step.times.number[0] or 0):
                    self.run(step.steps)
            elif isinstance(step, Skip):
                assert step.place.number is not None
                self.take(step.place.number[0] or 0)
            elif isinstance(step, Chain):
                self.out.append(f"ch{step.number[0]}")
            elif isinstance(step, Work):
                self.work(step)

    def work(self, step: Work) -> None:
        name, tops = step.stitch.tally[0][0], step.stitch.makes * (step.each[0] or 0)
        if step.place.how is How.EACH:
            number = self.left()
            for _ in range(number):
                self.take(1)
                self.out += [name] * tops
            return
        assert step.place.number is not None
        for _ in range(step.place.number[0] or 0):
            if step.place.what == "ch-sp":
                self.take_space()
            else:
                self.take(step.stitch.uses)
            self.out += [name] * tops


def spread(edge: Edge) -> list[str]:
    """A run-length edge as a list of single places."""
    places: list[str] = []
    for item in edge:
        if isinstance(item, Block):
            places += spread(item.items) * item.count
        else:
            places += [f"ch{item.chains}" if item.name == "ch-sp" else item.name] * item.count
    return places


# ------------------------------------------------------------------------------- strategies

SMALL = st.integers(1, 5)
STITCHES = st.one_of(
    SMALL.map(bare),
    SMALL.map(inc),
    st.integers(1, 3).map(dec),
    SMALL.map(skip),
    st.builds(lambda n, each: into("dc", How.NEXT, n, each), SMALL, SMALL),
)
# a chain is always followed by a stitch: two chains in a row are one space to nobody
LOOPS = st.builds(lambda n, stitch: [ch(n), stitch], st.integers(1, 5), SMALL.map(bare))
RUN = st.lists(st.one_of(STITCHES.map(lambda one: [one]), LOOPS), min_size=1, max_size=4).map(
    lambda parts: [s for p in parts for s in p]
)
REPEAT = st.builds(lambda n, steps: times(n, *steps), st.integers(1, 6), RUN)
NESTED = st.builds(lambda n, steps, inner: times(n, *steps, inner), st.integers(1, 4), RUN, REPEAT)
ROUND = st.builds(
    lambda before, middle, after: [*before, *middle, *after],
    st.one_of(st.just([]), RUN),
    st.lists(st.one_of(REPEAT, NESTED), min_size=1, max_size=2),
    st.one_of(st.just([]), RUN),
)


def starts_with_chain(steps: Sequence[Step]) -> bool:
    first = steps[0]
    if isinstance(first, Repeat):
        return starts_with_chain(first.steps)
    return isinstance(first, Chain)


def edge_of_round(fabric: Fabric, number: int) -> Edge:
    sized = fabric.rounds[number].per_size[0]
    assert sized is not None
    return sized.edge


@settings(max_examples=150, deadline=None)
@given(first=ROUND, second=ROUND)
def test_two_rounds_equal_stitch_by_stitch(first: list[Step], second: list[Step]) -> None:
    assume(not starts_with_chain(first) and not starts_with_chain(second))
    one = Plain(["sc"] * 400)
    one.run(first)
    assume(0 < len(one.out) < 400 and not one.short)
    two = Plain(one.out)
    two.run(second)
    assume(not two.short and two.out)
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", 400)), line(2, *first), line(3, *second)))
    assert spread(edge_of_round(fabric, 1)) == one.out
    assert spread(edge_of_round(fabric, 2)) == two.out


@settings(max_examples=80, deadline=None)
@given(steps=RUN, spaces=st.integers(1, 12), loop=st.integers(1, 4))
def test_rounds_of_spaces_equal_stitch_by_stitch(steps: list[Step], spaces: int, loop: int) -> None:
    first = [times(spaces, bare(loop), ch(3), bare(1))]
    second = [times(spaces, into("dc", How.NEXT, 1, 2, what="ch-sp", chains=3), bare(1))]
    one = Plain(["sc"] * 400)
    one.run(first)
    two = Plain(one.out)
    two.run(second)
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", 400)), line(2, *first), line(3, *second)))
    assert spread(edge_of_round(fabric, 2)) == two.out


@settings(max_examples=80, deadline=None)
@given(steps=RUN, number=st.integers(1, 40))
def test_a_repeat_equals_its_passes_written_out(steps: list[Step], number: int) -> None:
    assume(not starts_with_chain(steps))
    together = work(draft(line(1, MAGIC_RING, ring("sc", 3000)), line(2, times(number, *steps))))
    written = work(draft(line(1, MAGIC_RING, ring("sc", 3000)), line(2, *(steps * number))))
    made = together.rounds[1].per_size[0]
    assume(made is not None and made.total > 0)
    assert spread(edge_of_round(together, 1)) == spread(edge_of_round(written, 1))
    assert made is not None
    other = written.rounds[1].per_size[0]
    assert other is not None
    assert (made.total, dict(made.tally), made.used) == (other.total, dict(other.tally), other.used)


@settings(max_examples=60, deadline=None)
@given(steps=RUN, number=st.integers(1, 12), over=st.integers(0, 3))
def test_around_works_whole_passes_and_says_what_is_over(steps: list[Step], number: int, over: int) -> None:
    assume(not starts_with_chain(steps))
    plain = Plain(["sc"] * 2000)
    plain.run(steps)
    uses = plain.at
    assume(uses > over and plain.out)
    fabric = work(draft(row(1, MAGIC_RING, ring("sc", uses * number + over)), row(2, around(*steps))))
    worked = fabric.rounds[1]
    assert worked.per_size[0] is not None
    if over:
        assert worked.misfits[0].left == over
        assert worked.misfits[0].repeat_uses == uses
        assert worked.misfits[0].passes == number
    else:
        assert not worked.misfits
        assert worked.per_size[0].total == number * sum(not one.startswith("ch") for one in plain.out)


@settings(max_examples=60, deadline=None)
@given(
    starts=st.lists(st.integers(2, 9), min_size=5, max_size=5),
    rounds=st.lists(st.lists(STITCHES, min_size=1, max_size=4), min_size=1, max_size=3),
)
def test_five_sizes_equal_five_patterns(starts: list[int], rounds: list[list[Step]]) -> None:
    sizes = tuple("ABCDE")
    lines = [line(n, around(*steps)) for n, steps in enumerate(rounds, 2)]
    together = work(draft(line(1, MAGIC_RING, ring("sc", [12 * s for s in starts])), *lines, sizes=sizes))
    for size, start in enumerate(starts):
        alone = work(draft(line(1, MAGIC_RING, ring("sc", 12 * start)), *lines))
        for many, one in zip(together.rounds, alone.rounds, strict=True):
            assert many.per_size[size] == one.per_size[0]


@given(
    runs=st.lists(st.tuples(st.sampled_from(["sc", "dc"]), st.integers(1, 5)), min_size=1, max_size=4),
    count=st.integers(1, 6),
    number=st.integers(0, 60),
)
def test_taking_from_a_block_equals_taking_from_its_places(
    runs: list[tuple[str, int]], count: int, number: int
) -> None:
    items = tuple(Cells(name, many) for name, many in runs)
    stitches = sum(many for _, many in runs)
    edge: Edge = (Block(items, count, stitches, 0, 0),)
    after, lacking = take(node_of(edge), number)
    assert spread(edge_of(after)) == spread(edge)[number:]
    assert lacking == max(0, number - stitches * count)


@given(
    st.lists(st.tuples(st.sampled_from(["sc", "dc", "ch-sp"]), st.integers(1, 4)), min_size=1, max_size=6),
    st.integers(1, 4),
)
def test_a_turn_reverses_every_place(runs: list[tuple[str, int]], count: int) -> None:
    edge: Edge = (Block(tuple(Cells(name, many) for name, many in runs), count, 0, 0, 0), Cells("tr", 1))
    assert spread(reverse(edge)) == spread(edge)[::-1]
    assert reverse(reverse(edge)) == edge


@given(st.integers(1, 10**12))
def test_a_plain_round_costs_no_more_than_its_runs(number: int) -> None:
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", number)), line(2, every())))
    assert edge_of_round(fabric, 1) == (Cells("sc", number),)
