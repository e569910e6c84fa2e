"""Rounds of every common kind, held against facts that stand outside the project."""

from __future__ import annotations

import pytest

from craft.fabric import work
from craft.fabric.model import Cells, Fabric, Fault, Verdict
from craft.notation.tree import (
    AsRound,
    Evenly,
    FastenOff,
    How,
    Loops,
    Place,
    Rotate,
    Stitch,
    Times,
    Unread,
    Unworked,
    Work,
)
from tests.craft.fabric.builder import (
    MAGIC_RING,
    NOWHERE,
    SC2TOG,
    TURN,
    around,
    bare,
    ch,
    counted,
    dec,
    draft,
    every,
    group,
    inc,
    into,
    join,
    line,
    ring,
    row,
    section,
    skip,
    stitch,
    times,
    to_last,
)


def totals(fabric: Fabric, size: int = 0) -> list[int | None]:
    """The worked total of every round that has a number."""
    return [
        None if worked.per_size[size] is None else worked.per_size[size].total
        for worked in fabric.rounds
        if worked.number is not None
    ]


def kinds(fabric: Fabric, number: int) -> dict[str, int]:
    worked = next(one for one in fabric.rounds if one.number == number)
    assert worked.per_size[0] is not None
    return dict(worked.per_size[0].by_kind)


FLAT_CIRCLE = [
    line(1, MAGIC_RING, ring("sc", 6)),
    line(2, every(each=2)),
    *(line(n, times(6, bare(n - 2), inc())) for n in range(3, 13)),
]


class TestCircles:
    def test_six_sc_added_a_round_make_a_flat_circle(self) -> None:
        # Flat circle rule, 6 sc a round: craftymaria.blogspot.com 2009/06 (standards, section 6b)
        assert totals(work(draft(*FLAT_CIRCLE))) == [6 * n for n in range(1, 13)]

    def test_a_base_of_twelve_rounds_ends_on_72_with_increases_ten_stitches_apart(self) -> None:
        # Common practice, no source: round n has its increases n - 2 stitches apart
        fabric = work(draft(*FLAT_CIRCLE))
        last = fabric.rounds[-1].per_size[0]
        assert last is not None
        assert last.total == 72
        assert last.wrought[0].strokes[0].count == 10  # type: ignore[union-attr]

    def test_double_crochet_circle_gains_twelve(self) -> None:
        # 12 dc a round with the starting ch 3 as a stitch: standards section 6b, dc 12
        fabric = work(
            draft(
                line(
                    1,
                    MAGIC_RING,
                    ch(3, counts=True),
                    ring("dc", 11),
                    join("turning ch", How.NAMED),
                    stated=12,
                ),
                line(
                    2,
                    ch(3, counts=True),
                    into("dc", How.SAME),
                    every("dc", 2),
                    join("turning ch", How.NAMED),
                    stated=24,
                ),
            )
        )
        assert totals(fabric) == [12, 24]
        assert [worked.verdict for worked in fabric.rounds] == [Verdict.AGREES, Verdict.AGREES]

    def test_plain_rounds_keep_the_count(self) -> None:
        fabric = work(draft(*FLAT_CIRCLE[:4], line((5, 6, 7, 8, 9), every())))
        assert totals(fabric)[3:] == [24] * 6

    def test_a_plain_round_of_a_million_stitches_is_one_run(self) -> None:
        fabric = work(
            draft(
                line(None, ch(1_000_001)),
                row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch")),
            )
        )
        last = fabric.rounds[-1].per_size[0]
        assert last is not None
        assert last.edge == (Cells("sc", 1_000_000),)

    def test_a_repeat_of_half_a_million_passes_of_lace_is_one_block(self) -> None:
        lace = around(ch(1), skip(), bare(1, "dc"))
        fabric = work(
            draft(
                line(None, ch(1_000_000), join()),
                line(1, ch(4, counts_as=(("dc", 1), ("ch-sp", 1))), skip(), bare(1, "dc"), lace),
            )
        )
        last = fabric.rounds[-1].per_size[0]
        assert last is not None
        assert last.total == 500_000
        assert len(last.edge) < 8

    def test_decreases_take_two_stitches_each(self) -> None:
        fabric = work(draft(*FLAT_CIRCLE[:5], line(6, times(6, bare(3), dec()))))
        assert totals(fabric)[-1] == 24
        assert kinds(fabric, 6) == {"sc": 18, "sc2tog": 6}

    def test_staggered_increases_use_the_round_exactly(self) -> None:
        # sc 1, inc, (sc 3, inc) x 5, sc 2 uses 24 and makes 30: tech_editing section 3.4
        fabric = work(draft(*FLAT_CIRCLE[:4], line(5, bare(1), inc(), times(5, bare(3), inc()), bare(2))))
        assert totals(fabric)[-1] == 30
        assert fabric.rounds[-1].misfits == ()


