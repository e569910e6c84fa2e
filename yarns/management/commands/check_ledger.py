"""Recompute every balance and promise from the movements and report what differs."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from yarns.audit import audit


class Command(BaseCommand):
    help = "Recompute every balance and promise from the movements. Exit status 1 if any differs."

    def handle(self, *args: Any, **options: Any) -> None:
        found = audit()
        for fault in found.faults:
            self.stderr.write(f"Lot {fault.lot_code} {fault.says}")
        looked = f"{found.lots} lots, {found.movements} movements, {found.promises} promises"
        if found.faults:
            raise CommandError(f"{looked}: {len(found.faults)} things do not add up.")
        self.stdout.write(f"{looked}: all balances equal the sum of their movements.")
