"""A batch: twelve of these by the fourteenth, the yarn reserved for it, and the hours it took."""

from datetime import datetime

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from orders.models.fairs import Fair
from orders.models.pieces import Piece
from yarns.models import Promise

MOST_PIECES = 2_000
"""More in one batch is a slip of the pen for a workroom of one to three people."""


class BatchState(models.TextChoices):
    PLANNED = "planned", _("planned")
    STARTED = "started", _("started")
    FINISHED = "finished", _("finished")
    CANCELLED = "cancelled", _("cancelled")


class Batch(models.Model):
    """`quantity` pieces of one kind. `code` is its label for ever.

    `made`: good ones; `seconds`: sold at less; `scrapped`: not sold. `covered`: pieces that yarn
    is reserved or taken for. `minutes_each` and `piece_title` are copies taken at the start, so that a later
    edit of the piece does not change what this batch was planned on.
    """

    code = models.CharField(max_length=8, unique=True)
    piece = models.ForeignKey(Piece, on_delete=models.PROTECT, related_name="batches")
    quantity = models.PositiveIntegerField(
        _("how many"), validators=[MinValueValidator(1), MaxValueValidator(MOST_PIECES)]
    )
    due_on = models.DateField(_("ready by"), null=True, blank=True)
    fair = models.ForeignKey(Fair, on_delete=models.PROTECT, null=True, blank=True, related_name="batches")
    may_mix = models.BooleanField(_("dye lots may meet in one piece"), default=False)
    note = models.CharField(_("note"), max_length=300, blank=True)
    state = models.CharField(max_length=9, choices=BatchState.choices, default=BatchState.PLANNED)
    minutes_each = models.PositiveIntegerField(null=True)
    covered = models.PositiveIntegerField(default=0)
    made = models.PositiveIntegerField(_("good ones"), default=0)
    seconds = models.PositiveIntegerField(_("seconds"), default=0)
    scrapped = models.PositiveIntegerField(_("scrapped"), default=0)
    key = models.UUIDField(unique=True)
    version = models.PositiveIntegerField(default=1)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)
    started_at = models.DateTimeField(null=True)
    started_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+"
    )
    closed_at = models.DateTimeField(null=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+"
    )

    class Meta:
        verbose_name = _("batch")
        verbose_name_plural = _("batches")
        ordering = (models.F("due_on").asc(nulls_last=True), "pk")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(quantity__range=(1, MOST_PIECES)), name="batch_has_a_size"
            ),
            models.CheckConstraint(condition=models.Q(state__in=BatchState.values), name="batch_state_known"),
            models.CheckConstraint(
                condition=models.Q(state=BatchState.FINISHED) | models.Q(made=0, seconds=0, scrapped=0),
                name="batch_counts_when_finished",
            ),
        )

    def __str__(self) -> str:
        return f"{self.quantity} × {self.piece}"

    @property
    def is_open(self) -> bool:
        return self.state in {BatchState.PLANNED, BatchState.STARTED}


class BatchAllocation(models.Model):
    """Stock of one lot spoken for by a batch. The promise's row (yarns) says how much of it is left.

    `part`: what it is for ("Brim, MC"), as it was called at the start.
    """

    batch = models.ForeignKey(Batch, on_delete=models.PROTECT, related_name="allocations")
    promise = models.OneToOneField(Promise, on_delete=models.PROTECT, related_name="+")
    part = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.part


class TimeEntry(models.Model):
    """Time at the hook. `pieces` None: time that was spent on the batch as a whole so far.

    A single timing names how many pieces it was for, mostly one.
    """

    batch = models.ForeignKey(
        Batch, on_delete=models.PROTECT, null=True, blank=True, related_name="time_entries"
    )
    piece = models.ForeignKey(Piece, on_delete=models.PROTECT, related_name="time_entries")
    minutes = models.PositiveIntegerField(_("time"), validators=[MinValueValidator(1)])
    pieces = models.PositiveSmallIntegerField(_("for how many"), null=True, blank=True)
    worked_on = models.DateField(_("on"))
    note = models.CharField(_("note"), max_length=200, blank=True)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    key = models.UUIDField(unique=True)
    entered_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name = _("time")
        verbose_name_plural = _("times")
        ordering = ("worked_on", "pk")
        constraints = (models.CheckConstraint(condition=models.Q(minutes__gt=0), name="time_is_some"),)

    def __str__(self) -> str:
        return f"{self.minutes} min"


class Timer(models.Model):
    """A person's timer, one at a time. `banked_seconds`: before the last pause; `running_since`: None while
    it is paused. `batch` is None where a piece is timed on its own.
    """

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="timer")
    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="+")
    batch = models.ForeignKey(Batch, on_delete=models.CASCADE, null=True, blank=True, related_name="timers")
    banked_seconds = models.PositiveIntegerField(default=0)
    running_since = models.DateTimeField(null=True)
    key = models.UUIDField(unique=True)

    class Meta:
        verbose_name = _("timer")
        verbose_name_plural = _("timers")

    def __str__(self) -> str:
        return f"{self.person}: {self.batch or self.piece}"

    @property
    def is_running(self) -> bool:
        return self.running_since is not None

    def seconds(self, now: datetime) -> int:
        """How long it has run, pauses left out. A clock that was set back takes nothing away."""
        if self.running_since is None:
            return self.banked_seconds
        return self.banked_seconds + max(0, int((now - self.running_since).total_seconds()))

    def minutes(self, now: datetime) -> int:
        """Whole minutes, rounded; at least one."""
        return max(1, round(self.seconds(now) / 60))

    def sitting_minutes(self, now: datetime) -> int:
        """Whole minutes since the last pause."""
        if self.running_since is None:
            return 0
        return max(0, int((now - self.running_since).total_seconds())) // 60