class TestOvals:
    @pytest.mark.parametrize("straight", [7, 12, 24])
    def test_rounds_about_a_chain_follow_two_s_less_four_plus_six_n(self, straight: int) -> None:
        # Round n = 2 S - 4 + 6 n, tech_editing section 3.8 (agrees with a published 7-chain start: 14, 20)
        side = straight - 1
        first = [
            ch(straight + 1),
            into("sc", How.HOOK, ordinal=2, what="ch"),
            into("sc", How.NEXT, side - 1, what="ch"),
            into("sc", How.LAST, 1, 3, what="ch"),
            Rotate(NOWHERE),
            into("sc", How.NEXT, side - 1, what="ch"),
            into("sc", How.LAST, 1, 2, what="ch"),
        ]
        rounds = [line(1, *first)]
        for n in range(2, 9):
            plain = n - 2
            curve = [times(3, bare(plain), inc())] if plain else [inc(3)]
            rounds.append(line(n, bare(side - 1), *curve, bare(side - 1), *curve))
        fabric = work(draft(*rounds))
        assert totals(fabric) == [2 * straight - 4 + 6 * n for n in range(1, 9)]
        assert all(not worked.misfits for worked in fabric.rounds)

    def test_the_bag_base_of_92_stitches(self) -> None:
        # S = 24 (chain 25), n = 8: 92 sts, tech_editing section 3.8
        assert 2 * 24 - 4 + 6 * 8 == 92

    def test_the_second_half_may_follow_without_a_word(self) -> None:
        fabric = work(
            draft(
                line(
                    1,
                    ch(10),
                    into("sc", How.HOOK, ordinal=2, what="ch"),
                    bare(7),
                    into("sc", How.NEXT, 1, 3),
                    bare(7),
                    into("sc", How.NEXT, 1, 2),
                )
            )
        )
        assert totals(fabric) == [20]
        assert fabric.rounds[0].reading == "the second half goes along the other side of the chain"


