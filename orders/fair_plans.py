"""What to make for a fair: the best plan under the hours that are left and the yarn on the shelf.

The craft solves it exactly (`craft.planning.plan_fair`). Pay is in the cost of a piece unless the hours are
the limit, never both: hours are short when more of them would still bring more than the pay wanted for
them. Which of the two it was is part of the answer. Batches that are planned for the fair count as made.
Yarn is by colour; that a piece takes one dye lot is looked at when the batch is planned.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from craft.costing.prices import kept_of
from craft.planning import FairPlan, Product, plan_fair, worth_of_more, worth_of_piece
from orders.batch_page import open_minutes
from orders.demand import Demand
from orders.models import Batch, BatchState, Fair, Piece, WorkroomRates
from orders.sheets import Costing, selling_terms
from orders.shelf import Shelf
from workroom.money import to_decimal

__all__ = ["PlanLine", "WhatToMake", "free_minutes", "what_to_make"]

TABLE_HOLDS = 60
"""Most pieces of one kind that a plan looks at: a stall has two tables."""


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One piece of the plan. Money in minor units, rounded. `next_worth`: what one more than that would add;
    `sold`: expected of all that are brought; `demand`: its mean at this fair.
    """

    piece: Piece
    demand: Demand
    make: int
    ready: int
    minutes: int
    expected: float
    sold: float
    next_worth: int
    last_worth: int | None


@dataclass(frozen=True, slots=True)
class WhatToMake:
    """`hours_bind`: the hours are the limit, so pay is not in the cost. `hour_worth`: what another hour adds,
    on average over one more of the longest piece. `unpaid`: what would be made with pay left out of the
    cost, where it is in it and that changes the plan. `yarn_worth`: (colour name, what one more ball
    adds) of the colours that limit the plan.
    """

    lines: tuple[PlanLine, ...]
    unpaid: tuple[tuple[Piece, int], ...]
    value: int
    minutes_used: int
    minutes_free: int
    hours_bind: bool
    hour_worth: int
    yarn_worth: tuple[tuple[str, int], ...]

    @property
    def makes(self) -> tuple[PlanLine, ...]:
        """The pieces to make."""
        return tuple(line for line in self.lines if line.make)


def free_minutes(fair: Fair, rates: WorkroomRates, today: date) -> int:
    """Minutes at the hook before the fair: the days before it at the day's limit, less the open batches."""
    days = max(0, (fair.starts_on - today).days)
    return max(0, days * rates.day_minutes - open_minutes(fair.starts_on))


def what_to_make(
    fair: Fair,
    rows: Sequence[tuple[Piece, Costing, Demand]],
    shelf: Shelf,
    rates: WorkroomRates,
    minutes: int,
) -> WhatToMake:
    """Plan the pieces whose price and demand are known. Money is that of the costings."""
    ready = _ready(fair)
    bare = [_product(fair, row, rates, ready.get(row[0].pk, 0)) for row in rows]
    paid = [_with_pay(product, row[1]) for product, row in zip(bare, rows, strict=True)]
    yarn, balls, names = _yarn_limits(rows, shelf)
    hours = minutes / 60
    bind = _hours_bind(paid, hours, yarn)
    products = bare if bind else paid
    plan = plan_fair(products, hours, yarn)
    tight = {
        colour: balls[colour]
        for colour, amount in yarn.items()
        if plan.yarn_used.get(colour, 0.0) + balls[colour] > amount
    }
    longest = _longest(products)
    more = worth_of_more(products, hours, yarn, more_hours=longest, more_yarn=tight)
    return WhatToMake(
        lines=tuple(
            _line(row, product, plan, place)
            for place, (row, product) in enumerate(zip(rows, products, strict=True))
        ),
        unpaid=() if bind else _unpaid(rows, plan_fair(bare, hours, yarn), plan),
        value=round(plan.value),
        minutes_used=round(plan.hours_used * 60),
        minutes_free=minutes,
        hours_bind=bind,
        hour_worth=round(more["hours"] / longest),
        yarn_worth=tuple((names[c], round(more[c])) for c in tight if round(more[c]) > 0),
    )


