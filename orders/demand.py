"""What a fair may sell of each piece: what the seller expects, moved by what past fairs sold.

Gamma-Poisson (`craft.planning.SellingRate`): fairs count by how busy they were, and one that sold out
counts as "at least so many". A piece that nobody said anything of has no demand: that is asked for.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from craft.planning import InvalidDemandError, SellingRate
from orders.models import Expectation, FairResult, Piece

__all__ = ["Demand", "demands"]


@dataclass(frozen=True, slots=True)
class Demand:
    """`fairs`: how many past fairs have moved what was expected; `sold_out`: how many of them sold out."""

    rate: SellingRate
    expectation: Expectation
    fairs: int
    sold_out: int


def demands(pieces: Iterable[Piece]) -> dict[int, Demand]:
    """Demand by piece id; a piece without an expectation is left out."""
    ids = [piece.pk for piece in pieces]
    results: dict[int, list[FairResult]] = defaultdict(list)
    for row in (
        FairResult.objects.filter(piece__in=ids).select_related("fair").order_by("fair__starts_on", "pk")
    ):
        results[row.piece_id].append(row)
    expected = Expectation.objects.filter(piece__in=ids)
    return {row.piece_id: demand_of(row, results[row.piece_id]) for row in expected}


def demand_of(expectation: Expectation, results: Sequence[FairResult]) -> Demand:
    rate = SellingRate.of_guesses(expectation.ordinary, expectation.very_good)
    for result in results:
        rate = _after(rate, result)
    sold_out = sum(result.sold_out for result in results)
    return Demand(rate, expectation, len(results), sold_out)


def _after(rate: SellingRate, result: FairResult) -> SellingRate:
    exposure = result.fair.busy_pc / 100
    if not result.sold_out:
        return rate.after_total(result.sold, exposure)
    try:
        return rate.after_sold_out(result.brought, exposure)
    except InvalidDemandError:
        # Beyond what was thought possible: taking it as exactly so many still moves the rate up.
        return rate.after_total(result.sold, exposure)
