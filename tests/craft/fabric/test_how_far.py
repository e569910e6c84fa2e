"""How far a line goes, where it starts, and what it works between: own examples, counted by hand.

Widths and readings are common practice in printed patterns, no single source.
"""

import pytest

from craft.fabric import work
from craft.fabric.model import Verdict
from craft.notation import read

AGREES, DIFFERS, UNSTATED = Verdict.AGREES, Verdict.DIFFERS, Verdict.UNSTATED
TO_20 = "Ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (20 sc)\n"


def counted(text: str) -> list[tuple[int | None, Verdict]]:
    """(total of the first size that has the round, verdict) of every round."""
    found = []
    for worked in work(read(text)).rounds:
        sized = next((one for one in worked.per_size if one is not None), None)
        found.append((sized.total if sized else None, worked.verdict))
    return found


SQUARE = """Ch 4, join with sl st to form ring.
Rnd 1: Ch 3 (counts as dc), 2 dc in ring, (ch 2, 3 dc in ring) 3 times, ch 2, join. (12 dc, 4 ch-2 sps)
Rnd 2: Sl st to ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, *ch 1, (3 dc, ch 2, 3
dc) in next
ch-2 sp; rep from * around, ch 1, join. (24 dc, 4 ch-1 sps, 4 ch-2 sps)
Rnd 3: Sl st to ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, *(ch 1, 3 dc) in each
ch-1 sp to
next ch-2 sp, ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp; rep from * 2 more times, (ch 1, 3 dc) in
each ch-1 sp to
next ch-2 sp, ch 1, join. (36 dc, 8 ch-1 sps, 4 ch-2 sps)
"""


def test_each_space_to_the_next_longer_one_counts_spaces_and_not_stitches() -> None:
    assert counted(SQUARE)[1:] == [(12, AGREES), (24, AGREES), (36, AGREES)]


def test_a_wrong_count_there_differs_and_does_not_move_the_work() -> None:
    assert counted(SQUARE.replace("36 dc", "39 dc"))[-1] == (36, DIFFERS)


def test_spaces_are_the_gaps_between_stitches_where_the_line_says_so() -> None:
    text = """Rnd 1: Ch 4, 8 dc in 4th ch from hook (skipped ch count as dc), join. (9 dc)
Rnd 2: Ch 3 (counts as dc), dc in space between first 2 sts, 2 dc in each remaining space around,
join. (18 dc)
Rnd 3: Ch 3 (counts as dc), dc in space between first 2 sts, dc in next space, *2 dc in next space,
dc in next
space; rep from * around, join. (27 dc)
"""
    assert counted(text) == [(9, AGREES), (18, AGREES), (27, AGREES)]


MESH = """Rnd 1: 6 sc in magic ring. (6)
Rnd 2: Ch 1, (sc, ch 1) in each sc around, join with sl st to first sc. (6 sc, 6 ch-1 sps)
"""


def test_a_chain_space_of_the_round_below_is_no_gap() -> None:
    text = f"{MESH}Rnd 3: Sl st in next space, ch 1, 2 sc in same space, 2 sc in each space around. (12)\n"
    assert counted(text)[2] == (12, AGREES)


def test_a_chain_that_starts_in_the_space_beside_it_uses_that_space() -> None:
    text = f"""{MESH}Rnd 3: Ch 2 (counts as sc and ch-1), sc in same space, *(ch 1, sc) 2 times in each space
around; rep from * around, ch 1, join. (12 sc)
"""
    assert counted(text)[2] == (12, AGREES)


def test_an_ending_that_joins_and_slips_on_makes_no_stitch() -> None:
    text = """Rnd 1: 12 sc in magic ring. (12)
Rnd 2: Ch 1, (sc, ch 1) in each sc around, join, sl st in next ch-1 sp. (12 sc)
Rnd 3: Ch 2 (counts as sc and ch-1), sc in same space, *(ch 1, sc) in next 5 spaces, (ch 1, sc) 2
times in next
space; rep from * around, end ch 1, join, sl st in next ch-1 sp. (14 sc)
"""
    assert counted(text)[2] == (14, AGREES)


def test_chains_skipped_at_the_start_may_count_where_turning_chains_do_not() -> None:
    text = """Ch 12.
Row 1: Hdc in 3rd ch from hook and in each ch across, turn. (11 hdc)
Row 2: Ch 2, hdc in each st across, turn. (11 hdc)
Row 3: Ch 2, hdc in first st, hdc2tog, hdc in each st to last 3 sts, hdc2tog, hdc in last st, turn. (9 hdc)
Row 4: Ch 2, hdc in each st across, turn. (9 hdc)
"""
    assert counted(text)[1:] == [(11, AGREES), (11, AGREES), (9, AGREES), (9, AGREES)]
    wrong = text.replace("each ch across, turn. (11 hdc)", "each ch across, turn. (12 hdc)")
    assert counted(wrong)[1] == (11, DIFFERS)


def test_each_size_repeats_its_own_round() -> None:
    text = """Sizes: S (L)
Rnd 1: 6 sc in magic ring.
Size S only:
Rnd 2: 2 sc in each st around. (12)
Size L only:
Rnd 2: 3 sc in each st around. (18)
Size S only:
Rnd 3: Repeat Rnd 2. (24)
"""
    assert counted(text)[-1] == (24, AGREES)


