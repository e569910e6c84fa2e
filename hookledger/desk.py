"""Gathers what the rooms have to say on the start page."""

from collections.abc import Callable
from importlib import import_module
from typing import Final

from django.apps import apps
from django.urls import reverse
from django.utils.module_loading import module_has_submodule
from django.utils.translation import gettext as _

from workroom.desk import Card
from workroom.http import StaffRequest
from workroom.selectors import current_studio

ROOMS: Final = ("patterns", "orders", "yarns")

CardMaker = Callable[[StaffRequest], list[Card]]


def makers() -> list[CardMaker]:
    """The `cards` function of every room that has a desk.py."""
    rooms = [apps.get_app_config(room) for room in ROOMS]
    return [
        import_module(f"{room.name}.desk").cards
        for room in rooms
        if room.module is not None and module_has_submodule(room.module, "desk")
    ]


def cards(request: StaffRequest) -> list[Card]:
    """All cards, the urgent ones first, otherwise in the order of the rooms."""
    found = [card for make in (studio_cards, *makers()) for card in make(request)]
    return sorted(found, key=lambda card: not card.urgent)


def studio_cards(request: StaffRequest) -> list[Card]:
    """For an owner whose studio has not been described yet."""
    if not request.may("workroom:studio") or not current_studio()._state.adding:
        return []
    return [
        Card(
            title=_("Describe your studio"),
            says=_("Name, logo, currency and paper stand on every page and PDF."),
            url=reverse("workroom:studio"),
            action=_("Fill in the profile"),
        ),
        Card(
            title=_("Ask others in"),
            says=_("Everybody gets a link and only what their role needs."),
            url=reverse("workroom:people"),
            action=_("Open people"),
        ),
    ]
