from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _

from patterns.press.signing_on import print_for_the_house
from workroom.printing import use_printer


class PatternsConfig(AppConfig):
    name = "patterns"
    verbose_name = _("Patterns")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        use_printer(print_for_the_house)