def test_a_kind_not_known_may_be_the_one_named() -> None:
    text = f"""{TO_20}Row 2: Ch 1, sc in first st, work in pattern to end of row, turn. (20 sts)
Row 3: Ch 1, 2 sc in first sc, work in pattern to last 2 sts, sc2tog, turn. (20 sts)
"""
    assert counted(text)[3] == (20, AGREES)


def test_rows_on_in_pattern_keep_the_spaces_of_lace() -> None:
    text = """Ch 18.
Row 1: Sc in 2nd ch from hook, *ch 3, skip next 3 ch, sc in next ch; rep from * across, turn. (5
sc, 4 ch-3 sps)
Cont in pattern until scarf measures 10 ins.
Next row: Ch 1, sc in first sc, *3 sc in next ch-3 sp, sc in next sc; rep from * across. (17 sc)
"""
    assert counted(text)[-1] == (17, AGREES)


def test_the_places_that_each_pass_goes_over_may_stay_behind_the_last() -> None:
    text = """Rnd 1: 16 sc in magic ring. (16)
Rnd 2: Ch 1, *sc in next sc, skip next sc, 5 dc in next sc, skip next sc; rep from * around, join.
(4 sc, 20 dc)
Rnd 3: Ch 1, *3 dc in next sc, ch 1, skip next 2 dc, sc in next dc, ch 1; rep from * around, join.
(12 dc, 4 sc)
"""
    assert counted(text)[2] == (16, AGREES)


@pytest.mark.parametrize("start", ["join A with sl st in next st", "sl st in next st"])
def test_a_row_may_start_behind_stitches_passed_over(start: str) -> None:
    rest = "ch 1, sc in same st, sc in next 9 sts, turn, leaving last 5 sts unworked. (10 sc)"
    assert counted(f"{TO_20}Row 2: Skip first 5 sts, {start}, {rest}\n")[2] == (10, AGREES)


@pytest.mark.parametrize(("wording", "made"), [("beginning in same st as join, ", 10), ("", 9)])
def test_beginning_in_the_place_of_the_join_works_it_too(wording: str, made: int) -> None:
    row = f"Skip first 9 sts, join A with sl st in next st, ch 1, {wording}sc2tog, sc in rem sts, turn."
    assert counted(f"{TO_20}Row 2: {row}\n")[-1] == (made, UNSTATED)


def test_a_round_may_go_back_to_the_last_stitch() -> None:
    text = """Rnd 1: 12 sc in magic ring, join. (12)
Rnd 2: Sl st back into last sc worked, ch 1, 2 sc in same st, sc in each rem st around, join. (13)
"""
    assert counted(text)[1] == (13, AGREES)


def test_increasing_every_round_until_there_are_so_many() -> None:
    text = """Rnd 1: 8 sc in magic ring. (8)
Cont in rnds, inc 8 sc every rnd until there are 48 sc.
Next rnd: Sc in each sc around. (48)
"""
    assert counted(text)[1:] == [(48, UNSTATED), (48, AGREES)]


def test_a_round_named_by_its_label_is_repeated() -> None:
    text = f"""{TO_20}Increase Row: Ch 1, 2 sc in first st, sc in each st to last st, 2 sc in last
st, turn. (22 sc)
Row 3: Ch 1, sc in each st across, turn. (22 sc)
Next Row: Repeat Increase Row. (24 sc)
Rep Inc Row 2 more times. (28 sc)
"""
    assert [total for total, _ in counted(text)][-3:] == [24, 26, 28]
    assert counted(text)[-1][1] is AGREES


@pytest.mark.parametrize(("change", "made"), [("increases", 24), ("decreases", 16)])
def test_stitches_gained_and_lost_evenly_spaced(change: str, made: int) -> None:
    second = f"Rnd 2: Ch 1, sc in each sc around, working 4 evenly-spaced {change}, join. ({made})"
    assert counted(f"Rnd 1: 20 sc in ring. (20)\n{second}\n")[1] == (made, AGREES)


def test_a_count_on_the_last_row_worked_and_times_in_brackets() -> None:
    text = f"""{TO_20}Row 2: Ch 1, sc2tog, sc in each st across, turn. (19 sc)
Repeat Row 2 [3] more times - 16 sc on last row worked.
Work in sc until piece measures 5 ins.
"""
    assert (16, AGREES) in counted(text)


def test_a_wrapped_line_that_says_where_it_works_goes_on_with_the_round() -> None:
    text = """Ch 5.
Rnd 1: 1 sc in 2nd ch from hook, 1 sc in each of next 2 ch, 3 sc in last ch. Do not turn.
Working in rem loops of foundation ch, 1 sc in each of next 2 ch, 2 sc in last ch. Join. 10 sc.
"""
    assert counted(text)[1:] == [(10, AGREES)]


UNSURE = """Rnd 1: 6 sc in magic ring. (6)
Rnd 2: 2 sc in each st around. (12)
Rnd 3: *Sc in next 4 sts, 2 sc in next st; rep from * around.
Rnd 4: Sc in each st around. ({})
Rnd 5: Sc in each st around. ({})
Rnd 6: Sc in each st around. ({})
"""


def test_rounds_behind_an_unsure_one_settle_whether_its_print_is_wrong() -> None:
    worked = counted(UNSURE)[3][0]
    assert counted(UNSURE.format(worked, worked, worked))[3] == (worked, AGREES)
    assert counted(UNSURE.format(90, worked, worked))[3] == (worked, DIFFERS)
    assert counted(UNSURE.format(90, 90, 90))[3] == (worked, Verdict.NOT_CHECKED)
