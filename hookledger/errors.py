"""The pages that say no: what happened, and what to do. htmx gets the sentence alone."""

from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.translation import gettext as _

TOO_BIG = (RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent)


def refusal(request: HttpRequest, status: int, title: str, advice: str) -> HttpResponse:
    if getattr(request, "htmx", False):
        words = format_html('<p class="message error" role="alert">{} {}</p>', title, advice)
        return HttpResponse(words, status=status)
    return render(request, "hookledger/refusal.html", {"title": title, "advice": advice}, status=status)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    if isinstance(exception, TOO_BIG):
        return refusal(
            request,
            413,
            _("That is too much at once."),
            _("At most 16 MB can be sent in one form. Go back, shorten it, and send it again."),
        )
    return refusal(
        request,
        400,
        _("That can't be read."),
        _("The browser sent something that makes no sense here. Go back and try again."),
    )


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    return refusal(
        request,
        403,
        _("This is not open to you."),
        _("Your role does not include this page. The owner can change your roles."),
    )


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    return refusal(
        request,
        404,
        _("There is no such page."),
        _("It was moved or removed, or the address has a slip in it."),
    )


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    return refusal(
        request,
        403,
        _("This form has grown old."),
        _(
            "You signed in or out in another window, or cookies are off. Go back, load the page again"
            " and send it once more. What you typed is still there when you go back."
        ),
    )


def server_error(request: HttpRequest) -> HttpResponse:
    """Leans on nothing: no database, no studio."""
    return HttpResponse(render_to_string("500.html"), status=500)
