from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class YarnsConfig(AppConfig):
    name = "yarns"
    verbose_name = _("Yarns")
    default_auto_field = "django.db.models.BigAutoField"
