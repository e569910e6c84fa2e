"""Letters, where a mail server is set. Nothing here needs one: every link is also shown."""

import logging
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import send_mail
from django.utils.translation import gettext as _

from workroom.models import Person, Studio

log = logging.getLogger(__name__)


def can_mail() -> bool:
    return bool(settings.HOOKLEDGER_MAIL)


def send_welcome(*, person: Person, link: str, studio: Studio) -> bool:
    """Mail the welcome link; False (and a line in the log) when the server would not take it."""
    body = _("Hello %(name)s,\n\nopen this link to come in. It works once, for seven days.\n\n%(link)s\n") % {
        "name": person.name,
        "link": link,
    }
    subject = _("Come in to %(studio)s") % {"studio": studio.name}
    try:
        send_mail(subject, body, settings.DEFAULT_FROM_EMAIL, [person.email])
    except (SMTPException, OSError):
        log.exception("A welcome letter could not be sent.")
        return False
    return True
