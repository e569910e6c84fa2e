"""A fair: a date, a place, and what it costs to stand there."""

from datetime import date

from django.core.validators import MaxValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from orders.models.rates import WHOLE_BP


class Fair(models.Model):
    """One fair. Dates are local dates of the workroom; money in minor units, times in minutes.

    `open_minutes`: the stall is open; `away_minutes`: travel, setting up and packing.
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
