"""A piece that is made to be sold: from a published pattern and size, or of one's own head."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from patterns.models import Revision
from yarns.amounts import Amount, Unit
from yarns.models import Colour, Supply

MOST_MINUTES = 60_000
"""A thousand hours: more than that in one piece is a slip of the pen."""


class Piece(models.Model):
    """What is made and sold again and again. `minutes`: at the hook and sewing up, for one.

    `revision` and `size_key` are empty for a design entered by hand. `price_minor`: the price on
    the tag, None until one is chosen. `version` counts the edits, so that two people who edit are told apart.
    """

    title = models.CharField(_("name of the piece"), max_length=120)
    revision = models.ForeignKey(
        Revision, on_delete=models.PROTECT, null=True, blank=True, related_name="pieces"
    )
    size_key = models.CharField(max_length=20, blank=True)
    minutes = models.PositiveIntegerField(
        _("time for one"), validators=[MinValueValidator(1), MaxValueValidator(MOST_MINUTES)]
    )
    notes = models.TextField(_("notes"), blank=True, max_length=4_000)
    price_minor = models.PositiveIntegerField(_("price on the tag"), null=True, blank=True)
    active = models.BooleanField(_("still made"), default=True)
    version = models.PositiveIntegerField(default=1)
    key = models.UUIDField(unique=True)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name = _("piece")
        verbose_name_plural = _("pieces")
        ordering = ("-active", Lower("title"), "pk")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(minutes__range=(1, MOST_MINUTES)), name="piece_takes_time"
            ),
            models.CheckConstraint(
                condition=models.Q(revision__isnull=False) | models.Q(size_key=""),
                name="piece_size_is_of_a_pattern",
            ),
        )

    def __str__(self) -> str:
        return self.title


class PieceYarn(models.Model):
    """One yarn of a piece. `part_key`: the pattern's letter ("MC"), stable; `colour`: None until chosen.

    `mass_mg`: what one piece uses, for the cost. `reserve_mg`: what to have at hand for one, never
    less, so that the yarn does not run out within a dye lot. `from_pattern`: the masses are the
    pattern's estimate and nobody has weighed a piece yet.
    """

    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="yarns")
    part_key = models.CharField(max_length=8)
    label = models.CharField(_("part"), max_length=80, blank=True)
    colour = models.ForeignKey(Colour, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    mass_mg = models.PositiveIntegerField(_("yarn for one"))
    reserve_mg = models.PositiveIntegerField(_("yarn to have at hand for one"))
    from_pattern = models.BooleanField(default=False)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("piece", "part_key"), name="part_once_a_piece"),
            models.CheckConstraint(condition=models.Q(mass_mg__gt=0), name="part_takes_yarn"),
            models.CheckConstraint(
                condition=models.Q(reserve_mg__gte=models.F("mass_mg")),
                name="part_reserves_what_it_takes",
            ),
        )

    def __str__(self) -> str:
        return self.label or self.part_key

    @property
    def amount(self) -> Amount:
        return Amount(self.mass_mg, Unit.MILLIGRAM)


class ExtraKind(models.TextChoices):
    NOTION = "notion", _("notion")
    FILLING = "filling", _("filling")
    PACKAGING = "packaging", _("packaging")


class PieceExtra(models.Model):
    """What goes in or round a piece besides yarn.

    `quantity` for one piece, in `unit` (pieces or mg). `price_minor`: of one, or of 1 kg where it
    is weighed; None where it comes from the `supply` on the shelf at its own cost.
    """

    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="extras")
    kind = models.CharField(_("what it is"), max_length=9, choices=ExtraKind.choices)
    label = models.CharField(_("name"), max_length=80)
    supply = models.ForeignKey(Supply, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.PIECE)
    quantity = models.PositiveIntegerField(_("how much for one"))
    price_minor = models.PositiveIntegerField(_("price"), null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (models.CheckConstraint(condition=models.Q(quantity__gt=0), name="extra_is_some"),)

    def __str__(self) -> str:
        return self.label

    @property
    def amount(self) -> Amount:
        return Amount(self.quantity, Unit(self.unit))
