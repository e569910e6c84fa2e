"""Coming in and going out: sign-in, sign-out and one-time links."""

from django.conf import settings
from django.contrib.auth import authenticate, login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from workroom.forms import SignInForm, WelcomeForm
from workroom.links import link_find, link_use
from workroom.models import LinkKind, OneTimeLink, Person
from workroom.people import LinkUsedError, person_welcome
from workroom.throttle import WINDOW, forget_tries, take_try

BACKEND = "django.contrib.auth.backends.ModelBackend"


def where_next(request: HttpRequest) -> str:
    """The page that was asked for before, if it is one of ours; else the desk."""
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    secure = request.is_secure()
    ours = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, require_https=secure)
    return wanted if ours else settings.LOGIN_REDIRECT_URL


def address_of(request: HttpRequest) -> str:
    """The visitor's address; behind our own TLS proxy, the one that the proxy saw."""
    seen_by_proxy = request.headers.get("X-Forwarded-For", "").rpartition(",")[2].strip()
    if settings.BEHIND_TLS and seen_by_proxy:
        return seen_by_proxy
    return str(request.META.get("REMOTE_ADDR", ""))


@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    if request.user.is_authenticated:
        return redirect(where_next(request))
    if request.method != "POST":
        return _sign_in_page(request, SignInForm(), 200)
    form = SignInForm(request.POST)
    if not form.is_valid():
        return _sign_in_page(request, form, 422)
    handle, address = form.cleaned_data["handle"], address_of(request)
    if not take_try(handle, address):
        return _too_often(request, form)
    person = authenticate(request, username=handle, password=form.cleaned_data["password"])
    if person is None:
        form.add_error(None, _("This name and password don't belong together. Check both and try again."))
        return _sign_in_page(request, form, 422)
    forget_tries(handle, address)
    login(request, person)
    return redirect(where_next(request))


def _too_often(request: HttpRequest, form: SignInForm) -> HttpResponse:
    minutes = WINDOW.seconds // 60
    form.add_error(
        None,
        _("That were too many tries. Wait %(minutes)s minutes, or ask the owner for a new link.")
        % {"minutes": minutes},
    )
    response = _sign_in_page(request, form, 429)
    response["Retry-After"] = str(WINDOW.seconds)
    return response


def _sign_in_page(request: HttpRequest, form: SignInForm, status: int) -> HttpResponse:
    context = {"form": form, "next": request.POST.get("next") or request.GET.get("next") or ""}
    return render(request, "workroom/sign_in.html", context, status=status)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect(settings.LOGOUT_REDIRECT_URL)


@sensitive_post_parameters("password", "again")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def welcome(request: HttpRequest, token: str) -> HttpResponse:
    """A one-time link: GET shows what it does, POST does it, so that a preview can't use it up."""
    link = link_find(token)
    if link is None:
        return _gone(request)
    if link.kind == LinkKind.SIGN_IN:
        return _sign_in_once(request, link)
    return _welcome(request, link)


def _gone(request: HttpRequest) -> HttpResponse:
    return render(request, "workroom/link_gone.html", status=410)


def _sign_in_once(request: HttpRequest, link: OneTimeLink) -> HttpResponse:
    if request.method != "POST":
        return render(request, "workroom/sign_in_once.html", {"link": link})
    if not link_use(link):
        return _gone(request)
    login(request, link.person, backend=BACKEND)
    return redirect(settings.LOGIN_REDIRECT_URL)


def _welcome(request: HttpRequest, link: OneTimeLink) -> HttpResponse:
    person = link.person
    filled_in = {"name": person.name, "handle": person.handle or ""}
    form = WelcomeForm(request.POST or None, person=person, initial=filled_in)
    if request.method != "POST" or not form.is_valid():
        status = 422 if request.method == "POST" else 200
        return render(request, "workroom/welcome.html", {"form": form}, status=status)
    return _come_in(request, link, form)


def _come_in(request: HttpRequest, link: OneTimeLink, form: WelcomeForm) -> HttpResponse:
    data = form.cleaned_data
    try:
        person: Person = person_welcome(
            link=link, handle=data["handle"], name=data["name"], password=data["password"]
        )
    except LinkUsedError:
        return _gone(request)
    login(request, person, backend=BACKEND)
    return redirect(settings.LOGIN_REDIRECT_URL)
