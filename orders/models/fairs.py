"""A fair: a date, a place, and what it costs to stand there."""

from datetime import date

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from orders.models.pieces import Piece
from orders.models.rates import WHOLE_BP


class Fair(models.Model):
    """One fair. Dates are local dates of the workroom; money in minor units, times in minutes.

    `open_minutes`: the stall is open; `away_minutes`: travel, setting up and packing.
    `busy_pc`: 100 for an ordinary fair, more for a busier one, 50 for a wet one: it scales demand.
    `float_minor`: coins and notes in the box before the first sale, no cost.
    """

    name = models.CharField(_("fair"), max_length=120)
    place = models.CharField(_("place"), max_length=120, blank=True)
    starts_on = models.DateField(_("first day"))
    ends_on = models.DateField(_("last day"))
    apply_by = models.DateField(_("apply by"), null=True, blank=True)
    stall_fee_minor = models.PositiveIntegerField(_("stall fee"), default=0)
    commission_bp = models.PositiveIntegerField(
        _("organiser's share of takings"), default=0, validators=[MaxValueValidator(WHOLE_BP - 1)]
    )
    travel_minor = models.PositiveIntegerField(_("travel"), default=0)
    other_minor = models.PositiveIntegerField(_("parking, food and the rest"), default=0)
    open_minutes = models.PositiveIntegerField(_("time open"), default=0)
    away_minutes = models.PositiveIntegerField(_("travel, setting up, packing"), default=0)
    float_minor = models.PositiveIntegerField(_("float"), default=0)
    busy_pc = models.PositiveSmallIntegerField(
        _("how busy"),
        default=100,
        validators=[MinValueValidator(10), MaxValueValidator(500)],
    )
    notes = models.TextField(_("notes"), blank=True, max_length=4_000)
    version = models.PositiveIntegerField(default=1)
    key = models.UUIDField(unique=True)

    class Meta:
        verbose_name = _("fair")
        verbose_name_plural = _("fairs")
        ordering = ("starts_on", "pk")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(ends_on__gte=models.F("starts_on")),
                name="fair_ends_after_it_starts",
            ),
        )

    def __str__(self) -> str:
        return self.name

    @property
    def fixed_minor(self) -> int:
        """What the fair costs whatever is sold."""
        return self.stall_fee_minor + self.travel_minor + self.other_minor

    def is_past(self, today: date) -> bool:
        return self.ends_on < today


class Keeps(models.IntegerChoices):
    """What a left-over is worth, per cent of its cost. The figures are the house's own."""

    NEARLY_ALL = 95, _("nearly all: it keeps for the next fair")
    HALF = 50, _("about half")
    LITTLE = 10, _("little: it is of the season")


class Expectation(models.Model):
    """What the seller expects of a piece before fairs have taught anything: pieces at an ordinary fair and
    at a very good one (nine in ten sell less).
    """

    piece = models.OneToOneField(Piece, on_delete=models.CASCADE, related_name="expectation")
    ordinary = models.PositiveSmallIntegerField(_("at an ordinary fair"))
    very_good = models.PositiveSmallIntegerField(_("at a very good fair"))
    keeps_pc = models.PositiveSmallIntegerField(
        _("a left-over is worth"), choices=Keeps.choices, default=Keeps.NEARLY_ALL
    )

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(ordinary__gt=0, very_good__gt=models.F("ordinary")),
                name="a_very_good_fair_sells_more",
            ),
        )

    def __str__(self) -> str:
        return f"{self.piece}: {self.ordinary}, {self.very_good}"


class FairResult(models.Model):
    """How many of a piece were brought to a fair and sold there. All sold: at least so many were wanted."""

    fair = models.ForeignKey(Fair, on_delete=models.PROTECT, related_name="results")
    piece = models.ForeignKey(Piece, on_delete=models.PROTECT, related_name="results")
    brought = models.PositiveSmallIntegerField(_("brought"))
    sold = models.PositiveSmallIntegerField(_("sold"))

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("fair", "piece"), name="result_once_a_fair"),
            models.CheckConstraint(
                condition=models.Q(brought__gte=models.F("sold"), brought__gt=0),
                name="no_more_sold_than_brought",
            ),
        )

    def __str__(self) -> str:
        return f"{self.piece}: {self.sold} of {self.brought}"

    @property
    def sold_out(self) -> bool:
        return self.sold == self.brought
