"""Plans and orders against trying everything, on small random cases."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from craft.planning import (
    FairPlan,
    Limit,
    NoPlanError,
    PoissonDemand,
    Product,
    best_mix,
    best_selection,
    greedy_plan,
    greedy_selection,
    plan_fair,
    plan_orders,
    shared_parcels,
    silver_meal,
    worth_of_more,
    worth_of_piece,
)

HAT = Product("hat", 24, 6, 3, 2.0, PoissonDemand(4), {"sand": 90.0})
TOY = Product("toy", 38, 9, 7, 3.5, PoissonDemand(2.5), {"sand": 40.0, "sea": 60.0})
SCRUNCHIE = Product("scrunchie", 7, 1.5, 0.5, 0.5, PoissonDemand(9), {"sea": 12.0})

products = st.lists(
    st.builds(
        Product,
        name=st.just("piece"),
        price=st.integers(5, 40),
        cost=st.integers(1, 10),
        worth_left=st.just(0),
        hours=st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.5]),
        demand=st.builds(PoissonDemand, st.floats(0.3, 4)),
        yarn=st.fixed_dictionaries({"sand": st.integers(0, 50)}),
        at_most=st.just(4),
    ),
    min_size=1,
    max_size=3,
)


def value_of(made: list[Product], counts: tuple[int, ...]) -> float:
    return sum(
        worth_of_piece(product, number)
        for product, count in zip(made, counts, strict=True)
        for number in range(1, count + 1)
    )


def fits(made: list[Product], counts: tuple[int, ...], hours: float, sand: float) -> bool:
    pairs = list(zip(made, counts, strict=True))
    return (
        sum(product.hours * count for product, count in pairs) <= hours + 1e-9
        and sum(product.yarn["sand"] * count for product, count in pairs) <= sand + 1e-9
    )


@given(products, st.integers(0, 16), st.integers(0, 200))
@settings(max_examples=60, deadline=None)
def test_the_plan_is_the_best_of_all(made: list[Product], hours: int, sand: int) -> None:
    plan = plan_fair(made, hours, {"sand": sand})
    every = itertools.product(range(5), repeat=len(made))
    best = max(value_of(made, counts) for counts in every if fits(made, counts, hours, sand))
    assert fits(made, plan.quantities, hours, sand)
    assert plan.value == pytest.approx(best, abs=1e-5)


@given(products, st.integers(0, 16))
@settings(max_examples=40, deadline=None)
def test_greedy_is_never_better(made: list[Product], hours: int) -> None:
    assert greedy_plan(made, hours).value <= plan_fair(made, hours).value + 1e-5


@given(products)
@settings(max_examples=40, deadline=None)
def test_more_hours_never_hurt(made: list[Product]) -> None:
    values = [plan_fair(made, hours).value for hours in (0, 2, 4, 8, 100)]
    assert values == sorted(values)


def test_without_limits_each_product_gets_its_newsvendor_stock() -> None:
    # The last piece with a worth above nought is the least Q with F(Q) >= Cu/(Cu + Co): 18/21,
    # 29/31, 5.5/6.5.
    plan = plan_fair([HAT, TOY, SCRUNCHIE], 1000)
    for product, count, ratio in zip(
        (HAT, TOY, SCRUNCHIE), plan.quantities, (18 / 21, 29 / 31, 5.5 / 6.5), strict=True
    ):
        assert product.demand.cdf(count - 1) < ratio <= product.demand.cdf(count)


def test_greedy_falls_short_somewhere() -> None:
    hours = [h / 2 for h in range(1, 60)]
    gaps = [
        plan_fair([HAT, TOY, SCRUNCHIE], each).value - greedy_plan([HAT, TOY, SCRUNCHIE], each).value
        for each in hours
    ]
    assert max(gaps) > 0.1


def test_yarn_limits_and_says_what_it_used() -> None:
    plan = plan_fair([HAT, TOY, SCRUNCHIE], 40, {"sand": 300, "sea": 200})
    assert plan.yarn_used["sand"] <= 300
    assert plan.yarn_used["sea"] <= 200
    assert plan.value < plan_fair([HAT, TOY, SCRUNCHIE], 40).value


def test_pieces_already_made_are_not_made_again() -> None:
    fresh = plan_fair([HAT], 1000).quantities[0]
    stocked = Product("hat", 24, 6, 3, 2.0, PoissonDemand(4), ready=2)
    assert plan_fair([stocked], 1000).quantities == (fresh - 2,)


def test_ties_take_fewer_hours_then_less_yarn() -> None:
    slow = Product("slow", 20, 5, 0, 3.0, PoissonDemand(3), {"sand": 10.0}, at_most=1)
    quick = Product("quick", 20, 5, 0, 2.0, PoissonDemand(3), {"sand": 30.0}, at_most=1)
    thrifty = Product("thrifty", 20, 5, 0, 2.0, PoissonDemand(3), {"sand": 20.0}, at_most=1)
    for order in itertools.permutations([slow, quick, thrifty]):
        made = [product.name for product, n in zip(order, plan_fair(order, 3).quantities, strict=True) if n]
        assert made == ["thrifty"]


def test_more_hours_add_little_in_the_end() -> None:
    pieces = [HAT, TOY, SCRUNCHIE]
    assert worth_of_more(pieces, 20)["hours"] > 1
    assert worth_of_more(pieces, 80)["hours"] == pytest.approx(0, abs=1e-6)
    scarce = worth_of_more(pieces, 40, {"sea": 100}, more_yarn={"sea": 60.0})
    assert scarce["sea"] > 1


def test_expected_sales_are_below_what_is_brought() -> None:
    plan = plan_fair([HAT, TOY], 40)
    assert isinstance(plan, FairPlan)
    for sold, brought, product in zip(plan.expected_sold, plan.quantities, (HAT, TOY), strict=True):
        assert 0 < sold < min(brought, product.demand.mean)


def test_error_when_promises_take_more_than_there_is() -> None:
    with pytest.raises(
        NoPlanError, match=r"^Hours and yarn cannot be below nought; promised orders may take"
    ):
        plan_fair([HAT], -1)


@given(
    st.lists(st.tuples(st.integers(0, 60), st.integers(1, 30)), min_size=1, max_size=12), st.integers(0, 100)
)
@settings(max_examples=60, deadline=None)
def test_a_selection_is_the_best_and_lightest(things: list[tuple[int, int]], capacity: int) -> None:
    values, weights = [list(row) for row in zip(*things, strict=True)]
    table = [0] * (capacity + 1)
    for value, weight in things:
        for room in range(capacity, weight - 1, -1):
            table[room] = max(table[room], table[room - weight] + value)
    found = best_selection(values, weights, capacity)
    assert found.value == table[capacity]
    assert found.weight == min(room for room in range(capacity + 1) if table[room] == table[capacity])
    assert greedy_selection(values, weights, capacity).value <= found.value


def test_a_whole_mix_is_no_better_than_a_divided_one() -> None:
    # Source: Taylor, Introduction to Management Science, Beaver Creek Pottery: 40 h, 120 lb of
    # clay; one hour less.
    limits = [Limit("labour h", (1, 2), 39), Limit("clay lb", (4, 3), 120)]
    assert (
        best_mix([40, 50], limits, whole=True).value
        <= best_mix([40, 50], limits).value
        == pytest.approx(1344)
    )


def test_error_when_nothing_limits_a_mix() -> None:
    with pytest.raises(NoPlanError, match=r"^No plan keeps all the limits, or nothing limits it\.$"):
        best_mix([1.0], [Limit("clay", (-1.0,), 5)])


needs = st.lists(
    st.tuples(st.integers(0, 60), st.integers(1, 200), st.integers(0, 5)), min_size=1, max_size=7
)


@given(needs)
def test_orders_are_the_cheapest_of_all(rows: list[tuple[int, int, int]]) -> None:
    need, order, hold = [list(row) for row in zip(*rows, strict=True)]
    plan = plan_orders(need, order, hold)
    assert plan.cost == pytest.approx(min(brute_orders(need, order, hold)))
    assert plan.cost == pytest.approx(cost_of(plan.orders, need, order, hold))
    assert plan.cost <= silver_meal(need, order, hold).cost + 1e-9


def brute_orders(need: list[int], order: list[int], hold: list[int]) -> list[float]:
    """Cost of every way to choose the periods that order."""
    periods = range(len(need))
    costs = []
    for chosen in itertools.product((False, True), repeat=len(need)):
        starts = [period for period in periods if chosen[period]]
        if any(need[: starts[0]] if starts else need):
            continue
        ends = [*starts[1:], len(need)] if starts else []
        orders = [0.0] * len(need)
        for start, end in zip(starts, ends, strict=True):
            orders[start] = sum(need[start:end])
        costs.append(cost_of(tuple(orders), need, order, hold))
    return costs


def cost_of(orders: tuple[float, ...], need: list[int], order: list[int], hold: list[int]) -> float:
    cost, kept = 0.0, 0.0
    for period, ordered in enumerate(orders):
        cost += order[period] if ordered else 0.0
        kept += ordered - need[period]
        assert kept >= -1e-9
        cost += kept * hold[period]
    return cost


@given(needs)
def test_the_rule_of_thumb_meets_every_need(rows: list[tuple[int, int, int]]) -> None:
    need, order, hold = [list(row) for row in zip(*rows, strict=True)]
    plan = silver_meal(need, order, hold)
    assert plan.cost == pytest.approx(cost_of(plan.orders, need, order, hold))


def test_error_for_rows_of_different_length() -> None:
    with pytest.raises(
        ValueError, match=r"^Give a need, an order cost and a holding cost for every period\.$"
    ):
        plan_orders([1, 2], [3], [4])


@given(
    st.integers(1, 500),
    st.lists(st.tuples(st.integers(0, 300), st.integers(1, 60), st.integers(1, 20)), min_size=1, max_size=4),
)
def test_a_shared_parcel_costs_what_it_says(shared: int, lines: list[tuple[int, int, int]]) -> None:
    own, hold, rate = [list(row) for row in zip(*lines, strict=True)]
    plan = shared_parcels(shared, own, hold, rate)
    ordering = (shared + sum(a / m for a, m in zip(own, plan.multiples, strict=True))) / plan.cycle
    keeping = sum(q * h / 2 for q, h in zip(plan.quantities, hold, strict=True))
    assert plan.cost_rate == pytest.approx(ordering + keeping)
    assert min(plan.multiples) == 1
    for factor in (0.8, 1.25):
        assert ordering / factor + keeping * factor >= plan.cost_rate - 1e-9
