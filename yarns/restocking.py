"""The shopping list: every yarn and supply with what is free, on its way and asked for, by supplier."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction
from typing import Any, Final

from django.db.models import F, Max, Min, Q, QuerySet, Sum
from django.db.models.functions import TruncDate
from django.utils import timezone

from craft.costing.restocking import Terms, restock
from yarns.amounts import Amount, Unit
from yarns.models import (
    Colour,
    Lot,
    Movement,
    MovementKind,
    Ownership,
    Parcel,
    RestockRule,
    SetAside,
    Supplier,
    Supply,
)
from yarns.purchases import on_their_way
from yarns.wanted import ThingKey, Wanted, wanted

WEEKS: Final = 26
LEAST_WEEKS: Final = 4
USUAL_LEAD_DAYS: Final = 14
"""Where nobody noted how long a supplier takes. The house's own figure."""

OUT: Final = (MovementKind.ISSUED, MovementKind.RETURNED)


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One thing. Amounts in its unit. `advised`: what to order now, nought for nothing."""

    thing: Colour | Supply
    unit: Unit
    free: Amount
    coming: Amount
    asked: Amount
    asked_for: tuple[str, ...]
    use_a_week: Amount
    reorder_at: Amount
    advised: Amount
    unit_price: Fraction | None
    minimum: bool

    @property
    def key(self) -> str:
        """As forms name it: "colour-4"."""
        return f"{'colour' if isinstance(self.thing, Colour) else 'supply'}-{self.thing.pk}"

    @property
    def due(self) -> bool:
        return self.advised.count > 0

    @property
    def ball_mass_mg(self) -> int | None:
        return self.thing.yarn.ball_mass_mg if isinstance(self.thing, Colour) else None

    def price_of(self, count: int) -> int | None:
        """What so much would cost by the last price paid, minor units."""
        return None if self.unit_price is None else round(self.unit_price * count)

    @property
    def price_minor(self) -> int | None:
        """What the advised amount would cost."""
        return self.price_of(self.advised.count)

    @property
    def advised_typed(self) -> str:
        """As it would be typed: "450 g", "40"."""
        if self.unit is Unit.PIECE:
            return str(self.advised.count)
        return f"{self.advised.grams.normalize():f} g"


@dataclass(frozen=True, slots=True)
class SupplierList:
    """A supplier's lines, those that are due first. `supplier` None: nobody noted where it comes from."""

    supplier: Supplier | None
    lines: tuple[ShoppingLine, ...]

    @property
    def due(self) -> int:
        return sum(line.due for line in self.lines)


@dataclass(frozen=True, slots=True)
class _Stock:
    free: int
    price: Fraction | None
    supplier_id: int | None
    since: datetime | None


def shopping_lists(*, only_due: bool) -> list[SupplierList]:
    """By supplier's name, with the unknown supplier last. A constant number of queries."""
    now = timezone.now()
    stock, asked, coming = _stock(), wanted(), on_their_way()
    rules = {_key_of(rule): rule for rule in RestockRule.objects.all()}
    uses = _uses(now)
    things = _things({*stock, *asked, *coming, *rules})
    suppliers = {each.pk: each for each in Supplier.objects.all()}
    postage = _usual_postage()
    found: dict[int | None, list[ShoppingLine]] = defaultdict(list)
    for key, thing in things.items():
        rule, here = rules.get(key), stock.get(key, _Stock(0, None, None, None))
        if rule is not None and rule.never and not asked.get(key):
            continue
        supplier_id = (rule.supplier_id if rule else None) or here.supplier_id
        supplier = suppliers.get(supplier_id or 0)
        terms = _terms(thing, supplier, here, postage.get(supplier_id, 0))
        weeks = _weeks(uses.get(key, {}), here.since, now)
        line = _line(thing, here, asked.get(key, []), coming.get(key, 0), weeks, terms, rule)
        if line.due or not only_due:
            found[supplier.pk if supplier else None].append(line)
    return _by_supplier(found, suppliers)


def _by_supplier(
    found: Mapping[int | None, list[ShoppingLine]], suppliers: Mapping[int, Supplier]
) -> list[SupplierList]:
    lists = [
        SupplierList(
            suppliers.get(pk or 0), tuple(sorted(lines, key=lambda line: (not line.due, str(line.thing))))
        )
        for pk, lines in found.items()
    ]
    return sorted(lists, key=lambda each: (each.supplier is None, str(each.supplier).casefold()))


def _line(
    thing: Colour | Supply,
    here: _Stock,
    asked: list[Wanted],
    coming: int,
    weeks: list[float],
    terms: Terms,
    rule: RestockRule | None,
) -> ShoppingLine:
    unit, asked_count = _unit(thing), sum(each.count for each in asked)
    minimum = rule.minimum if rule else None
    advice = restock(weeks, here.free + coming - asked_count, terms, minimum)
    return ShoppingLine(
        thing=thing,
        unit=unit,
        free=Amount(here.free, unit),
        coming=Amount(coming, unit),
        asked=Amount(asked_count, unit),
        asked_for=tuple(dict.fromkeys(each.label for each in asked)),
        use_a_week=_rounded(advice.use_a_week, unit),
        reorder_at=_rounded(advice.reorder_at, unit),
        advised=Amount(round(advice.advised), unit),
        unit_price=here.price,
        minimum=minimum is not None,
    )


