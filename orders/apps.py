from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class OrdersConfig(AppConfig):
    name = "orders"
    verbose_name = _("Orders")
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from orders.wants import batch_wants  # noqa: PLC0415 - models are there only now
        from yarns.wanted import tell_wants  # noqa: PLC0415 - the same

        tell_wants("batches", batch_wants)
