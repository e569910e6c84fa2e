"""manage.py demo: the scenario Two Gulls Crochet, into an empty workroom."""

from importlib import import_module
from typing import Any, Final

from django.apps import apps
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils.module_loading import module_has_submodule

from workroom.demo import Cast, make_cast
from workroom.models import Person

ROOMS: Final = ("yarns", "patterns", "orders")


class Command(BaseCommand):
    help = "Fill an empty workroom with the demo scenario, Two Gulls Crochet."

    def handle(self, *args: Any, **options: Any) -> None:
        if Person.objects.exists():
            raise CommandError("There are people here already. The demo is for an empty workroom only.")
        with transaction.atomic():
            make_rooms(make_cast())
        if options["verbosity"] > 0:
            self.stdout.write("Two Gulls Crochet is set up.")


def make_rooms(cast: Cast) -> None:
    """Call `make(cast)` of every room that has a demo.py, lowest room first."""
    for room in ROOMS:
        module = apps.get_app_config(room).module
        if module is not None and module_has_submodule(module, "demo"):
            import_module(f"{room}.demo").make(cast)
