"""Where rounds increase, and increases that stand above one another (trade notes section 3.4)."""

from __future__ import annotations

import pytest

from craft.fabric.increases import Increase, increases_of, stacks_of, stick_out
from tests.craft.fabric.plain_parts import disc, worked


def increases(text: str, number: int) -> tuple[Increase, ...]:
    sized = worked(text).rounds[number - 1].per_size[0]
    assert sized is not None
    return increases_of(sized)


def stacks(text: str) -> list[tuple[int, list[int | None]]]:
    found = stacks_of(worked(text).sections[0].rounds)
    return [(stack.corners, [each.number for each in stack.rounds]) for stack in found]


def staggered(rounds: int) -> str:
    """Every other round begins with half its plain stitches, as in the trade's own fix."""
    lines = disc(3, 6).splitlines()
    for number in range(4, rounds + 1):
        k = number - 2
        if number % 2:
            lines.append(f"Rnd {number}: [sc in next {k} sts, 2 sc in next st] 6 times. ({6 * number})")
        else:
            first = f"sc in next {k // 2} sts, 2 sc in next st, [sc in next {k} sts, 2 sc in next st] 5 times"
            lines.append(f"Rnd {number}: {first}, sc in next {k - k // 2} sts. ({6 * number})")
    return "\n".join(lines) + "\n"


def test_places_of_increases() -> None:
    # (sc 2, inc) x 6 over 18: the third of every three
    assert [each.below for each in increases(disc(4, 6), 4)] == [2, 5, 8, 11, 14, 17]
    assert [each.made for each in increases(disc(4, 6), 4)] == [2, 6, 10, 14, 18, 22]


def test_a_stitch_beside_the_starting_chain_is_an_increase() -> None:
    text = "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join. (12)\n"
    text += "Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join. (24)\n"
    assert [each.below for each in increases(text, 2)] == list(range(12))


def test_stacked_increases_are_found() -> None:
    # six spokes for twelve rounds; the first three rounds are left alone
    assert stacks(disc(12, 6)) == [(6, list(range(4, 13)))]
    assert stacks(disc(6, 6)) == []


def test_staggered_increases_are_not() -> None:
    assert stacks(staggered(12)) == []


def test_the_trade_s_own_example_of_a_staggered_round_fits() -> None:
    # k = 3, n = 6: sc 1, inc, (sc 3, inc) x 5, sc 2 uses 24 and makes 30
    text = disc(4, 6)
    text += (
        "Rnd 5: Sc, 2 sc in next st, [sc in next 3 sts, 2 sc in next st] 5 times, sc in next 2 sts. (30)\n"
    )
    last = worked(text).rounds[-1].per_size[0]
    assert last is not None
    assert (last.used, last.total) == (24, 30)
    assert [each.below for each in increases(text, 5)] == [1, 5, 9, 13, 17, 21]


@pytest.mark.parametrize(("corners", "part"), [(6, 0.155), (8, 0.082), (10, 0.051), (12, 0.035)])
def test_how_far_corners_stick_out(corners: int, part: float) -> None:
    # 1 / cos(180 / n): trade notes section 3.4
    assert stick_out(corners) == pytest.approx(part, abs=0.0006)
