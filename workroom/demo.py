"""The demo's people and studio: Two Gulls Crochet, an invented seaside studio."""

from dataclasses import dataclass
from datetime import date

from workroom.models import Person, Role, RoleHeld, Studio
from workroom.selectors import local_today


@dataclass(frozen=True, slots=True)
class Cast:
    """Who is in the demo, and the day it is set up (dates of the demo count from it)."""

    studio: Studio
    designer: Person
    seller: Person
    assistant: Person
    today: date


def make_cast() -> Cast:
    """The studio and its three people; made once, found again after that."""
    studio, _made = Studio.objects.get_or_create(
        pk=1,
        defaults={
            "name": "Two Gulls Crochet",
            "help_address": "help@two-gulls.example",
            "currency": "GBP",
            "time_zone": "Europe/London",
            "demo": True,
        },
    )
    return Cast(
        studio=studio,
        designer=_person("maren", "Maren Thorpe", Role.OWNER, Role.DESIGNER),
        seller=_person("tomas", "Tomas Reeve", Role.SELLER),
        assistant=_person("ida", "Ida Penhale", Role.ASSISTANT),
        today=local_today(),
    )


def _person(handle: str, name: str, *roles: Role) -> Person:
    person, made = Person.objects.get_or_create(handle=handle, defaults={"name": name})
    if made:
        person.set_unusable_password()
        person.save(update_fields=["password"])
        RoleHeld.objects.bulk_create(RoleHeld(person=person, role=role) for role in roles)
    return person
