"""All that the page and the paper of one batch show, gathered once."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Sum

from craft.planning.hands import HandsPlan, plan_hands
from orders.batch_costs import (
    BatchCost,
    Held,
    LotsByThing,
    cost_of_batch,
    held_by,
    lots_of_plan,
)
from orders.models import Batch, BatchAllocation, BatchState, TimeEntry, WorkroomRates
from orders.planning import BatchPlan, plan_batch
from orders.selectors import OPEN_STATES
from yarns.amounts import Amount
from yarns.selectors import ShelfLot

__all__ = ["BatchPage", "LotRow", "batch_page", "cost_for", "logged_minutes", "lot_rows", "open_minutes"]


@dataclass(frozen=True, slots=True)
class LotRow:
    """One lot on the cut list. `planned`, `reserved`, `taken`: None where there is nothing of it."""

    lot: ShelfLot
    part: str
    planned: Amount | None = None
    reserved: Amount | None = None
    taken: Amount | None = None

    @property
    def amount(self) -> Amount:
        """All of it, wherever it lies now."""
        counts = [each.count for each in (self.planned, self.reserved, self.taken) if each]
        return Amount(sum(counts), self.lot.on_hand.unit)

    @property
    def balls(self) -> float | None:
        """The same in balls; None where a ball has no known mass."""
        return self.amount.count / self.lot.ball_mass_mg if self.lot.ball_mass_mg else None


@dataclass(frozen=True, slots=True)
class BatchPage:
    """`plan`: for the pieces without yarn, None where all have it or the batch is closed. `hands`: of this
    batch, None once closed; `others`: minutes of the other batches due by then, `together` with them.
    """

    batch: Batch
    plan: BatchPlan | None
    held: Held
    lots: tuple[LotRow, ...]
    logged: int
    hands: HandsPlan | None
    others: int
    together: HandsPlan | None

    @property
    def done(self) -> int:
        return self.batch.made + self.batch.seconds + self.batch.scrapped

    @property
    def has_reserved(self) -> bool:
        return any(row.reserved for row in self.lots)


def batch_page(batch: Batch, rates: WorkroomRates, today: date) -> BatchPage:
    plan = plan_batch(batch) if batch.is_open and batch.covered < batch.quantity else None
    held = Held() if batch.state == BatchState.PLANNED else held_by(batch)
    logged = logged_minutes([batch.pk]).get(batch.pk, 0)
    others = _others(batch)
    rest = max(0, batch.quantity * (batch.minutes_each or batch.piece.minutes) - logged)
    return BatchPage(
        batch=batch,
        plan=plan,
        held=held,
        lots=lot_rows(batch, plan, held),
        logged=logged,
        hands=_hands(rest, batch, rates, today) if batch.is_open else None,
        others=others,
        together=_hands(rest + others, batch, rates, today) if batch.is_open and others else None,
    )


def _hands(minutes: int, batch: Batch, rates: WorkroomRates, today: date) -> HandsPlan:
    return plan_hands(
        minutes,
        today=today,
        due=batch.due_on,
        session=rates.session_minutes,
        rest=rates.break_minutes,
        limit=rates.day_minutes,
    )


def _others(batch: Batch) -> int:
    """Minutes left of the other open batches that are due by the same day."""
    if batch.due_on is None or not batch.is_open:
        return 0
    return open_minutes(batch.due_on, but=batch.pk)


def open_minutes(due_by: date, but: int = 0) -> int:
    """Minutes left of the open batches that are due by a day; the one of id `but` is left out."""
    due = Batch.objects.filter(state__in=OPEN_STATES, due_on__lte=due_by).exclude(pk=but)
    rows = list(due.select_related("piece"))
    logged = logged_minutes(row.pk for row in rows)
    return sum(
        max(0, row.quantity * (row.minutes_each or row.piece.minutes) - logged.get(row.pk, 0)) for row in rows
    )


def logged_minutes(batch_ids: Iterable[int]) -> dict[int, int]:
    """Minutes written down, by batch; a batch without any is left out."""
    rows = TimeEntry.objects.filter(batch__in=list(batch_ids)).order_by().values("batch")
    return {row["batch"]: row["total"] for row in rows.annotate(total=Sum("minutes"))}


def lot_rows(batch: Batch, plan: BatchPlan | None, held: Held) -> tuple[LotRow, ...]:
    """The cut list: lots of the plan while it is one, then the lots that the batch holds."""
    if batch.state == BatchState.PLANNED:
        parts = plan.parts if plan else ()
        return tuple(
            LotRow(take.lot, part.need.parts, planned=take.amount) for part in parts for take in part.takes
        )
    lots: dict[int, ShelfLot] = {}
    reserved: dict[int, Amount] = {}
    taken = {line.lot.lot_id: line.amount for line in held.issued}
    for line in held.promises:
        before = reserved.get(line.lot.lot_id)
        total = line.outstanding.count + (before.count if before else 0)
        reserved[line.lot.lot_id] = Amount(total, line.outstanding.unit)
        lots[line.lot.lot_id] = line.lot
    lots |= {line.lot.lot_id: line.lot for line in held.issued}
    names = _part_names(batch)
    return tuple(
        LotRow(
            lot,
            names.get(lot_id, ""),
            reserved=reserved[lot_id] if lot_id in reserved and reserved[lot_id].count else None,
            taken=taken.get(lot_id),
        )
        for lot_id, lot in lots.items()
        if lot_id in taken or (lot_id in reserved and reserved[lot_id].count)
    )


def _part_names(batch: Batch) -> dict[int, str]:
    """What each lot was reserved for, by lot."""
    rows = BatchAllocation.objects.filter(batch=batch).values_list("promise__lot_id", "part")
    return dict(rows)


def cost_for(page: BatchPage, rates: WorkroomRates, currency: str) -> BatchCost | None:
    """What the batch costs; None for one that was cancelled."""
    if page.batch.state == BatchState.CANCELLED:
        return None
    lots: LotsByThing = page.held.lots
    if page.batch.state == BatchState.PLANNED and page.plan is not None:
        lots = lots_of_plan(page.plan)
    return cost_of_batch(page.batch, lots, rates, currency, page.logged)