class TestRows:
    def test_sc_in_second_chain_gives_one_less_than_the_chain(self) -> None:
        # standards section 6a: sc goes into the 2nd chain, the turning chain is no stitch
        fabric = work(
            draft(
                line(None, ch(25)),
                row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch"), stated=24),
            )
        )
        assert totals(fabric) == [24]

    def test_dc_in_fourth_chain_counts_the_three_skipped(self) -> None:
        # Ch 25: dc in 4th ch and each ch makes 23 counting the skipped chains (notation survey 3.1)
        fabric = work(
            draft(
                line(None, ch(25)),
                row(1, into("dc", How.HOOK, ordinal=4, what="ch"), every("dc", what="ch"), stated=23),
            )
        )
        assert totals(fabric) == [23]
        assert fabric.rounds[-1].reading == "the starting ch 3 counts as a stitch"

    def test_dc_rows_keep_their_count_with_the_turning_chain_worked_into(self) -> None:
        plain = row(
            (2, 3, 4),
            ch(3, counts=True),
            into("dc", How.NEXT),
            every("dc"),
            into("dc", How.NAMED, what="turning ch"),
            TURN,
        )
        fabric = work(
            draft(
                line(None, ch(25)),
                row(1, into("dc", How.HOOK, ordinal=4, what="ch"), every("dc", what="ch"), TURN),
                plain,
            )
        )
        assert totals(fabric) == [23] * 4
        assert all(not worked.misfits for worked in fabric.rounds)

    def test_ripple_of_171_chains_has_twelve_repeats(self) -> None:
        # 14 x 12 + 3 = 171, tech_editing section 3.9: three in each peak
        peak = [bare(6), into("sc", How.NEXT, 1, 3), bare(6), skip(1)]
        fabric = work(
            draft(
                line(None, ch(171)),
                row(1, into("sc", How.HOOK, ordinal=3, what="ch"), around(*peak), stated=None),
            )
        )
        worked = fabric.rounds[-1].per_size[0]
        assert worked is not None
        assert worked.total == 1 + 12 * 15
        assert not fabric.rounds[-1].misfits

    def test_mesh_keeps_its_spaces(self) -> None:
        # Ch 30, dc in 6th: the skipped chains are a dc and a space; 12 further dc: 14 dc, 13 sps
        first = row(
            1,
            into("dc", How.HOOK, ordinal=6, what="ch"),
            around(ch(1), skip(1, what="ch"), into("dc", How.NEXT, what="ch")),
            TURN,
        )
        second = row(
            2,
            ch(4, counts_as=(("dc", 1), ("ch-sp", 1))),
            around(into("dc", How.NEXT, what="dc"), ch(1)),
            into("dc", How.NAMED, what="turning ch"),
            TURN,
        )
        fabric = work(draft(line(None, ch(30)), first, second))
        assert kinds(fabric, 1) == {"dc": 14, "ch-1 sp": 13}
        assert kinds(fabric, 2) == {"dc": 14, "ch-1 sp": 13}

    def test_slip_stitches_at_the_start_take_stitches_off(self) -> None:
        shaped = row(
            2,
            into("sl st", How.FIRST, 5),
            ch(1),
            into("sc", How.SAME),
            every(keep=(4,)),
            TURN,
            Unworked(None, NOWHERE),
        )
        fabric = work(
            draft(
                line(None, ch(31)),
                row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch"), TURN),
                shaped,
            )
        )
        # both ends lose 4: notation survey 6.6
        assert totals(fabric) == [30, 22]

    def test_turning_chain_written_at_the_end_of_the_row_before(self) -> None:
        fabric = work(
            draft(
                line(None, ch(13)),
                row(
                    1,
                    into("dc", How.HOOK, ordinal=4, what="ch"),
                    every("dc", what="ch"),
                    ch(3, counts=True),
                    TURN,
                ),
                row(2, skip(1), every("dc"), stated=11),
            )
        )
        assert totals(fabric)[0] == 11


