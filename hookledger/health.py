"""Whether the house can work: database read, migrations done, data folder writable."""

import logging
import os
import tempfile
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

log = logging.getLogger(__name__)


def troubles() -> list[str]:
    """Names of what is wrong: "database", "migrations", "data folder"; details go to the log."""
    wrong = database_trouble()
    if not can_write(settings.DATA):
        wrong.append("data folder")
    return wrong


def database_trouble() -> list[str]:
    try:
        executor = MigrationExecutor(connection)
        waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except DatabaseError:
        log.exception("The database can't be read.")
        return ["database"]
    return ["migrations"] if waiting else []


def can_write(folder: Path) -> bool:
    """Whether a file can be made in the folder; asked by making one, for rights alone can lie."""
    try:
        handle, name = tempfile.mkstemp(dir=folder, prefix=".can-write-")
    except OSError:
        return False
    os.close(handle)
    Path(name).unlink(missing_ok=True)
    return True
