"""Rows of the reviews: frozen drafts, who reads them, what they say and measure.

Numbers are integers: mg, mm, minutes; hooks in micrometres and swatches in tenths of a stitch to
100 mm, as in the pattern's own row.
"""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from workroom.media import widths_for


class ReviewRole(models.TextChoices):
    """What a reviewer was asked to do."""

    TESTER = "tester", _("Tester: makes one piece")
    EDITOR = "editor", _("Technical editor: reads line by line")


class RemarkKind(models.TextChoices):
    """What a remark is about, in the words of the trade."""

    UNCLEAR = "unclear", _("I don't understand it")
    COUNT = "count", _("The count is wrong")
    WORDS = "words", _("Spelling or style")
    OTHER = "other", _("Something else")


class RemarkState(models.TextChoices):
    """What the designer did with a remark."""

    OPEN = "open", _("open")
    ANSWERED = "answered", _("answered")
    ASIDE = "aside", _("set aside")
    TAKEN = "taken", _("taken in")


class DraftCopy(models.Model):
    """A draft frozen for its readers, never changed. JSON as in a `Revision`; `sheet`: see `copies`.

    `number`: saves of the instructions and of the facts; a letter tells apart what else has changed.
    """

    pattern = models.ForeignKey("Pattern", on_delete=models.CASCADE, related_name="draft_copies")
    number = models.CharField(max_length=40)
    digest = models.CharField(max_length=64)
    title = models.CharField(max_length=300)
    text = models.TextField(blank=True)
    text_edit = models.PositiveIntegerField()
    facts = models.JSONField()
    rounds = models.JSONField()
    estimate = models.JSONField()
    sheet = models.JSONField()
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("pattern", "number"), name="draft_copy_number_once"),
            models.UniqueConstraint(fields=("pattern", "digest"), name="draft_copy_once"),
        )

    def __str__(self) -> str:
        return f"{self.title} {self.number}"


class Review(models.Model):
    """One person who reads one draft by a link. Only hashes of the link and of its browser are kept.

    `link_digest` None: the link was taken back. `browser_digest` "": not opened yet.
    """

    pattern = models.ForeignKey("Pattern", on_delete=models.CASCADE, related_name="reviews")
    copy = models.ForeignKey(DraftCopy, on_delete=models.PROTECT, related_name="reviews")
    earlier_copy = models.ForeignKey(
        DraftCopy, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    role = models.CharField(_("role"), max_length=8, choices=ReviewRole)
    name = models.CharField(_("name or nick"), max_length=80)
    email = models.EmailField(_("e-mail"), blank=True, max_length=254)
    contact = models.CharField(_("how you reach them"), max_length=200, blank=True)
    size_key = models.CharField(_("size"), max_length=20, blank=True)
    due_on = models.DateField(_("due"), null=True, blank=True)
    link_digest = models.CharField(max_length=64, unique=True, null=True, blank=True)
    browser_digest = models.CharField(max_length=64, blank=True)
    invited_at = models.DateTimeField(auto_now_add=True)
    invited_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    link_made_at = models.DateTimeField()
    opened_at = models.DateTimeField(null=True, blank=True)
    seen_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("invited_at", "pk")

    def __str__(self) -> str:
        return self.name

    @property
    def is_tester(self) -> bool:
        return self.role == ReviewRole.TESTER

    @property
    def is_open(self) -> bool:
        """Whether its link still lets somebody read."""
        return self.closed_at is None and self.link_digest is not None


class ReaderRemark(models.Model):
    """What a reader says of one line, or (line 0) of the whole.

    `line` from 1 in the text of `copy`; `words`: that line as it stood there. `undo_words`: the line that
    a taken-in wording replaced. `form_key`: a form that is sent twice counts once.
    """

    review = models.ForeignKey(Review, on_delete=models.CASCADE, related_name="remarks")
    copy = models.ForeignKey(DraftCopy, on_delete=models.PROTECT, related_name="+")
    form_key = models.UUIDField()
    line = models.PositiveIntegerField(default=0)
    words = models.TextField(blank=True)
    kind = models.CharField(max_length=8, choices=RemarkKind, default=RemarkKind.UNCLEAR)
    says = models.TextField(_("remark"))
    wording = models.TextField(_("better wording"), blank=True)
    written_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    state = models.CharField(max_length=8, choices=RemarkState, default=RemarkState.OPEN)
    answer = models.TextField(_("answer"), blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    put_in = models.TextField(blank=True)
    undo_words = models.TextField(blank=True)

    class Meta:
        ordering = ("line", "written_at", "pk")
        constraints = (models.UniqueConstraint(fields=("review", "form_key"), name="reader_remark_once"),)

    def __str__(self) -> str:
        return self.says


class TesterReport(models.Model):
    """What a tester measured. `typed`: every field as it was typed, kept whether or not it can be read.

    The other columns hold what was read when the report was last sent (`sent_at`; None: not yet).
    Hook in micrometres, swatch in tenths of a stitch and of a row to 100 mm.
    """

    review = models.OneToOneField(Review, on_delete=models.CASCADE, related_name="report")
    typed = models.JSONField(default=dict)
    kept_at = models.DateTimeField(auto_now=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    size_key = models.CharField(max_length=20, blank=True)
    hook_um = models.PositiveIntegerField(null=True, blank=True)
    swatch_stitches_tenths = models.PositiveIntegerField(null=True, blank=True)
    swatch_rows_tenths = models.PositiveIntegerField(null=True, blank=True)
    swatch_washed = models.BooleanField(null=True, blank=True)
    minutes = models.PositiveIntegerField(null=True, blank=True)
    measured_blocked = models.BooleanField(null=True, blank=True)
    changed = models.TextField(blank=True)
    would_change = models.TextField(blank=True)
    liked = models.TextField(blank=True)

    def __str__(self) -> str:
        return str(self.review)


class ReportYarn(models.Model):
    """Yarn that a tester used for one of the pattern's letters, weighed before and after."""

    report = models.ForeignKey(TesterReport, on_delete=models.CASCADE, related_name="yarns")
    key = models.CharField(max_length=8)
    name = models.CharField(max_length=120, blank=True)
    before_mg = models.PositiveIntegerField(null=True, blank=True)
    after_mg = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("report", "key"), name="report_yarn_once"),
            models.CheckConstraint(
                condition=models.Q(before_mg=None)
                | models.Q(after_mg=None)
                | models.Q(after_mg__lte=models.F("before_mg")),
                name="no_yarn_grows",
            ),
        )

    def __str__(self) -> str:
        return f"{self.key}: {self.name}"

    @property
    def used_mg(self) -> int | None:
        if self.before_mg is None or self.after_mg is None:
            return None
        return self.before_mg - self.after_mg


class ReportMeasure(models.Model):
    """One measurement of the finished piece."""

    report = models.ForeignKey(TesterReport, on_delete=models.CASCADE, related_name="measures")
    name = models.CharField(max_length=80)
    length_mm = models.PositiveIntegerField()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.name


class ReportPhoto(models.Model):
    """A photo that a tester sent, in the photo store under `digest`. Never public."""

    report = models.ForeignKey(TesterReport, on_delete=models.CASCADE, related_name="photos")
    digest = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()

    class Meta:
        ordering = ("pk",)
        constraints = (models.UniqueConstraint(fields=("report", "digest"), name="report_photo_once"),)

    def __str__(self) -> str:
        return self.digest

    @property
    def smallest(self) -> str:
        """Width in pixels of the smallest copy, for an address."""
        return str(widths_for(self.width)[0])