class TestLace:
    def test_granny_square(self) -> None:
        # Common practice, no source: 12, 24, 36 dc with four ch-2 corners
        corner = group(bare(3, "dc"), ch(2), bare(3, "dc"), what="ch-sp", chains=2)
        start = [
            into("sl st", How.NEXT, 2),
            into("sl st", How.NEXT, what="ch-sp", chains=2),
            ch(3, counts=True),
        ]
        first_corner = group(bare(2, "dc"), ch(2), bare(3, "dc"), how=How.SAME, what="sp")
        three = into("dc", How.NEXT, 1, 3, what="ch-sp", chains=1)
        fabric = work(
            draft(
                line(
                    1,
                    MAGIC_RING,
                    ch(3, counts=True),
                    ring("dc", 2),
                    ch(2),
                    times(3, ring("dc", 3), ch(2)),
                    join("turning ch", How.NAMED),
                ),
                line(2, *start, first_corner, times(3, ch(1), corner), ch(1), join()),
                line(
                    3,
                    *start,
                    first_corner,
                    times(3, ch(1), three, ch(1), corner),
                    ch(1),
                    three,
                    ch(1),
                    join(),
                ),
            )
        )
        assert kinds(fabric, 1) == {"dc": 12, "ch-2 sp": 4}
        assert kinds(fabric, 2) == {"dc": 24, "ch-2 sp": 4, "ch-1 sp": 4}
        assert kinds(fabric, 3) == {"dc": 36, "ch-2 sp": 4, "ch-1 sp": 8}
        assert all(not worked.misfits for worked in fabric.rounds)

    def test_v_stitch_in_v_stitch_keeps_their_number(self) -> None:
        v_stitch = Stitch("v-st", makes=2, tally=(("v-st", 1),), body=(bare(1, "dc"), ch(1), bare(1, "dc")))
        first = Work(v_stitch, (1,), Place(How.NEXT, (1,)), NOWHERE)
        again = Work(v_stitch, (1,), Place(How.EACH, None, what="v-st"), NOWHERE)
        fabric = work(
            draft(
                line(None, ch(60), join()),
                line(1, ch(1), around(first, skip(1)), stated=counted(**{"v-st": 30})),
                line(2, again, stated=counted(**{"v-st": 30})),
            )
        )
        assert [worked.verdict for worked in fabric.rounds[1:]] == [Verdict.AGREES, Verdict.AGREES]

    @pytest.mark.parametrize("below", [19, 20])
    def test_last_pass_ends_at_the_stop(self, below: int) -> None:
        # four whole passes of 4 and one of 3; on 20 the last stitch is only passed over
        fabric = work(
            draft(line(1, MAGIC_RING, ring("sc", below)), line(2, around(bare(3), ch(2), skip(1), stop=1)))
        )
        assert not fabric.rounds[-1].misfits
        assert kinds(fabric, 2) == {"sc": 15, "ch-2 sp": 4}

    def test_a_stop_that_is_missed(self) -> None:
        fabric = work(
            draft(line(1, MAGIC_RING, ring("sc", 18)), line(2, around(bare(3), ch(2), skip(1), stop=1)))
        )
        assert fabric.rounds[-1].misfits

    def test_to_last_three_leaves_three(self) -> None:
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 23)), line(2, to_last(3, bare(3), inc()), bare(3), stated=28)
            )
        )
        assert totals(fabric)[-1] == 28
        assert not fabric.rounds[-1].misfits


class TestSpikes:
    def test_alternate_spikes_end_on_the_opposite_stitch_and_the_next_round_staggers_them(self) -> None:
        # Common practice, no source
        spike = into("sc", How.NEXT, below=1)
        first = line(2, around(spike, into("sc", How.NEXT)))
        second = line(3, around(into("sc", How.NEXT), spike))
        fabric = work(draft(line(1, MAGIC_RING, ring("sc", 24)), first, second))
        assert totals(fabric) == [24, 24, 24]
        assert not any(worked.misfits for worked in fabric.rounds)

    def test_the_stitch_passed_over_behind_a_spike_is_its_own_place(self) -> None:
        spike = into("dc", How.NEXT, below=2)
        fabric = work(
            draft(line(1, MAGIC_RING, ring("sc", 12)), line(2, around(spike, skip(1), into("sc", How.NEXT))))
        )
        assert totals(fabric) == [12, 12]

    def test_back_loops_leave_front_loops_for_later(self) -> None:
        later = into("sc", How.EACH, None, 2, loops=Loops.UNWORKED, round_number=2)
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 6)),
                line(2, every(each=2)),
                line(
                    3,
                    times(
                        6,
                        into("sc", How.NEXT, loops=Loops.BACK),
                        into("sc", How.NEXT, 1, 2, loops=Loops.BACK),
                    ),
                ),
                line(4, later),
            )
        )
        assert totals(fabric) == [6, 12, 18, 24]


