"""The workroom's forms, and the renderer that draws every form of the house."""

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.forms.renderers import TemplatesSetting
from django.utils.translation import gettext_lazy as _

from workroom.colour import TEXT_AA, darkened_for_paper, is_colour, reads_on_paper
from workroom.media import PhotoError, StoredPhoto, store
from workroom.models import Person, Role, Studio, Theme
from workroom.money import CURRENCIES


class Renderer(TemplatesSetting):
    """Forms are drawn by templates/forms/: label, help, field and error, each tied to the other."""

    form_template_name = "forms/form.html"
    field_template_name = "forms/field.html"


def handle_field(**kwargs: Any) -> forms.CharField:
    attrs = {"autocapitalize": "none", "autocomplete": "username", "spellcheck": "false"}
    return forms.CharField(
        label=_("Sign-in name"), max_length=60, widget=forms.TextInput(attrs=attrs), **kwargs
    )


def password_field(label: Any, autocomplete: str, **kwargs: Any) -> forms.CharField:
    """A password as it was typed: blanks at its ends count."""
    widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
    return forms.CharField(label=label, strip=False, max_length=4096, widget=widget, **kwargs)


class SignInForm(forms.Form):
    handle = handle_field()
    password = password_field(_("Password"), "current-password")

    def clean_handle(self) -> str:
        return str(self.cleaned_data["handle"]).lower()


class NewPasswordMixin(forms.Form):
    """Two fields for a new password; `self.person` is whose it will be."""

    person: Person

    def clean_password(self) -> str:
        password = str(self.cleaned_data["password"])
        self.person.handle = self.cleaned_data.get("handle", self.person.handle)
        validate_password(password, self.person)
        return password

    def clean_again(self) -> str:
        again = str(self.cleaned_data["again"])
        if "password" in self.cleaned_data and again != self.cleaned_data["password"]:
            raise ValidationError(_("The two passwords differ. Type the same one twice."))
        return again


PASSWORD_HELP = _("At least 10 characters. Four unrelated words are easy to keep and hard to guess.")


class WelcomeForm(NewPasswordMixin):
    name = forms.CharField(label=_("Your name"), max_length=80)
    handle = handle_field(help_text=_("What you type to sign in: small letters and numbers."))
    password = password_field(_("Password"), "new-password", help_text=PASSWORD_HELP)
    again = password_field(_("The same password again"), "new-password")

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        self.person = person
        super().__init__(*args, **kwargs)

    def clean_handle(self) -> str:
        handle = str(self.cleaned_data["handle"]).lower()
        for validate in Person._meta.get_field("handle").validators:
            validate(handle)
        if Person.objects.filter(handle=handle).exclude(pk=self.person.pk).exists():
            raise ValidationError(_("Somebody here signs in with that name. Choose another."))
        return handle


class PasswordForm(NewPasswordMixin):
    """Change one's own password; the present one is asked for."""

    present = password_field(_("Present password"), "current-password", required=False)
    password = password_field(_("New password"), "new-password", help_text=PASSWORD_HELP)
    again = password_field(_("The new password again"), "new-password")

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        self.person = person
        super().__init__(*args, **kwargs)
        if not person.has_usable_password():
            del self.fields["present"]  # who came by a sign-in link has none yet

    def clean_present(self) -> str:
        present = str(self.cleaned_data["present"])
        if not self.person.check_password(present):
            raise ValidationError(_("That is not your present password."))
        return present


class MeForm(forms.ModelForm[Person]):
    theme = forms.ChoiceField(
        label=_("Light or dark"), choices=Theme.choices, widget=forms.RadioSelect, required=True
    )

    class Meta:
        model = Person
        fields = ("name", "email", "theme")


class RolesField(forms.MultipleChoiceField):
    """Some of the four roles, as a frozenset."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            label=_("Roles"),
            choices=Role.choices,
            widget=forms.CheckboxSelectMultiple,
            help_text=_("One person may hold several."),
            error_messages={"required": _("Tick at least one role.")},
            **kwargs,
        )

    def clean(self, value: Any) -> Any:
        return frozenset(Role(role) for role in super().clean(value))


class InviteForm(forms.Form):
    name = forms.CharField(label=_("Name"), max_length=80)
    email = forms.EmailField(label=_("E-mail"), required=False, max_length=254)
    roles = RolesField()


class RolesForm(forms.Form):
    roles = RolesField()


def time_zones() -> list[tuple[str, str]]:
    places = sorted(zone for zone in available_timezones() if "/" in zone and not zone.startswith("Etc/"))
    return [("UTC", "UTC"), *((zone, zone.replace("_", " ")) for zone in places)]


class StudioForm(forms.ModelForm[Studio]):
    """The studio's profile. `logo` holds a StoredPhoto once a new picture was chosen."""

    logo = forms.FileField(
        label=_("Logo"),
        required=False,
        help_text=_(
            "A JPEG, PNG or WebP picture. It is drawn anew on white; nothing else of the file is kept."
        ),
        widget=forms.FileInput(attrs={"accept": "image/*"}),
    )
    remove_logo = forms.BooleanField(label=_("Use no logo"), required=False)
    site_address = forms.URLField(
        label=_("Site address"),
        required=False,
        assume_scheme="https",
        help_text=_("Where your pages can be opened from outside, like https://two-gulls.example."),
    )
    currency = forms.ChoiceField(label=_("Currency"), choices=CURRENCIES)
    time_zone = forms.ChoiceField(label=_("Time zone"), choices=time_zones)
    accent = forms.CharField(
        label=_("Accent colour"),
        widget=forms.TextInput(attrs={"type": "color"}),
        help_text=_("Your public pages and your PDFs use it. It has to read well on paper."),
    )

    class Meta:
        model = Studio
        fields = (
            "name", "logo", "remove_logo", "accent", "help_address", "site_address",
            "currency", "paper", "units", "terms", "time_zone",
        )  # fmt: skip

    def clean_accent(self) -> str:
        accent = str(self.cleaned_data["accent"]).strip().lower()
        if not is_colour(accent):
            raise ValidationError(_("Write the colour like #24577a."))
        if not reads_on_paper(accent):
            raise ValidationError(
                _("%(colour)s is too pale to read on paper. The nearest that reads is %(better)s."),
                params={"colour": accent, "better": darkened_for_paper(accent), "least": TEXT_AA},
            )
        return accent

    def clean_logo(self) -> StoredPhoto | None:
        upload = self.cleaned_data["logo"]
        if not upload:
            return None
        try:
            return store(upload)
        except PhotoError as refusal:
            raise ValidationError(str(refusal)) from refusal
