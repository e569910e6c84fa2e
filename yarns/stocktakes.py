"""Counting the shelf: begun once, counted by many hands, shown, then posted once.

A count keeps what the book said at that instant. The difference is between the two, so what is issued or
received between counting and posting is no difference and stays in the book.
"""

import hashlib
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.db.models import Count, F, Q, QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from craft.yardage.part_ball import weather_share
from workroom.models import Person
from yarns import ledger
from yarns.amounts import Amount, shown
from yarns.book import locked
from yarns.catalogue import ChangedMeanwhileError, change
from yarns.models import CountedLot, Lot, Movement, Place, Stocktake, StocktakeState
from yarns.selectors import WITH_NAMES


class StocktakeError(Exception):
    """A stocktake refuses; nothing was written. `str()` is the sentence for people."""


class StocktakeClosedError(StocktakeError):
    def __init__(self) -> None:
        super().__init__(_("This stocktake is closed. Start a new one to count again."))


class CountedMeanwhileError(StocktakeError):
    """Somebody else counted the lot since the page was opened. `theirs`: what stands there now."""

    def __init__(self, theirs: CountedLot) -> None:
        self.theirs = theirs
        super().__init__(
            _("%(who)s counted %(amount)s of this lot meanwhile. Save again to put your figure in its place.")
            % {"who": theirs.counted_by, "amount": shown(theirs.found_amount)}
        )


class ShownBeforeError(StocktakeError):
    def __init__(self) -> None:
        super().__init__(_("Counts have changed since you looked. Here is how it stands now; look again."))


@dataclass(frozen=True, slots=True)
class Found:
    """What was found of a lot. `weighed_mg`: the part that a scale gave. `place_id`: where it lay."""

    amount: Amount
    weighed_mg: int = 0
    place_id: int | None = None


@dataclass(frozen=True, slots=True)
class PlaceToCount:
    """A place of a stocktake. `place_id` 0: lots without a place."""

    place_id: int
    name: str
    lots: int
    counted: int

    @property
    def done(self) -> bool:
        return self.counted >= self.lots


@dataclass(frozen=True, slots=True)
class Difference:
    """One counted lot that differs, or lies elsewhere than the book has it.

    `weather`: damp or dry air alone may account for it. `blocked`: why it can't be posted yet, "" if it can.
    `moved_since`: what the book moved after the count.
    """

    counted: CountedLot
    amount: Amount
    moved_since: Amount
    weather: bool
    blocked: str
    elsewhere: bool

    @property
    def lot(self) -> Lot:
        return self.counted.lot

    @property
    def advised(self) -> bool:
        """Whether to post it unless somebody says otherwise."""
        return not self.weather and not self.blocked


def start_stocktake(person: Person, key: str, places: Collection[Place]) -> Stocktake:
    """Begin to count these places, or everywhere where none is named. The same key begins once."""
    try:
        with transaction.atomic():
            stocktake, fresh = Stocktake.objects.get_or_create(
                key=key,
                defaults={
                    "everywhere": not places,
                    "started_by": person,
                    "started_at": timezone.now(),
                },
            )
            if fresh:
                stocktake.places.set(places)
            return stocktake
    except IntegrityError:
        return Stocktake.objects.get(key=key)


def lots_to_count(stocktake: Stocktake) -> QuerySet[Lot]:
    """Lots that the book has something of, in the places to count, and those counted there all the same."""
    here = Q(balance__gt=0)
    if not stocktake.everywhere:
        here &= Q(place__in=stocktake.places.values("pk"))
    counted = CountedLot.objects.filter(stocktake=stocktake).values("lot")
    return Lot.objects.filter(here | Q(pk__in=counted))


def places_to_count(stocktake: Stocktake) -> list[PlaceToCount]:
    """The places with how many lots lie there and how many are counted; two queries."""
    done = CountedLot.objects.filter(stocktake=stocktake).values("lot")
    rows = list(
        lots_to_count(stocktake)
        .order_by()
        .values_list("place_id")
        .annotate(there=Count("pk"), looked_at=Count("pk", filter=Q(pk__in=done)))
    )
    names = dict(Place.objects.values_list("pk", "name"))
    found = [PlaceToCount(pk or 0, names.get(pk or 0, _("No place")), *counts) for pk, *counts in rows]
    return sorted(found, key=lambda place: (place.place_id == 0, place.name.casefold()))


def save_count(
    stocktake: Stocktake, lot_id: int, found: Found, person: Person, seen_version: int
) -> CountedLot:
    """Write down what was found. `seen_version`: of the count that the person saw, 0 for none.

    The same figure by the same person sent twice is one count. Raises StocktakeClosedError,
    CountedMeanwhileError, ledger.LotMissingError, ledger.WrongUnitError.
    """
    with transaction.atomic():
        _still_open(stocktake)
        lot = locked(lot_id)
        if found.amount.unit != lot.unit:
            raise ledger.WrongUnitError(lot, found.amount)
        before = CountedLot.objects.select_related("counted_by").filter(stocktake=stocktake, lot=lot).first()
        if before is None:
            return CountedLot.objects.create(stocktake=stocktake, lot=lot, **_facts(lot, found, person))
        before.lot = lot
        if before.version != seen_version:
            if (before.found, before.counted_by) == (found.amount.count, person):
                return before
            raise CountedMeanwhileError(before)
        for name, value in _facts(lot, found, person).items():
            setattr(before, name, value)
        before.version += 1
        before.save()
        return before


def _facts(lot: Lot, found: Found, person: Person) -> dict[str, object]:
    return {
        "found": found.amount.count,
        "book": lot.balance,
        "weighed_mg": found.weighed_mg,
        "place_id": found.place_id,
        "counted_by": person,
        "counted_at": timezone.now(),
    }


