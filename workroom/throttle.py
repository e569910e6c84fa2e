"""How often somebody may try to sign in. Counted in the database, so all workers count together.

A try is counted before the password is looked at, so that tries at the same
moment can't slip past the limit. The narrow limit is on a name from one
address, so that a stranger elsewhere can't lock anybody out.
"""

from datetime import timedelta
from hashlib import sha256
from typing import Final

from django.db.models import F
from django.utils import timezone

from workroom.models import SignInTry

WINDOW: Final = timedelta(minutes=15)
MOST_FOR_PAIR: Final = 8
MOST_FOR_ADDRESS: Final = 40
MOST_FOR_NAME: Final = 80


def buckets(handle: str, address: str) -> dict[str, int]:
    """The counters that one try fills, and how much each may hold."""
    return {
        _bucket("pair", f"{handle}\n{address}"): MOST_FOR_PAIR,
        _bucket("address", address): MOST_FOR_ADDRESS,
        _bucket("name", handle): MOST_FOR_NAME,
    }


def _bucket(kind: str, what: str) -> str:
    return f"{kind}:{sha256(what.encode()).hexdigest()[:40]}"


def take_try(handle: str, address: str) -> bool:
    """Count one try; False when there have been too many and the password must not be looked at."""
    filled = [(_filled(bucket), most) for bucket, most in buckets(handle, address).items()]
    return all(tries <= most for tries, most in filled)


def _filled(bucket: str) -> int:
    now = timezone.now()
    counted = SignInTry.objects.filter(bucket=bucket, window_ends_at__gt=now).update(failed=F("failed") + 1)
    if not counted:
        SignInTry.objects.filter(window_ends_at__lte=now).delete()
        SignInTry.objects.bulk_create(
            [SignInTry(bucket=bucket, failed=1, window_ends_at=now + WINDOW)],
            update_conflicts=True,
            unique_fields=["bucket"],
            update_fields=["failed", "window_ends_at"],
        )
    return SignInTry.objects.values_list("failed", flat=True).get(bucket=bucket)


def forget_tries(handle: str, address: str) -> None:
    """After a right password: the person starts afresh, the address as a whole does not."""
    pair, _address, name = buckets(handle, address)
    SignInTry.objects.filter(bucket__in=[pair, name]).delete()
