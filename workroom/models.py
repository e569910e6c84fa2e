"""The people of the studio, what they may do, and the studio itself."""

from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.core.validators import RegexValidator
from django.db import models
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    OWNER = "owner", _("Owner")
    DESIGNER = "designer", _("Designer")
    SELLER = "seller", _("Seller")
    ASSISTANT = "assistant", _("Assistant")


class Theme(models.TextChoices):
    SYSTEM = "system", _("As the device")
    LIGHT = "light", _("Light")
    DARK = "dark", _("Dark")


class Paper(models.TextChoices):
    A4 = "a4", _("A4")
    LETTER = "letter", _("US Letter")


class Units(models.TextChoices):
    METRIC = "metric", _("Metric first")
    IMPERIAL = "imperial", _("Inches and yards first")


class Terms(models.TextChoices):
    US = "us", _("US terms")
    UK = "uk", _("UK terms")


class PersonManager(BaseUserManager["Person"]):
    def get_by_natural_key(self, username: str | None) -> "Person":
        return self.get(handle=(username or "").strip().lower())


class Person(AbstractBaseUser):
    """Somebody who works here. A person who was asked in and has not come yet has no handle."""

    handle = models.CharField(
        _("sign-in name"),
        max_length=60,
        unique=True,
        null=True,
        blank=True,
        validators=[
            RegexValidator(
                r"^[a-z0-9][a-z0-9._@+-]*$",
                _("Use small letters, numbers and . _ @ + -, and begin with a letter or number."),
            )
        ],
    )
    name = models.CharField(_("name"), max_length=80)
    email = models.EmailField(_("e-mail"), blank=True)
    theme = models.CharField(_("light or dark"), max_length=8, choices=Theme.choices, default=Theme.SYSTEM)
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[PersonManager] = PersonManager()

    USERNAME_FIELD = "handle"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    class Meta:
        verbose_name = _("person")
        verbose_name_plural = _("people")
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name

    @cached_property
    def roles(self) -> frozenset[Role]:
        """The roles held; one query, once a request."""
        return frozenset(Role(held.role) for held in self.roles_held.all())

    def has_role(self, *roles: Role) -> bool:
        return bool(self.roles & set(roles))

    def refresh_from_db(self, *args: Any, **kwargs: Any) -> None:
        self.__dict__.pop("roles", None)
        super().refresh_from_db(*args, **kwargs)


class RoleHeld(models.Model):
    """One role of one person; most people hold several."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="roles_held")
    role = models.CharField(max_length=12, choices=Role.choices)

    class Meta:
        ordering = ("person", "role")
        constraints = (
            models.UniqueConstraint(fields=("person", "role"), name="role_held_once"),
            models.CheckConstraint(condition=models.Q(role__in=Role.values), name="role_known"),
        )

    def __str__(self) -> str:
        return f"{self.person} - {self.role}"


class Studio(models.Model):
    """The one studio of this workroom: what stands on the site, on paper and on labels."""

    name = models.CharField(_("studio name"), max_length=80, default="My studio")
    logo_digest = models.CharField(max_length=64, blank=True)
    logo_width = models.PositiveIntegerField(default=0)
    logo_height = models.PositiveIntegerField(default=0)
    help_address = models.EmailField(_("address for help"), blank=True)
    site_address = models.URLField(_("site address"), blank=True)
    accent = models.CharField(_("accent colour"), max_length=7, default="#24577a")
    currency = models.CharField(_("currency"), max_length=3, default="EUR")
    paper = models.CharField(_("paper"), max_length=8, choices=Paper.choices, default=Paper.A4)
    units = models.CharField(_("units"), max_length=10, choices=Units.choices, default=Units.METRIC)
    terms = models.CharField(_("terms"), max_length=2, choices=Terms.choices, default=Terms.US)
    time_zone = models.CharField(_("time zone"), max_length=60, default="UTC")
    demo = models.BooleanField(default=False)

    class Meta:
        constraints = (models.CheckConstraint(condition=models.Q(pk=1), name="one_studio"),)

    def __str__(self) -> str:
        return self.name

    @property
    def accent_hex(self) -> str:
        """The accent as it stands in the address of its style: without the #."""
        return self.accent.removeprefix("#")


class LinkKind(models.TextChoices):
    WELCOME = "welcome", _("Welcome: choose a sign-in name and password")
    SIGN_IN = "sign-in", _("Sign in once")


class OneTimeLink(models.Model):
    """A link that lets one person in once. Only the hash of its token is kept."""

    kind = models.CharField(max_length=8, choices=LinkKind.choices)
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="links")
    made_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="links_made"
    )
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at",)

    def __str__(self) -> str:
        return f"{self.kind} for {self.person}"


class SignInTry(models.Model):
    """Failed tries at signing in, counted by what was tried (name or address) in one window."""

    bucket = models.CharField(max_length=80, unique=True)
    failed = models.PositiveIntegerField(default=0)
    window_ends_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.bucket}: {self.failed}"