class TestChainsThatStand:
    def test_a_handle_is_counted_chain_by_chain_where_the_next_round_enters_it_so(self) -> None:
        # (sc 10, ch 7, skip 5) twice on 30 makes 34 with the chains: notation survey 3.1
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 30)),
                line(2, times(2, bare(10), ch(7), skip(5)), stated=34),
                line(3, every(), stated=34),
            )
        )
        assert totals(fabric) == [30, 34, 34]
        assert [worked.verdict for worked in fabric.rounds[1:]] == [Verdict.AGREES, Verdict.AGREES]

    def test_a_handle_entered_as_a_space_is_none(self) -> None:
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 30)),
                line(2, times(2, bare(10), ch(7), skip(5))),
                line(3, times(2, bare(10), into("sc", How.NEXT, 1, 9, what="ch-sp", chains=7))),
            )
        )
        assert totals(fabric) == [30, 20, 38]

    def test_ch_one_never_counts_unless_said(self) -> None:
        fabric = work(draft(line(1, MAGIC_RING, ch(1), ring("sc", 8)), line(2, ch(1), every())))
        assert totals(fabric) == [8, 8]

    def test_a_rule_of_the_pattern_wins(self) -> None:
        lines = (line(1, MAGIC_RING, ch(3), ring("dc", 11), stated=12),)
        assert totals(work(draft(section(*lines, rules={3: False})))) == [11]
        assert totals(work(draft(section(*lines, rules={3: True})))) == [12]


class TestRoundsAsOthers:
    def test_rep_last_two_rows_four_times_more_is_eight_rows(self) -> None:
        # Those 2 and 8 more; a pair that takes off 2 leaves 50 - 8 = 42: notation survey 6.4
        lines = [
            line(None, ch(53)),
            row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch")),
            row(2, dec(), every(keep=(2,)), dec()),
            row(3, every()),
            row(None, AsRound((), NOWHERE, last=2, times=Times((4,), more=True)), stated=42, at=9),
        ]
        fabric = work(draft(*lines))
        repeated = [worked for worked in fabric.rounds if worked.line.line_number == 9]
        assert len(repeated) == 8
        assert repeated[-1].verdict is Verdict.AGREES

    def test_alternate_rows_come_between_the_others(self) -> None:
        lines = [
            line(1, MAGIC_RING, ring("sc", 6)),
            line(2, every(), every=(2, 2)),
            line(3, every(each=2)),
            line(5, times(6, bare(1), inc())),
        ]
        fabric = work(draft(*lines))
        assert [worked.number for worked in fabric.rounds] == [1, 2, 3, 4, 5]
        assert totals(fabric) == [6, 6, 12, 12, 18]

    def test_until_it_measures_is_one_entry_of_open_number(self) -> None:
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 24)),
                line(2, every()),
                line(None, AsRound((2,), NOWHERE, until="until it measures 10 cm")),
            )
        )
        last = fabric.rounds[-1]
        assert last.repeats is None
        assert last.per_size[0] is not None
        assert last.per_size[0].total == 24
        assert last.why == "the number of rows depends on your piece; the count is carried on"

    def test_increase_evenly(self) -> None:
        # +6 gives 72: agrees; the places are not checked (notation survey 4)
        fabric = work(draft(line(1, MAGIC_RING, ring("sc", 66)), line(2, Evenly((6,), NOWHERE), stated=72)))
        assert fabric.rounds[-1].verdict is Verdict.AGREES


