"""The letter that carries a review's link, where a mail server is set. The link is always shown as well."""

import logging
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import send_mail
from django.utils.translation import gettext as _

from patterns.reviews.models import Review
from workroom.models import Studio

log = logging.getLogger(__name__)


def send_review_link(*, review: Review, link: str, studio: Studio) -> bool:
    """Mail the link; False (and a line in the log) when the server would not take it."""
    body = _(
        "Hello %(name)s,\n\nthis link opens the draft of “%(title)s”. Open it on the phone or computer that "
        "you will read on: it works in the one browser where it was first opened.\n\n%(link)s\n"
    ) % {"name": review.name, "title": review.copy.title, "link": link}
    subject = _("A draft from %(studio)s") % {"studio": studio.name}
    try:
        send_mail(subject, body, settings.DEFAULT_FROM_EMAIL, [review.email])
    except (SMTPException, OSError):
        log.exception("A review's link could not be mailed.")
        return False
    return True
