"""The owner's page of people: ask in, change roles, new link, remove."""

from django.conf import settings
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.forms import InviteForm, RolesForm
from workroom.http import StaffRequest
from workroom.links import link_make
from workroom.mail import can_mail, send_welcome
from workroom.models import LinkKind, Person
from workroom.people import PeopleError, person_invite, person_remove, roles_set
from workroom.selectors import current_studio, people_here

NEW_LINK = "new_link"


def full_address(request: StaffRequest, path: str) -> str:
    """The path with the site's address in front: the set one, or the one this page was opened at."""
    return f"{settings.SITE.geturl()}{path}" if settings.SITE else request.build_absolute_uri(path)


def _person(pk: int) -> Person:
    return get_object_or_404(Person, pk=pk, is_active=True)


@require_safe
def people(request: StaffRequest) -> HttpResponse:
    return _people_page(request, InviteForm(), 200)


def _people_page(request: StaffRequest, form: InviteForm, status: int) -> HttpResponse:
    """The list; a link made a moment ago is shown once and then forgotten."""
    context = {
        "people": people_here(),
        "form": form,
        "new_link": request.session.pop(NEW_LINK, None),
        "can_mail": can_mail(),
    }
    return render(request, "workroom/people.html", context, status=status)


@require_POST
def person_add(request: StaffRequest) -> HttpResponse:
    form = InviteForm(request.POST)
    if not form.is_valid():
        return _people_page(request, form, 422)
    data = form.cleaned_data
    person, token = person_invite(
        name=data["name"], email=data["email"], roles=data["roles"], by=request.user
    )
    _hand_over(request, person, token)
    return redirect("workroom:people")


def _hand_over(request: StaffRequest, person: Person, token: str) -> None:
    """Show the link on the next page, and mail it where that can be done."""
    link = full_address(request, reverse("workroom:welcome", args=[token]))
    request.session[NEW_LINK] = {"name": person.name, "link": link}
    if not (can_mail() and person.email):
        return
    if send_welcome(person=person, link=link, studio=current_studio()):
        messages.success(request, _("The link was mailed to %(email)s.") % {"email": person.email})
    else:
        messages.warning(request, _("The mail server did not take the letter. Hand the link over yourself."))


@require_POST
def person_link(request: StaffRequest, pk: int) -> HttpResponse:
    person = _person(pk)
    token = link_make(person=person, kind=LinkKind.WELCOME, made_by=request.user)
    _hand_over(request, person, token)
    return redirect("workroom:people")


@require_http_methods(["GET", "HEAD", "POST"])
def person_roles(request: StaffRequest, pk: int) -> HttpResponse:
    person = _person(pk)
    form = RolesForm(request.POST or None, initial={"roles": sorted(person.roles)})
    if request.method == "POST":
        form = RolesForm(request.POST)
        if form.is_valid() and _roles_changed(person, form):
            messages.success(request, _("The roles of %(name)s are changed.") % {"name": person.name})
            return redirect("workroom:people")
    status = 422 if request.method == "POST" else 200
    return render(request, "workroom/person.html", {"someone": person, "form": form}, status=status)


def _roles_changed(person: Person, form: RolesForm) -> bool:
    try:
        roles_set(person=person, roles=form.cleaned_data["roles"])
    except PeopleError as refusal:
        form.add_error("roles", str(refusal))
        return False
    return True


@require_http_methods(["GET", "HEAD", "POST"])
def person_gone(request: StaffRequest, pk: int) -> HttpResponse:
    """GET asks, POST removes."""
    person = _person(pk)
    if request.method != "POST":
        return render(request, "workroom/person_gone.html", {"someone": person})
    try:
        person_remove(person=person)
    except PeopleError as refusal:
        messages.error(request, str(refusal))
        return redirect("workroom:people")
    messages.success(request, _("%(name)s can't come in any more.") % {"name": person.name})
    return redirect("desk" if person == request.user else "workroom:people")
