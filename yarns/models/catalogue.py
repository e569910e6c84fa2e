"""What a yarn is, whoever holds it: the ball band, the colours, and where things are bought and kept."""

from decimal import Decimal
from fractions import Fraction

from django.core.validators import MaxValueValidator, RegexValidator
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from craft.standards.yarn_weights import YARN_WEIGHTS, weight_category
from yarns.amounts import Unit

HEX_COLOUR = RegexValidator(r"^#[0-9a-f]{6}$", _("Write a colour as # and six of 0-9 and a-f."))

WEIGHT_CHOICES = [(each.number, f"{each.number} {each.name}") for each in YARN_WEIGHTS]


class Place(models.Model):
    """A shelf, box or drawer."""

    name = models.CharField(_("place"), max_length=60)
    notes = models.CharField(_("notes"), max_length=200, blank=True)

    class Meta:
        verbose_name = _("place")
        verbose_name_plural = _("places")
        ordering = (Lower("name"),)
        constraints = (models.UniqueConstraint(Lower("name"), name="place_named_once"),)

    def __str__(self) -> str:
        return self.name


class Supplier(models.Model):
    """Who sends the parcels. `lead_days`: from order to parcel, where known."""

    name = models.CharField(_("supplier"), max_length=80)
    lead_days = models.PositiveSmallIntegerField(_("days from order to parcel"), null=True, blank=True)
    notes = models.CharField(_("notes"), max_length=200, blank=True)

    class Meta:
        verbose_name = _("supplier")
        verbose_name_plural = _("suppliers")
        ordering = (Lower("name"),)
        constraints = (models.UniqueConstraint(Lower("name"), name="supplier_named_once"),)

    def __str__(self) -> str:
        return self.name


class PutUp(models.TextChoices):
    """How the maker winds it: only a word on the page, the arithmetic is the same."""

    BALL = "ball", _("ball")
    SKEIN = "skein", _("skein")
    HANK = "hank", _("hank")
    CAKE = "cake", _("cake")
    CONE = "cone", _("cone")


