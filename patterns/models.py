"""Rows of the patterns room.

A `Pattern` is what the designer works on; a `Revision` is what was published: frozen, read by
everything after it, never changed and never deleted. Text and facts carry a counter each, so that two
people who edit the same thing are told apart and nothing is overwritten unseen.
"""

from __future__ import annotations

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from patterns.reviews import models as review_models
from workroom.media import widths_for
from workroom.models import Terms

DraftCopy = review_models.DraftCopy
"""The rows of the reviews lie in a module of their own; Django looks for them from here."""

ONE_SIZE = "one"
"""Key of the size of a pattern that comes in one size."""


class Kind(models.TextChoices):
    """What the piece is. It decides which cautions are printed (`craft.standards.cautions`)."""

    HAT = "hat", _("Hat")
    GARMENT = "garment", _("Garment")
    SCARF = "scarf", _("Scarf or shawl")
    FOOTWEAR = "footwear", _("Socks or slippers")
    BAG = "bag", _("Bag or basket")
    KITCHEN = "kitchen", _("Coaster, trivet or pot holder")
    CANDLE = "candle", _("Candle mat or holder")
    BLANKET = "blanket", _("Blanket")
    HOME = "home", _("For the home")
    HANGING = "hanging", _("Hanging piece")
    TOY = "toy", _("Toy")
    SOOTHER_HOLDER = "soother-holder", _("Soother holder")
    JEWELLERY = "jewellery", _("Jewellery")
    OTHER = "other", _("Something else")


class Level(models.TextChoices):
    """Project levels of the Craft Yarn Council: they describe the stitches, not the person."""

    BASIC = "basic", _("Basic")
    EASY = "easy", _("Easy")
    INTERMEDIATE = "intermediate", _("Intermediate")
    COMPLEX = "complex", _("Complex")


class ChartSet(models.TextChoices):
    """The symbols of a chart, one set a chart: they differ in the single crochet."""

    CYC = "cyc", _("+ for single crochet (Craft Yarn Council)")
    JIS = "jis", _("× for single crochet (JIS L 0201)")


class Pattern(models.Model):
    """One design as it is being written. Lengths in mm, hook in micrometres, gauge in tenths.

    `form_key`: of the form that it came in by, so that a form that is sent twice makes it once.
    """

    slug = models.SlugField(_("address"), max_length=60, unique=True)
    title = models.CharField(_("title"), max_length=300)
    kind = models.CharField(_("kind of piece"), max_length=16, choices=Kind, default=Kind.OTHER)
    introduction = models.TextField(_("introduction"), blank=True)
    level = models.CharField(_("project level"), max_length=12, choices=Level, blank=True)
    skills = models.TextField(_("skills used"), blank=True)
    terms = models.CharField(_("terms"), max_length=2, choices=Terms, default=Terms.US)
    text = models.TextField(_("instructions"), blank=True)
    special_stitches = models.TextField(_("special stitches"), blank=True)
    notes = models.TextField(_("notes"), blank=True)
    finishing = models.TextField(_("finishing"), blank=True)
    care = models.TextField(_("care"), blank=True)
    licence = models.TextField(_("licence"), blank=True)
    cautions = models.TextField(_("cautions of your own"), blank=True)

    youngest_months = models.PositiveSmallIntegerField(
        _("age of the youngest it is made for"), null=True, blank=True
    )
    small_parts = models.BooleanField(_("small parts"), null=True, blank=True)
    stuffed = models.BooleanField(_("stuffed"), default=False)
    longest_cord_mm = models.PositiveIntegerField(_("longest cord or strap"), null=True, blank=True)
    load_tested_g = models.PositiveIntegerField(_("load it held"), null=True, blank=True)

    hook_um = models.PositiveIntegerField(_("hook"), null=True, blank=True)
    gauge_stitches_tenths = models.PositiveIntegerField(null=True, blank=True)
    gauge_rows_tenths = models.PositiveIntegerField(null=True, blank=True)
    gauge_over_mm = models.PositiveIntegerField(default=100)
    gauge_stitch = models.CharField(max_length=20, blank=True)
    gauge_in_round = models.BooleanField(null=True, blank=True)
    gauge_after_washing = models.BooleanField(null=True, blank=True)

    chart_shown = models.BooleanField(_("symbol chart on the page and in the PDF"), default=False)
    chart_set = models.CharField(
        _("symbols of the chart"), max_length=3, choices=ChartSet, default=ChartSet.CYC
    )

    form_key = models.UUIDField(null=True, editable=False)
    text_edit = models.PositiveIntegerField(default=0)
    facts_edit = models.PositiveIntegerField(default=0)
    published = models.ForeignKey(
        "Revision", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    created_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name = _("pattern")
        verbose_name_plural = _("patterns")
        ordering = ("title", "pk")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(gauge_over_mm__gt=0), name="pattern_gauge_over_something"
            ),
            models.UniqueConstraint(fields=("form_key",), name="pattern_once_a_form"),
        )

    def __str__(self) -> str:
        return self.title


