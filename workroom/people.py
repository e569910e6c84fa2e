"""Who works here: asking in, welcoming, changing roles, removing."""

from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from workroom.links import link_make, link_use
from workroom.models import LinkKind, OneTimeLink, Person, Role, RoleHeld


class PeopleError(Exception):
    """A refusal; the text is a sentence for the person who asked."""


class LastOwnerError(PeopleError):
    def __init__(self, person: Person) -> None:
        super().__init__(
            _("%(name)s is the only owner. Make somebody else an owner first.") % {"name": person.name}
        )


class NoRoleError(PeopleError):
    def __init__(self) -> None:
        super().__init__(_("Tick at least one role."))


class LinkUsedError(PeopleError):
    def __init__(self) -> None:
        super().__init__(_("This link has been used already. Ask the owner for a new one."))


@transaction.atomic
def person_invite(
    *, name: str, roles: Iterable[Role], email: str = "", by: Person | None = None
) -> tuple[Person, str]:
    """Make a person who has not come yet; gives the person and the token of the welcome link."""
    wanted = frozenset(roles)
    if not wanted:
        raise NoRoleError
    person = Person(name=name, email=email)
    person.set_unusable_password()
    person.save()
    _write_roles(person, wanted)
    return person, link_make(person=person, kind=LinkKind.WELCOME, made_by=by)


@transaction.atomic
def person_welcome(*, link: OneTimeLink, handle: str, name: str, password: str) -> Person:
    """Use the link up and give its person a name to sign in with and a password."""
    if not link_use(link):
        raise LinkUsedError
    person = link.person
    person.handle, person.name = handle, name
    person.set_password(password)
    person.save(update_fields=["handle", "name", "password"])
    return person


@transaction.atomic
def roles_set(*, person: Person, roles: Iterable[Role]) -> None:
    wanted = frozenset(roles)
    if not wanted:
        raise NoRoleError
    if Role.OWNER not in wanted:
        _refuse_last_owner(person)
    _write_roles(person, wanted)


@transaction.atomic
def person_remove(*, person: Person) -> None:
    """Shut the person out at once: no roles, no way in, open pages end. What they did stays theirs."""
    _refuse_last_owner(person)
    RoleHeld.objects.filter(person=person).delete()
    OneTimeLink.objects.filter(person=person, used_at=None).update(used_at=timezone.now())
    person.is_active, person.handle = False, None
    person.set_unusable_password()  # its hash is part of every sign-in, so those end as well
    person.save(update_fields=["is_active", "handle", "password"])


def _refuse_last_owner(person: Person) -> None:
    """Raise LastOwnerError when nobody else who can sign in is an owner.

    The owners' rows are locked first, or two owners could remove each other.
    """
    owners = RoleHeld.objects.select_for_update().filter(role=Role.OWNER, person__is_active=True)
    here = set(owners.exclude(person__handle=None).values_list("person_id", flat=True))
    if here == {person.pk}:
        raise LastOwnerError(person)


def _write_roles(person: Person, roles: frozenset[Role]) -> None:
    RoleHeld.objects.filter(person=person).exclude(role__in=roles).delete()
    RoleHeld.objects.bulk_create(
        [RoleHeld(person=person, role=role) for role in sorted(roles)], ignore_conflicts=True
    )
    person.__dict__.pop("roles", None)
