"""What an hour, a sale and a rest are worth to this workroom. Only owner and seller see it."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

WHOLE_BP = 10_000
"""A whole, in basis points (hundredths of a per cent)."""


class Ending(models.TextChoices):
    """How a price worked out is rounded up to one that goes on a tag."""

    EXACT = "exact", _("to the smallest coin")
    FIVE_CENTS = "0.05", _("up to the next 0.05")
    HALF = "half", _("up to the next half")
    WHOLE = "whole", _("up to the next whole")
    FIVE = "five", _("up to the next five")
    CHARM_95 = "0.95", _("up to the next price ending in .95")
    CHARM_99 = "0.99", _("up to the next price ending in .99")


class Tax(models.TextChoices):
    NONE = "none", _("none")
    INSIDE = "inside", _("inside the price on the tag")
    ADDED = "added", _("added at the till")


class WorkroomRates(models.Model):
    """One row. Money in minor units, shares in basis points (1 % = 100), times in minutes."""

    wage_per_hour_minor = models.PositiveIntegerField(_("your pay for an hour of work"))
    overhead_per_hour_minor = models.PositiveIntegerField(_("overhead for an hour of work"), default=0)
    margin_bp = models.PositiveIntegerField(
        _("margin"), default=4_000, validators=[MaxValueValidator(WHOLE_BP - 1)]
    )
    card_rate_bp = models.PositiveIntegerField(
        _("card fee"), default=0, validators=[MaxValueValidator(WHOLE_BP - 1)]
    )
    card_fixed_minor = models.PositiveIntegerField(_("card fee, fixed part of a sale"), default=0)
    tax = models.CharField(_("sales tax"), max_length=6, choices=Tax.choices, default=Tax.NONE)
    tax_bp = models.PositiveIntegerField(_("tax rate"), default=0, validators=[MaxValueValidator(WHOLE_BP)])
    ending = models.CharField(_("round prices"), max_length=6, choices=Ending.choices, default=Ending.EXACT)
    yarn_waste_bp = models.PositiveIntegerField(
        _("yarn lost in ends and slips"), default=0, validators=[MaxValueValidator(WHOLE_BP)]
    )
    session_minutes = models.PositiveSmallIntegerField(
        _("minutes at the hook before a break"),
        default=30,
        validators=[MinValueValidator(5), MaxValueValidator(240)],
    )
    break_minutes = models.PositiveSmallIntegerField(
        _("minutes of break"), default=10, validators=[MinValueValidator(1), MaxValueValidator(120)]
    )
    day_minutes = models.PositiveSmallIntegerField(
        _("most minutes at the hook in a day"),
        default=180,
        validators=[MinValueValidator(10), MaxValueValidator(1_440)],
    )
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("rates of the workroom")
        constraints = (
            models.CheckConstraint(condition=models.Q(pk=1), name="one_set_of_rates"),
            models.CheckConstraint(
                condition=models.Q(margin_bp__lt=WHOLE_BP), name="margin_below_the_whole_price"
            ),
        )

    def __str__(self) -> str:
        return str(_("rates of the workroom"))
