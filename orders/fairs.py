"""Fairs: writes, and the sums of one fair from the batches that are made for it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import F, ProtectedError

from craft.costing import ImpossiblePriceError
from craft.costing.break_even import MixProduct, break_even_mix
from craft.costing.money import to_minor
from craft.costing.prices import kept_of
from orders.models import Fair, WorkroomRates
from orders.refusals import EditedMeanwhileError, FairInUseError
from orders.sheets import selling_terms
from workroom.money import minor_digits, to_decimal

__all__ = ["BreakEven", "FairSums", "Offer", "fair_create", "fair_delete", "fair_edit", "fair_sums"]


def fair_create(values: dict[str, Any], key: UUID) -> Fair:
    """Write a new fair; the same key twice gives the first one."""
    try:
        with transaction.atomic():
            return Fair.objects.get_or_create(key=key, defaults=values)[0]
    except IntegrityError:
        return Fair.objects.get(key=key)


def fair_edit(fair: Fair, values: dict[str, Any], version: int) -> None:
    """Change a fair that stands at `version`. Raises EditedMeanwhileError."""
    done = Fair.objects.filter(pk=fair.pk, version=version).update(version=F("version") + 1, **values)
    if not done:
        raise EditedMeanwhileError


def fair_delete(fair: Fair) -> None:
    """Strike out a fair for which nothing was planned. Raises FairInUseError."""
    try:
        with transaction.atomic():
            fair.delete()
    except ProtectedError as error:
        raise FairInUseError from error


# ------------------------------------------------------------------------------------- sums


@dataclass(frozen=True, slots=True)
class Offer:
    """What one batch brings to the stall. `price`: on the tag, else at the margin; minor units, of one.

    `materials`: out of pocket for one; `making`: hours and overhead of one.
    """

    title: str
    quantity: int
    price: int
    materials: int
    making: int


@dataclass(frozen=True, slots=True)
class BreakEven:
    """Pieces to sell of the mix that is made, and the takings they come to (minor units)."""

    pieces: int
    takings: int


@dataclass(frozen=True, slots=True)
class FairSums:
    """`out_of_pocket`: fees and materials come back. `making_paid`: the hours of making come back too.
    `all_paid`: so do the hours at the stall and on the road. None: at these prices it never happens.
    """

    pieces: int
    full_price: int
    making: int
    stall_hours: int
    out_of_pocket: BreakEven | None
    making_paid: BreakEven | None
    all_paid: BreakEven | None


def fair_sums(fair: Fair, offers: Sequence[Offer], rates: WorkroomRates, currency: str) -> FairSums | None:
    """Break-even of a fair by the mix that is made for it; None where nothing is made yet.

    The price of each piece counts less tax, card fee (every sale by card) and the organiser's share, each in
    its place; so the mix is asked with what is kept.
    """
    if not offers:
        return None
    making = sum(offer.quantity * offer.making for offer in offers)
    stall = (fair.open_minutes + fair.away_minutes) * rates.wage_per_hour_minor // 60
    mix = _mix(fair, offers, rates, currency)
    return FairSums(
        pieces=sum(offer.quantity for offer in offers),
        full_price=sum(offer.quantity * offer.price for offer in offers),
        making=making,
        stall_hours=stall,
        out_of_pocket=_break_even(fair.fixed_minor, mix, currency),
        making_paid=_break_even(fair.fixed_minor + making, mix, currency),
        all_paid=_break_even(fair.fixed_minor + making + stall, mix, currency),
    )


def _mix(fair: Fair, offers: Sequence[Offer], rates: WorkroomRates, currency: str) -> list[MixProduct]:
    terms = selling_terms(rates, currency, fair.commission_bp)
    products = []
    for offer in offers:
        price = to_decimal(offer.price, currency)
        taken = price - kept_of(price, terms)
        variable = to_decimal(offer.materials, currency) + taken
        products.append(MixProduct(price, variable, Decimal(offer.quantity)))
    return products


def _break_even(fixed_minor: int, mix: list[MixProduct], currency: str) -> BreakEven | None:
    try:
        result = break_even_mix([to_decimal(fixed_minor, currency)], mix)
    except ImpossiblePriceError:
        return None
    return BreakEven(result.pieces, to_minor(result.sales, minor_digits(currency)))
