"""A stocktake: what was found on the shelf, beside what the book said at that moment."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from yarns.amounts import Amount, Unit
from yarns.models.catalogue import Place
from yarns.models.stock import Lot


class StocktakeState(models.TextChoices):
    OPEN = "open", _("being counted")
    POSTED = "posted", _("posted")
    DROPPED = "dropped", _("given up")


class Stocktake(models.Model):
    """One counting of the whole shelf (`everywhere`) or of some places. `key`: sent twice, it begins once."""

    everywhere = models.BooleanField(default=True)
    places = models.ManyToManyField(Place, blank=True)
    state = models.CharField(max_length=8, choices=StocktakeState.choices, default=StocktakeState.OPEN)
    started_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    started_at = models.DateTimeField()
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+"
    )
    closed_at = models.DateTimeField(null=True)
    key = models.CharField(max_length=64, unique=True)

    class Meta:
        verbose_name = _("stocktake")
        verbose_name_plural = _("stocktakes")
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{_('stocktake')} {self.pk}"

    @property
    def is_open(self) -> bool:
        return self.state == StocktakeState.OPEN


class CountedLot(models.Model):
    """What was found of one lot, in its unit. `book`: the balance at the instant of counting, so that what
    moves afterwards is no difference. `weighed_mg`: the part of `found` that a scale gave. `place`: where it
    lay. `posted`: its difference stands in the book.
    """

    stocktake = models.ForeignKey(Stocktake, on_delete=models.PROTECT, related_name="counted", db_index=False)
    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="+")
    found = models.BigIntegerField()
    book = models.BigIntegerField()
    weighed_mg = models.BigIntegerField(default=0)
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    counted_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    counted_at = models.DateTimeField()
    posted = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("counted lot")
        verbose_name_plural = _("counted lots")
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("stocktake", "lot"), name="lot_counted_once_a_stocktake"),
            models.CheckConstraint(
                condition=models.Q(found__gte=0, book__gte=0), name="count_not_below_nought"
            ),
        )

    def __str__(self) -> str:
        return f"{self.lot}: {self.found_amount}"

    @property
    def found_amount(self) -> Amount:
        return Amount(self.found, Unit(self.lot.unit))

    @property
    def book_amount(self) -> Amount:
        return Amount(self.book, Unit(self.lot.unit))

    @property
    def difference(self) -> Amount:
        """What was found beyond the book, negative where it was less."""
        return Amount(self.found - self.book, Unit(self.lot.unit))
