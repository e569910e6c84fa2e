"""What is ordered from a supplier and on its way, and when a thing is to be ordered again."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from yarns.amounts import Amount, Unit
from yarns.models.catalogue import Colour, Supplier, Supply

_ONE_THING = models.Q(colour__isnull=False, supply__isnull=True) | models.Q(
    colour__isnull=True, supply__isnull=False
)


class PurchaseState(models.TextChoices):
    OPEN = "open", _("on its way")
    DONE = "done", _("all here or given up")


class Purchase(models.Model):
    """An order to a supplier. `key`: sent twice, it is ordered once."""

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="purchases")
    state = models.CharField(max_length=5, choices=PurchaseState.choices, default=PurchaseState.OPEN)
    reference = models.CharField(_("their order number"), max_length=60, blank=True)
    ordered_on = models.DateField(_("ordered on"))
    expected_on = models.DateField(_("expected on"), null=True, blank=True)
    notes = models.CharField(_("notes"), max_length=200, blank=True)
    ordered_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    key = models.CharField(max_length=64, unique=True)

    class Meta:
        verbose_name = _("order to a supplier")
        verbose_name_plural = _("orders to suppliers")
        ordering = ("-ordered_on", "-pk")

    def __str__(self) -> str:
        return f"{self.supplier} {self.reference or self.ordered_on}"


class PurchaseLine(models.Model):
    """So much of one thing. `amount`: mg or pieces. `price_minor`: for all of it, None where not known.

    `closed`: no more of it will come, though less came than was ordered. What came of it is the sum of
    the lots that point here.
    """

    purchase = models.ForeignKey(Purchase, on_delete=models.CASCADE, related_name="lines")
    colour = models.ForeignKey(Colour, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    supply = models.ForeignKey(Supply, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    unit = models.CharField(max_length=2, choices=Unit.choices)
    amount = models.BigIntegerField()
    price_minor = models.PositiveIntegerField(null=True, blank=True)
    closed = models.BooleanField(default=False)

    class Meta:
        verbose_name = _("ordered thing")
        verbose_name_plural = _("ordered things")
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(condition=_ONE_THING, name="purchase_line_of_one_thing"),
            models.CheckConstraint(condition=models.Q(amount__gt=0), name="purchase_line_of_some"),
            models.UniqueConstraint(
                fields=("purchase", "colour"),
                condition=models.Q(colour__isnull=False),
                name="colour_ordered_once_a_purchase",
            ),
            models.UniqueConstraint(
                fields=("purchase", "supply"),
                condition=models.Q(supply__isnull=False),
                name="supply_ordered_once_a_purchase",
            ),
        )

    def __str__(self) -> str:
        return f"{self.thing}: {self.ordered}"

    @property
    def thing(self) -> Colour | Supply:
        """What was ordered."""
        found = self.colour or self.supply
        if found is None:
            raise ValueError("An ordered thing is a colour or a supply.")
        return found

    @property
    def ordered(self) -> Amount:
        return Amount(self.amount, Unit(self.unit))


class RestockRule(models.Model):
    """What a person says of ordering a thing again. `minimum`: their own reorder point, mg or pieces;
    None: worked out from use. `never`: it is not ordered again.
    """

    colour = models.OneToOneField(
        Colour, on_delete=models.CASCADE, null=True, blank=True, related_name="restock_rule"
    )
    supply = models.OneToOneField(
        Supply, on_delete=models.CASCADE, null=True, blank=True, related_name="restock_rule"
    )
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    minimum = models.BigIntegerField(null=True, blank=True)
    never = models.BooleanField(default=False)

    class Meta:
        verbose_name = _("rule for ordering again")
        verbose_name_plural = _("rules for ordering again")
        constraints = (
            models.CheckConstraint(condition=_ONE_THING, name="restock_rule_of_one_thing"),
            models.CheckConstraint(
                condition=models.Q(minimum__isnull=True) | models.Q(minimum__gte=0),
                name="restock_minimum_not_below_nought",
            ),
        )

    def __str__(self) -> str:
        return str(self.colour or self.supply)
