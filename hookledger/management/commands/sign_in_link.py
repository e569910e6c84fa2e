"""manage.py sign_in_link NAME: a link that signs somebody in once, for when a password is lost."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.urls import reverse

from workroom.links import link_make
from workroom.models import LinkKind, Person


class Command(BaseCommand):
    help = "Print a link that signs a person in once. It works for a day."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("handle", help="the person's sign-in name")

    def handle(self, *args: Any, **options: Any) -> None:
        person = Person.objects.filter(handle=options["handle"].lower(), is_active=True).first()
        if person is None:
            here = Person.objects.filter(is_active=True).exclude(handle=None).order_by("handle")
            names = ", ".join(str(person.handle) for person in here)
            raise CommandError(f"Nobody signs in as “{options['handle']}”. There are: {names or 'none'}.")
        token = link_make(person=person, kind=LinkKind.SIGN_IN)
        site = settings.SITE.geturl() if settings.SITE else "http://127.0.0.1:8000"
        self.stdout.write(site + reverse("workroom:welcome", args=[token]))
