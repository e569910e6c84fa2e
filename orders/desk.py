"""What the orders room puts on the start page."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from orders.durations import shown_minutes
from orders.models import Batch, BatchState, Fair, WorkroomRates
from orders.selectors import OPEN_STATES, fairs_from
from orders.timers import timer_of
from workroom.desk import Card
from workroom.http import StaffRequest
from workroom.selectors import local_today
from yarns.models import Promise, PromiseState, PurposeKind

SOON = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Counts:
    """What waits. `to_take`: started batches with yarn that is reserved and still on the shelf."""

    planned: int
    started: int
    due_soon: int
    overdue: int
    to_take: int
    next_fair: Fair | None


def counts(today: date) -> Counts:
    rows = list(Batch.objects.filter(state__in=OPEN_STATES).order_by())
    due = [row.due_on for row in rows if row.due_on is not None]
    reserved = Promise.objects.filter(purpose_kind=PurposeKind.BATCH, state=PromiseState.OPEN)
    with_yarn = set(reserved.values_list("purpose_key", flat=True))
    return Counts(
        planned=sum(row.state == BatchState.PLANNED for row in rows),
        started=sum(row.state == BatchState.STARTED for row in rows),
        due_soon=sum(today <= day <= today + SOON for day in due),
        overdue=sum(day < today for day in due),
        to_take=sum(row.code in with_yarn for row in rows),
        next_fair=fairs_from(today).first(),
    )


def cards(request: StaffRequest) -> list[Card]:
    """Cards for what this person may do something about."""
    today = local_today()
    now = counts(today)
    found: list[Card | None] = []
    if request.may("orders:timer"):
        found.append(_timer_card(request))
    if request.may("orders:rates"):
        found.append(_rates_card())
    if request.may("orders:batch_start"):
        found += [_due_card(now), _planned_card(now)]
    if request.may("orders:batch_take"):
        found.append(_take_card(now))
    if request.may("orders:fair"):
        found.append(_fair_card(now, today))
    return [card for card in found if card is not None]


def _timer_card(request: StaffRequest) -> Card | None:
    timer = timer_of(request.user)
    if timer is None:
        return None
    elapsed = shown_minutes(timer.minutes(timezone.now()))
    says = _("Running: %s so far.") if timer.is_running else _("Paused at %s.")
    return Card(
        title=_("Your timer: %s") % (timer.batch or timer.piece),
        says=says % elapsed,
        url=reverse("orders:timer"),
        action=_("Pause or stop it"),
    )


def _rates_card() -> Card | None:
    if WorkroomRates.objects.exists():
        return None
    return Card(
        title=_("What is an hour worth?"),
        says=_("Prices are worked out from your pay for an hour. Say it once, change it when you like."),
        url=reverse("orders:rates"),
        action=_("Set the rates"),
        urgent=True,
    )


def _due_card(now: Counts) -> Card | None:
    if not now.overdue and not now.due_soon:
        return None
    late = ngettext("%s batch is past its day.", "%s batches are past their day.", now.overdue)
    soon = ngettext("%s batch is due within a week.", "%s batches are due within a week.", now.due_soon)
    says = [late % now.overdue] if now.overdue else []
    says += [soon % now.due_soon] if now.due_soon else []
    return Card(
        title=_("Batches due"),
        says=" ".join(says),
        url=reverse("orders:batches"),
        action=_("See the batches"),
        count=now.overdue + now.due_soon,
        urgent=bool(now.overdue),
    )


def _planned_card(now: Counts) -> Card | None:
    if not now.planned:
        return None
    return Card(
        title=_("Batches to start"),
        says=_("Planned, and no yarn is reserved yet: somebody else may take it."),
        url=reverse("orders:batches"),
        action=_("Look at what they take"),
        count=now.planned,
    )


def _take_card(now: Counts) -> Card | None:
    if not now.to_take:
        return None
    return Card(
        title=_("Yarn to take off the shelf"),
        says=_("Reserved for batches that are begun."),
        url=reverse("orders:batches"),
        action=_("See the cut lists"),
        count=now.to_take,
    )


def _fair_card(now: Counts, today: date) -> Card | None:
    fair = now.next_fair
    if fair is None:
        return None
    days = max(0, (fair.starts_on - today).days)
    return Card(
        title=fair.name,
        says=ngettext("In %(days)s day, on %(day)s.", "In %(days)s days, on %(day)s.", days)
        % {"days": days, "day": date_format(fair.starts_on, "j F")},
        url=reverse("orders:fair", args=[fair.pk]),
        action=_("What it takes to break even"),
    )
