"""The stock book: lots, their movements, and what is promised of them.

Only `yarns.ledger` writes here. Movements and label codes are added and never changed.
"""

from fractions import Fraction
from typing import Any

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from yarns.amounts import Amount, Unit
from yarns.models.catalogue import Colour, Place, Supplier, Supply


class LabelCode(models.Model):
    """Every label code ever given out. Rows stay when the thing is gone, so no code comes twice."""

    code = models.CharField(primary_key=True, max_length=8)
    kind = models.CharField(max_length=12)
    given_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.code


class Parcel(models.Model):
    """What came in one delivery. `postage_minor` is shared out over its lots when it is closed.

    `purchase`: the order that it answers, where there is one.
    """

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, null=True, blank=True)
    received_on = models.DateField(_("received on"))
    slip_number = models.CharField(_("number on the slip"), max_length=40, blank=True)
    postage_minor = models.PositiveIntegerField(_("postage"), default=0)
    opened_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    opened_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)
    key = models.CharField(max_length=64, unique=True)
    purchase = models.ForeignKey(
        "yarns.Purchase", on_delete=models.SET_NULL, null=True, blank=True, related_name="parcels"
    )

    class Meta:
        verbose_name = _("parcel")
        verbose_name_plural = _("parcels")
        ordering = ("-received_on", "-pk")

    def __str__(self) -> str:
        return f"{self.supplier or ''} {self.slip_number or self.received_on}".strip()


class Ownership(models.TextChoices):
    OURS = "ours", _("ours")
    CUSTOMER = "customer", _("a customer's own")


class SetAside(models.TextChoices):
    """Why a lot lies apart: it is on hand, but nobody should plan with it."""

    NO = "", _("no")
    MOTH = "moth", _("moth")
    DAMP = "damp", _("damp or mould")
    WAITING = "waiting", _("waiting, not looked through yet")
    OTHER = "other", _("another reason")