def _hours_bind(products: Sequence[Product], hours: float, yarn: Mapping[str, float]) -> bool:
    """Whether hours for one more of the longest piece would still add something with pay in the cost."""
    return worth_of_more(products, hours, yarn, more_hours=_longest(products))["hours"] > 0.5


def _longest(products: Sequence[Product]) -> float:
    """Hours of the piece that takes longest: less time more might only be too short for another piece."""
    return max(product.hours for product in products)


def _ready(fair: Fair) -> dict[int, int]:
    """Pieces that batches for this fair have made or will make, by piece."""
    ready: dict[int, int] = {}
    for batch in Batch.objects.filter(fair=fair).exclude(state=BatchState.CANCELLED):
        count = batch.made if batch.state == BatchState.FINISHED else batch.quantity
        ready[batch.piece_id] = ready.get(batch.piece_id, 0) + count
    return ready


def _product(fair: Fair, row: tuple[Piece, Costing, Demand], rates: WorkroomRates, ready: int) -> Product:
    """One piece as the plan takes it, money in minor units, pay for hours left out."""
    piece, sheet, demand = row
    terms = selling_terms(rates, sheet.currency, fair.commission_bp)
    one = to_decimal(1, sheet.currency)
    kept = kept_of(to_decimal(sheet.price or 0, sheet.currency), terms) / one
    cost = float(sheet.materials)
    return Product(
        name=str(piece.pk),
        price=float(kept),
        cost=cost,
        worth_left=cost * demand.expectation.keeps_pc / 100,
        hours=piece.minutes / 60,
        demand=demand.rate.next_fair(fair.busy_pc / 100),
        yarn=_yarn_of(piece),
        at_most=max(0, TABLE_HOLDS - ready),
        ready=ready,
    )


def _with_pay(product: Product, sheet: Costing) -> Product:
    share = product.worth_left / product.cost if product.cost else 0.0
    cost = float(sheet.full_cost)
    return replace(product, cost=cost, worth_left=cost * share)


def _yarn_of(piece: Piece) -> dict[str, float]:
    """Grams to have at hand for one, by colour."""
    grams: dict[str, float] = {}
    for part in piece.yarns.all():
        if part.colour_id is not None:
            key = str(part.colour_id)
            grams[key] = grams.get(key, 0.0) + part.reserve_mg / 1000
    return grams


def _yarn_limits(
    rows: Sequence[tuple[Piece, Costing, Demand]], shelf: Shelf
) -> tuple[dict[str, float], dict[str, float], dict[str, str]]:
    """By colour: grams free on the shelf, grams of one ball (100 where not known), and its name."""
    free: dict[str, float] = {}
    balls: dict[str, float] = {}
    names: dict[str, str] = {}
    for piece, _sheet, _demand in rows:
        for part in piece.yarns.all():
            if part.colour is not None:
                key = str(part.colour.pk)
                lots = shelf.lots(("colour", part.colour.pk))
                free[key] = sum(lot.free.count for lot in lots) / 1000
                balls[key] = (part.colour.yarn.ball_mass_mg or 100_000) / 1000
                names[key] = str(part.colour)
    return free, balls, names


def _unpaid(
    rows: Sequence[tuple[Piece, Costing, Demand]], bare: FairPlan, plan: FairPlan
) -> tuple[tuple[Piece, int], ...]:
    if bare.quantities == plan.quantities:
        return ()
    return tuple((row[0], count) for row, count in zip(rows, bare.quantities, strict=True) if count)


def _line(row: tuple[Piece, Costing, Demand], product: Product, plan: FairPlan, place: int) -> PlanLine:
    piece, _sheet, demand = row
    make = plan.quantities[place]
    return PlanLine(
        piece=piece,
        demand=demand,
        make=make,
        ready=product.ready,
        minutes=make * piece.minutes,
        expected=product.demand.mean,
        sold=plan.expected_sold[place],
        next_worth=round(worth_of_piece(product, make + 1)),
        last_worth=round(worth_of_piece(product, make)) if make else None,
    )
