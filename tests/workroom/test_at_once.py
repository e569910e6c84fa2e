"""Two people at the same moment, each with a connection of their own."""

import threading
from collections.abc import Callable
from functools import partial
from typing import Any

import pytest
from django.db import connection

from workroom.links import link_find, link_make, link_use
from workroom.models import LinkKind, Person, Role, RoleHeld
from workroom.people import LastOwnerError, person_remove
from workroom.throttle import MOST_FOR_PAIR, take_try

pytestmark = [pytest.mark.on_postgres, pytest.mark.django_db(transaction=True)]


def at_once(acts: list[Callable[[], Any]]) -> list[Any]:
    """What each act gave, or the exception it raised; all start together."""
    outcomes: list[Any] = [None] * len(acts)
    start = threading.Barrier(len(acts))

    def run(place: int, act: Callable[[], Any]) -> None:
        start.wait()
        try:
            outcomes[place] = act()
        except LastOwnerError as refusal:
            outcomes[place] = refusal
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def test_two_owners_can_not_remove_each_other(person_with: Callable[..., Person]) -> None:
    for _round in range(5):
        RoleHeld.objects.all().delete()
        owners = [person_with(Role.OWNER, name=name) for name in ("First", "Second")]
        outcomes = at_once([partial(person_remove, person=owner) for owner in owners])
        assert sum(isinstance(outcome, LastOwnerError) for outcome in outcomes) == 1
        assert RoleHeld.objects.filter(role=Role.OWNER, person__is_active=True).count() == 1


def test_a_link_lets_in_one_of_many(designer: Person) -> None:
    link = link_find(link_make(person=designer, kind=LinkKind.SIGN_IN))
    assert link is not None
    assert sorted(at_once([lambda: link_use(link)] * 6)) == [False] * 5 + [True]


def test_tries_at_the_same_moment_do_not_slip_past_the_limit() -> None:
    let = at_once([lambda: take_try("maren", "192.0.2.1")] * (MOST_FOR_PAIR + 6))
    assert 1 <= sum(let) <= MOST_FOR_PAIR
