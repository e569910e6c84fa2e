"""The studio's profile, one's own settings, and the logo and accent that pages ask for."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import cache_control
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workroom.colour import lightened_for_night, text_on
from workroom.forms import MeForm, PasswordForm, StudioForm
from workroom.http import StaffRequest
from workroom.media import photo_bytes
from workroom.models import Studio
from workroom.selectors import current_studio

FOR_GOOD = cache_control(max_age=31536000, immutable=True, public=True)


@require_http_methods(["GET", "HEAD", "POST"])
def studio(request: StaffRequest) -> HttpResponse:
    profile = current_studio()
    if request.method != "POST":
        return render(request, "workroom/studio.html", {"form": StudioForm(instance=profile)})
    form = StudioForm(request.POST, request.FILES, instance=profile)
    if not form.is_valid():
        context = {"form": form, "studio": current_studio()}
        return render(request, "workroom/studio.html", context, status=422)
    studio_save(form)
    messages.success(request, _("The studio's profile is kept."))
    return redirect("workroom:studio")


def studio_save(form: StudioForm) -> Studio:
    profile = form.save(commit=False)
    logo = form.cleaned_data["logo"]
    if logo:
        profile.logo_digest, profile.logo_width, profile.logo_height = logo.digest, logo.width, logo.height
    elif form.cleaned_data["remove_logo"]:
        profile.logo_digest, profile.logo_width, profile.logo_height = "", 0, 0
    profile.save()
    return profile


@require_http_methods(["GET", "HEAD", "POST"])
def me(request: StaffRequest) -> HttpResponse:
    if request.method != "POST":
        return _me_page(request, MeForm(instance=request.user), None, 200)
    form = MeForm(request.POST, instance=request.user)
    if not form.is_valid():
        request.user.refresh_from_db()
        return _me_page(request, form, None, 422)
    form.instance.save(update_fields=["name", "email", "theme"])
    messages.success(request, _("Your settings are kept."))
    return redirect("workroom:me")


def _me_page(
    request: StaffRequest, form: MeForm, password_form: PasswordForm | None, status: int
) -> HttpResponse:
    context = {"form": form, "password_form": password_form or PasswordForm(person=request.user)}
    return render(request, "workroom/me.html", context, status=status)


@sensitive_post_parameters("present", "password", "again")
@require_POST
def me_password(request: StaffRequest) -> HttpResponse:
    person = request.user
    form = PasswordForm(request.POST, person=person)
    if not form.is_valid():
        return _me_page(request, MeForm(instance=person), form, 422)
    person.set_password(form.cleaned_data["password"])
    person.save(update_fields=["password"])
    update_session_auth_hash(request, person)
    messages.success(
        request, _("Your password is changed. Other places where you were signed in are closed.")
    )
    return redirect("workroom:me")


@FOR_GOOD
@require_safe
def logo(request: HttpRequest, digest: str) -> HttpResponse:
    """The studio's logo, and no other picture of the store."""
    profile = current_studio()
    if not profile.logo_digest or digest != profile.logo_digest:
        raise Http404
    try:
        data = photo_bytes(digest, profile.logo_width, "webp")
    except FileNotFoundError as error:
        raise Http404 from error
    return HttpResponse(data, content_type="image/webp")


@FOR_GOOD
@require_safe
def accent(request: HttpRequest, colour: str) -> HttpResponse:
    """The accent as a style of its own, for the policy allows no style in the page."""
    return HttpResponse(accent_css(f"#{colour}"), content_type="text/css; charset=utf-8")


def accent_css(colour: str) -> str:
    night = lightened_for_night(colour)
    by_day = f"--accent: {colour}; --on-accent: {text_on(colour)};"
    by_night = f"--accent: {night}; --on-accent: {text_on(night)};"
    return (
        f":root {{ {by_day} }}\n"
        f'[data-theme="dark"] {{ {by_night} }}\n'
        f'@media (prefers-color-scheme: dark) {{ [data-theme="system"] {{ {by_night} }} }}\n'
        f"@media print {{ :root, [data-theme] {{ {by_day} }} }}\n"
    )
