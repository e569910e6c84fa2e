from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class PatternsConfig(AppConfig):
    name = "patterns"
    verbose_name = _("Patterns")
    default_auto_field = "django.db.models.BigAutoField"
