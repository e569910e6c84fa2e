"""Wordings of the trade, worked by hand: what each makes, and a near miss that must stay as it was.

The counts are plain arithmetic on the words (common practice, no source); the examples are our own.
"""

import pytest

from craft.fabric import work
from craft.fabric.model import Fabric, Verdict
from craft.notation import read

FORTY = "Row 1: Ch 41, sc in 2nd ch from hook, sc in each ch across, turn. (40 sc)\n"
DISC = "Rnd 1: 24 sc in magic ring, join. (24)\n"
MESH = DISC + "Rnd 2: Ch 1, [sc, ch 1] in each sc around, join with sl st to first sc.\n"


def made(text: str) -> Fabric:
    return work(read(text))


def last(text: str) -> list[int | None]:
    return [sized.total if sized is not None else None for sized in made(text).rounds[-1].per_size]


@pytest.mark.parametrize(
    ("before", "line", "total"),
    [
        # one decrease over two gaps; two over four
        (FORTY, "Row 2: Ch 1. Hdc2tog over first 2 sps between sc. Hdc in each st to end.", 39),
        (FORTY, "Row 2: Ch 1. Hdc2tog over next 4 sps between sts. Hdc in each st to end.", 38),
        # the size of the groups says how many stitches lie from gap to gap
        (DISC, "Rnd 2: *Ch 1, sc in next space between 2-sc groups; rep from * around.", 12),
        (DISC, "Rnd 2: *Ch 2, sc in next space between 3-st groups; rep from * around.", 8),
        # one stitch over two places that are named one by one
        (FORTY, "Row 2: Ch 1. Sc2tog over next st and last st.", 1),
        (
            FORTY,
            (
                "Next row: Skip next 5 sts. Join yarn with sl st to next st. Ch 1. "
                "Sc2tog over same st as last sl st and next st. Sc in each st to end. Turn."
            ),
            34,
        ),
        # slip stitches at the start of a row take those stitches off, whatever the chain before them is
        (
            FORTY,
            "Row 2: Ch 1, sl st in first 4 sts, sc in each st across.",
            36,
        ),
        # in pattern to the last stitches; so many in pattern
        (
            FORTY,
            (
                "Row 2: Ch 1, sl st in first 2 sts, sc in next st, continue in Moss st pattern as "
                "established across to last 3 sts, sc in next st; leave remaining sts unworked, turn."
            ),
            36,
        ),
        (
            FORTY,
            "Row 2: Ch 1, keeping in pattern as established, work 18 sts, turn. Leave rem sts unworked.",
            18,
        ),
        # what stands behind a dash counts some of the stitches, and is no work
        (FORTY, "Row 2: Ch 1, sc in each st across, turn—6 sts on each shoulder between 28 center sts.", 40),
        (
            FORTY,
            "Row 2: (Increase row). Ch 1. 2 sc in first sc. 1 sc in each sc to last sc. 2 sc in last sc.",
            42,
        ),
        # so many decreases at an edge, one a row
        (FORTY, "Decrease 1 st at neck edge every row 3 times.", 37),
        # the chains skipped at the foundation may count where turning chains do not
        ("Ch 12.\n", "Row 1: Sc in 2nd ch and each ch across.", 11),
        (
            DISC,
            (
                "Rnd 2: Ch 1, *sc in each of next 4 sc, 2 sc in next sc; rep from * around, "
                "ending 2 sc in last sc, "
                "join, sl st in next sc."
            ),
            29,
        ),
    ],
)
def test_what_a_line_makes(before: str, line: str, total: int) -> None:
    assert last(before + line) == [total]


def test_spaces_up_to_a_longer_space_are_counted() -> None:
    text = (
        "Row 1: Ch 14, sc in 2nd ch from hook, sc in each ch across, turn. (13 sc)\n"
        "Row 2: Ch 1, sc in first sc, [ch 1, skip 1 sc, sc in next sc] twice, ch 1, skip 1 sc, "
        "(sc, ch 2, sc) in next sc, [ch 1, skip 1 sc, sc in next sc] 3 times, turn.\n"
        "Row 3: Ch 1, sc in first sc, (ch 1, sc) in each ch-1 space across to next ch-2 space, ch 1, "
        "(sc, ch 2, sc) in next ch-2 space, (ch 1, sc) in each ch-1 space across to last sc, ch 1, "
        "sc in last sc.\n"
    )
    _one, two, three = made(text).rounds
    assert two.per_size[0] is not None
    assert dict(two.per_size[0].by_kind) == {"sc": 8, "ch-1 sp": 6, "ch-2 sp": 1}
    assert three.per_size[0] is not None
    # 1 + 3 spaces + the corner's 2 + 3 spaces + 1
    assert dict(three.per_size[0].by_kind) == {"sc": 10, "ch-1 sp": 8, "ch-2 sp": 1}


def test_the_first_space_is_the_one_beside_the_chain() -> None:
    line = (
        "Rnd 3: Ch 2 (counts as sc and ch-1), sc in same space, "
        "*[ch 1, sc] twice in each space around, ch 1, join."
    )
    assert last(MESH + line) == [2 * 24]


