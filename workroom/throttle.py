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
    SignInTry.objects.filter(window_ends_at__lte=timezone.now()).delete()
    taken = [_take(bucket, most) for bucket, most in buckets(handle, address).items()]
    return all(taken)


def _take(bucket: str, most: int) -> bool:
    """Count one in this bucket, by one conditional UPDATE; False when it is full."""
    empty = SignInTry(bucket=bucket, failed=0, window_ends_at=timezone.now() + WINDOW)
    SignInTry.objects.bulk_create([empty], ignore_conflicts=True)
    return SignInTry.objects.filter(bucket=bucket, failed__lt=most).update(failed=F("failed") + 1) == 1


def forget_tries(handle: str, address: str) -> None:
    """After a right password: the person starts afresh, the address as a whole does not."""
    pair, _address, name = buckets(handle, address)
    SignInTry.objects.filter(bucket__in=[pair, name]).delete()
