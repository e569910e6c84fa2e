"""What to make for a fair under limited hours and yarn.

The k-th piece of a product is worth (net price - worth left) P(D >= k) - (cost - worth left), which
falls with k: without limits the last piece above nought is the newsvendor's answer. Under limits
the best plan is a whole-number programme with one yes-or-no for each piece; because worths fall, no
rule of order is needed. The maker's hours are the limit here, not a cost. Orders that are promised
come off hours and yarn first.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from craft.planning.demand import WholeDemand
from craft.planning.numeric import Constraint, NoPlanError, Solution, maximise

__all__ = ["FairPlan", "Product", "greedy_plan", "plan_fair", "worth_of_more", "worth_of_piece"]

SMALL = 1e-9
MOST_PIECES = 10_000
"""Pieces of one product looked at, at most; demand without end and left-overs at cost need a cap."""


@dataclass(frozen=True, slots=True)
class Product:
    """A product: net price, cost of materials, worth of a left-over, hours and yarn of one piece, demand.

    `yarn`: name of a yarn (colour and lot) -> what a piece takes of it, in the unit of the limits.
    `at_most`: cap on the pieces, from table space or taste. `ready`: pieces already made; they cost
    and use nothing more.
    """

    name: str
    price: float
    cost: float
    worth_left: float
    hours: float
    demand: WholeDemand
    yarn: Mapping[str, float] = field(default_factory=dict)
    at_most: int | None = None
    ready: int = 0


@dataclass(frozen=True, slots=True)
class FairPlan:
    """Pieces of each product to make, what the plan is worth, what it uses and what more would bring.

    `value`: expected worth over making nothing. `expected_sold`: of what is brought, ready pieces included.
    """

    quantities: tuple[int, ...]
    value: float
    hours_used: float
    yarn_used: Mapping[str, float]
    expected_sold: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class _Piece:
    """The k-th piece of a product as a choice."""

    product: int
    number: int
    worth: float


def worth_of_piece(product: Product, number: int) -> float:
    """Return what the k-th piece to be made adds to the fair's expected worth (k from 1)."""
    wanted = 1 - product.demand.cdf(product.ready + number - 1)
    return (product.price - product.worth_left) * wanted - (product.cost - product.worth_left)


def plan_fair(products: Sequence[Product], hours: float, yarn: Mapping[str, float] | None = None) -> FairPlan:
    """Return the exact best plan; ties take fewer hours, then less yarn. `yarn`: name -> how much there is.

    A yarn that is not named is not limited. Raises NoPlanError if hours or yarn are below nought.
    """
    stock = dict(yarn or {})
    if hours < 0 or any(amount < 0 for amount in stock.values()):
        raise NoPlanError(
            "Hours and yarn cannot be below nought; promised orders may take more than there is."
        )
    pieces = _pieces(products)
    limits = _limits(products, pieces, hours, stock)
    worths = [piece.worth for piece in pieces]
    time = [products[piece.product].hours for piece in pieces]
    length = [sum(products[piece.product].yarn.values()) for piece in pieces]
    best = _then_least(worths, (time, length), limits)
    counts = _counts(products, pieces, best)
    return _plan(products, counts)


def greedy_plan(products: Sequence[Product], hours: float) -> FairPlan:
    """Return the plan by worth per hour, piece by piece, under hours alone: close, not always the best."""
    counts = [0] * len(products)
    waiting = [_offer(products, index, 1) for index in range(len(products))]
    heapq.heapify(waiting)
    left = hours
    while waiting:
        ratio, index, number = heapq.heappop(waiting)
        if ratio >= 0:
            break
        if products[index].hours <= left + SMALL and _allowed(products[index], number):
            left -= products[index].hours
            counts[index] = number
            heapq.heappush(waiting, _offer(products, index, number + 1))
    return _plan(products, counts)


def worth_of_more(
    products: Sequence[Product],
    hours: float,
    yarn: Mapping[str, float] | None = None,
    *,
    more_hours: float = 1.0,
    more_yarn: Mapping[str, float] | None = None,
) -> dict[str, float]:
    """Return what more hours ("hours") and more of each yarn would add, each by solving again.

    Past a point more hours add little: that is the useful result.
    """
    stock = dict(yarn or {})
    base = plan_fair(products, hours, stock).value
    gains = {"hours": plan_fair(products, hours + more_hours, stock).value - base}
    for name, amount in (more_yarn or {}).items():
        more = stock | {name: stock.get(name, 0.0) + amount}
        gains[name] = plan_fair(products, hours, more).value - base
    return gains


def _allowed(product: Product, number: int) -> bool:
    return number <= (MOST_PIECES if product.at_most is None else product.at_most)


def _pieces(products: Sequence[Product]) -> list[_Piece]:
    """All pieces that are worth making, if there were hours and yarn without end."""
    pieces: list[_Piece] = []
    for index, product in enumerate(products):
        number = 1
        while _allowed(product, number) and (worth := worth_of_piece(product, number)) > SMALL:
            pieces.append(_Piece(index, number, worth))
            number += 1
    return pieces


def _limits(
    products: Sequence[Product], pieces: Sequence[_Piece], hours: float, yarn: Mapping[str, float]
) -> list[Constraint]:
    rows = [Constraint(tuple((i, products[p.product].hours) for i, p in enumerate(pieces)), high=hours)]
    for name, amount in yarn.items():
        terms = tuple((i, products[p.product].yarn.get(name, 0.0)) for i, p in enumerate(pieces))
        rows.append(Constraint(terms, high=amount))
    return rows


def _then_least(
    worths: Sequence[float], burdens: Sequence[Sequence[float]], limits: Sequence[Constraint]
) -> Solution:
    """Most worth first; among those the least of each burden in turn."""
    one_each = [1.0] * len(worths)
    best = maximise(worths, limits, one_each)
    rows = [*limits, Constraint(tuple(enumerate(worths)), low=best.value - 1e-7 * max(1.0, best.value))]
    for burden in burdens:
        best = maximise([-amount for amount in burden], rows, one_each)
        rows.append(Constraint(tuple(enumerate(burden)), high=-best.value + SMALL))
    return best


def _counts(products: Sequence[Product], pieces: Sequence[_Piece], solution: Solution) -> list[int]:
    counts = [0] * len(products)
    for piece, taken in zip(pieces, solution.variables, strict=True):
        counts[piece.product] += round(taken)
    return counts


def _plan(products: Sequence[Product], counts: Sequence[int]) -> FairPlan:
    value = sum(
        worth_of_piece(product, number)
        for product, count in zip(products, counts, strict=True)
        for number in range(1, count + 1)
    )
    used: dict[str, float] = {}
    for product, count in zip(products, counts, strict=True):
        for name, amount in product.yarn.items():
            used[name] = used.get(name, 0.0) + amount * count
    hours = sum(product.hours * count for product, count in zip(products, counts, strict=True))
    sold = tuple(
        product.demand.mean - product.demand.short(product.ready + count)
        for product, count in zip(products, counts, strict=True)
    )
    return FairPlan(tuple(counts), value, hours, used, sold)


def _offer(products: Sequence[Product], index: int, number: int) -> tuple[float, int, int]:
    """The next piece of a product on the heap: least negative worth per hour last."""
    product = products[index]
    worth = worth_of_piece(product, number)
    return (-worth / product.hours if product.hours else -worth * 1e12, index, number)
