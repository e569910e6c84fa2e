"""What every label of the workroom carries: who made it, where, and in which country."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class LabelProfile(models.Model):
    """One row. Rules on what has to stand on a label differ by place; the maker checks the one in force."""

    maker = models.CharField(_("maker"), max_length=80, blank=True)
    address = models.TextField(_("postal address"), max_length=300, blank=True)
    origin = models.CharField(_("country of origin"), max_length=60, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = _("what stands on labels")
        constraints = (models.CheckConstraint(condition=models.Q(pk=1), name="one_label_profile"),)

    def __str__(self) -> str:
        return self.maker

    @property
    def address_line(self) -> str:
        """The address on one line."""
        return ", ".join(line.strip() for line in self.address.splitlines() if line.strip())