class Yarn(models.Model):
    """A yarn as its ball band has it; what the band does not say stays empty.

    `fibres`: [["wool", 800], ["nylon", 200]], per mille by mass, largest first, adding to 1000;
    [] where the fibre is not known. `ball_mass_mg` and `ball_length_mm`: of one ball, as printed.
    `measured_mm_per_g`: the studio's own measure, which then stands for the band's.
    `hook_um`: advised hook, thousandths of a millimetre.
    """

    maker = models.CharField(_("maker"), max_length=80, blank=True)
    name = models.CharField(_("yarn"), max_length=80)
    weight_category = models.PositiveSmallIntegerField(
        _("weight category"), choices=WEIGHT_CHOICES, null=True, blank=True
    )
    fibres = models.JSONField(_("fibre"), default=list, blank=True)
    put_up = models.CharField(_("wound as"), max_length=6, choices=PutUp.choices, default="ball")
    ball_mass_mg = models.PositiveIntegerField(_("mass of one ball"), null=True, blank=True)
    ball_length_mm = models.PositiveIntegerField(_("length of one ball"), null=True, blank=True)
    measured_mm_per_g = models.PositiveIntegerField(_("measured length"), null=True, blank=True)
    hook_um = models.PositiveIntegerField(
        _("advised hook"), null=True, blank=True, validators=[MaxValueValidator(50_000)]
    )
    care = models.CharField(_("care"), max_length=160, blank=True)
    notes = models.TextField(_("notes"), blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("yarn")
        verbose_name_plural = _("yarns")
        ordering = (Lower("maker"), Lower("name"), "pk")
        constraints = (
            models.UniqueConstraint(
                Lower("maker"),
                Lower("name"),
                name="yarn_named_once",
                violation_error_message=_("This maker's yarn of that name is already here."),
            ),
            models.CheckConstraint(
                condition=models.Q(weight_category__isnull=True) | models.Q(weight_category__range=(0, 7)),
                name="yarn_weight_0_to_7",
            ),
            models.CheckConstraint(
                condition=models.Q(ball_mass_mg__isnull=True) | models.Q(ball_mass_mg__gt=0),
                name="yarn_ball_has_mass",
            ),
            models.CheckConstraint(
                condition=models.Q(ball_length_mm__isnull=True) | models.Q(ball_length_mm__gt=0),
                name="yarn_ball_has_length",
            ),
        )

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()

    @property
    def mm_per_mg(self) -> Fraction | None:
        """Length by mass: the studio's own measure, else the band's, else None."""
        if self.measured_mm_per_g:
            return Fraction(self.measured_mm_per_g, 1000)
        if self.ball_mass_mg and self.ball_length_mm:
            return Fraction(self.ball_length_mm, self.ball_mass_mg)
        return None

    @property
    def metres_per_100g(self) -> Decimal | None:
        """Length of 100 g, m, to a centimetre."""
        rate = self.mm_per_mg
        if rate is None:
            return None
        return round(Decimal(rate.numerator * 100) / Decimal(rate.denominator), 2)

    @property
    def weight_name(self) -> str:
        """The category's name ("Medium"), or nothing where it isn't known."""
        return "" if self.weight_category is None else weight_category(self.weight_category).name

    @property
    def fibre_shares(self) -> dict[str, float]:
        """Shares by mass, adding to 1, as `craft.yardage` takes them; empty: not known."""
        return {name: per_mille / 1000 for name, per_mille in self.fibres}

    @property
    def hook_mm(self) -> Decimal | None:
        """Advised hook, mm, without trailing noughts."""
        return None if self.hook_um is None else (Decimal(self.hook_um) / 1000).normalize() + 0


class Colour(models.Model):
    """One colour of a yarn. `gtin`: its barcode as 14 digits; `hex_swatch`: "#27456b"."""

    yarn = models.ForeignKey(Yarn, on_delete=models.PROTECT, related_name="colours")
    name = models.CharField(_("colour"), max_length=80)
    code = models.CharField(_("number"), max_length=40, blank=True)
    hex_swatch = models.CharField(_("shade"), max_length=7, blank=True, validators=[HEX_COLOUR])
    gtin = models.CharField(_("barcode"), max_length=14, blank=True)
    notes = models.CharField(_("notes"), max_length=200, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("colour")
        verbose_name_plural = _("colours")
        ordering = (Lower("name"), "code", "pk")
        constraints = (
            models.UniqueConstraint(
                "yarn",
                Lower("name"),
                Lower("code"),
                name="colour_named_once",
                violation_error_message=_("This yarn has a colour of that name and number already."),
            ),
            models.UniqueConstraint(
                fields=("gtin",), condition=~models.Q(gtin=""), name="colour_barcode_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.yarn} {self.name}"


class SupplyKind(models.TextChoices):
    EYES = "eyes", _("safety eyes")
    FILLING = "filling", _("filling")
    BUTTON = "button", _("buttons")
    ZIP = "zip", _("zips")
    LABEL = "label", _("labels")
    PACKAGING = "packaging", _("packaging")
    OTHER = "other", _("other")


class Supply(models.Model):
    """Anything else that goes into a piece or round it. `counts_in`: mg for filling, else pieces."""

    kind = models.CharField(_("kind"), max_length=10, choices=SupplyKind.choices)
    maker = models.CharField(_("maker"), max_length=80, blank=True)
    name = models.CharField(_("name"), max_length=80)
    size = models.CharField(_("size"), max_length=40, blank=True)
    counts_in = models.CharField(_("counted"), max_length=2, choices=Unit.choices, default=Unit.PIECE)
    gtin = models.CharField(_("barcode"), max_length=14, blank=True)
    notes = models.CharField(_("notes"), max_length=200, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("supply")
        verbose_name_plural = _("supplies")
        ordering = ("kind", Lower("name"), "size", "pk")
        constraints = (
            models.UniqueConstraint(
                "kind",
                Lower("maker"),
                Lower("name"),
                Lower("size"),
                name="supply_named_once",
                violation_error_message=_("A supply of that maker, name and size is already here."),
            ),
            models.UniqueConstraint(
                fields=("gtin",), condition=~models.Q(gtin=""), name="supply_barcode_once"
            ),
        )

    def __str__(self) -> str:
        return " ".join(part for part in (self.maker, self.name, self.size) if part)