def forget_count(stocktake: Stocktake, lot_id: int) -> None:
    """Take a count out again, as if nobody had looked. Raises StocktakeClosedError."""
    with transaction.atomic():
        _still_open(stocktake)
        CountedLot.objects.filter(stocktake=stocktake, lot=lot_id).delete()


def _still_open(stocktake: Stocktake) -> None:
    """Holds the stocktake against closing until the transaction ends."""
    held = Stocktake.objects.select_for_update().get(pk=stocktake.pk)
    if not held.is_open:
        raise StocktakeClosedError


# ------------------------------------------------------------------------------ the differences


def counted_of(stocktake: Stocktake) -> list[CountedLot]:
    """Everything counted, by name; one query."""
    names = [f"lot__{name}" for name in WITH_NAMES]
    rows = CountedLot.objects.filter(stocktake=stocktake).select_related(*names, "counted_by", "place")
    return list(rows.order_by("lot__shelf_name", "lot__pk"))


def differences(counted: Iterable[CountedLot]) -> list[Difference]:
    """Those that differ from the book or lie elsewhere."""
    found = (_difference(each) for each in counted)
    return [each for each in found if each.amount.count or each.elsewhere]


def _difference(counted: CountedLot) -> Difference:
    lot, amount = counted.lot, counted.difference
    return Difference(
        counted=counted,
        amount=amount,
        moved_since=Amount(lot.balance - counted.book, amount.unit),
        weather=0 < abs(amount.count) <= _weather_mg(counted),
        blocked=_blocked(lot, amount),
        elsewhere=counted.place_id is not None and counted.place_id != lot.place_id,
    )


def _weather_mg(counted: CountedLot) -> int:
    """By how much damp or dry air may have moved what a scale gave."""
    shares = counted.lot.colour.yarn.fibre_shares if counted.lot.colour else {}
    return round(Decimal(counted.weighed_mg) * weather_share(shares))


def _blocked(lot: Lot, amount: Amount) -> str:
    left = lot.balance + amount.count
    if left >= lot.promised:
        return ""
    return _("%(promised)s are promised and %(left)s would be left. Release a promise first.") % {
        "promised": shown(lot.set_apart),
        "left": shown(Amount(max(left, 0), amount.unit)),
    }


def digest_of(found: Sequence[Difference]) -> str:
    """Stands for what somebody looked at, so that nothing else is posted."""
    words = ";".join(
        f"{each.lot.pk}:{each.amount.count}:{each.counted.version}:{each.elsewhere}" for each in found
    )
    return hashlib.sha256(words.encode()).hexdigest()[:24]


# --------------------------------------------------------------------------------- closing it


def post_stocktake(stocktake: Stocktake, wanted: Collection[int], person: Person, seen: str) -> int:
    """Post the differences of these lots (ids), close the stocktake, and give how many were posted.

    All or nothing; sent twice, it is posted once. `seen`: `digest_of` what the person looked at. Raises
    ShownBeforeError, StocktakeClosedError, ledger.NotEnoughError.
    """
    with transaction.atomic():
        held = Stocktake.objects.select_for_update().get(pk=stocktake.pk)
        if held.state == StocktakeState.POSTED:
            return CountedLot.objects.filter(stocktake=held, posted=True).count()
        if not held.is_open:
            raise StocktakeClosedError
        found = differences(counted_of(held))
        if digest_of(found) != seen:
            raise ShownBeforeError
        posted = [each for each in found if each.lot.pk in wanted]
        for each in posted:
            _post(held, each, person)
        CountedLot.objects.filter(pk__in=[each.counted.pk for each in posted]).update(posted=True)
        _close(held, StocktakeState.POSTED, person)
        return len(posted)


def _post(stocktake: Stocktake, difference: Difference, person: Person) -> Movement | None:
    lot, movement = difference.lot, None
    if difference.amount.count:
        act = ledger.Act(person, f"stocktake:{stocktake.pk}:{lot.pk}", _("stocktake %s") % stocktake.pk)
        movement = ledger.count_difference(lot.pk, difference.amount, act)
    if difference.elsewhere:
        _put_where_it_lies(difference)
    return movement


def _put_where_it_lies(difference: Difference) -> None:
    lot = Lot.objects.select_related(*WITH_NAMES).get(pk=difference.lot.pk)
    try:
        change(lot, {"place": difference.counted.place}, lot.version)
    except ChangedMeanwhileError as refusal:
        raise ShownBeforeError from refusal


def drop_stocktake(stocktake: Stocktake, person: Person) -> None:
    """Give it up: nothing is posted. Raises StocktakeClosedError."""
    with transaction.atomic():
        held = Stocktake.objects.select_for_update().get(pk=stocktake.pk)
        if not held.is_open:
            raise StocktakeClosedError
        _close(held, StocktakeState.DROPPED, person)


def _close(held: Stocktake, state: StocktakeState, person: Person) -> None:
    held.state, held.closed_by, held.closed_at = state, person, timezone.now()
    held.save(update_fields=["state", "closed_by", "closed_at"])


def stocktakes_with_counts() -> QuerySet[Stocktake]:
    """All of them, newest first, with how many lots were counted and posted."""
    return (
        Stocktake.objects.select_related("started_by", "closed_by")
        .prefetch_related("places")
        .annotate(
            counted_lots=Count("counted"),
            posted_lots=Count(
                "counted", filter=Q(counted__posted=True) & ~Q(counted__found=F("counted__book"))
            ),
        )
    )