class TestSizes:
    def test_five_sizes_equal_five_patterns_of_one_size(self) -> None:
        starts = [30, 36, 42, 48, 54]
        rounds = lambda n: [  # noqa: E731 - a pattern for one number or for many
            line(1, MAGIC_RING, ring("sc", n)),
            line(2, times([s // 6 for s in starts] if not isinstance(n, int) else n // 6, bare(5), inc())),
            line(3, to_last(7, bare(6), inc()), bare(7)),
        ]
        together = work(draft(*rounds(starts), sizes=("XS", "S", "M", "L", "XL")))
        for size, start in enumerate(starts):
            alone = work(draft(*rounds(start)))
            assert totals(together, size) == totals(alone)

    def test_a_size_without_the_round_has_none(self) -> None:
        lines = [line(1, MAGIC_RING, ring("sc", 6)), line((2, 3), every(), per_size_last=(3, 5))]
        fabric = work(draft(*lines, sizes=("S", "L")))
        assert totals(fabric, 0) == [6, 6, 6, None, None]
        assert totals(fabric, 1) == [6, 6, 6, 6, 6]


class TestVerdicts:
    def test_a_wrong_count_is_found_on_its_own_line_and_nothing_else(self) -> None:
        wrong = [
            *(line(n, *one.steps, stated=6 * n) for n, one in enumerate(FLAT_CIRCLE[:4], 1)),
            line(5, times(6, bare(3), inc()), stated=32),
            line(6, times(6, bare(4), inc()), stated=36),
        ]
        fabric = work(draft(*wrong))
        assert [worked.verdict for worked in fabric.rounds] == [Verdict.AGREES] * 4 + [
            Verdict.DIFFERS,
            Verdict.AGREES,
        ]
        assert fabric.rounds[4].went_on_from == "worked"

    def test_the_work_goes_on_from_the_print_where_the_next_round_fits_that(self) -> None:
        lines = [
            line(1, MAGIC_RING, ring("sc", 20), stated=24),
            line(2, times(6, bare(3), inc()), stated=30),
        ]
        fabric = work(draft(*lines))
        assert fabric.rounds[0].verdict is Verdict.DIFFERS
        assert fabric.rounds[0].went_on_from == "printed"
        assert fabric.rounds[1].verdict is Verdict.AGREES

    def test_a_repeat_that_leaves_one_over(self) -> None:
        # Prev 36; (sc 4, inc) x 7 uses 35 and gives 42: check J1
        fabric = work(draft(*FLAT_CIRCLE[:6], line(7, times(7, bare(4), inc()), stated=42)))
        (misfit,) = fabric.rounds[-1].misfits
        assert (misfit.fault, misfit.available, misfit.used, misfit.left) == (Fault.LEFT_OVER, 36, 35, 1)
        assert fabric.rounds[-1].verdict is Verdict.AGREES

    def test_a_repeat_that_does_not_divide(self) -> None:
        # Group uses 5, round has 32: check J4
        fabric = work(draft(line(1, MAGIC_RING, ring("sc", 32)), line(2, around(bare(4), inc()))))
        (misfit,) = fabric.rounds[-1].misfits
        assert (misfit.fault, misfit.left, misfit.repeat_uses, misfit.repeat_makes) == (
            Fault.REPEAT_MISFIT,
            2,
            5,
            6,
        )

    def test_too_many_stitches_asked_for(self) -> None:
        fabric = work(draft(line(1, MAGIC_RING, ring("sc", 20)), line(2, times(7, bare(2), inc()))))
        (misfit,) = fabric.rounds[-1].misfits
        assert (misfit.fault, misfit.available, misfit.used) == (Fault.TOO_FEW, 20, 21)

    def test_after_a_gap_the_count_starts_again_from_the_print(self) -> None:
        lines = [
            line(1, every(), Unread(NOWHERE), stated=30),
            line(2, times(6, bare(4), inc()), stated=36),
        ]
        fabric = work(draft(*lines))
        assert fabric.rounds[0].per_size == (None,)
        assert fabric.rounds[0].restarted
        assert fabric.rounds[0].why is not None
        assert fabric.rounds[0].why.endswith("started again from your count")
        assert fabric.rounds[1].verdict is Verdict.AGREES

    def test_n_times_is_read_as_the_round_below_has_it(self) -> None:
        lines = [
            line(1, MAGIC_RING, ring("sc", 14)),
            line(2, times(7, bare(1), inc(), more=None, fence="*"), stated=21),
            line(3, times(6, bare(2), inc(), more=None, fence="*"), stated=28),
        ]
        fabric = work(draft(*lines))
        assert totals(fabric) == [14, 21, 28]
        assert fabric.rounds[1].reading is not None

    def test_one_print_alone_never_chooses_the_reading(self) -> None:
        for printed, verdict in ((12, Verdict.AGREES), (11, Verdict.NOT_CHECKED), (10, Verdict.DIFFERS)):
            fabric = work(draft(line(1, MAGIC_RING, ch(3), ring("dc", 11), stated=printed)))
            assert totals(fabric) == [12]
            assert fabric.rounds[0].verdict is verdict

    def test_two_lines_settle_it(self) -> None:
        lines = [
            line(1, MAGIC_RING, ch(2), ring("hdc", 9), stated=10),
            line(2, ch(2), into("hdc", How.SAME), every("hdc", 2), stated=20),
        ]
        fabric = work(draft(*lines))
        assert totals(fabric) == [10, 20]
        assert fabric.sections[0].reading.chain_counts == ((2, True),)

    def test_spaces_taken_in_by_the_prints_are_named(self) -> None:
        mesh = [ch(4, counts_as=(("dc", 1), ("ch-sp", 1))), skip(1), around(bare(1, "dc"), ch(1), skip(1))]
        lines = [
            line(1, MAGIC_RING, ring("sc", 24)),
            line(2, *mesh, stated=24),
            line(3, ch(1), every(what="st|ch-sp"), stated=24),
            line(4, *mesh, stated=24),
        ]
        fabric = work(draft(*lines))
        assert [worked.verdict for worked in fabric.rounds[1:]] == [Verdict.AGREES] * 3
        assert fabric.rounds[1].reading == "the printed counts take in the chain spaces"

    def test_an_unknown_stitch_is_not_guessed(self) -> None:
        unknown = Work(Stitch("wave", known=False), (1,), Place(How.NEXT), NOWHERE)
        fabric = work(
            draft(
                line(1, MAGIC_RING, ring("sc", 24)),
                line(2, around(unknown), stated=30),
                line(3, every(), stated=30),
            )
        )
        assert fabric.rounds[1].per_size == (None,)
        assert (
            fabric.rounds[1].why
            == "how many stitches a wave makes is not known; started again from your count"
        )
        assert fabric.rounds[2].verdict is Verdict.AGREES


class TestTally:
    def test_every_stitch_made_is_counted_once_for_each_piece(self) -> None:
        ear = section(
            line(1, MAGIC_RING, ch(1), ring("sc", 6), join()),
            line(2, ch(1), every(each=2), join()),
            line(3, ch(1), times(6, dec()), join(), FastenOff(NOWHERE)),
            title="Ear",
            make=2,
        )
        fabric = work(draft(ear))
        assert dict(fabric.tally[0]) == {"ch": 6, "sc": 36, "sl st": 6, "sc2tog": 12}

    def test_foundation_chains_and_spaces_are_chains(self) -> None:
        fabric = work(
            draft(
                line(None, ch(11)),
                row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch")),
                row(2, ch(1), around(bare(1), ch(2), skip(1))),
            )
        )
        assert dict(fabric.tally[0]) == {"ch": 11 + 1 + 10, "sc": 15}


def test_bobbles_and_decreases_of_other_kinds_keep_their_width() -> None:
    lines = [
        line(None, ch(16)),
        row(1, into("sc", How.HOOK, ordinal=2, what="ch"), every(what="ch")),
        row(
            2,
            ch(1),
            bare(3),
            around(into("bobble", How.NEXT), into("sc", How.NEXT, 3)),
            stated=counted(sc=12, bobble=3),
        ),
        row(3, ch(1), Work(stitch("sc3tog", uses=3), (1,), Place(How.BARE, (5,)), NOWHERE), stated=5),
    ]
    fabric = work(draft(*lines))
    assert [worked.verdict for worked in fabric.rounds[2:]] == [Verdict.AGREES, Verdict.AGREES]


def test_decrease_around_uses_all() -> None:
    around_all = Work(SC2TOG, (1,), Place(How.EACH, None), NOWHERE)
    fabric = work(draft(line(1, MAGIC_RING, ring("sc", 12)), line(2, around_all, stated=6)))
    assert fabric.rounds[-1].verdict is Verdict.AGREES
