from django.apps import AppConfig


class HookledgerConfig(AppConfig):
    name = "hookledger"
    verbose_name = "Hook & Ledger"
