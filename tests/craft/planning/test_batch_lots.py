"""Lots for one colour of a batch. The rule is the house's own; small cases are tried against every choice."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from craft.planning.batch_lots import Cut, FreeLot, lots_for_batch

GRAM = 1000


def lot(lot_id: int, grams: int, dye_lot: str | None = None, came: int | None = None) -> FreeLot:
    dye = str(lot_id) if dye_lot is None else dye_lot
    return FreeLot(lot_id, dye, grams * GRAM, lot_id if came is None else came)


def test_one_dye_lot_that_can_serve_the_whole_batch_is_taken_alone() -> None:
    plan = lots_for_batch([lot(1, 100), lot(2, 700), lot(3, 650)], piece_mg=50 * GRAM, pieces=12)
    assert plan.cuts == (Cut(3, 600 * GRAM, 1),)
    assert (plan.served, plan.short, plan.shades) == (12, 0, 1)


def test_a_piece_is_never_cut_from_two_dye_lots() -> None:
    plan = lots_for_batch([lot(1, 70), lot(2, 70)], piece_mg=50 * GRAM, pieces=3)
    assert plan.served == 2
    assert (plan.short, plan.short_mg, plan.left_mg) == (1, 50 * GRAM, 40 * GRAM)


def test_two_dye_lots_may_meet_in_a_piece_when_the_maker_says_so() -> None:
    plan = lots_for_batch([lot(1, 70), lot(2, 80)], piece_mg=50 * GRAM, pieces=3, may_mix=True)
    assert plan.served == 3
    assert plan.cuts == (Cut(2, 80 * GRAM, 1), Cut(1, 70 * GRAM, 2))


def test_mixing_is_not_used_where_single_dye_lots_are_enough() -> None:
    plan = lots_for_batch([lot(1, 70), lot(2, 120)], piece_mg=50 * GRAM, pieces=3, may_mix=True)
    assert [(cut.lot_id, cut.mass_mg) for cut in plan.cuts] == [(2, 100 * GRAM), (1, 50 * GRAM)]


def test_deliveries_of_one_dye_lot_count_together_first_come_first() -> None:
    lots = [lot(1, 80, "D7", came=2), lot(2, 70, "D7", came=1)]
    plan = lots_for_batch(lots, piece_mg=50 * GRAM, pieces=3)
    assert plan.cuts == (Cut(2, 70 * GRAM, 1), Cut(1, 80 * GRAM, 1))
    assert plan.shades == 1


def test_lots_with_no_known_dye_lot_stand_alone() -> None:
    lots = [lot(1, 30, ""), lot(2, 30, "")]
    plan = lots_for_batch(lots, piece_mg=50 * GRAM, pieces=1)
    assert (plan.served, plan.cuts) == (0, ())


def test_an_empty_shelf_leaves_everything_to_buy() -> None:
    plan = lots_for_batch([], piece_mg=46 * GRAM, pieces=12)
    assert (plan.cuts, plan.short, plan.short_mg) == ((), 12, 552 * GRAM)


grams = st.integers(0, 400)


@given(st.lists(grams, max_size=6), st.integers(1, 120), st.integers(1, 20))
def test_no_choice_serves_more_or_takes_fewer_dye_lots(lots: list[int], piece: int, pieces: int) -> None:
    free = [lot(number, mass) for number, mass in enumerate(lots, start=1)]
    plan = lots_for_batch(free, piece_mg=piece * GRAM, pieces=pieces)
    whole = [each.free_mg // (piece * GRAM) for each in free]
    assert plan.served == min(pieces, sum(whole))
    fewest = next(
        size
        for size in range(len(whole) + 1)
        if any(sum(some) >= plan.served for some in combinations(whole, size))
    )
    assert plan.shades == fewest


@given(st.lists(grams, max_size=6), st.integers(1, 120), st.integers(1, 20), st.booleans())
def test_cuts_fit_the_lots_and_add_up(lots: list[int], piece: int, pieces: int, may_mix: bool) -> None:
    free = [lot(number, mass, dye_lot=str(number % 2)) for number, mass in enumerate(lots, start=1)]
    plan = lots_for_batch(free, piece_mg=piece * GRAM, pieces=pieces, may_mix=may_mix)
    given_mg = {each.lot_id: each.free_mg for each in free}
    assert all(0 < cut.mass_mg <= given_mg[cut.lot_id] for cut in plan.cuts)
    assert len({cut.lot_id for cut in plan.cuts}) == len(plan.cuts)
    assert sum(cut.mass_mg for cut in plan.cuts) == plan.served * piece * GRAM
    assert plan.served + plan.short == pieces
