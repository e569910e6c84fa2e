#!/usr/bin/env python
"""Hook & Ledger's commands: python manage.py help."""

import os
import sys


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hookledger.settings")
    from django.core.management import execute_from_command_line  # noqa: PLC0415 - after the setting above

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
