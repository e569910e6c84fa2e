from django.apps import AppConfig


class HookledgerConfig(AppConfig):
    name = "hookledger"
    verbose_name = "Hook & Ledger"

    def ready(self) -> None:
        from hookledger.checks import register_all  # noqa: PLC0415 - needs the apps to be there

        register_all()
