"""What the yarn room puts on the start page."""

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from workroom.desk import Card
from workroom.http import StaffRequest
from yarns.models import Lot, Parcel


def cards(request: StaffRequest) -> list[Card]:
    """Parcels left open, then the shelf."""
    cards = [_shelf_card(request)]
    if request.may("yarns:receive"):
        cards = [*_parcel_cards(), *cards]
    return cards


def _parcel_cards() -> list[Card]:
    waiting = Parcel.objects.filter(closed_at=None).count()
    if not waiting:
        return []
    says = ngettext(
        "A parcel is on the table and not put away.",
        "%(count)s parcels are on the table and not put away.",
        waiting,
    ) % {"count": waiting}
    return [
        Card(
            title=_("Parcel on the table"),
            says=says,
            url=reverse("yarns:receive"),
            action=_("Go on"),
            count=waiting,
            urgent=True,
        )
    ]


def _shelf_card(request: StaffRequest) -> Card:
    count = Lot.objects.filter(balance__gt=0).count()
    if count or not request.may("yarns:receive"):
        says = ngettext("lot on the shelf", "lots on the shelf", count)
        url, action = reverse("yarns:shelf"), _("Open the shelf")
    else:
        says = _("Nothing is logged yet.")
        url, action = reverse("yarns:receive"), _("Log the first parcel")
    return Card(title=_("Yarn shelf"), says=says, url=url, action=action, count=count)
