"""The shelf as costs and batches see it: what is free, what it cost, and what was last paid.

One query for all colours and supplies asked for, so that a page of many pieces stays quick.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from django.db.models import Q

from yarns.models import Colour, Lot, Ownership, SetAside
from yarns.selectors import WITH_NAMES, ShelfLot, shelf_lot

__all__ = ["Shelf", "Thing", "thing_of"]

Thing: TypeAlias = tuple[str, int]
"""What lies in a lot: ("colour", pk) or ("supply", pk)."""


def thing_of(lot: ShelfLot) -> Thing:
    if lot.colour_id is not None:
        return ("colour", lot.colour_id)
    return ("supply", lot.supply_id or 0)


@dataclass(frozen=True, slots=True)
class Shelf:
    """`free`: our own lots with something to give, first come first; `paid`: the last lot of each
    thing whose price is known, empty ones too; `paid_for_yarn`: the same by yarn, any colour.
    """

    free: dict[Thing, list[ShelfLot]]
    paid: dict[Thing, ShelfLot]
    paid_for_yarn: dict[int, ShelfLot]

    @classmethod
    def load(cls, *, colours: Iterable[int] = (), supplies: Iterable[int] = ()) -> "Shelf":
        """Read the lots of these colours, of other colours of the same yarns, and of these supplies."""
        yarns = Colour.objects.filter(pk__in=set(colours)).values("yarn")
        lots = Lot.objects.filter(
            Q(colour__yarn__in=yarns) | Q(supply__in=set(supplies)), ownership=Ownership.OURS
        )
        in_order = lots.select_related(*WITH_NAMES).order_by("received_on", "pk")
        return cls.of([shelf_lot(lot) for lot in in_order])

    @classmethod
    def of(cls, lots: Iterable[ShelfLot]) -> "Shelf":
        """Sort the studio's own lots, which come first come first."""
        free: dict[Thing, list[ShelfLot]] = defaultdict(list)
        paid: dict[Thing, ShelfLot] = {}
        paid_for_yarn: dict[int, ShelfLot] = {}
        for lot in lots:
            if lot.set_aside == SetAside.NO and lot.free.count > 0:
                free[thing_of(lot)].append(lot)
            if lot.cost_minor is not None:
                paid[thing_of(lot)] = lot
                if lot.yarn_id is not None:
                    paid_for_yarn[lot.yarn_id] = lot
        return cls(dict(free), paid, paid_for_yarn)

    def lots(self, thing: Thing) -> list[ShelfLot]:
        return self.free.get(thing, [])
