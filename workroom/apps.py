from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class WorkroomConfig(AppConfig):
    name = "workroom"
    verbose_name = _("Workroom")
    default_auto_field = "django.db.models.BigAutoField"
