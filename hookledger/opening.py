"""What happens to the books at a start: the demo on a fresh database, and who gets a link."""

from django.core.management import call_command
from django.urls import reverse
from django.utils.translation import gettext as _

from hookledger.serving import CannotServeError
from workroom.links import link_make
from workroom.models import LinkKind, Person, Role, RoleHeld
from workroom.people import person_invite
from workroom.selectors import current_studio


def links_for_start(*, empty: bool) -> list[tuple[str, str]]:
    """(who, path of a one-time link). A fresh database gets the demo, unless it shall stay empty."""
    fresh = not Person.objects.exists()
    if fresh and not empty:
        call_command("demo", verbosity=0)
    demo = current_studio().demo
    if demo and empty:
        raise CannotServeError(
            "This folder holds the demo already. Start the empty workroom in another:"
            " HOOKLEDGER_DATA=/some/folder script/serve --empty."
        )
    return demo_links() if demo else owner_links()


def welcome_path(token: str) -> str:
    return reverse("workroom:welcome", args=[token])


def demo_links() -> list[tuple[str, str]]:
    """One link each for the designer, the seller and the assistant of the demo."""
    words = {Role.DESIGNER: _("Designer"), Role.SELLER: _("Seller"), Role.ASSISTANT: _("Assistant")}
    found = []
    for role, word in words.items():
        held = RoleHeld.objects.filter(role=role, person__is_active=True).order_by("person_id").first()
        if held is not None:
            token = link_make(person=held.person, kind=LinkKind.SIGN_IN)
            found.append((f"{word}, {held.person.name}", welcome_path(token)))
    return found


def owner_links() -> list[tuple[str, str]]:
    """A link that makes the owner, until somebody has used one."""
    owners = Person.objects.filter(is_active=True, roles_held__role=Role.OWNER)
    if owners.exclude(handle=None).exists():
        return [(_("Sign in"), reverse("workroom:sign_in"))]
    waiting = owners.first()
    if waiting is None:
        _person, token = person_invite(name=_("Owner"), roles=Role)
    else:
        token = link_make(person=waiting, kind=LinkKind.WELCOME)
    return [(_("Owner, for the first time"), welcome_path(token))]
