"""Writes on what a fair is expected to sell and what it sold. Each saves a whole page in one transaction."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction

from orders.models import Expectation, Fair, FairResult

__all__ = ["Expected", "Sold", "expectations_save", "results_save"]


@dataclass(frozen=True, slots=True)
class Expected:
    """Pieces at an ordinary and at a very good fair, and what a left-over is worth, per cent of its cost."""

    ordinary: int
    very_good: int
    keeps_pc: int


@dataclass(frozen=True, slots=True)
class Sold:
    brought: int
    sold: int


def expectations_save(rows: Mapping[int, Expected | None]) -> None:
    """Write what is expected, by piece id; None takes an expectation out."""
    with transaction.atomic():
        for piece_id, row in rows.items():
            if row is None:
                Expectation.objects.filter(piece=piece_id).delete()
            else:
                Expectation.objects.update_or_create(
                    piece_id=piece_id,
                    defaults={
                        "ordinary": row.ordinary,
                        "very_good": row.very_good,
                        "keeps_pc": row.keeps_pc,
                    },
                )


def results_save(fair: Fair, rows: Mapping[int, Sold | None]) -> None:
    """Write what was brought and sold, by piece id; None takes a row out."""
    with transaction.atomic():
        for piece_id, row in rows.items():
            if row is None:
                FairResult.objects.filter(fair=fair, piece=piece_id).delete()
            else:
                FairResult.objects.update_or_create(
                    fair=fair, piece_id=piece_id, defaults={"brought": row.brought, "sold": row.sold}
                )