def test_a_joined_round_turned_begins_over_its_first_stitch() -> None:
    text = (
        "Rnd 1: 8 sc in magic ring, join. (8)\n"
        "Rnd 2: Ch 3 (counts as dc), 2 dc in same st, ch 2, [3 dc in next sc, ch 2] 7 times. Join. Turn.\n"
        "Rnd 3: Ch 2 (counts as hdc), sc in first ch-2 sp, hdc in next dc, 3 dc in next dc, "
        "*hdc in next dc, sc in next ch-2 sp, hdc in next dc, 3 dc in next dc; rep from * around. Join."
    )
    sized = made(text).rounds[-1].per_size[0]
    assert sized is not None
    assert dict(sized.by_kind) == {"hdc": 16, "sc": 8, "dc": 24}


def test_stitches_of_one_name_pass_over_the_others_to_the_last() -> None:
    text = (
        "Rnd 1: 92 sc in magic ring, join. (92)\n"
        "Rnd 2: (Dc, sc) in each sc around.\n"
        "Rnd 3: *(Dc, sc) in each of next 8 sc, (dc, sc) in next dc; rep from * around, "
        "(dc, sc) in each of last 4 sc. (103 sc)\n"
    )
    rounds = made(text).rounds
    assert rounds[-1].verdict is Verdict.AGREES  # 11 passes of 9 pairs, and 4


def test_a_line_repeats_two_sets_of_rows_one_after_the_other() -> None:
    text = (
        "Sizes: S (L)\n" + FORTY + "Row 2: Ch 1, sc in each st across, turn.\n"
        "Row 3: Ch 1, sc2tog, sc in each st across, turn.\n"
        "Rep 2nd and 3rd rows 2 (4) times more, then 3rd row 5 (3) times more. 32 (32) sts.\n"
    )
    fabric = made(text)
    ends = [worked.per_size for worked in fabric.rounds if worked.stated]
    assert [sized and sized.total for sized in fabric.rounds[-1].per_size] == [32, None]
    assert all(worked.verdict is not Verdict.DIFFERS for worked in fabric.rounds), ends


def test_shaping_told_for_many_rows_goes_by_the_size() -> None:
    text = (
        "Sizes: S (M, L)\nRow 1: Ch 31, sc in 2nd ch from hook, sc in each ch across, turn. (30 sc)\n"
        "Working in sc, decrease 1 st at armhole edge every row 0 (1, 2) more times – 30 (29, 28) sc remain "
        "on last row worked.\n"
    )
    rounds = made(text).rounds
    assert [sized and sized.total for sized in rounds[-2].per_size] == [None, 29, 29]
    assert [sized and sized.total for sized in rounds[-1].per_size] == [None, None, 28]
    assert rounds[-1].verdict is Verdict.AGREES


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (
            "Row 2: Ch 1, sc in first st, dct2tog, sc in each st across.",
            "how many stitches a dct2tog makes is not known",
        ),
        ("Rep last row until 30th row of Chart is complete.", "the rounds are given by a chart"),
    ],
)
def test_what_is_not_known_is_said(line: str, why: str) -> None:
    worked = made(FORTY + line).rounds[-1]
    assert (worked.per_size, worked.why) == ((None,), why)


def test_work_joined_elsewhere_after_the_yarn_is_cut_is_not_guessed() -> None:
    text = FORTY + (
        "Row 2: Ch 1, sc in each st across. Fasten off.\n"
        "With RS facing, skip next 5 sts. Join yarn with sl st to next st. Ch 1. Sc in each st. 20 sc.\n"
    )
    worked = made(text).rounds[-1]
    assert (worked.per_size, worked.verdict) == ((None,), Verdict.NOT_CHECKED)


def test_words_not_understood_leave_the_next_count_in_doubt() -> None:
    odd = "Rnd 2: Sc in next 12 sc, flurb 6 sc over the edge, sc in next 6 sc.\n"
    worked = made(DISC + odd + "Rnd 3: Sc in each sc around. (30)\n").rounds[-1]
    assert (worked.verdict, worked.per_size[0] and worked.per_size[0].total) == (Verdict.NOT_CHECKED, 18)


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("Row 1: 53, (56, 58, 61) sc", 4),
        ("Row 1: 53 (56, 58, 61) sc", 4),
    ],
)
def test_a_comma_before_the_bracket_is_a_slip_of_the_pen(text: str, sizes: int) -> None:
    head = "Sizes: S (M, L, XL)\nRnd 1: 53 (56, 58, 61) sc in magic ring, join.\n"
    line = text.replace("Row 1: ", "Rnd 2: Sc in each sc around—").replace(" sc", " sc.")
    worked = made(head + line).rounds[-1]
    assert len(worked.per_size) == sizes
    assert worked.verdict is Verdict.AGREES


def test_a_count_off_by_a_few_is_held_even_behind_doubt() -> None:
    odd = "Rnd 2: Sc in next 12 sc, flurb 6 sc over the edge, sc in next 6 sc.\n"
    worked = made(DISC + odd + "Rnd 3: Sc in each sc around. (20)\n").rounds[-1]
    assert worked.verdict is Verdict.DIFFERS


def test_a_later_print_bears_out_a_count_behind_doubt() -> None:
    odd = "Rnd 2: Sc in next 12 sc, flurb 6 sc over the edge, sc in next 6 sc.\n"
    text = DISC + odd + "Rnd 3: 2 sc in each sc around. (30)\n"
    text += "".join(f"Rnd {number}: Sc in each sc around. (36)\n" for number in (4, 5, 6))
    assert [one.verdict for one in made(text).rounds[2:4]] == [Verdict.DIFFERS, Verdict.AGREES]