class Lot(models.Model):
    """One colour and dye lot (or one supply and its maker's lot) as it came in.

    `balance`, `promised`, `received`: in `unit` (mg or pieces), kept by the ledger alone.
    `price_paid_minor`: for the whole lot, None where nobody knows; `postage_share_minor`: its part
    of the parcel's postage. `tare_mg`: the empty cone or bag. `dye_lot`: as printed, for a
    supply the maker's lot number. What stands from `shelf_name` on is copied from the
    things it is made of, for sorting, finding and adding up, and written by `yarns.shelving`.
    `um_per_g`: length by weight, micrometres.
    """

    code = models.CharField(max_length=8, unique=True)
    colour = models.ForeignKey(Colour, on_delete=models.PROTECT, null=True, blank=True, related_name="lots")
    supply = models.ForeignKey(Supply, on_delete=models.PROTECT, null=True, blank=True, related_name="lots")
    unit = models.CharField(max_length=2, choices=Unit.choices)
    dye_lot = models.CharField(_("dye lot"), max_length=40, blank=True)
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, null=True, blank=True)
    parcel = models.ForeignKey(Parcel, on_delete=models.PROTECT, null=True, blank=True, related_name="lots")
    purchase_line = models.ForeignKey(
        "yarns.PurchaseLine", on_delete=models.SET_NULL, null=True, blank=True, related_name="lots"
    )
    place = models.ForeignKey(
        Place,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="lots",
        db_index=False,
    )
    received_on = models.DateField(_("received on"))
    received = models.BigIntegerField()
    price_paid_minor = models.PositiveIntegerField(_("price paid"), null=True, blank=True)
    postage_share_minor = models.PositiveIntegerField(_("share of postage"), default=0)
    ownership = models.CharField(
        _("whose it is"), max_length=8, choices=Ownership.choices, default=Ownership.OURS
    )
    owner_note = models.CharField(_("whose, and for what"), max_length=80, blank=True)
    hand_dyed = models.BooleanField(_("hand-dyed"), default=False)
    second_hand = models.BooleanField(_("second-hand"), default=False)
    no_band = models.BooleanField(_("no ball band"), default=False)
    set_aside = models.CharField(
        _("set aside"), max_length=8, choices=SetAside.choices, default=SetAside.NO, blank=True
    )
    tare_mg = models.PositiveIntegerField(_("empty cone or bag"), default=0)
    photo_key = models.CharField(max_length=120, blank=True)
    notes = models.CharField(_("notes"), max_length=200, blank=True)
    balance = models.BigIntegerField(default=0)
    promised = models.BigIntegerField(default=0)
    shelf_name = models.CharField(max_length=220)
    search_text = models.TextField()
    weight_category = models.PositiveSmallIntegerField(null=True, editable=False)
    um_per_g = models.BigIntegerField(null=True, editable=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("lot")
        verbose_name_plural = _("lots")
        ordering = ("shelf_name", "pk")
        indexes = (
            models.Index(fields=("shelf_name", "id"), name="lot_by_name"),
            models.Index(fields=("received_on", "id"), name="lot_by_received"),
            models.Index(fields=("balance", "id"), name="lot_by_balance"),
            models.Index(fields=("place", "shelf_name", "id"), name="lot_by_place"),
            models.Index(
                fields=(
                    "place",
                    "weight_category",
                    "balance",
                    "promised",
                    "um_per_g",
                    "price_paid_minor",
                    "postage_share_minor",
                    "received",
                    "ownership",
                    "set_aside",
                    "supply",
                ),
                condition=models.Q(balance__gt=0),
                name="lot_totals",
            ),
        )
        constraints = (
            models.CheckConstraint(
                condition=models.Q(colour__isnull=False, supply__isnull=True)
                | models.Q(colour__isnull=True, supply__isnull=False),
                name="lot_of_one_thing",
            ),
            models.CheckConstraint(condition=models.Q(promised__gte=0), name="lot_promised_not_below_nought"),
            models.CheckConstraint(
                condition=models.Q(balance__gte=models.F("promised")),
                name="lot_promises_can_be_kept",
            ),
            models.CheckConstraint(condition=models.Q(received__gt=0), name="lot_came_with_some"),
            models.CheckConstraint(
                condition=models.Q(ownership=Ownership.OURS)
                | models.Q(price_paid_minor__isnull=True, postage_share_minor=0),
                name="lot_of_a_customer_costs_nothing",
            ),
        )

    def __str__(self) -> str:
        return f"{self.thing} {self.dye_lot}".strip()

    @property
    def thing(self) -> Colour | Supply:
        """What lies there."""
        found = self.colour or self.supply
        if found is None:
            raise ValueError("A lot is of a colour or of a supply.")
        return found

    @property
    def on_hand(self) -> Amount:
        return Amount(self.balance, Unit(self.unit))

    @property
    def came_in(self) -> Amount:
        """What was received."""
        return Amount(self.received, Unit(self.unit))

    @property
    def set_apart(self) -> Amount:
        """What is promised to somebody."""
        return Amount(self.promised, Unit(self.unit))

    @property
    def free(self) -> Amount:
        return Amount(self.balance - self.promised, Unit(self.unit))

    @property
    def cost_minor(self) -> int | None:
        """Price and postage of the whole lot; None where the price is not known."""
        if self.price_paid_minor is None:
            return None
        return self.price_paid_minor + self.postage_share_minor

    @property
    def unit_cost_minor(self) -> Fraction | None:
        """Minor units per mg or per piece; None where the price is not known."""
        cost = self.cost_minor
        return None if cost is None else Fraction(cost, self.received)


class PurposeKind(models.TextChoices):
    """What stock goes to. The key beside it is the other room's own; nothing here follows it."""

    NONE = "", _("nothing in particular")
    BATCH = "batch", _("batch")
    ORDER = "order", _("order")
    SAMPLE = "sample", _("sample")
    SWATCH = "swatch", _("swatch")
    LESSON = "lesson", _("lesson")
    OTHER = "other", _("something else")


class PromiseState(models.TextChoices):
    OPEN = "open", _("open")
    KEPT = "kept", _("kept")
    RELEASED = "released", _("released")


class Promise(models.Model):
    """Part of a lot spoken for. `amount` = `issued` + `released` + `outstanding`, in the lot's unit."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="promises", db_index=False)
    amount = models.BigIntegerField()
    outstanding = models.BigIntegerField()
    issued = models.BigIntegerField(default=0)
    released = models.BigIntegerField(default=0)
    state = models.CharField(max_length=8, choices=PromiseState.choices, default=PromiseState.OPEN)
    purpose_kind = models.CharField(max_length=8, choices=PurposeKind.choices, blank=True)
    purpose_key = models.CharField(max_length=60, blank=True)
    purpose_label = models.CharField(max_length=120, blank=True)
    why = models.CharField(max_length=200, blank=True)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", db_index=False
    )
    made_at = models.DateTimeField()
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        related_name="+",
        db_index=False,
    )
    closed_at = models.DateTimeField(null=True)
    close_why = models.CharField(max_length=200, blank=True)
    key = models.CharField(max_length=80, unique=True)

    class Meta:
        verbose_name = _("promise")
        verbose_name_plural = _("promises")
        ordering = ("pk",)
        indexes = (
            models.Index(fields=("lot", "state"), name="promise_by_lot"),
            models.Index(fields=("purpose_kind", "purpose_key"), name="promise_by_purpose"),
        )
        constraints = (
            models.CheckConstraint(
                condition=models.Q(amount__gt=0, outstanding__gte=0, issued__gte=0, released__gte=0),
                name="promise_not_below_nought",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    amount=models.F("outstanding") + models.F("issued") + models.F("released")
                ),
                name="promise_adds_up",
            ),
        )

    def __str__(self) -> str:
        return f"{self.lot_id}: {self.amount}"

    @property
    def waiting(self) -> Amount:
        """What is still to be issued."""
        return Amount(self.outstanding, Unit(self.lot.unit))


class MovementKind(models.TextChoices):
    RECEIVED = "received", _("received")
    ISSUED = "issued", _("issued")
    WEIGHED = "weighed", _("weighed")
    RETURNED = "returned", _("returned")
    CORRECTED = "corrected", _("corrected")
    WRITTEN_OFF = "written off", _("written off")
    STOCKTAKE = "stocktake", _("stocktake difference")
    UNDONE = "undone", _("undone")


class OnlyAdded(models.QuerySet["Movement"]):
    """The book is only added to: what went wrong is undone by a counter-movement."""

    def update(self, **kwargs: Any) -> int:
        raise TypeError("A movement is never changed. Undo it by a counter-movement.")

    def delete(self) -> tuple[int, dict[str, int]]:
        raise TypeError("A movement is never deleted. Undo it by a counter-movement.")


class Movement(models.Model):
    """One line of the stock book. `delta`, `balance_after`: in the lot's unit.

    `promise_delta`: how the lot's promised part changed with it. `scale_step_mg`, `tare_mg`: for
    a weighing, the scale's smallest step and what was taken off.
    """

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="movements", db_index=False)
    kind = models.CharField(max_length=12, choices=MovementKind.choices)
    delta = models.BigIntegerField()
    balance_after = models.BigIntegerField()
    promise = models.ForeignKey(Promise, on_delete=models.PROTECT, null=True, related_name="movements")
    promise_delta = models.BigIntegerField(default=0)
    undoes = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, related_name="undone_by", db_index=False
    )
    purpose_kind = models.CharField(max_length=8, choices=PurposeKind.choices, blank=True)
    purpose_key = models.CharField(max_length=60, blank=True)
    purpose_label = models.CharField(max_length=120, blank=True)
    why = models.CharField(max_length=200, blank=True)
    scale_step_mg = models.PositiveIntegerField(null=True)
    tare_mg = models.PositiveIntegerField(null=True)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", db_index=False
    )
    at = models.DateTimeField()
    key = models.CharField(max_length=80, unique=True)

    is_undone = False
    """Set by `yarns.selectors.mark_undone`; not kept, since a movement is never changed."""

    objects = models.Manager.from_queryset(OnlyAdded)()

    class Meta:
        verbose_name = _("movement")
        verbose_name_plural = _("movements")
        ordering = ("pk",)
        indexes = (
            models.Index(fields=("lot", "id"), name="movement_by_lot"),
            models.Index(fields=("purpose_kind", "purpose_key"), name="movement_by_purpose"),
        )
        constraints = (
            # Only over the rows that undo something: a plain unique index would be all nulls, and
            # SQLite, once analysed, would rather read the whole book than use it.
            models.UniqueConstraint(
                fields=("undoes",),
                condition=models.Q(undoes__isnull=False),
                name="movement_undone_once",
            ),
            models.CheckConstraint(condition=models.Q(balance_after__gte=0), name="movement_leaves_no_debt"),
            models.CheckConstraint(
                condition=models.Q(kind__in=("received", "returned"), delta__gt=0)
                | models.Q(kind__in=("issued", "written off"), delta__lt=0)
                | models.Q(kind__in=("weighed", "stocktake", "corrected", "undone")),
                name="movement_goes_the_right_way",
            ),
            models.CheckConstraint(
                condition=models.Q(kind="undone", undoes__isnull=False)
                | (~models.Q(kind="undone") & models.Q(undoes__isnull=True)),
                name="movement_undone_names_what",
            ),
        )

    def __str__(self) -> str:
        return f"{self.lot_id} {self.kind} {self.delta}"