class PatternSize(models.Model):
    """One size. `key` stays with it when it is renamed or moved."""

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="sizes")
    key = models.CharField(max_length=20, validators=[RegexValidator(r"^[a-z0-9-]+$")])
    label = models.CharField(_("size"), max_length=40)
    to_fit = models.CharField(_("to fit"), max_length=120, blank=True)
    finished = models.CharField(_("finished measurements"), max_length=160, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("pattern", "key"), name="size_key_once_a_pattern"),)

    def __str__(self) -> str:
        return self.label


class PatternYarn(models.Model):
    """One yarn of the pattern: what the text calls A, B or MC."""

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="yarns")
    key = models.CharField(_("letter"), max_length=8, validators=[RegexValidator(r"^[A-Z0-9]+$")])
    description = models.CharField(_("description"), max_length=200, blank=True)
    yarn = models.ForeignKey(
        "yarns.Yarn",
        verbose_name=_("yarn from the shelf"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
    )
    shade = models.ForeignKey(
        "yarns.Colour",
        verbose_name=_("colour from the shelf"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
    )
    colour = models.CharField(_("colour"), max_length=80, blank=True)
    strands = models.PositiveSmallIntegerField(
        _("strands held together"),
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(8)],
    )
    alternatives = models.CharField(_("alternatives"), max_length=300, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "pk")
        constraints = (
            models.UniqueConstraint(fields=("pattern", "key"), name="yarn_key_once_a_pattern"),
            models.CheckConstraint(condition=models.Q(strands__gte=1), name="a_strand_at_least"),
        )

    def __str__(self) -> str:
        return f"{self.key}: {self.description}"


class Notion(models.Model):
    """Something besides yarn. `price_minor`: for one, in minor units of the workroom's currency."""

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="notions")
    text = models.CharField(_("notion"), max_length=160)
    quantity = models.PositiveSmallIntegerField(_("how many"), default=1)
    supply = models.ForeignKey(
        "yarns.Supply",
        verbose_name=_("supply from the shelf"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
    )
    price_minor = models.PositiveIntegerField(_("price of one"), null=True, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "pk")

    def __str__(self) -> str:
        return self.text


class Photo(models.Model):
    """A photo of the piece, kept in the photo store under `digest`."""

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="photos")
    digest = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    alt = models.CharField(_("what the photo shows"), max_length=300, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("pattern", "digest"), name="photo_once_a_pattern"),)

    def __str__(self) -> str:
        return self.alt or self.digest

    @property
    def smallest(self) -> str:
        """Width in pixels of the smallest copy, for an address."""
        return str(widths_for(self.width)[0])

    @property
    def smallest_height(self) -> str:
        return str(max(1, round(self.height * widths_for(self.width)[0] / self.width)))


class SavedText(models.Model):
    """Every saved state of the instructions, so that no save can lose another's words."""

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="saved_texts")
    edit = models.PositiveIntegerField()
    text = models.TextField(blank=True)
    saved_at = models.DateTimeField(auto_now_add=True)
    saved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ("-edit",)
        constraints = (models.UniqueConstraint(fields=("pattern", "edit"), name="text_saved_once_an_edit"),)

    def __str__(self) -> str:
        return f"{self.pattern} {self.edit}"


class SetAside(models.Model):
    """A remark that the designer has looked at and keeps aside, until its line changes.

    `line`: the text of the line when it was set aside, spaces evened out.
    """

    pattern = models.ForeignKey(Pattern, on_delete=models.CASCADE, related_name="set_aside")
    check_slug = models.CharField(max_length=80)
    line = models.TextField(blank=True)
    reason = models.CharField(_("reason"), max_length=300)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.check_slug}: {self.reason}"


class Revision(models.Model):
    """A published state of a pattern: frozen, read by every page, paper, cost and batch.

    The JSON is read by `patterns.revisions` alone, which says what stands in it. Unpublishing takes a
    pattern off the site and leaves its revisions where they are.
    """

    pattern = models.ForeignKey(Pattern, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    version = models.CharField(max_length=20)
    title = models.CharField(max_length=300)
    text = models.TextField(blank=True)
    facts = models.JSONField()
    rounds = models.JSONField()
    findings = models.JSONField()
    estimate = models.JSONField()
    reader_version = models.CharField(max_length=20)
    changes = models.TextField(_("what changed"), blank=True)
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        verbose_name = _("revision")
        verbose_name_plural = _("revisions")
        ordering = ("pattern", "-number")
        constraints = (
            models.UniqueConstraint(fields=("pattern", "number"), name="revision_number_once"),
            models.UniqueConstraint(fields=("pattern", "version"), name="revision_version_once"),
        )

    def __str__(self) -> str:
        return f"{self.title} {self.version}"


class RevisionChart(models.Model):
    """The stitches of one size of a revision, from which its symbol chart is drawn again.

    `pieces`: what `craft.charting.to_plain` made of each part; none where the designer shows no chart.
    """

    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="charts")
    size_key = models.CharField(max_length=20)
    symbols = models.CharField(max_length=3, choices=ChartSet)
    pieces = models.JSONField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("revision", "size_key"), name="chart_once_a_size"),)

    def __str__(self) -> str:
        return f"{self.revision} {self.size_key}"


class ShownPhoto(models.Model):
    """Which photos a revision shows, so that one look-up tells whether a photo is public."""

    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="shown_photos")
    digest = models.CharField(max_length=64, db_index=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("revision", "digest"), name="photo_shown_once"),)

    def __str__(self) -> str:
        return self.digest