def _rounded(count: float, unit: Unit) -> Amount:
    """To whole grams or pieces: a guess has no milligrams."""
    return Amount(round(count), unit) if unit is Unit.PIECE else Amount(round(count / 1000) * 1000, unit)


def _terms(thing: Colour | Supply, supplier: Supplier | None, here: _Stock, postage: float) -> Terms:
    days = supplier.lead_days if supplier and supplier.lead_days is not None else USUAL_LEAD_DAYS
    ball = thing.yarn.ball_mass_mg if isinstance(thing, Colour) else None
    loose = 1 if _unit(thing) is Unit.PIECE else 50_000
    price = None if here.price is None else float(here.price)
    return Terms(lead_weeks=days / 7, pack=ball or loose, order_cost=postage, unit_price=price)


def _unit(thing: Colour | Supply) -> Unit:
    return Unit.MILLIGRAM if isinstance(thing, Colour) else Unit(thing.counts_in)


# ----------------------------------------------------------------------------------- the reads


def _key_of(row: Any) -> ThingKey:
    return ("colour", row.colour_id) if row.colour_id else ("supply", row.supply_id)


def _pair(colour_id: int | None, supply_id: int | None) -> ThingKey:
    return ("colour", colour_id) if colour_id else ("supply", supply_id or 0)


def _ours() -> QuerySet[Lot]:
    return Lot.objects.filter(ownership=Ownership.OURS)


def _stock() -> dict[ThingKey, _Stock]:
    """What is free of each thing, the last price by mg or piece, and where it came from last."""
    here = Q(set_aside=SetAside.NO)
    rows = (
        _ours()
        .order_by()
        .values_list("colour_id", "supply_id")
        .annotate(
            left=Sum(F("balance") - F("promised"), filter=here, default=0),
            since=Min("received_on"),
            last=Max("pk"),
            priced=Max("pk", filter=Q(price_paid_minor__isnull=False)),
        )
    )
    found = list(rows)
    ids = {pk for *_rest, last, priced in found for pk in (last, priced) if pk}
    lots = _ours().only("supplier_id", "price_paid_minor", "received").in_bulk(list(ids))
    return {
        _pair(colour, supply): _Stock(
            free,
            Fraction(lots[priced].price_paid_minor or 0, lots[priced].received) if priced else None,
            lots[last].supplier_id,
            since,
        )
        for colour, supply, free, since, last, priced in found
    }


def _uses(now: datetime) -> dict[ThingKey, dict[int, int]]:
    """What went out of each thing, by how many weeks ago, returns and undone entries taken off."""
    out = Q(kind__in=OUT) | Q(kind=MovementKind.UNDONE, undoes__kind__in=OUT)
    rows = (
        Movement.objects.filter(out, at__gt=now - timedelta(weeks=WEEKS), lot__ownership=Ownership.OURS)
        .order_by()
        .values_list("lot__colour_id", "lot__supply_id", TruncDate("at"))
        .annotate(total=Sum("delta"))
    )
    found: dict[ThingKey, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for colour, supply, day, total in rows:
        found[_pair(colour, supply)][(now.date() - day).days // 7] -= total
    return found


def _weeks(used: Mapping[int, int], since: Any, now: datetime) -> list[float]:
    """Week by week, oldest first, since the thing first came (four weeks at least, half a year at most)."""
    if not any(used.values()):
        return []
    here = (now.date() - since).days // 7 + 1 if since else LEAST_WEEKS
    count = min(WEEKS, max(LEAST_WEEKS, here))
    return [float(used.get(ago, 0)) for ago in range(count - 1, -1, -1)]


def _things(keys: Iterable[ThingKey]) -> dict[ThingKey, Colour | Supply]:
    wanted_keys = list(keys)
    colours = Colour.objects.select_related("yarn").in_bulk(
        [pk for kind, pk in wanted_keys if kind == "colour"]
    )
    supplies = Supply.objects.in_bulk([pk for kind, pk in wanted_keys if kind == "supply"])
    found: dict[ThingKey, Colour | Supply] = {}
    for kind, pk in wanted_keys:
        thing = colours.get(pk) if kind == "colour" else supplies.get(pk)
        if thing is not None:
            found[kind, pk] = thing
    return found


def _usual_postage() -> dict[int | None, float]:
    """The mean postage of each supplier's parcels, minor units."""
    rows = Parcel.objects.filter(postage_minor__gt=0).order_by().values_list("supplier_id", "postage_minor")
    found: dict[int | None, list[int]] = defaultdict(list)
    for supplier, postage in rows:
        found[supplier].append(postage)
    return {supplier: sum(each) / len(each) for supplier, each in found.items()}
